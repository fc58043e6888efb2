//! Looking a whole chart file over: what would be refused, what is flagged.

use std::collections::HashMap;

use rallytide_chart::{Chart, ChartFile, EntryId, FileNote, Flag, Problem, read_chart_file};
use rallytide_scoring::PlayByPlay;

/// What was found in a chart file.
#[derive(Debug)]
pub struct Inspection {
    /// The chart, as far as it can be used; `None` where the header is at fault.
    pub chart: Option<Chart>,
    /// What would be refused, whatever one does with the file.
    pub problems: Vec<Problem>,
    /// Entries that a host would refuse because the match was over. They change
    /// nothing, so the chart can be read all the same.
    pub late: Vec<Problem>,
    /// What is odd but does no harm.
    pub notes: Vec<FileNote>,
    /// What a charter would have been told, in the order of the effective chart.
    pub flagged: Vec<Finding>,
}

/// A flag with its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// The line of the entry it is about, counted from 1.
    pub line: usize,
    /// The entry it is about.
    pub entry: EntryId,
    /// The flag.
    pub flag: Flag,
}

/// Reads a chart file and looks it over.
#[must_use]
pub fn inspect(bytes: &[u8]) -> Inspection {
    let ChartFile {
        chart,
        problems,
        notes,
        lines,
    } = read_chart_file(bytes);
    let lines: HashMap<EntryId, usize> = lines.into_iter().collect();
    let (late, flagged) = match &chart {
        None => (Vec::new(), Vec::new()),
        Some(chart) => (late_entries(chart, &lines), flags(chart, &lines)),
    };
    Inspection {
        chart,
        problems,
        late,
        notes,
        flagged,
    }
}

fn line_of(lines: &HashMap<EntryId, usize>, id: &EntryId) -> usize {
    lines.get(id).copied().unwrap_or_default()
}

fn flags(chart: &Chart, lines: &HashMap<EntryId, usize>) -> Vec<Finding> {
    let mut play = PlayByPlay::new(chart.header());
    let turns = chart.effective().into_iter().map(|entry| {
        let flags = play.step(&entry).flags;
        (entry.id, flags)
    });
    turns
        .flat_map(|(entry, flags)| {
            let line = line_of(lines, &entry);
            flags.into_iter().map(move |flag| Finding {
                line,
                entry: entry.clone(),
                flag,
            })
        })
        .collect()
}

/// The entries that came when the match was over, judged as a host would have:
/// by what stood in the chart before each of them.
fn late_entries(chart: &Chart, lines: &HashMap<EntryId, usize>) -> Vec<Problem> {
    let mut so_far = Chart::new(chart.header().as_ref().clone());
    let mut play = PlayByPlay::new(chart.header());
    let mut corrected = false;
    let mut late = Vec::new();
    for (seq, entry) in chart.entries() {
        if corrected && !entry.is_correction() {
            play = PlayByPlay::new(chart.header());
            for effective in so_far.effective() {
                play.step(&effective);
            }
            corrected = false;
        }
        if let Err(refusal) = play.admit(entry) {
            let line = line_of(lines, &entry.id);
            late.push(Problem { line, refusal });
        }
        so_far.push_at(*seq, entry.as_ref().clone());
        corrected |= entry.is_correction();
        if let Some(effective) = so_far.latest_effective().filter(|_| !corrected) {
            play.step(&effective);
        }
    }
    late
}
