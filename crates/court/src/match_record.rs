//! The record of a match, made from its chart.
//!
//! A pure function of the effective chart and the plugins. Who holds, and how
//! deep a team stands, is taken from the readings; nothing is judged here.

use std::sync::Arc;

use rallytide_chart::{Chart, Effective, PairOf, Play, Stroke};
use rallytide_match_record::{
    MatchRecord, MatchTime, RecordItem, RecordedDepth, RecordedEnd, RecordedIncident,
    RecordedInitiative, RecordedRally, RecordedShot, ShownShot,
};
use rallytide_plugin_host::{PluginSet, Run};
use rallytide_readings::{KnownIndicator, Unavailable, Value};
use rallytide_scoring::{Phase, PlayByPlay, Score};

use crate::book::RallyPatch;
use crate::timeline::timeline;
use crate::walk::{WalkedEntry, walk};

/// The record of the match of `chart`.
#[must_use]
pub fn match_record(chart: &Chart, plugin_set: &PluginSet) -> MatchRecord {
    match_record_and_run(chart, plugin_set).0
}

/// As [`match_record`]; the plugins' run at the end comes along.
#[must_use]
pub fn match_record_and_run(chart: &Chart, plugin_set: &PluginSet) -> (MatchRecord, Run) {
    let times = timeline(&chart.effective());
    let opening = PlayByPlay::new(chart.header()).score().clone();
    let mut builder = Builder {
        items: Vec::new(),
        running: None,
        score: opening.clone(),
    };
    let mut times_left = times.iter();
    let run = walk(chart, plugin_set, |walked| {
        if let Some(time) = times_left.next() {
            builder.add(walked, *time);
        }
    });
    let unavailable = run
        .unavailable()
        .map(|(plugin, message)| Unavailable { plugin, message });
    let record = MatchRecord {
        header: Arc::clone(chart.header()),
        opening,
        items: builder.items,
        closing: builder.score,
        readings: run.readings().cloned().collect(),
        unavailable: unavailable.collect(),
        begins: times.first().map(|first| first.at),
    };
    (record, run)
}

struct Builder {
    items: Vec<RecordItem>,
    /// The place of the rally being played.
    running: Option<usize>,
    /// The score before the entry whose turn it is.
    score: Score,
}

impl Builder {
    fn add(&mut self, walked: &WalkedEntry<'_>, time: MatchTime) {
        let after_match = walked.turn.phase == Phase::AfterMatch;
        if let Some(patch) = walked.rally {
            self.rally(patch, walked, time);
        } else if let (Play::Cue(_), Some(rally)) = (&*walked.entry.play, self.running_rally()) {
            rally.flags.extend(&walked.turn.flags);
        }
        let is_note = matches!(*walked.entry.play, Play::Note { .. });
        if is_incident(&walked.entry.play) && (is_note || !after_match) {
            self.incident(walked, time);
        }
        if walked.turn.score_changed {
            self.score = walked.score.clone();
        }
    }

    fn running_rally(&mut self) -> Option<&mut RecordedRally> {
        match self.items.get_mut(self.running?) {
            Some(RecordItem::Rally(rally)) => Some(rally),
            _ => None,
        }
    }

    /// The rally with this number, begun if it is a new one.
    fn begun(&mut self, number: u32, time: MatchTime) -> &mut RecordedRally {
        if self
            .running_rally()
            .is_none_or(|rally| rally.number != number)
        {
            self.running = Some(self.items.len());
            self.items.push(RecordItem::Rally(RecordedRally {
                number,
                before: self.score.clone(),
                after: self.score.clone(),
                counted: false,
                began: time,
                shots: Vec::new(),
                initiative: Vec::new(),
                end: None,
                flags: Vec::new(),
            }));
        }
        self.running_rally()
            .expect("a rally was begun above where none was running")
    }

    fn rally(&mut self, patch: &RallyPatch, walked: &WalkedEntry<'_>, time: MatchTime) {
        let rally = self.begun(patch.number, time);
        let entry = walked.entry;
        for shown in &patch.shots {
            let known = rally.shots.iter_mut().find(|shot| shot.shown.n == shown.n);
            match known {
                Some(shot) => shot.shown = shown.clone(),
                None => rally.shots.push(recorded_shot(shown, walked, time)),
            }
        }
        rally.after = walked.score.clone();
        if let Some(end) = &patch.end {
            let (recorded_player, fault) = match &*entry.play {
                Play::RallyEnd(end) => (end.player, end.fault),
                _ => (None, None),
            };
            rally.counted = walked.turn.counted && matches!(*entry.play, Play::RallyEnd(_));
            rally.end = Some(RecordedEnd {
                shown: end.clone(),
                time,
                recorded_player,
                fault,
                play: Arc::clone(&entry.play),
            });
            self.running = None;
            return;
        }
        if !matches!(*entry.play, Play::Shot(_)) {
            rally.flags.extend(&walked.turn.flags);
        }
        if let Some(latest) = rally.shots.last_mut() {
            latest.depths = depths(walked.run);
        }
        if let Some(initiative) = initiative(entry, walked.run, time) {
            rally.initiative.push(initiative);
        }
    }

    fn incident(&mut self, walked: &WalkedEntry<'_>, time: MatchTime) {
        let rally = self.running_rally().map(|rally| rally.number);
        self.items
            .push(RecordItem::RecordedIncident(RecordedIncident {
                entry: walked.entry.id.clone(),
                time,
                play: Arc::clone(&walked.entry.play),
                rally,
                before: self.score.clone(),
                after: walked.score.clone(),
                flags: walked.turn.flags.clone(),
            }));
    }
}

/// Whether it is told beside the rallies.
fn is_incident(play: &Play) -> bool {
    match play {
        Play::Shot(_) | Play::Cue(_) | Play::Depth(_) | Play::RallyEnd(_) | Play::Replay => false,
        Play::TimeOut(_)
        | Play::Penalty { .. }
        | Play::ScoreFix(_)
        | Play::Lineup(_)
        | Play::Retire { .. }
        | Play::Note { .. } => true,
    }
}

fn recorded_shot(shown: &ShownShot, walked: &WalkedEntry<'_>, time: MatchTime) -> RecordedShot {
    let struck = match &*walked.entry.play {
        Play::Shot(shot) if !shown.assumed => Some(shot),
        _ => None,
    };
    RecordedShot {
        shown: shown.clone(),
        time: struck.map(|_| time),
        recorded: struck.map(|_| walked.entry.at),
        recorded_player: struck.and_then(|shot| shot.player),
        contact_given: struck
            .is_some_and(|shot| shot.contact.is_some() && shot.stroke != Stroke::Serve),
        depths: PairOf::default(),
        flags: match struck {
            Some(_) => walked.turn.flags.clone(),
            None => Vec::new(),
        },
    }
}

fn depths(run: &Run) -> PairOf<Option<RecordedDepth>> {
    let mut depths = PairOf::<Option<RecordedDepth>>::default();
    for reading in run
        .readings()
        .filter(|one| KnownIndicator::Depth.names(&one.key))
    {
        if let (Some(team), Value::Text { text }) = (reading.key.team, &reading.value) {
            *depths.of_mut(team) = Some(RecordedDepth {
                depth: text.clone(),
                inferred: reading.flags.iter().any(|flag| flag == "inferred"),
            });
        }
    }
    depths
}

fn initiative(entry: &Effective, run: &Run, time: MatchTime) -> Option<RecordedInitiative> {
    let reading = run.reading(KnownIndicator::Initiative.name())?;
    let Value::Lean { toward, strength } = reading.value else {
        return None;
    };
    Some(RecordedInitiative {
        entry: entry.id.clone(),
        time,
        toward,
        strength,
        why: reading.why.clone(),
    })
}
