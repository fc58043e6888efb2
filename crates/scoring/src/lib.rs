//! The sport's scoring: from effective entries to the score, entry by entry.
//!
//! [`ScoreKeeper`] is a state machine: it starts from a match header and takes the
//! entries of the effective chart in order; after each of them [`Score`] says
//! everything a scoreboard needs. The score is a function of header and
//! entries alone: no I/O, no clock, no randomness, and no way to fail.
//!
//! Invariants: a finished game or match is never continued; whatever stands in
//! a score follows from the entries before it; the receiver always stands
//! diagonal to the server.
//!
//! What it does not do: judge who really served, stood or called what (the
//! referee's word comes in as `score_fix`), correct entries (the effective
//! chart is corrected already), or read and write files. The rules, their
//! editions and our choices are explained in the README of this crate.
//!
//! ```
//! use rallytide_chart::read_chart_file;
//! use rallytide_scoring::{ScoreRow, ScoreKeeper};
//!
//! let file = br#"{"kind":"match","chart":1,"id":"final","teams":{"a":{"name":"Reed"},"b":{"name":"Sand"}},"format":{"discipline":"doubles","scoring":"side_out","points":11,"win_by":2,"games":3},"first_serve":"a"}
//! {"id":"r1","at":"2026-05-02T10:00:00.000Z","kind":"rally_end","won_by":"a"}
//! {"id":"r2","at":"2026-05-02T10:00:20.000Z","kind":"rally_end","won_by":"b"}
//! "#;
//! let chart = read_chart_file(file).chart.expect("a header");
//! let mut scoring = ScoreKeeper::new(chart.header());
//! let mut told = Vec::new();
//! for entry in chart.effective() {
//!     let before = scoring.score().clone();
//!     if scoring.step(&entry.play).changed {
//!         let row = ScoreRow::new(chart.header(), &before, &entry.play, scoring.score());
//!         told.push(format!("{} ({})", row.call, row.what));
//!     }
//! }
//! assert_eq!(
//!     told,
//!     ["1-0-2 (rally to Reed; point)", "0-1-1 (rally to Sand; side out)"]
//! );
//! ```

mod machine;
mod play_by_play;
mod record;
mod row;
mod rules;
mod score;

pub use machine::{ScoreKeeper, ScoreStep};
pub use play_by_play::{Phase, PlayByPlay, Turn};
pub use record::recorded_score;
pub use row::{ScoreRow, what_happened};
pub use score::{Call, Score, ServiceCourt};
