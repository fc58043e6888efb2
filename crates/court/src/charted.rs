//! A match with everything derived from its chart.

use std::collections::HashMap;
use std::sync::Arc;

use rallytide_chart::{Admission, Chart, Entry, EntryId, Flag, Header, Refusal, Seq, Team};
use rallytide_plugin_host::{PluginSet, Run, SwitchedOff};
use rallytide_readings::{KnownIndicator, Reading, Value};
use rallytide_scoring::Score;

use crate::derived::{ChartPosition, Derived, EntryEffect, Pause};
use crate::messages::Encoded;
use crate::seat::Recorder;

/// A match: its chart, its score, its readings, its rallies.
///
/// Everything but the chart is derived from the effective chart and is made
/// anew after a correction.
pub struct ChartedMatch {
    chart: Chart,
    recorders: HashMap<EntryId, Recorder>,
    plugin_set: Arc<PluginSet>,
    /// The plugins that are not to run on this match.
    off: SwitchedOff,
    derived: Derived,
    /// Whether corrections were taken in that have not been run yet.
    is_behind: bool,
    /// How often the plugins or the words were changed while the match was on.
    plugin_changes: u64,
    pause: Pause,
}

impl ChartedMatch {
    /// A match without entries.
    #[must_use]
    pub fn new(header: Header, plugin_set: Arc<PluginSet>) -> Self {
        Self::from_chart(Chart::new(header), plugin_set)
    }

    /// A match whose chart exists already.
    #[must_use]
    pub fn from_chart(chart: Chart, plugin_set: Arc<PluginSet>) -> Self {
        Self::from_chart_without(chart, plugin_set, SwitchedOff::new())
    }

    /// The same without some of the plugins.
    #[must_use]
    pub fn from_chart_without(chart: Chart, plugin_set: Arc<PluginSet>, off: SwitchedOff) -> Self {
        let derived = Derived::from_start(&chart, &plugin_set, &off);
        Self {
            chart,
            recorders: HashMap::new(),
            plugin_set,
            off,
            derived,
            is_behind: false,
            plugin_changes: 0,
            pause: Pause::Off,
        }
    }

    /// Runs the match again without these plugins.
    pub(crate) fn run_without(&mut self, off: SwitchedOff) {
        self.derived = Derived::from_start(&self.chart, &self.plugin_set, &off);
        self.off = off;
    }

    /// Counts one more change of plugins or words while the match is on, and
    /// gives what viewers are sent.
    pub(crate) fn changed(&mut self, reason: &'static str) -> Encoded {
        self.plugin_changes += 1;
        self.snapshot(Some(reason))
    }

    /// The plugins that are not to run on this match, with the reasons.
    #[must_use]
    pub fn switched_off(&self) -> &SwitchedOff {
        &self.off
    }

    /// The plugins.
    #[must_use]
    pub fn plugin_set(&self) -> &Arc<PluginSet> {
        &self.plugin_set
    }

    /// The same match under other plugins or another header: `fresh` is what
    /// they make of its chart so far. What was recorded since `fresh` was made is
    /// taken in.
    pub(crate) fn run_as(&self, mut fresh: Self) -> Self {
        let known = fresh.chart.entries().len();
        for (seq, entry) in &self.chart.entries()[known..] {
            fresh.take(*seq, entry.as_ref().clone(), None);
        }
        fresh.recorders.clone_from(&self.recorders);
        fresh.plugin_changes = self.plugin_changes;
        fresh.pause = self.pause;
        fresh
    }

    /// Raised by each correction, and by each change of plugins. The chart alone
    /// decides it on a host whose plugins stay as they are.
    #[must_use]
    pub fn revision(&self) -> u64 {
        self.chart.revision() + self.plugin_changes
    }

    /// The chart.
    #[must_use]
    pub fn chart(&self) -> &Chart {
        &self.chart
    }

    /// The score now.
    #[must_use]
    pub fn score(&self) -> &Score {
        self.derived.play.score()
    }

    /// All current readings, sorted.
    pub fn readings(&self) -> impl Iterator<Item = &Reading> {
        self.derived.run.readings()
    }

    /// The run of the plugins over the effective chart.
    #[must_use]
    pub fn run(&self) -> &Run {
        &self.derived.run
    }

    /// Judges whether `entry` may come in next.
    ///
    /// # Errors
    /// A refusal, with code and sentence.
    pub fn judge(&self, entry: &Entry) -> Result<Admission, Refusal> {
        let admission = self.chart.admit(entry)?;
        if admission == Admission::New {
            self.derived.play.admit(entry)?;
        }
        Ok(admission)
    }

    /// Takes in an entry that [`ChartedMatch::judge`] found new, at position
    /// `seq`, recorded by `by`.
    pub fn take(&mut self, seq: Seq, entry: Entry, by: Option<Recorder>) -> EntryEffect {
        let id = entry.id.clone();
        self.note_recorder(&id, by);
        self.chart.push_at(seq, entry);
        match self.chart.latest_effective() {
            Some(effective) if !self.is_behind => {
                let moment = self.moment();
                self.derived.update(&effective, moment)
            }
            _ => {
                let (mut change, flags) = self.correct(std::slice::from_ref(&id));
                change.flags = flags.into_iter().flatten().collect();
                change
            }
        }
    }

    /// Takes in a correction that [`ChartedMatch::judge`] found new without
    /// running the chart yet; [`ChartedMatch::correct`] then runs it once for
    /// all that came together.
    pub(crate) fn take_correction(&mut self, seq: Seq, entry: Entry, by: Option<Recorder>) {
        self.note_recorder(&entry.id, by);
        self.chart.push_at(seq, entry);
        self.is_behind = true;
    }

    /// Remembers who recorded an entry.
    pub fn note_recorder(&mut self, id: &EntryId, by: Option<Recorder>) {
        if let Some(by) = by {
            self.recorders.insert(id.clone(), by);
        }
    }

    /// The ids of the entries after `after` that `client` recorded, in order.
    #[must_use]
    pub fn recorded_by(&self, client: &str, after: Seq) -> Vec<EntryId> {
        let entries = self.chart.entries().iter();
        entries
            .filter(|(seq, _)| *seq > after)
            .filter(|(_, entry)| {
                let recorder = self.recorders.get(&entry.id);
                recorder.is_some_and(|recorder| *recorder.client == *client)
            })
            .map(|(_, entry)| entry.id.clone())
            .collect()
    }

    /// The whole state, encoded.
    #[must_use]
    pub fn snapshot(&self, reason: Option<&'static str>) -> Encoded {
        self.derived
            .snapshot(self.chart.header(), self.moment(), reason)
    }

    fn moment(&self) -> ChartPosition {
        ChartPosition {
            seq: self.chart.last_seq().0,
            revision: self.revision(),
            pause: self.pause,
        }
    }

    /// Notes whether the desk has paused play; every message says so meanwhile.
    pub(crate) fn set_pause(&mut self, pause: Pause) {
        self.pause = pause;
    }

    /// Who holds the initiative, or `None` inside where nobody does; `None` where
    /// no plugin says so at the moment.
    #[must_use]
    pub fn holder(&self) -> Option<Option<Team>> {
        self.readings().find_map(|reading| match reading.value {
            Value::Lean { toward, .. } if KnownIndicator::Initiative.names(&reading.key) => {
                Some(toward)
            }
            _ => None,
        })
    }

    /// Whether play is paused.
    #[must_use]
    pub fn is_paused(&self) -> bool {
        self.pause == Pause::On
    }

    /// Who recorded an entry, if that is known.
    #[must_use]
    pub fn recorder(&self, id: &EntryId) -> Option<&Recorder> {
        self.recorders.get(id)
    }

    /// Runs the corrected chart from the start. Beside the change come the flags
    /// of what each of these entries is about.
    pub(crate) fn correct(&mut self, taken: &[EntryId]) -> (EntryEffect, Vec<Vec<Flag>>) {
        let concerned: Vec<Option<EntryId>> =
            taken.iter().map(|id| self.concerned_by(id)).collect();
        let mut flags = vec![Vec::new(); taken.len()];
        let mut derived = Derived::at_start(&self.chart, &self.plugin_set, &self.off);
        derived.pass(&self.chart.effective(), |entry, turn| {
            for (concerned, flags) in concerned.iter().zip(&mut flags) {
                if Some(&entry.id) == concerned.as_ref() {
                    flags.clone_from(&turn.flags);
                }
            }
        });
        self.derived = derived;
        self.is_behind = false;
        let change = EntryEffect {
            flags: Vec::new(),
            plugin_stopped: !self.derived.run.faults().is_empty(),
            message: self.snapshot(Some("corrected")),
        };
        (change, flags)
    }

    /// The effective entry that an entry is about: itself, or what it amends or
    /// inserts.
    fn concerned_by(&self, taken: &EntryId) -> Option<EntryId> {
        use rallytide_chart::{Body, Correction};
        match &self.chart.entry(taken.as_str())?.body {
            Body::Correction(Correction::Amend { target, .. }) => Some(target.clone()),
            Body::Correction(Correction::Insert { .. }) | Body::Play(_) => Some(taken.clone()),
            Body::Correction(Correction::Retract { .. }) => None,
        }
    }
}
