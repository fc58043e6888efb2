//! A match as lines of text, for those who keep or play it elsewhere.

use rallytide_chart::Chart;
use rallytide_plugin_host::PluginSet;

use crate::role::Role;
use crate::walk::{play_back, run_over};

/// The feed as it would have been sent to a booth: a message a line with its
/// time from the first entry on.
pub fn feed_lines(chart: &Chart, plugin_set: &PluginSet) -> impl Iterator<Item = String> {
    let mut start = None;
    let mut at_ms = 0;
    play_back(chart, plugin_set).map(move |(at, message)| {
        if let Some(at) = at {
            let start = *start.get_or_insert(at.milliseconds());
            // An inserted entry carries the time at which it was put in; the
            // tape does not run ahead for it, nor backwards.
            at_ms = at_ms.max(at.milliseconds() - start);
        }
        let text = message.text(Role::Booth);
        format!("{{\"at_ms\":{at_ms},\"message\":{text}}}")
    })
}

/// The final readings, one a line.
///
/// # Panics
/// Never: a reading can always be written as JSON.
#[must_use]
pub fn reading_lines(chart: &Chart, plugin_set: &PluginSet) -> Vec<String> {
    let run = run_over(chart, plugin_set);
    let lines = run.readings().map(|reading| {
        serde_json::to_string(reading).expect("a reading holds only text, finite numbers and lists")
    });
    lines.collect()
}
