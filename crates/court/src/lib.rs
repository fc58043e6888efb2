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
mod changes;
mod charted;
mod charters;
mod chronicle;
mod clocks;
mod courts;
mod faults;
mod house;
mod inspect;
mod live;
mod messages;
mod preview;
mod recording;
mod review;
mod timeline;
mod told;

pub use book::{RallyBook, RallyBookView, RallyEndView, RallyPatch, RallyView, ShotView};
pub use changes::{ChangeListener, Changes};
pub use charted::{Change, ChartedMatch, play_back, run_over, walk_readings};
pub use charters::{Arrival, CharterView, Charters};
pub use chronicle::{Aside, Chronicle, Held, Part, ToldDepth, ToldEnd, ToldRally, ToldShot};
pub use courts::{CannotDo, Courts, CourtsError, KnownMatch, MatchState, Replace};
pub use faults::{CountedFault, FAULTS_ALLOWED, PluginOnCourt};
pub use inspect::{Finding, Inspection, inspect};
pub use live::{
    Accepted, CourtName, DESK, LastEntry, LiveCourt, Notice, NoticeCode, OnCourt, Receipt, Role,
    Start, Viewer, Viewers, Welcome, empty_court,
};
pub use messages::{Encoded, Snapshot, Unavailable, Update};
pub use preview::{ChangedRally, Preview};
pub use recording::{chart_lines, feed_lines, reading_lines};
pub use review::{Outcome, Review, ReviewAside, ReviewRally, ReviewShot, Spell};
pub use timeline::Clocked;
pub use told::{Fate, ToldEntry};
