//! Everything that follows from a chart: score, plugins, rally book, and the
//! messages that say what an entry has changed.

use std::sync::Arc;

use rallytide_chart::{Chart, Effective, Flag, Header, Play};
use rallytide_plugin_host::{PluginSet, Run, Step, SwitchedOff};
use rallytide_readings::{KnownIndicator, Reading, ReadingKey, Unavailable};
use rallytide_scoring::{Phase, PlayByPlay, Score, Turn};
use serde_json::Map;

use crate::book::{RallyBook, RallyPatch};
use crate::messages::{Encoded, Snapshot, Update};

/// Whether the desk has paused play.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Pause {
    On,
    Off,
}

/// What is made anew from the effective chart after each correction.
pub(crate) struct Derived {
    pub(crate) play: PlayByPlay,
    pub(crate) run: Run,
    book: RallyBook,
    /// What happened between rallies and lasts until the next shot.
    between: Option<Map<String, serde_json::Value>>,
    unavailable: Vec<Unavailable>,
}

/// What taking in an entry did.
#[derive(Debug)]
pub struct EntryEffect {
    /// What the charter should be told.
    pub flags: Vec<Flag>,
    /// What viewers are sent.
    pub message: Encoded,
    /// Whether a plugin was stopped.
    pub plugin_stopped: bool,
}

/// Where in its chart a state belongs.
#[derive(Debug, Clone, Copy)]
pub(crate) struct ChartPosition {
    pub(crate) seq: u64,
    pub(crate) revision: u64,
    pub(crate) pause: Pause,
}

impl ChartPosition {
    pub(crate) fn start() -> Self {
        Self {
            seq: 0,
            revision: 0,
            pause: Pause::Off,
        }
    }
}

/// What one entry did to everything derived.
pub(crate) struct DerivedChanges {
    pub(crate) turn: Turn,
    changed: Vec<Arc<Reading>>,
    gone: Vec<ReadingKey>,
    pub(crate) rally: Option<RallyPatch>,
    plugin_stopped: bool,
}

impl Derived {
    pub(crate) fn at_start(chart: &Chart, plugin_set: &PluginSet, off: &SwitchedOff) -> Self {
        let play = PlayByPlay::new(chart.header());
        let run = plugin_set.start_without(chart.header(), play.score(), off);
        let mut derived = Self {
            play,
            run,
            book: RallyBook::default(),
            between: None,
            unavailable: Vec::new(),
        };
        derived.note_unavailable();
        derived
    }

    pub(crate) fn from_start(chart: &Chart, plugin_set: &PluginSet, off: &SwitchedOff) -> Self {
        let mut derived = Self::at_start(chart, plugin_set, off);
        derived.pass(&chart.effective(), |_, _| {});
        derived
    }

    /// Takes many entries, to the same end as one after another but much
    /// quicker; `visit` sees each with its turn.
    pub(crate) fn pass(&mut self, entries: &[Effective], mut visit: impl FnMut(&Effective, &Turn)) {
        let play = |entry| {
            let turn = self.play.step(entry);
            (turn, self.play.score().clone())
        };
        let played: Vec<(Turn, Score)> = entries.iter().map(play).collect();
        let steps: Vec<Step<'_>> = entries
            .iter()
            .zip(&played)
            .filter(|(_, (turn, _))| turn.phase != Phase::AfterMatch)
            .map(|(entry, (turn, score))| Step {
                entry,
                rally: &turn.rally,
                score,
            })
            .collect();
        let mut initiative = self.run.reading(KnownIndicator::Initiative.name()).cloned();
        let mut outcomes = self.run.step_all(&steps).into_iter();
        for (entry, (turn, _)) in entries.iter().zip(&played) {
            if turn.phase != Phase::AfterMatch
                && let Some(outcome) = outcomes.next()
            {
                outcome.follow(KnownIndicator::Initiative.name(), &mut initiative);
            }
            self.note_between(entry);
            self.book.write(entry, turn, initiative.as_deref());
            visit(entry, turn);
        }
        self.note_unavailable();
    }

    pub(crate) fn step(&mut self, entry: &Effective) -> DerivedChanges {
        let turn = self.play.step(entry);
        let mut seen = DerivedChanges {
            turn,
            changed: Vec::new(),
            gone: Vec::new(),
            rally: None,
            plugin_stopped: false,
        };
        if seen.turn.phase != Phase::AfterMatch {
            let outcome = self.run.step(entry, &seen.turn.rally, self.play.score());
            seen.changed = outcome.changed;
            seen.gone = outcome.gone;
            seen.plugin_stopped = !outcome.faults.is_empty();
            if seen.plugin_stopped {
                self.note_unavailable();
            }
        }
        self.note_between(entry);
        let initiative = self
            .run
            .reading(KnownIndicator::Initiative.name())
            .map(AsRef::as_ref);
        seen.rally = self.book.write(entry, &seen.turn, initiative);
        seen
    }

    /// Takes an entry and says what it changed.
    pub(crate) fn update(&mut self, entry: &Effective, moment: ChartPosition) -> EntryEffect {
        let seen = self.step(entry);
        let unavailable = seen.plugin_stopped.then_some(self.unavailable.as_slice());
        let message = Update {
            seq: entry.seq.0,
            revision: moment.revision,
            entry: &entry.to_json(),
            score: seen.turn.score_changed.then(|| self.play.score()),
            readings: seen.changed.iter().map(AsRef::as_ref).collect(),
            gone: &seen.gone,
            rally: seen.rally.as_ref(),
            unavailable,
            paused: moment.pause == Pause::On,
        }
        .encode();
        EntryEffect {
            flags: seen.turn.flags,
            message,
            plugin_stopped: seen.plugin_stopped,
        }
    }

    pub(crate) fn snapshot(
        &self,
        header: &Header,
        moment: ChartPosition,
        reason: Option<&'static str>,
    ) -> Encoded {
        Snapshot {
            seq: moment.seq,
            revision: moment.revision,
            reason,
            header: Some(header.to_json()),
            score: Some(self.play.score()),
            readings: self.run.readings().collect(),
            rally: self.book.shown(),
            between: self.between.as_ref(),
            unavailable: &self.unavailable,
            paused: moment.pause == Pause::On,
        }
        .encode()
    }

    /// Keeps what viewers want to know between rallies until play goes on.
    fn note_between(&mut self, entry: &Effective) {
        match entry.play.as_ref() {
            Play::TimeOut(_) | Play::Penalty { .. } | Play::ScoreFix(_) | Play::Replay => {
                self.between = Some(entry.to_json());
            }
            Play::Shot(_) | Play::RallyEnd(_) | Play::Retire { .. } => self.between = None,
            Play::Cue(_) | Play::Depth(_) | Play::Lineup(_) | Play::Note { .. } => {}
        }
    }

    fn note_unavailable(&mut self) {
        self.unavailable = self
            .run
            .unavailable()
            .map(|(plugin, message)| Unavailable { plugin, message })
            .collect();
    }
}
