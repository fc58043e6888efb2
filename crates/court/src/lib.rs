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
mod charted;
mod charters;
mod chronicle;
mod courts;
mod faults;
mod inspect;
mod live;
mod messages;
mod timeline;

pub use book::{RallyBook, RallyBookView, RallyEndView, RallyPatch, RallyView, ShotView};
pub use charted::{Change, ChartedMatch, play_back, walk_readings};
pub use charters::{Arrival, Charters};
pub use chronicle::{Aside, Chronicle, Held, Part, ToldDepth, ToldEnd, ToldRally, ToldShot};
pub use courts::{Courts, CourtsError, Replace};
pub use faults::{CountedFault, FAULTS_ALLOWED, PluginOnCourt};
pub use inspect::{Finding, Inspection, inspect};
pub use live::{
    Accepted, CourtName, LiveCourt, Notice, NoticeCode, Receipt, Role, Start, Viewer, Welcome,
};
pub use messages::{Encoded, Snapshot, Unavailable, Update};
pub use timeline::Clocked;
