//! A match on one line, and its score on another.
//!
//! A script is a row of words: `AAB` three rallies by their winners, `A!` a
//! technical foul by a, `At` a time-out and `Am` a medical one, `Ax` a retires,
//! `A=1` player 1 is a's starting server, `replay`, and `4-3A1` the referee's
//! word: a on 4, b on 3, a serves, server 1 (`4-3A`: server left out;
//! `4-3A1@1-0`: games 1-0 too).
//!
//! A state is the call, the server and the court: `4-3-1 A1R` (A1 is the
//! player the header lists first, the starting server of game 1).

use rallytide_chart::{
    Header, Lineup, PairOf, Play, RallyEnd, ScoreFix, Shot, Stroke, Team, TimeOut,
};
use rallytide_scoring::{Score, ScoreKeeper, ScoreStep, ServiceCourt};
use serde_json::{Map, Value, json};

pub(crate) const SIDE_OUT: &str = r#""discipline":"doubles","scoring":"side_out""#;
pub(crate) const SIDE_OUT_SINGLES: &str = r#""discipline":"singles","scoring":"side_out""#;
/// Rally scoring of the 2026 rulebook: either side can score the winning point.
pub(crate) const RALLY: &str = r#""discipline":"doubles","scoring":"rally""#;
/// Rally scoring of the 2025 rulebook: only the serving side can.
pub(crate) const FREEZE: &str =
    r#""discipline":"doubles","scoring":"rally","winning_point":"server""#;
/// Rally scoring with partners who keep their courts.
pub(crate) const STATIC: &str = r#""discipline":"doubles","scoring":"rally","positions":"static""#;

/// The same under the 2025 rule for the winning point.
pub(crate) const STATIC_FREEZE: &str =
    r#""discipline":"doubles","scoring":"rally","winning_point":"server","positions":"static""#;
/// Rally scoring in singles, receivers score the winning point too.
pub(crate) const RALLY_SINGLES: &str = r#""discipline":"singles","scoring":"rally""#;
/// Rally scoring in singles as provisional in 2024.
pub(crate) const FREEZE_SINGLES: &str =
    r#""discipline":"singles","scoring":"rally","winning_point":"server""#;

/// A header; `rules` as in the constants above.
#[track_caller]
pub(crate) fn header(rules: &str, points: u32, win_by: u32, games: u32) -> Header {
    header_from(rules, points, win_by, games, Team::A)
}

#[track_caller]
pub(crate) fn header_from(
    rules: &str,
    points: u32,
    win_by: u32,
    games: u32,
    first_serve: Team,
) -> Header {
    let text = format!(r#"{{{rules},"points":{points},"win_by":{win_by},"games":{games}}}"#);
    let format = serde_json::from_str(&text).expect("the rules are JSON fields");
    header_of(&format, first_serve)
}

/// A header for a `format` object.
#[track_caller]
pub(crate) fn header_of(format: &Value, first_serve: Team) -> Header {
    let players = match format["discipline"].as_str() {
        Some("singles") => (json!(["Ada Venn"]), json!(["Petra Marek"])),
        _ => (
            json!(["Ada Venn", "Jonas Lind"]),
            json!(["Petra Marek", "Rin Sato"]),
        ),
    };
    let header = json!({
        "kind": "match", "chart": 1, "id": "test",
        "teams": {
            "a": {"name": "Venn / Lind", "players": players.0},
            "b": {"name": "Marek / Sato", "players": players.1},
        },
        "format": format, "first_serve": first_serve,
    });
    let Value::Object(header) = header else {
        unreachable!("an object literal")
    };
    Header::from_json(header).expect("the header is right")
}

pub(crate) fn best_of_three_to_11(rules: &str) -> Header {
    header(rules, 11, 2, 3)
}

/// The entries of a script.
#[track_caller]
pub(crate) fn plays(script: &str) -> Vec<Play> {
    script.split_whitespace().flat_map(word).collect()
}

/// All steps of a script, with the score after each, from the start on.
#[track_caller]
pub(crate) fn steps(header: &Header, script: &str) -> Vec<(ScoreStep, Score)> {
    let mut scoring = ScoreKeeper::new(header);
    plays(script)
        .iter()
        .map(|play| (scoring.step(play), scoring.score().clone()))
        .collect()
}

/// The score after a script.
#[track_caller]
pub(crate) fn score(header: &Header, script: &str) -> Score {
    let mut scoring = ScoreKeeper::new(header);
    for play in plays(script) {
        scoring.step(&play);
    }
    scoring.score().clone()
}

/// Checks the last states of a script, as many as are expected; the state at
/// the start is the first of all.
#[track_caller]
pub(crate) fn check(header: &Header, script: &str, expected: &[&str]) {
    let mut states = vec![state(ScoreKeeper::new(header).score())];
    states.extend(steps(header, script).iter().map(|(_, score)| state(score)));
    let shown = &states[states.len().saturating_sub(expected.len())..];
    assert_eq!(shown, expected, "after `{script}`");
}

/// Checks some keys of the score object after a script.
#[track_caller]
pub(crate) fn check_keys(header: &Header, script: &str, expected: &Value) {
    let object = object(&score(header, script));
    let expected = expected.as_object().expect("keys to check");
    let found: Map<String, Value> = expected
        .keys()
        .map(|key| (key.clone(), object[key].clone()))
        .collect();
    assert_eq!(&found, expected, "after `{script}`");
}

pub(crate) fn object(score: &Score) -> Map<String, Value> {
    match serde_json::to_value(score) {
        Ok(Value::Object(object)) => object,
        other => panic!("a score is an object, not {other:?}"),
    }
}

pub(crate) fn state(score: &Score) -> String {
    let court = match score.court {
        ServiceCourt::Right => "R",
        ServiceCourt::Left => "L",
    };
    match score.call {
        Some(call) => format!(
            "{call} {}{court}",
            label(score.serving, score.server_player)
        ),
        None => "over".into(),
    }
}

/// A player as the states name them.
pub(crate) fn label(team: Team, player: u32) -> String {
    format!("{}{}", team.word().to_uppercase(), player + 1)
}

pub(crate) fn rally_to(winner: Team) -> Play {
    Play::RallyEnd(RallyEnd {
        winner,
        how: None,
        by: None,
        player: None,
        fault: None,
    })
}

pub(crate) fn shot(team: Team, stroke: Stroke) -> Play {
    Play::Shot(Shot {
        team,
        stroke,
        contact: None,
        player: None,
        cues: std::iter::empty().collect(),
    })
}

/// Games as they are recorded, a's points first.
pub(crate) fn recorded(games: &[(u32, u32)]) -> Vec<PairOf<u32>> {
    games.iter().map(|(a, b)| PairOf { a: *a, b: *b }).collect()
}

#[track_caller]
fn word(word: &str) -> Vec<Play> {
    if word == "replay" {
        return vec![Play::Replay];
    }
    if word.chars().all(|letter| letter == 'A' || letter == 'B') {
        return word.chars().map(|letter| rally_to(team(letter))).collect();
    }
    let mut letters = word.chars();
    let first = letters.next().expect("a word has letters");
    if first.is_ascii_digit() {
        return vec![Play::ScoreFix(score_fix(word))];
    }
    let team = team(first);
    vec![match letters.as_str() {
        "!" => Play::Penalty { team },
        "t" | "m" => Play::TimeOut(TimeOut {
            team,
            medical: letters.as_str() == "m",
        }),
        "x" => Play::Retire { team },
        "=0" | "=1" => Play::Lineup(Lineup {
            team,
            starting_server: u32::from(letters.as_str() == "=1"),
        }),
        _ => panic!("`{word}` is no word of a script"),
    }]
}

#[track_caller]
fn score_fix(word: &str) -> ScoreFix {
    let (rest, games) = match word.split_once('@') {
        Some((rest, games)) => (rest, Some(pair(games))),
        None => (word, None),
    };
    let at = rest.find(['A', 'B']).expect("a score fix names a team");
    ScoreFix {
        points: pair(&rest[..at]),
        serving: team(rest[at..].chars().next().expect("a team")),
        server: rest[at + 1..].parse().ok(),
        games,
    }
}

#[track_caller]
fn pair(text: &str) -> PairOf<u32> {
    let (a, b) = text.split_once('-').expect("two numbers");
    PairOf {
        a: a.parse().expect("a number"),
        b: b.parse().expect("a number"),
    }
}

#[track_caller]
fn team(letter: char) -> Team {
    match letter {
        'A' => Team::A,
        'B' => Team::B,
        other => panic!("`{other}` is no team"),
    }
}
