//! Invented names: players, teams, events, ids.
//!
//! First and last names are put together by chance from pools that mix
//! languages; nobody is meant. What the caller's [`Billing`] gives is kept.

use rallytide_chart::{Discipline, Format, PairOf, Scoring, Team, TeamSheet};
use rallytide_chart::{Header, Positions, WinningPoint};
use serde_json::{Map, Value, json};

use crate::dice::Dice;
use crate::plan::{Billing, Plan, PlanError};

const FIRST_NAMES: &[&str] = &[
    "Anneke", "Bastian", "Chiara", "Dagny", "Emeka", "Farida", "Goran", "Hanneli", "Ikaika",
    "Jelka", "Kofi", "Leocadia", "Mateus", "Nomvula", "Oskar", "Pilar", "Quirin", "Roksana",
    "Sione", "Tamsin", "Ulrik", "Vedika", "Wanjiru", "Ximena", "Yusuf", "Zofia", "Amadou", "Brid",
    "Cosimo", "Delphine", "Eilidh", "Fenno", "Gwenda", "Hideo", "Ilse", "Joaquim", "Katya",
    "Lorcan", "Meret", "Ngaio",
];

const LAST_NAMES: &[&str] = &[
    "Achterberg",
    "Bekelu",
    "Castrignano",
    "Dragomirov",
    "Eriksholm",
    "Falvington",
    "Gundersby",
    "Hollinrake",
    "Iwakado",
    "Jovanesk",
    "Kahananui",
    "Lindqvarn",
    "Mbathane",
    "Nakagiri",
    "Ostrowiak",
    "Pellegrand",
    "Quillfeather",
    "Rasmundsen",
    "Solheimer",
    "Tavarela",
    "Umarzai",
    "Vantorre",
    "Wexcombe",
    "Yamashiro-Bell",
    "Zelenkov",
    "Abernott",
    "Brandvik",
    "Corrigail",
    "Delacroy",
    "Estevarin",
    "Fjordheim",
    "Greshaw",
    "Hatakami",
    "Imrich",
    "Kowalczek",
    "Lautaro-Finn",
    "Moravelli",
    "Nwachuk",
    "Oduyale",
    "Petrescan",
];

const PLACES: &[&str] = &[
    "Saltmarsh",
    "Kestrel Bay",
    "Old Mill",
    "Northlight",
    "Juniper Park",
    "Lantern Street",
    "Harbour Wall",
    "Quarry Road",
    "Orchard Hill",
    "Ferry Landing",
    "Slate Bridge",
    "Heron Lake",
];

const EVENTS: &[&str] = &["Cup", "Trophy", "Shield", "Classic", "Weekend", "Social"];

const STAGES: &[&str] = &[
    "final",
    "semi-final",
    "quarter-final",
    "round robin",
    "third place",
    "round of 16",
];

/// The match header that `plan` and chance give, as JSON and as read back.
pub(crate) fn header(
    plan: &Plan,
    dice: &mut Dice,
) -> Result<(Map<String, Value>, Header), PlanError> {
    // Everything is drawn whether it is needed or not, so that a given title
    // changes no name.
    let made_up = Billing {
        id: Some(format!("sim-{}", plan.seed)),
        title: Some(title(dice)),
        court: Some(dice.one_of(&["1", "2", "3", "4", "5", "6"]).to_owned()),
        teams: Some(teams(plan.format.team_size() as usize, dice)),
    };
    let first_serve = dice.one_of(Team::ALL);
    let billing = Billing {
        id: plan.billing.id.clone().or(made_up.id),
        title: plan.billing.title.clone().or(made_up.title),
        court: plan.billing.court.clone().or(made_up.court),
        teams: plan.billing.teams.clone().or(made_up.teams),
    };
    let sheet = |team: Team| {
        let sheet = billing.teams.as_ref().map(|teams| teams.of(team));
        sheet.map(|sheet| json!({"name": sheet.name, "players": sheet.players}))
    };
    let json = json!({
        "kind": "match",
        "chart": 1,
        "id": billing.id,
        "title": billing.title,
        "court": billing.court,
        "teams": {"a": sheet(Team::A), "b": sheet(Team::B)},
        "format": format_json(&plan.format),
        "first_serve": first_serve,
    });
    let Value::Object(json) = json else {
        unreachable!("a JSON object was written just above")
    };
    let header = Header::from_json(json.clone())?;
    Ok((json, header))
}

fn title(dice: &mut Dice) -> String {
    let place = dice.one_of(PLACES);
    let event = dice.one_of(EVENTS);
    format!("{place} {event}, {}", dice.one_of(STAGES))
}

/// Two teams of invented people, no name twice.
fn teams(size: usize, dice: &mut Dice) -> PairOf<TeamSheet> {
    let mut first = FIRST_NAMES.to_vec();
    let mut last = LAST_NAMES.to_vec();
    let mut team = || {
        let people: Vec<_> = (0..size)
            .map(|_| (take(&mut first, dice), take(&mut last, dice)))
            .collect();
        TeamSheet {
            name: people
                .iter()
                .map(|(_, last)| *last)
                .collect::<Vec<_>>()
                .join(" / "),
            players: people
                .iter()
                .map(|(first, last)| format!("{first} {last}"))
                .collect(),
        }
    };
    PairOf {
        a: team(),
        b: team(),
    }
}

fn take<'a>(pool: &mut Vec<&'a str>, dice: &mut Dice) -> &'a str {
    let place = (dice.unit() * pool.len() as f64) as usize;
    pool.swap_remove(place.min(pool.len() - 1))
}

/// The format as the header writes it; options only where they are not the
/// default.
fn format_json(format: &Format) -> Value {
    let mut json = Map::new();
    let discipline = match format.discipline {
        Discipline::Doubles => "doubles",
        Discipline::Singles => "singles",
    };
    json.insert("discipline".into(), discipline.into());
    let scoring = match format.scoring {
        Scoring::SideOut => "side_out",
        Scoring::Rally { .. } => "rally",
    };
    json.insert("scoring".into(), scoring.into());
    json.insert("points".into(), format.points.into());
    json.insert("win_by".into(), format.win_by.into());
    json.insert("games".into(), format.games.into());
    if let Scoring::Rally {
        winning_point,
        positions,
    } = format.scoring
    {
        if winning_point == WinningPoint::Server {
            json.insert("winning_point".into(), "server".into());
        }
        if positions == Positions::Static {
            json.insert("positions".into(), "static".into());
        }
    }
    Value::Object(json)
}
