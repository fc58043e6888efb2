//! What a made-up match should be like.
//!
//! Plain data, chosen by the caller. Formats that a header cannot say are
//! found out when the simulation starts ([`PlanError`]).

use rallytide_chart::{At, Discipline, Format, PairOf, Refusal, Scoring, TeamSheet};

/// A made-up match: which one, under which format, charted how.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// Decides everything that is left to chance.
    pub seed: u64,
    /// Under which rules is played.
    pub format: Format,
    /// How much the charter records.
    pub detail: Detail,
    /// How fast the match goes.
    pub tempo: Tempo,
    /// Whether the charter makes mistakes and mends them.
    pub mistakes: Mistakes,
    /// Whose shots and errors the charter names.
    pub players: NamedPlayers,
    /// What happens beside the rallies.
    pub incidents: Incidents,
    /// When the first rally is about to start, on the charter's clock.
    pub start: At,
    /// What the header announces, where it should not be made up.
    pub billing: Billing,
}

impl Plan {
    /// Side-out doubles, best of three to 11, every shot charted by a volunteer
    /// who makes mistakes now and then, at the published tempo, on 9 May 2026.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        Self {
            seed,
            format: Format {
                discipline: Discipline::Doubles,
                scoring: Scoring::SideOut,
                points: 11,
                win_by: 2,
                games: 3,
            },
            detail: Detail::EveryShot,
            tempo: Tempo::default(),
            mistakes: Mistakes::Lifelike,
            players: NamedPlayers::Some,
            incidents: Incidents::Lifelike,
            start: At::from_milliseconds(1_778_320_800_000),
            billing: Billing::default(),
        }
    }
}

/// The three depths of charting.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Detail {
    /// Who won each rally, and what changes the score or stops play.
    ScoreOnly,
    /// Also how each rally ended and by whom, the shots of its last exchange that
    /// earned a cue, and the shot that ended it.
    EndsAndCues,
    /// Every shot, with cues and depths.
    EveryShot,
}

impl Detail {
    /// All of them, the least first.
    pub const ALL: &[Self] = &[Self::ScoreOnly, Self::EndsAndCues, Self::EveryShot];

    /// A short word, for command lines and settings.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::ScoreOnly => "score",
            Self::EndsAndCues => "ends",
            Self::EveryShot => "shots",
        }
    }

    /// The one written as `word`; `None` for an unknown word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|one| one.word() == word)
    }
}

/// How long shots and pauses last, in percent of the published figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Tempo {
    shots: u32,
    pauses: u32,
}

impl Tempo {
    /// Percentages a tempo can have.
    pub const RANGE: std::ops::RangeInclusive<u32> = 10..=1000;

    /// `shots` for the time between shots, `pauses` for everything between
    /// rallies; 100 is the published tempo, 200 takes twice as long. `None`
    /// outside [`RANGE`](Self::RANGE).
    #[must_use]
    pub fn new(shots: u32, pauses: u32) -> Option<Self> {
        (Self::RANGE.contains(&shots) && Self::RANGE.contains(&pauses))
            .then_some(Self { shots, pauses })
    }

    /// `milliseconds` of play at this tempo.
    pub(crate) fn of_shots(self, milliseconds: i64) -> i64 {
        milliseconds * i64::from(self.shots) / 100
    }

    /// `milliseconds` of a pause at this tempo.
    pub(crate) fn of_pauses(self, milliseconds: i64) -> i64 {
        milliseconds * i64::from(self.pauses) / 100
    }
}

impl Default for Tempo {
    fn default() -> Self {
        Self {
            shots: 100,
            pauses: 100,
        }
    }
}

/// Whether the charter makes mistakes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Mistakes {
    /// A charter who never errs: no corrections, no shot missed.
    None,
    /// Wrong strokes amended later, missed shots inserted later or never, a key
    /// hit twice, a rally given to the wrong team and given back.
    Lifelike,
}

/// Which shots and errors of doubles the charter names the player of. The serve
/// and the return are named in none: they are known by the score.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum NamedPlayers {
    /// Every shot from the third on, and every end.
    All,
    /// A shot in twelve, an end in three: what one finds time for.
    Some,
    /// Nobody.
    None,
}

/// What happens beside the rallies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Incidents {
    /// Rallies only: one after the other, ends changed where the rules say so.
    None,
    /// Time-outs; rarely replays, penalties, medical time-outs, a ruling turned
    /// over, a new starting server, notes; very rarely a retirement.
    Lifelike,
}

/// What the header announces; whatever is `None` is made up from the seed.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Billing {
    /// The match's id: 1 to 64 of `A-Z a-z 0-9 _ -`.
    pub id: Option<String>,
    /// The match's title.
    pub title: Option<String>,
    /// Where it is played.
    pub court: Option<String>,
    /// The teams, with as many players as the format asks for.
    pub teams: Option<PairOf<TeamSheet>>,
}

/// A plan that makes no match.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PlanError {
    /// The header that follows from the plan breaks a rule of the chart format.
    #[error("could not make a match of this plan")]
    Header(#[from] Refusal),
}
