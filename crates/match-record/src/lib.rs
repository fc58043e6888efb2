//! A whole match as plain data: rally by rally, shot by shot, with the score
//! before and after, who held the initiative and why.
//!
//! Nothing is computed here but what a record says of itself. The court makes a [`MatchRecord`] from a chart and
//! the plugins; exports, comparisons and the review page read it.

mod depth;
mod record;
mod shown;
mod time;

pub use depth::ChartingDepth;
pub use record::{
    MatchRecord, RecordItem, RecordedDepth, RecordedEnd, RecordedIncident, RecordedInitiative,
    RecordedRally, RecordedShot,
};
pub use shown::{ShownRallyEnd, ShownShot};
pub use time::MatchTime;
