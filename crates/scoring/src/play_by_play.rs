//! Chart and score side by side: one pass over the effective chart.

use rallytide_chart::{
    Body, ByTheScore, Discipline, Effective, Entry, Flag, Header, Play, RallyReader, RallyStep,
    Refusal, RefusalReason, Subject,
};

use crate::machine::ScoreKeeper;
use crate::score::Score;

/// Walks over the effective chart of a match and keeps its score.
#[derive(Debug, Clone)]
pub struct PlayByPlay {
    discipline: Discipline,
    rally: RallyReader,
    scoring: ScoreKeeper,
}

/// What an entry turned out to be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Turn {
    /// What it is to its rally.
    pub rally: RallyStep,
    /// Whether the score is another one now.
    pub score_changed: bool,
    /// Whether it counts a rally.
    pub counted: bool,
    /// Where in the match it stands.
    pub phase: Phase,
    /// What the charter should be told, sorted.
    pub flags: Vec<Flag>,
}

/// Where in the match an entry stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Phase {
    /// The match goes on, or ends with the end of a rally.
    InMatch,
    /// The match ends with it, but not with the end of a rally: the rally is
    /// cut off.
    CutsOff,
    /// The match was over before it: it changes nothing.
    AfterMatch,
}

impl PlayByPlay {
    /// The start of a match.
    #[must_use]
    pub fn new(header: &Header) -> Self {
        Self {
            discipline: header.format.discipline,
            rally: RallyReader::default(),
            scoring: ScoreKeeper::new(header),
        }
    }

    /// The score now.
    #[must_use]
    pub fn score(&self) -> &Score {
        self.scoring.score()
    }

    /// Judges whether `entry` may still be recorded: once the match is over only
    /// corrections and notes are.
    ///
    /// # Errors
    /// `match_over`.
    pub fn admit(&self, entry: &Entry) -> Result<(), Refusal> {
        let always = match &entry.body {
            Body::Play(play) => matches!(**play, Play::Note { .. }),
            Body::Correction(_) => true,
        };
        if always || !self.score().is_over() {
            return Ok(());
        }
        Err(Subject::from(&entry.id).refused(RefusalReason::MatchOver))
    }

    /// Takes the next entry.
    pub fn step(&mut self, entry: &Effective) -> Turn {
        if self.score().is_over() {
            return Turn {
                rally: RallyStep::default(),
                score_changed: false,
                counted: false,
                phase: Phase::AfterMatch,
                flags: Vec::new(),
            };
        }
        let by_the_score = self.by_the_score();
        let rally = self.rally.step_by_the_score(entry, by_the_score);
        let scored = self.scoring.step(&entry.play);
        let phase = if scored.ended_match && !matches!(*entry.play, Play::RallyEnd(_)) {
            Phase::CutsOff
        } else {
            Phase::InMatch
        };
        let mut flags = rally.flags.clone();
        flags.extend(scored.flags);
        flags.sort_unstable_by_key(|flag| flag.word());
        Turn {
            rally,
            score_changed: scored.changed,
            counted: scored.counted,
            phase,
            flags,
        }
    }

    fn by_the_score(&self) -> ByTheScore {
        let score = self.score();
        ByTheScore {
            discipline: self.discipline,
            serving: score.serving,
            server: score.server_player,
            receiver: score.receiver_player,
        }
    }
}
