//! A match as a charter's page sees it.
#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use rallytide_chart_wasm::LocalChart;
use serde_json::{Value, json};

const HEADER: &str = r#"{"kind":"match","chart":1,"id":"m","title":"T","court":"1",
 "teams":{"a":{"name":"Reed / Lund","players":["Ada Reed","Bo Lund"]},
          "b":{"name":"Marsh / Ford","players":["Cy Marsh","Di Ford"]}},
 "format":{"discipline":"doubles","scoring":"side_out","points":11,"win_by":2,"games":1},
 "first_serve":"a"}"#;

struct Page {
    chart: LocalChart,
    taken: u32,
}

impl Page {
    fn new() -> Self {
        Self {
            chart: LocalChart::open(HEADER).unwrap(),
            taken: 0,
        }
    }

    fn take(&mut self, mut entry: Value) -> Value {
        self.taken += 1;
        entry["id"] = json!(format!("e{}", self.taken));
        entry["at"] = json!("2026-05-02T10:00:00.000Z");
        let outcome = self.chart.take(&entry.to_string());
        serde_json::from_str(&self.chart.answer(&outcome)).unwrap()
    }

    fn shot(&mut self, team: &str, stroke: &str) -> Value {
        self.take(json!({"kind": "shot", "team": team, "stroke": stroke}))
    }
}

#[test]
fn the_consequence_of_a_rally_is_there_at_once_in_words() {
    // USA Pickleball rulebook 2026, 5.B.2 (published): the team that starts has one
    // server, so the first lost rally is a side out.
    let mut page = Page::new();
    page.shot("a", "serve");
    let answer = page.take(json!({"kind": "rally_end", "won_by": "b"}));
    assert_eq!(answer["score"]["call"], "0-0-1");
    let what = answer["recent"][1]["what"].as_str().unwrap();
    assert!(what.contains("side out"), "{what}");
    assert_eq!(answer["rally"], json!([]));
}

#[test]
fn shots_of_the_rally_are_numbered_with_their_contacts() {
    let mut page = Page::new();
    page.shot("a", "serve");
    page.shot("b", "return");
    let answer = page.shot("b", "volley");
    assert_eq!(answer["flags"], json!(["missed_shot"]));
    let numbers: Vec<u64> = answer["rally"]
        .as_array()
        .unwrap()
        .iter()
        .map(|shot| shot["number"].as_u64().unwrap())
        .collect();
    assert_eq!(numbers, [1, 2, 4]);
    assert_eq!(answer["rally"][2]["contact"], "air");
}

#[test]
fn the_player_is_the_one_charted_else_the_one_the_score_tells() {
    let mut page = Page::new();
    page.shot("a", "serve");
    page.shot("b", "return");
    page.shot("a", "drop");
    let answer = page.take(json!({"kind": "shot", "team": "b", "stroke": "dink", "player": 1}));
    let players: Vec<&Value> = answer["rally"]
        .as_array()
        .unwrap()
        .iter()
        .map(|shot| &shot["player"])
        .collect();
    assert_eq!(players, [&json!(0), &json!(0), &Value::Null, &json!(1)]);
}

#[test]
fn a_correction_is_seen_in_the_list_of_entries() {
    let mut page = Page::new();
    page.shot("a", "serve");
    page.shot("b", "return");
    page.shot("a", "drive");
    page.take(json!({"kind": "amend", "target": "e3", "with": {"kind": "shot", "team": "a", "stroke": "drop"}}));
    let answer = page.take(json!({"kind": "retract", "target": "e2"}));
    let recent = answer["recent"].as_array().unwrap();
    let strokes: Vec<&str> = recent
        .iter()
        .map(|seen| seen["entry"]["stroke"].as_str().unwrap())
        .collect();
    assert_eq!(strokes, ["serve", "drop"]);
    assert_eq!(answer["entries"], 5);
}

#[test]
fn what_the_host_would_refuse_is_refused_and_changes_nothing() {
    let mut page = Page::new();
    let before = page.shot("a", "serve");
    let answer = page.take(json!({"kind": "retract", "target": "nobody"}));
    assert_eq!(answer["refused"]["code"], "bad_correction");
    assert_eq!(answer["entries"], before["entries"]);
    assert!(LocalChart::open("{}").is_err());
}

#[test]
fn the_file_is_the_header_and_every_entry_as_recorded() {
    let mut page = Page::new();
    page.shot("a", "serve");
    page.take(json!({"kind": "rally_end", "won_by": "a"}));
    let file = page.chart.file();
    let read = rallytide_chart::read_chart_file(file.as_bytes());
    assert!(read.problems.is_empty());
    assert_eq!(read.chart.unwrap().entries().len(), 2);
}

#[test]
fn every_end_of_a_rally_is_told_however_far_back_and_as_corrected() {
    let mut page = Page::new();
    for _ in 0..80 {
        page.take(json!({"kind": "replay"}));
        page.shot("a", "serve");
    }
    page.take(
        json!({"kind": "amend", "target": "e1", "with": {"kind": "rally_end", "won_by": "b"}}),
    );
    page.take(json!({"kind": "retract", "target": "e3"}));
    let ends: Vec<Value> = serde_json::from_str(&page.chart.ends()).unwrap();
    let told: Vec<&str> = ends
        .iter()
        .map(|seen| seen["entry"]["id"].as_str().unwrap())
        .collect();
    assert_eq!(ends[0]["entry"]["kind"], "rally_end");
    assert_eq!(&told[..2], ["e1", "e5"]);
    assert_eq!(told.last(), Some(&"e159"));
}
