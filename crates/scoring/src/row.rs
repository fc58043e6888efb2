//! The score in words: one row of the table that people read.
//!
//! Works from the scores before and after an entry, so that it can never say
//! anything else than they do. Names come from the header; where it gives no
//! player names, players are numbered as the chart numbers them. Widths and
//! lines of the table are the caller's.

use rallytide_chart::{Header, How, Play, RallyEnd, Team};

use crate::score::Score;

/// One row of the table: the score after an entry, and what led to it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ScoreRow {
    /// Rallies counted so far.
    pub rally: String,
    /// The game being played.
    pub game: String,
    /// The call; after the match the points of its last game, a's first.
    pub call: String,
    /// Who serves: player and team; empty after the match.
    pub server: String,
    /// The court served from; empty after the match.
    pub court: String,
    /// Who receives; empty after the match.
    pub receiver: String,
    /// What happened, as [`what_happened`] says it.
    pub what: String,
    /// The team at the near end.
    pub near: String,
}

impl ScoreRow {
    /// What stands above each cell.
    pub const HEADINGS: [&str; 8] = [
        "rally",
        "game",
        "call",
        "server",
        "court",
        "receiver",
        "near end",
        "what happened",
    ];

    /// The row for the score before the first entry.
    #[must_use]
    pub fn opening(header: &Header, score: &Score) -> Self {
        Self::with(header, score, "start of the match".into())
    }

    /// The row for `after`, the score that `play` made of `before`.
    #[must_use]
    pub fn new(header: &Header, before: &Score, play: &Play, after: &Score) -> Self {
        Self::with(header, after, what_happened(header, before, play, after))
    }

    fn with(header: &Header, score: &Score, what: String) -> Self {
        let on_court = |team: Team, player: u32| {
            if score.is_over() {
                String::new()
            } else {
                player_and_team(header, team, player)
            }
        };
        Self {
            rally: score.rallies.to_string(),
            game: score.game.to_string(),
            call: match score.call {
                Some(call) => call.to_string(),
                None => format!("points {}-{}", score.points.a, score.points.b),
            },
            server: on_court(score.serving, score.server_player),
            court: match score.winner {
                Some(_) => String::new(),
                None => score.court.to_string(),
            },
            receiver: on_court(score.receiving(), score.receiver_player),
            what,
            near: team_name(header, score.near).to_owned(),
        }
    }

    /// The cells in the order of [`ScoreRow::HEADINGS`].
    #[must_use]
    pub fn cells(&self) -> [&str; 8] {
        [
            &self.rally,
            &self.game,
            &self.call,
            &self.server,
            &self.court,
            &self.receiver,
            &self.near,
            &self.what,
        ]
    }
}

/// What an entry did to the score, in words: the entry itself, then what it led
/// to, separated by semicolons. Empty for an entry that is none of the score's.
#[must_use]
pub fn what_happened(header: &Header, before: &Score, play: &Play, after: &Score) -> String {
    let name = |team: Team| team_name(header, team);
    let itself = match play {
        Play::RallyEnd(end) => return rally_in_words(header, before, end, after),
        Play::Replay => "the rally is replayed".into(),
        Play::TimeOut(time_out) if time_out.medical => {
            format!("medical time-out for {}", name(time_out.team))
        }
        Play::TimeOut(time_out) => {
            let left = after.time_outs_left.of(time_out.team);
            if before.time_outs_left.of(time_out.team) == left {
                format!("{} asked for a time-out, none left", name(time_out.team))
            } else {
                format!("time-out for {}, {left} left", name(time_out.team))
            }
        }
        Play::Penalty { team } if *before.points.of(*team) > 0 => {
            format!("technical foul by {}: a point off", name(*team))
        }
        Play::Penalty { team } => format!(
            "technical foul by {}: a point to {}",
            name(*team),
            name(team.other())
        ),
        Play::ScoreFix(_) => "the referee set the score".into(),
        Play::Lineup(lineup) => format!(
            "{} starts for {}",
            player(header, lineup.team, lineup.starting_server),
            name(lineup.team)
        ),
        Play::Retire { team } => format!("{} retired", name(*team)),
        Play::Shot(_) | Play::Cue(_) | Play::Depth(_) | Play::Note { .. } => return String::new(),
    };
    with_consequences(header, itself, before, after)
}

fn rally_in_words(header: &Header, before: &Score, end: &RallyEnd, after: &Score) -> String {
    let mut words = format!("rally to {}", team_name(header, end.winner));
    if let Some(ending) = ending_in_words(header, end) {
        words = format!("{words} ({ending})");
    }
    let game_over = before.finished.len() != after.finished.len();
    let scored = game_over || before.points != after.points;
    let turn = if before.serving != after.serving {
        Some("side out")
    } else if before.server != after.server {
        Some("second server")
    } else {
        None
    };
    if scored {
        words.push_str("; point");
    }
    if let (false, Some(turn)) = (game_over, turn) {
        words = format!("{words}; {turn}");
    }
    with_consequences(header, words, before, after)
}

/// How the rally ended, as far as it was recorded: "Jonas Lind, out".
fn ending_in_words(header: &Header, end: &RallyEnd) -> Option<String> {
    let how = match (end.how?, end.fault) {
        (How::Fault, Some(fault)) => format!("fault: {}", fault.word().replace('_', " ")),
        (How::Unknown, _) => return None,
        (how, _) => how.word().to_owned(),
    };
    Some(match (end.by, end.player) {
        (Some(team), Some(number)) => format!("{}, {how}", player(header, team, number)),
        (Some(team), None) => format!("{}, {how}", team_name(header, team)),
        (None, _) => how,
    })
}

fn with_consequences(header: &Header, itself: String, before: &Score, after: &Score) -> String {
    let mut words = itself;
    if let (true, Some(game)) = (
        before.finished.len() < after.finished.len(),
        after.finished.last(),
    ) {
        let winner = if game.a > game.b { Team::A } else { Team::B };
        let (won, lost) = (game.of(winner), game.of(winner.other()));
        let name = team_name(header, winner);
        words = format!("{words}; game to {name}, {won}-{lost}");
    }
    if let Some(winner) = after.winner {
        words = format!("{words}; match to {}", team_name(header, winner));
    }
    if after.change_ends {
        words.push_str("; change ends");
    }
    words
}

fn team_name(header: &Header, team: Team) -> &str {
    match header.teams.of(team).name.as_str() {
        "" => team.word(),
        name => name,
    }
}

fn player(header: &Header, team: Team, player: u32) -> String {
    match header.player_name(team, player) {
        Some(name) => name.to_owned(),
        None => format!("player {player}"),
    }
}

fn player_and_team(header: &Header, team: Team, number: u32) -> String {
    format!(
        "{} ({})",
        player(header, team, number),
        team_name(header, team)
    )
}
