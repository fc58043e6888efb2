//! Simulated charts, and courts without plugins.

use std::sync::Arc;

use rallytide_bus::{EmbeddedBus, system_clock};
use rallytide_chart::{Chart, Entry, Header, read_chart_file};
use rallytide_court::{ChartedMatch, CourtName, Courts, LiveCourt, Recorder, Replace, Role, Seat};
use rallytide_plugin_host::PluginSet;
use rallytide_simulate::{Plan, simulate};
use serde_json::{Map, Value};

/// No plugins: what is tested here does not depend on them.
pub(crate) fn no_plugins() -> Arc<PluginSet> {
    Arc::new(PluginSet::assemble(Vec::new(), &rallytide_plugin_host::Settings::new()).unwrap())
}

/// A made-up match with corrections, as its charter's client holds it.
pub(crate) fn simulated(seed: u64) -> Chart {
    let text = simulate(&Plan::new(seed)).unwrap().join("\n");
    let file = read_chart_file(text.as_bytes());
    assert_eq!(file.problems, [], "the simulation makes sound charts");
    file.chart.unwrap()
}

/// The entries of a chart as they are sent.
pub(crate) fn entries(chart: &Chart) -> Vec<Map<String, Value>> {
    let entries = chart.entries().iter();
    entries.map(|(_, entry)| entry.to_json().clone()).collect()
}

/// A match with the entries taken in one by one, as they came.
pub(crate) fn taken_one_by_one(chart: &Chart) -> ChartedMatch {
    let mut charted = ChartedMatch::new(chart.header().as_ref().clone(), no_plugins());
    for (seq, entry) in chart.entries() {
        charted.take(*seq, entry.as_ref().clone(), None);
    }
    charted
}

/// The text of a snapshot, without the reason it came for.
pub(crate) fn state(charted: &ChartedMatch) -> String {
    charted.snapshot(None).text(Role::Booth).to_string()
}

/// The courts of a host on a folder.
pub(crate) fn host(folder: &std::path::Path) -> Courts {
    let bus = EmbeddedBus::start(folder, system_clock()).unwrap();
    Courts::open(Arc::new(bus), no_plugins()).unwrap()
}

/// A court of a host, with a match on it.
pub(crate) fn court_with(courts: &Courts, name: &str, header: &Header) -> Arc<LiveCourt> {
    let court = courts.court(&CourtName::new(name).unwrap()).unwrap();
    courts
        .start_by_charter(&court, header.clone(), Replace::OnlyFinished)
        .unwrap();
    court
}

/// Somebody who charts the match.
pub(crate) fn charter(client: &str) -> Recorder {
    Recorder::on(Seat::Chart, client)
}

/// An entry of the header's match, made of JSON text.
pub(crate) fn entry(text: &str) -> Map<String, Value> {
    serde_json::from_str(text).unwrap()
}

/// A side-out doubles match to 11.
pub(crate) fn header(id: &str) -> Header {
    Header::from_text(&format!(
        r#"{{"kind":"match","chart":1,"id":"{id}","title":"T","court":"1",
        "teams":{{"a":{{"name":"Reed / Lund","players":["Ada Reed","Bo Lund"]}},
                  "b":{{"name":"Marsh / Ford","players":["Cy Marsh","Di Ford"]}}}},
        "format":{{"discipline":"doubles","scoring":"side_out","points":11,"win_by":2,"games":1}},
        "first_serve":"a"}}"#
    ))
    .unwrap()
}

/// Reads an entry of `header`'s match.
pub(crate) fn read(header: &Header, text: &str) -> Entry {
    Entry::from_text(text, &header.format).unwrap()
}

/// Waits on this thread for what becomes durable.
pub(crate) fn block_on<T>(future: impl Future<Output = T>) -> T {
    tokio::runtime::Builder::new_current_thread()
        .build()
        .unwrap()
        .block_on(future)
}
