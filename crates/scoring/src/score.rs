//! The score object, serialised key by key as files and pages get it.
//!
//! Plain data, cheap to clone. Only [`ScoreKeeper`](crate::ScoreKeeper) makes one;
//! nothing here knows how a score comes about.

use std::fmt;
use std::sync::Arc;

use rallytide_chart::{PairOf, Team};
use serde::{Serialize, Serializer};

/// The score at one moment of a match.
///
/// While the match runs, everything about serving and standing is where the
/// players *should* be for the coming rally. Once [`winner`](Self::winner) is
/// set, points are those of the last game and the fields about serving and
/// ends are as they were just before the entry that ended the match.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct Score {
    /// The game being played, from 1.
    pub game: u32,
    /// Games won.
    pub games: PairOf<u32>,
    /// Points of the current game.
    pub points: PairOf<u32>,
    /// What the server calls out before serving; `None` after the match.
    pub call: Option<Call>,
    /// The team that serves next.
    pub serving: Team,
    /// 1 or 2; `None` where a service turn has one server.
    pub server: Option<u32>,
    /// Which player of the serving team serves.
    pub server_player: u32,
    /// Which player of the other team receives.
    pub receiver_player: u32,
    /// The court the server serves from.
    pub court: ServiceCourt,
    /// The games that are over, in order.
    pub finished: Arc<Vec<PairOf<u32>>>,
    /// Whether the teams change ends now.
    pub change_ends: bool,
    /// The team at the near end, after the change if there is one now.
    pub near: Team,
    /// Standard time-outs left in this game.
    pub time_outs_left: PairOf<u32>,
    /// The team that would win the game by winning the next rally; the serving
    /// team if both would.
    pub game_point: Option<Team>,
    /// The team that would win the match by winning the next rally; the serving
    /// team if both would.
    pub match_point: Option<Team>,
    /// Who won the match.
    pub winner: Option<Team>,
    /// Rallies of the whole match, replayed ones left out.
    pub rallies: u32,
}

impl Score {
    /// Whether the match is over, by play or by retirement.
    #[must_use]
    pub fn is_over(&self) -> bool {
        self.winner.is_some()
    }

    /// The score in a word: the call, and once the match is over `final` and the
    /// games, a's first.
    #[must_use]
    pub fn call_or_final(&self) -> String {
        match &self.call {
            Some(call) => call.to_string(),
            None => format!("final {}-{}", self.games.a, self.games.b),
        }
    }

    /// The team that receives next.
    #[must_use]
    pub fn receiving(&self) -> Team {
        self.serving.other()
    }
}

/// The score as it is called: the serving team's points, the receiving team's
/// points and, in side-out doubles, the server number (USA Pickleball rulebook
/// 2026, 6.B.2; two numbers in singles and in rally scoring, 14.A.3). Written
/// with hyphens.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(
    feature = "ts",
    derive(ts_rs::TS, schemars::JsonSchema),
    ts(type = "string"),
    schemars(into = "String")
)]
pub struct Call {
    /// The serving team's points.
    pub serving: u32,
    /// The receiving team's points.
    pub receiving: u32,
    /// The server number, where there is one.
    pub server: Option<u32>,
}

impl fmt::Display for Call {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}-{}", self.serving, self.receiving)?;
        match self.server {
            Some(number) => write!(f, "-{number}"),
            None => Ok(()),
        }
    }
}

impl Serialize for Call {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

/// A service court, as the team that stands in it faces the net.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub enum ServiceCourt {
    /// The right, or even, court.
    Right,
    /// The left, or odd, court.
    Left,
}

impl ServiceCourt {
    /// The word as it is written in a score.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Right => "right",
            Self::Left => "left",
        }
    }
}

impl fmt::Display for ServiceCourt {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}
