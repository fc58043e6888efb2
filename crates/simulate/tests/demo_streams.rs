//! The invented charts that come with the project: each one is taken in whole,
//! small enough for the history, and explained.

use std::fs;
use std::path::{Path, PathBuf};

use rallytide_chart::{Kind, read_chart_file};
use rallytide_scoring::ScoreKeeper;

/// The largest file that belongs into the history, in bytes.
const BYTES_LIMIT: usize = 400 * 1024;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-streams")
}

fn streams() -> Vec<(String, Vec<u8>)> {
    let files = fs::read_dir(folder()).expect("the folder is there");
    let paths = files.map(|file| file.expect("readable").path());
    let streams: Vec<_> = paths
        .filter(|path| path.extension().is_some_and(|end| end == "jsonl"))
        .map(|path| {
            let name = path.file_stem().expect("a name").to_string_lossy();
            (name.into_owned(), fs::read(&path).expect("readable"))
        })
        .collect();
    assert!(streams.len() >= 4, "only {} streams", streams.len());
    streams
}

#[test]
fn every_demo_stream_is_taken_in_whole_and_named_after_its_match() {
    for (name, bytes) in streams() {
        assert!(bytes.len() < BYTES_LIMIT, "{name}: {} bytes", bytes.len());
        let file = read_chart_file(&bytes);
        assert_eq!(file.problems, [], "{name}");
        assert_eq!(file.notes, [], "{name}");
        let chart = file.chart.expect("no problems, so there is a chart");
        assert_eq!(chart.header().id.as_str(), name);
    }
}

#[test]
fn every_demo_stream_but_the_lessons_is_a_whole_match() {
    for (name, bytes) in streams() {
        let chart = read_chart_file(&bytes).chart.expect("a chart");
        let mut scoring = ScoreKeeper::new(chart.header());
        for entry in chart.effective() {
            scoring.step(&entry.play);
        }
        let lessons = name == "five-lessons";
        assert_eq!(scoring.score().is_over(), !lessons, "{name}");
    }
}

#[test]
fn the_demo_match_shows_every_kind_of_entry_a_lively_final_has() {
    let bytes = fs::read(folder().join("harbour-final.jsonl")).expect("the demo match");
    let chart = read_chart_file(&bytes).chart.expect("a chart");
    let kinds: Vec<&str> = chart
        .entries()
        .iter()
        .filter_map(|(_, entry)| entry.to_json()["kind"].as_str())
        .collect();
    for kind in Kind::ALL {
        let expected = !matches!(kind, Kind::Penalty | Kind::Retire);
        assert_eq!(kinds.contains(&kind.word()), expected, "`{kind}`");
    }
}

#[test]
fn every_demo_stream_is_explained() {
    let readme = fs::read_to_string(folder().join("README.md")).expect("the README");
    for (name, _) in streams() {
        assert!(readme.contains(&format!("`{name}.jsonl`")), "{name}");
    }
}
