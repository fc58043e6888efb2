//! Writes one made-up chart to stdout:
//! `cargo run -p rallytide-simulate --example write_chart -- SEED [WORD…]`, where
//! the words are `singles`, `rally`, `static`, `server` (winning point), `score`,
//! `ends`, `exact` (no mistakes), `calm` (no incidents), `named` and `nameless` (all or
//! no players named), `points=15`, `games=1`, `id=…`, `title=…`, `start=…`.

use std::io::Write as _;
use std::process::ExitCode;

use rallytide_chart::{At, Discipline, Positions, Scoring, WinningPoint};
use rallytide_simulate::{Detail, Incidents, Mistakes, NamedPlayers, Plan, Simulation};

fn main() -> ExitCode {
    let mut arguments = std::env::args().skip(1);
    let seed = arguments.next().and_then(|text| text.parse().ok());
    let plan = seed.ok_or_else(|| "the first word has to be a seed".to_owned());
    let plan = plan.and_then(|seed| {
        arguments.try_fold(Plan::new(seed), |mut plan, word| {
            apply(&mut plan, &word).ok_or_else(|| format!("`{word}` is not understood"))?;
            Ok(plan)
        })
    });
    match plan.and_then(|plan| write(&plan)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            eprintln!("{message}");
            ExitCode::from(2)
        }
    }
}

fn write(plan: &Plan) -> Result<(), String> {
    let lines = Simulation::new(plan).map_err(|error| {
        let cause = std::error::Error::source(&error).map(ToString::to_string);
        format!("{error}: {}", cause.unwrap_or_default())
    })?;
    let mut out = std::io::stdout().lock();
    for line in lines {
        writeln!(out, "{line}").map_err(|error| error.to_string())?;
    }
    Ok(())
}

/// Changes the plan as `word` says; `None` for an unknown word.
fn apply(plan: &mut Plan, word: &str) -> Option<()> {
    let rally = |winning_point, positions| Scoring::Rally {
        winning_point,
        positions,
    };
    match word.split_once('=') {
        Some(("points", points)) => plan.format.points = points.parse().ok()?,
        Some(("games", games)) => plan.format.games = games.parse().ok()?,
        Some(("id", id)) => plan.billing.id = Some(id.to_owned()),
        Some(("title", title)) => plan.billing.title = Some(title.to_owned()),
        Some(("start", start)) => plan.start = At::parse(start)?,
        Some(_) => return None,
        None => match word {
            "singles" => plan.format.discipline = Discipline::Singles,
            "rally" => plan.format.scoring = rally(WinningPoint::Any, Positions::Swap),
            "static" => plan.format.scoring = rally(WinningPoint::Any, Positions::Static),
            "server" => plan.format.scoring = rally(WinningPoint::Server, Positions::Swap),
            "exact" => plan.mistakes = Mistakes::None,
            "named" => plan.players = NamedPlayers::All,
            "nameless" => plan.players = NamedPlayers::None,
            "calm" => plan.incidents = Incidents::None,
            _ => plan.detail = Detail::from_word(word)?,
        },
    }
    Some(())
}
