//! One court: the way of an entry from the intake to the viewers.
//!
//! intake → checks → log → effective chart → score → plugins → readings → feed.
//! Everything derived is a pure function of the effective chart, so a court
//! that took corrections shows byte for byte what a fresh one would.
//!
//! Layers, each usable without the next: [`ChartedMatch`] (chart, score, plugins
//! and messages), [`LiveCourt`] (plus log and
//! feed), [`Courts`] (all courts of a host). Nothing here knows HTTP.

mod book;
mod cannot_do;
mod changes;
mod charted;
mod charters;
mod clocks;
mod courts;
mod derived;
mod entry_list;
mod faults;
mod host_log;
mod inspect;
mod live;
mod match_log;
mod match_record;
mod messages;
mod places;
mod preview;
mod recording;
mod review;
mod role;
mod seat;
mod timeline;
mod walk;

pub use book::{RallyBook, RallyPatch, ShownRally, ShownRallyBook};
pub use cannot_do::{CannotDo, LogAttempt};
pub use changes::{ChangeListener, ChangeSignal};
pub use charted::ChartedMatch;
pub use charters::{Arrival, Charters, ConnectedCharter};
pub use courts::{Courts, CourtsError, KnownMatch, MatchPhase, Replace};
pub use derived::EntryEffect;
pub use entry_list::{EntryFate, ListedEntry};
pub use faults::{CountedFault, FAULTS_ALLOWED, PluginOnCourt};
pub use inspect::{Finding, Inspection, inspect};
pub use live::{
    Accepted, CourtName, DESK, LastEntry, LiveCourt, Notice, NoticeCode, OnCourt, Receipt, Viewer,
    ViewerStart, Viewers, Welcome, empty_court,
};
pub use match_record::{match_record, match_record_and_run};
pub use messages::{Encoded, Snapshot, Update};
pub use places::{Outcome as PlaceOutcome, Place, PlaceNow, place_in_cell};
pub use preview::{ChangedRally, Preview};
pub use recording::{feed_lines, reading_lines};
pub use review::{Outcome, Review, ReviewIncident, ReviewRally, ReviewShot, Spell};
pub use role::Role;
pub use seat::{Recorder, Seat, SeatRule};
pub use walk::{play_back, run_over, walk_readings};
