//! Charts told without plugins.

use std::sync::Arc;

use rallytide_agree::{Agreement, KindReport, compare};
use rallytide_chart::{Chart, read_chart_file};
use rallytide_court::match_record;
use rallytide_match_record::MatchRecord;
use rallytide_plugin_host::{PluginSet, Settings};
use rallytide_simulate::{Detail, Incidents, Mistakes, Plan, simulate};
use serde_json::Value;

pub(crate) fn no_plugins() -> Arc<PluginSet> {
    Arc::new(PluginSet::assemble(Vec::new(), &Settings::new()).unwrap())
}

pub(crate) fn read(lines: &[Value]) -> Chart {
    let text: Vec<String> = lines.iter().map(Value::to_string).collect();
    let file = read_chart_file(text.join("\n").as_bytes());
    assert_eq!(file.problems, [], "the chart is sound");
    file.chart.unwrap()
}

pub(crate) fn told(lines: &[Value]) -> MatchRecord {
    match_record(&read(lines), &no_plugins())
}

pub(crate) fn agreement(a: &[Value], b: &[Value]) -> Agreement {
    compare(&told(a), &told(b))
}

/// The lines of a simulated chart.
pub(crate) fn simulated(seed: u64, detail: Detail, mistakes: Mistakes) -> Vec<Value> {
    let plan = Plan {
        detail,
        mistakes,
        incidents: Incidents::None,
        ..Plan::new(seed)
    };
    let lines = simulate(&plan).unwrap();
    lines
        .iter()
        .map(|line| serde_json::from_str(line).unwrap())
        .collect()
}

/// Every shot, by a charter who never errs.
pub(crate) fn faultless(seed: u64) -> Vec<Value> {
    simulated(seed, Detail::EveryShot, Mistakes::None)
}

pub(crate) fn kind<'a>(agreement: &'a Agreement, word: &str) -> &'a KindReport {
    let found = agreement.kinds.iter().find(|kind| kind.kind == word);
    found.unwrap_or_else(|| panic!("there is no kind `{word}`"))
}

/// The differences as "kind entry-of-a entry-of-b said-by-a said-by-b".
pub(crate) fn differences(agreement: &Agreement) -> Vec<String> {
    let mut all: Vec<String> = agreement
        .differences
        .iter()
        .map(|place| {
            let id = |id: &Option<rallytide_chart::EntryId>| {
                id.as_ref()
                    .map_or_else(|| "-".to_owned(), ToString::to_string)
            };
            let (a, b) = (id(&place.entry_a), id(&place.entry_b));
            format!("{} {a} {b} {} {}", place.kind, place.a, place.b)
        })
        .collect();
    all.sort_unstable();
    all
}
