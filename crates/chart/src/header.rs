//! The match header: line 1 of a chart. Who plays, under which format.

use serde::{Deserialize, Serialize, Serializer};
use serde_json::{Map, Value};

use crate::fields::{Fields, TEXT_LIMIT, object_from_text};
use crate::identity::{ID_RULE, MatchId};
use crate::refusal::{FieldPath, Refusal, RefusalReason, Subject};
use crate::words::{PairOf, Team};

/// The version of the chart format that this crate reads and writes.
const CHART_VERSION: u32 = 1;

/// Who plays whom under which format.
///
/// The JSON it was read from is kept, unknown fields included.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(try_from = "Map<String, Value>")]
pub struct Header {
    /// Names the match in files and links.
    pub id: MatchId,
    /// For people; may be empty.
    pub title: String,
    /// Where the match is played; may be empty.
    pub court: String,
    /// The two teams.
    pub teams: PairOf<TeamSheet>,
    /// Discipline, scoring and length.
    pub format: Format,
    /// The team that serves first in game 1.
    pub first_serve: Team,
    source: Map<String, Value>,
}

/// A team as it is announced.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TeamSheet {
    /// For people.
    pub name: String,
    /// The players' names, the starting server of game 1 first; empty where the
    /// header gives none.
    pub players: Vec<String>,
}

/// The format of a match.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Format {
    /// One or two players a team.
    pub discipline: Discipline,
    /// Who can score, and how servers follow each other.
    pub scoring: Scoring,
    /// Points that win a game, 1..=99.
    pub points: u32,
    /// The lead that wins a game, 1 or 2.
    pub win_by: u32,
    /// The match is the best of so many games: 1, 3 or 5.
    pub games: u32,
}

/// One or two players a team.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Discipline {
    /// Two players a team.
    Doubles,
    /// One player a team.
    Singles,
}

/// Who can score, and how servers follow each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Scoring {
    /// Only the serving team scores; in doubles two servers a service turn.
    SideOut,
    /// A point every rally; one server a turn.
    Rally {
        /// Who may score the point that wins the game.
        winning_point: WinningPoint,
        /// Whether partners change courts when they score.
        positions: Positions,
    },
}

/// Who may score the point that wins a game (rally scoring).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum WinningPoint {
    /// Either side.
    Any,
    /// Only the serving side.
    Server,
}

/// Whether partners change courts when they score (rally scoring, doubles).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Positions {
    /// Partners swap when they score, so parity holds.
    Swap,
    /// Each keeps a court.
    Static,
}

impl Format {
    /// Games that win the match: 1, 2 or 3.
    #[must_use]
    pub fn games_to_win(&self) -> u32 {
        self.games / 2 + 1
    }

    /// Players a team: 1 or 2.
    #[must_use]
    pub fn team_size(&self) -> u32 {
        match self.discipline {
            Discipline::Doubles => 2,
            Discipline::Singles => 1,
        }
    }

    /// Whether a service turn has two servers, so that the call has a number.
    #[must_use]
    pub fn has_two_servers(&self) -> bool {
        self.discipline == Discipline::Doubles && self.scoring == Scoring::SideOut
    }
}

impl Header {
    /// Reads a header from the JSON object of line 1. The checksum that the
    /// host adds to the line is left out of what is kept.
    ///
    /// # Errors
    /// A [`Refusal`] that names the field, what was found and what is allowed.
    pub fn from_json(mut source: Map<String, Value>) -> Result<Self, Refusal> {
        source.shift_remove("crc");
        let fields = Fields::new(&source, Subject::MatchHeader);
        if fields.get("kind").and_then(Value::as_str) != Some("match") {
            let allowed = "`match`: a chart begins with the match header";
            return Err(absent_or_bad(&fields, "kind", allowed));
        }
        fields.required_number(
            "chart",
            CHART_VERSION..=CHART_VERSION,
            "`1`, the version of the format that this program reads",
        )?;
        let id = fields
            .get("id")
            .and_then(Value::as_str)
            .and_then(MatchId::new)
            .ok_or_else(|| absent_or_bad(&fields, "id", ID_RULE))?;
        let format = read_format(&fields.required_object("format")?)?;
        let teams = fields.required_object("teams")?;
        let header = Self {
            id,
            title: fields
                .text_within("title", TEXT_LIMIT)?
                .unwrap_or("")
                .into(),
            court: fields
                .text_within("court", TEXT_LIMIT)?
                .unwrap_or("")
                .into(),
            teams: PairOf {
                a: read_team(&teams.required_object("a")?, &format)?,
                b: read_team(&teams.required_object("b")?, &format)?,
            },
            format,
            first_serve: fields.required_word("first_serve")?,
            source: Map::new(),
        };
        Ok(Self { source, ..header })
    }

    /// Reads a header from the text of line 1.
    ///
    /// # Errors
    /// As [`Header::from_json`]; `malformed` where the text is no JSON object.
    pub fn from_text(text: &str) -> Result<Self, Refusal> {
        Self::from_json(object_from_text(text, &Subject::MatchHeader)?)
    }

    /// The header as JSON, as it was written, unknown fields included.
    #[must_use]
    pub fn to_json(&self) -> &Map<String, Value> {
        &self.source
    }

    /// What differs between two headers of one match beyond its words (title,
    /// court, round, time, names, players, colors): the first such field, written as
    /// `format.points`. `None` where only words differ, or nothing.
    #[must_use]
    pub fn fixed_difference(&self, other: &Self) -> Option<FieldPath> {
        first_difference(
            &Value::Object(without_names(&self.source)),
            &Value::Object(without_names(&other.source)),
            &FieldPath::default(),
        )
    }

    /// The name of `team`'s player number `player`, if the header gives one.
    #[must_use]
    pub fn player_name(&self, team: Team, player: u32) -> Option<&str> {
        let players = &self.teams.of(team).players;
        players
            .get(player as usize)
            .map(String::as_str)
            .filter(|name| !name.is_empty())
    }
}

impl TryFrom<Map<String, Value>> for Header {
    type Error = Refusal;

    fn try_from(source: Map<String, Value>) -> Result<Self, Refusal> {
        Self::from_json(source)
    }
}

impl Serialize for Header {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.source.serialize(serializer)
    }
}

/// A header without what may be said otherwise while a match is on.
fn without_names(source: &Map<String, Value>) -> Map<String, Value> {
    let mut rest = source.clone();
    for word in ["title", "court", "round", "time"] {
        rest.shift_remove(word);
    }
    if let Some(Value::Object(teams)) = rest.get_mut("teams") {
        for team in ["a", "b"] {
            if let Some(Value::Object(team)) = teams.get_mut(team) {
                for word in ["name", "players", "color"] {
                    team.shift_remove(word);
                }
            }
        }
    }
    rest
}

/// The first field that differs, of two values that stand at `path`.
fn first_difference(one: &Value, other: &Value, path: &FieldPath) -> Option<FieldPath> {
    if one == other {
        return None;
    }
    let (Value::Object(one), Value::Object(other)) = (one, other) else {
        return Some(path.clone());
    };
    let null = &Value::Null;
    one.keys().chain(other.keys()).find_map(|name| {
        let (one, other) = (one.get(name), other.get(name));
        first_difference(
            one.unwrap_or(null),
            other.unwrap_or(null),
            &path.inside(name),
        )
    })
}

fn read_team(fields: &Fields<'_>, format: &Format) -> Result<TeamSheet, Refusal> {
    let name = fields
        .text_within("name", TEXT_LIMIT)?
        .ok_or_else(|| fields.missing("name", "the team's name"))?;
    let size = format.team_size() as usize;
    let allowed = match format.discipline {
        Discipline::Doubles => "a list of 2 names (doubles), the starting server first",
        Discipline::Singles => "a list of 1 name (singles)",
    };
    let players = match fields.get("players") {
        None => Vec::new(),
        Some(Value::Array(names)) if names.is_empty() || names.len() == size => names
            .iter()
            .map(|name| name.as_str().map(str::to_owned))
            .collect::<Option<Vec<_>>>()
            .ok_or_else(|| fields.bad("players", allowed))?,
        Some(_) => return Err(fields.bad("players", allowed)),
    };
    let longest = players.iter().map(|name| name.chars().count()).max();
    if let Some(length) = longest.filter(|length| *length > TEXT_LIMIT) {
        return Err(fields.refused(RefusalReason::TooLong {
            field: fields.path("players"),
            length,
            limit: TEXT_LIMIT,
        }));
    }
    Ok(TeamSheet {
        name: name.into(),
        players,
    })
}

fn read_format(fields: &Fields<'_>) -> Result<Format, Refusal> {
    let discipline = match fields.get("discipline").and_then(Value::as_str) {
        Some("doubles") => Discipline::Doubles,
        Some("singles") => Discipline::Singles,
        _ => {
            return Err(absent_or_bad(
                fields,
                "discipline",
                "`doubles` or `singles`",
            ));
        }
    };
    let scoring = match fields.get("scoring").and_then(Value::as_str) {
        Some("side_out") => {
            for option in ["winning_point", "positions"] {
                if fields.has(option) {
                    return Err(fields.bad(option, "nothing here: it belongs to rally scoring"));
                }
            }
            Scoring::SideOut
        }
        Some("rally") => Scoring::Rally {
            winning_point: read_winning_point(fields)?,
            positions: read_positions(fields, discipline)?,
        },
        _ => return Err(absent_or_bad(fields, "scoring", "`side_out` or `rally`")),
    };
    let best_of = "`1`, `3` or `5` (best of)";
    let games = fields.required_number("games", 1..=5, best_of)?;
    if games % 2 == 0 {
        return Err(fields.bad("games", best_of));
    }
    Ok(Format {
        discipline,
        scoring,
        points: fields.required_number("points", 1..=99, "a whole number from 1 to 99")?,
        win_by: fields.required_number("win_by", 1..=2, "`1` or `2`")?,
        games,
    })
}

fn read_winning_point(fields: &Fields<'_>) -> Result<WinningPoint, Refusal> {
    match fields.get("winning_point") {
        None => Ok(WinningPoint::Any),
        Some(value) => match value.as_str() {
            Some("any") => Ok(WinningPoint::Any),
            Some("server") => Ok(WinningPoint::Server),
            _ => Err(fields.bad("winning_point", "`any` or `server`")),
        },
    }
}

fn read_positions(fields: &Fields<'_>, discipline: Discipline) -> Result<Positions, Refusal> {
    match (fields.get("positions"), discipline) {
        (None, _) => Ok(Positions::Swap),
        (Some(_), Discipline::Singles) => {
            Err(fields.bad("positions", "nothing here: it belongs to doubles"))
        }
        (Some(value), Discipline::Doubles) => match value.as_str() {
            Some("swap") => Ok(Positions::Swap),
            Some("static") => Ok(Positions::Static),
            _ => Err(fields.bad("positions", "`swap` or `static`")),
        },
    }
}

fn absent_or_bad(fields: &Fields<'_>, name: &str, allowed: &'static str) -> Refusal {
    if fields.has(name) {
        fields.bad(name, allowed)
    } else {
        fields.missing(name, allowed)
    }
}
