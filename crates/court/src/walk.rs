//! One pass over a chart from its start, for whoever wants the whole of it: the
//! readings, the record of the match, the recording of its feed.

use std::sync::Arc;

use rallytide_chart::{At, Chart, Effective};
use rallytide_plugin_host::{PluginSet, Run, SwitchedOff};
use rallytide_scoring::{Score, Turn};

use crate::book::RallyPatch;
use crate::derived::{ChartPosition, Derived};
use crate::messages::Encoded;

/// One entry of the effective chart with all it led to.
pub(crate) struct WalkedEntry<'a> {
    pub(crate) entry: &'a Effective,
    pub(crate) turn: &'a Turn,
    pub(crate) score: &'a Score,
    pub(crate) run: &'a Run,
    pub(crate) rally: Option<&'a RallyPatch>,
}

/// Runs score, plugins and rally book over a chart; `visit` sees each effective
/// entry with all it led to. The run at the end comes back.
pub(crate) fn walk(
    chart: &Chart,
    plugin_set: &PluginSet,
    mut visit: impl FnMut(&WalkedEntry<'_>),
) -> Run {
    let mut derived = Derived::at_start(chart, plugin_set, &SwitchedOff::new());
    for entry in chart.effective() {
        let seen = derived.step(&entry);
        visit(&WalkedEntry {
            entry: &entry,
            turn: &seen.turn,
            score: derived.play.score(),
            run: &derived.run,
            rally: seen.rally.as_ref(),
        });
    }
    derived.run
}

/// Runs the plugins over a chart; the run at the end comes back.
#[must_use]
pub fn run_over(chart: &Chart, plugin_set: &PluginSet) -> Run {
    Derived::from_start(chart, plugin_set, &SwitchedOff::new()).run
}

/// The same entry by entry, which takes longer; `visit` sees the run after each
/// effective entry.
pub fn walk_readings(
    chart: &Chart,
    plugin_set: &PluginSet,
    mut visit: impl FnMut(&Effective, &Run),
) -> Run {
    walk(chart, plugin_set, |walked| visit(walked.entry, walked.run))
}

/// The messages a viewer would have got, had the effective chart been recorded
/// without a slip: a snapshot, then an update for each entry with its time.
pub fn play_back(
    chart: &Chart,
    plugin_set: &PluginSet,
) -> impl Iterator<Item = (Option<At>, Encoded)> {
    let mut derived = Derived::at_start(chart, plugin_set, &SwitchedOff::new());
    let header = Arc::clone(chart.header());
    let first = derived.snapshot(&header, ChartPosition::start(), None);
    let entries = chart.effective().into_iter().map(move |entry| {
        let message = derived.update(&entry, ChartPosition::start()).message;
        (Some(entry.at), message)
    });
    std::iter::once((None, first)).chain(entries)
}
