//! Every word that is said for people about a match, in one place, and the same
//! as on the pages: names, strokes, reasons, ends, scores, times.

use rallytide_chart::{Contact, Cue, Discipline, FaultKind, Format, Header, Scoring, Stroke, Team};
use rallytide_match_record::{MatchTime, RecordedEnd, RecordedRally, RecordedShot, ShownShot};
use rallytide_readings::Reason;
use rallytide_scoring::Score;

/// What the pressure is, said of the team under it; the most telling first.
const WHY: &[(&str, &str)] = &[
    ("attackable", "high ball"),
    ("body", "off balance"),
    ("attack", "sped up"),
    ("half_volley", "half volley"),
    ("air", "taken in the air"),
    ("depth", "pinned back"),
];

/// A viewer reads no more than this in a second.
const MOST_WHY_WORDS: usize = 4;

/// Text out of a chart on one line: every kind of white space and control
/// character becomes one space.
pub(crate) fn one_line(text: &str) -> String {
    let spaced: String = text
        .chars()
        .map(|c| {
            if c.is_control() || c.is_whitespace() {
                ' '
            } else {
                c
            }
        })
        .collect();
    spaced.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The team's name; `Team A` where the header gives none.
pub(crate) fn team_name(header: &Header, team: Team) -> String {
    match one_line(&header.teams.of(team).name).as_str() {
        "" => format!("Team {}", team.word().to_uppercase()),
        name => name.to_owned(),
    }
}

/// The player's name; `None` where the header gives none.
pub(crate) fn player_name(header: &Header, team: Team, player: u32) -> Option<String> {
    let name = one_line(header.player_name(team, player)?);
    (!name.is_empty()).then_some(name)
}

/// Who serves, by the score: the player, else the team.
pub(crate) fn server_name(header: &Header, score: &Score) -> String {
    player_name(header, score.serving, score.server_player)
        .unwrap_or_else(|| team_name(header, score.serving))
}

pub(crate) fn stroke_word(stroke: Stroke) -> &'static str {
    match stroke {
        Stroke::Speedup => "speedup",
        Stroke::Atp => "around the post",
        Stroke::Other => "other shot",
        plain => plain.word(),
    }
}

pub(crate) fn cue_word(cue: Cue) -> &'static str {
    match cue {
        Cue::OffBalance => "off balance",
        Cue::Awkward => "awkward",
        Cue::Attackable => "high ball",
        Cue::NetCord => "net cord",
    }
}

/// One shot as somebody would tell it: "drop, half volley, high ball".
pub(crate) fn shot_words(shot: &ShownShot) -> String {
    let stroke = match shot.stroke {
        Some(stroke) => stroke_word(stroke),
        None => "not seen",
    };
    let mut said = vec![stroke];
    said.extend(contact_words(shot));
    said.extend(shot.cues.iter().map(|cue| cue_word(*cue)));
    said.join(", ")
}

/// Said only where the stroke does not already say it.
fn contact_words(shot: &ShownShot) -> Option<&'static str> {
    let says_so = matches!(
        shot.stroke,
        Some(Stroke::Volley | Stroke::Block | Stroke::Overhead | Stroke::Erne)
    );
    match shot.contact? {
        Contact::HalfVolley => Some("half volley"),
        Contact::Air if !says_so => Some("taken in the air"),
        Contact::Air | Contact::Bounce => None,
    }
}

/// `shots` are those of the rally: an attack is called by its stroke.
fn reason_words(reason: &Reason, shots: &[RecordedShot]) -> String {
    match WHY.iter().find(|(code, _)| reason.code == *code) {
        Some(("attack", _)) if is_around_the_post(reason, shots) => "around the post".to_owned(),
        Some((_, words)) => (*words).to_owned(),
        None => reason.code.replace('_', " "),
    }
}

fn is_around_the_post(reason: &Reason, shots: &[RecordedShot]) -> bool {
    let shot = shots
        .iter()
        .find(|shot| shot.shown.entry.as_ref() == Some(&reason.entry));
    shot.is_some_and(|shot| shot.shown.stroke == Some(Stroke::Atp))
}

/// Why `toward` holds, in few words: only what speaks against the other team.
pub(crate) fn why_in_few_words(toward: Team, why: &[Reason], shots: &[RecordedShot]) -> String {
    let against = toward.other();
    let mut said: Vec<String> = Vec::new();
    for (code, _) in WHY {
        let read = why
            .iter()
            .find(|reason| reason.team == Some(against) && reason.code == *code);
        let so_far: usize = said.iter().map(|one| one.split(' ').count()).sum();
        let words = read.map(|reason| reason_words(reason, shots));
        said.extend(words.filter(|words| so_far + words.split(' ').count() <= MOST_WHY_WORDS));
    }
    said.join(", ")
}

/// All reasons against `team`: "high ball, pinned back (assumed)".
pub(crate) fn reasons_against(team: Team, why: &[Reason], shots: &[RecordedShot]) -> String {
    let said: Vec<String> = why
        .iter()
        .filter(|reason| reason.team == Some(team))
        .map(|reason| {
            let assumed = if reason.inferred { " (assumed)" } else { "" };
            format!("{}{assumed}", reason_words(reason, shots))
        })
        .collect();
    said.join(", ")
}

/// How a rally ended, without who won it: "ball out", "kitchen fault". Empty
/// where nobody said.
pub(crate) fn how_words(end: &RecordedEnd) -> String {
    match (end.shown.how, end.fault) {
        (None | Some("unknown"), _) => String::new(),
        (Some("fault"), Some(fault)) => fault_words(fault).into(),
        (Some("net"), _) => "ball in the net".into(),
        (Some("out"), _) => "ball out".into(),
        (Some("cut_off"), _) => "unfinished".into(),
        (Some(how), _) => how.replace('_', " "),
    }
}

fn fault_words(fault: FaultKind) -> &'static str {
    match fault {
        FaultKind::Serve => "service fault",
        FaultKind::Kitchen => "kitchen fault",
        FaultKind::EarlyVolley => "volley before the bounce",
        FaultKind::SecondBounce => "second bounce",
        FaultKind::NetTouch => "touched the net",
        FaultKind::Body => "ball hit a player",
        FaultKind::Other => "another fault",
    }
}

/// How a rally ended: "won by Okafor / Lind, ball out by Petra Marek".
pub(crate) fn end_words(header: &Header, end: &RecordedEnd) -> String {
    let how = how_words(end);
    let Some(winner) = end.shown.won_by else {
        return if how.is_empty() {
            "not counted".into()
        } else {
            how
        };
    };
    let mut words = format!("won by {}", team_name(header, winner));
    if !how.is_empty() {
        words = format!("{words}, {how}");
    }
    let player = end
        .shown
        .by
        .zip(end.shown.player)
        .and_then(|(team, player)| player_name(header, team, player));
    match (player, end.shown.by) {
        (Some(player), Some(_)) if !how.is_empty() => format!("{words} by {player}"),
        (None, Some(by)) if by != winner && !how.is_empty() => {
            format!("{words} by {}", team_name(header, by))
        }
        _ => words,
    }
}

/// What a rally did to the score: "point", "side out", "game", "match".
pub(crate) fn consequence(rally: &RecordedRally) -> Option<&'static str> {
    let (before, after) = (&rally.before, &rally.after);
    if !rally.counted {
        return None;
    }
    if after.winner.is_some() {
        Some("match")
    } else if after.finished.len() > before.finished.len() {
        Some("game")
    } else if before.points != after.points {
        Some("point")
    } else if before.serving != after.serving {
        Some("side out")
    } else if before.server != after.server {
        Some("second server")
    } else {
        None
    }
}

/// The call with en dashes: "3–5–1". Empty after the match.
pub(crate) fn call_words(score: &Score) -> String {
    let call = score.call.map(|call| call.to_string());
    call.unwrap_or_default().replace('-', "–")
}

/// Who struck a shot: the player where known, else the team.
pub(crate) fn striker(header: &Header, shot: &RecordedShot) -> String {
    shot.shown
        .player
        .and_then(|player| player_name(header, shot.shown.team, player))
        .unwrap_or_else(|| team_name(header, shot.shown.team))
}

/// The format as it is announced: "Doubles, side-out scoring, best of 3 to 11,
/// win by 2".
pub(crate) fn format_words(format: &Format) -> String {
    let discipline = match format.discipline {
        Discipline::Doubles => "Doubles",
        Discipline::Singles => "Singles",
    };
    let scoring = match format.scoring {
        Scoring::SideOut => "side-out scoring",
        Scoring::Rally { .. } => "rally scoring",
    };
    let length = match format.games {
        1 => format!("one game to {}", format.points),
        games => format!("best of {games} to {}", format.points),
    };
    format!(
        "{discipline}, {scoring}, {length}, win by {}",
        format.win_by
    )
}

/// Minutes and seconds from the start of the match: "12:34", "1:02:34".
pub(crate) fn clock_words(milliseconds: i64) -> String {
    let seconds = milliseconds / 1000;
    let (hours, minutes, seconds) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
    match hours {
        0 => format!("{minutes}:{seconds:02}"),
        _ => format!("{hours}:{minutes:02}:{seconds:02}"),
    }
}

/// Seconds with three decimals, as machines read them.
pub(crate) fn seconds(milliseconds: i64) -> String {
    let sign = if milliseconds < 0 { "-" } else { "" };
    let all = milliseconds.unsigned_abs();
    format!("{sign}{}.{:03}", all / 1000, all % 1000)
}

/// Whether a time was recorded.
pub(crate) fn time_source(time: MatchTime) -> &'static str {
    if time.estimated {
        "estimated"
    } else {
        "recorded"
    }
}

/// So many, with the word in its number: "1 shot", "9 shots".
pub(crate) fn counted(number: usize, word: &str) -> String {
    match number {
        1 => format!("1 {word}"),
        _ => format!("{number} {word}s"),
    }
}
