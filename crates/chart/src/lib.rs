//! The chart of a match: what a volunteer recorded, checked and corrected.
//!
//! This crate owns the match header, the entries, their parsing and refusals,
//! the corrections that lead from recorded entries to the *effective chart*,
//! the reading of one rally (shot numbers, contacts, assumed shots) and the
//! file format. It is pure: no I/O, no clock, no async. It knows nothing about
//! scoring, plugins or sockets; the two flags that need the score
//! (`serve_by_receivers`, `no_time_out_left`) are raised by the scoring crate.

mod chart;
mod corrections;
mod entry;
mod fields;
mod file;
mod header;
mod identity;
mod play;
mod rally;
mod refusal;
mod words;

pub use chart::{Admission, Chart};
pub use corrections::{CorrectedEntry, Effective};
pub use entry::{Body, Correction, Entry, HOST_FIELDS};
pub use file::{ChartFile, FileNote, Problem, chart_lines, read_chart_file};
pub use header::{Discipline, Format, Header, Positions, Scoring, TeamSheet, WinningPoint};
pub use identity::{At, EntryId, ID_RULE, MatchId, Seq};
pub use play::{CueMark, CueSet, DepthMark, Lineup, Play, RallyEnd, ScoreFix, Shot, TimeOut};
pub use rally::{ByTheScore, RallyReader, RallyStep, ShotInRally, implied_contact};
pub use refusal::{FieldPath, Refusal, RefusalCode, RefusalReason, Subject, WordList};
pub use words::{Contact, Cue, Depth, FaultKind, Flag, How, Kind, PairOf, Stroke, Team};
