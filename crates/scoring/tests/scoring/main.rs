//! The scoring as its users see it: published examples, the README rule
//! by rule, and properties over random matches.
//!
//! Beside a check stands the published source of what it expects, and how sure
//! that is: `published` (spelled out in the named source), `derived` (worked out
//! by us from published rules), `memory` (recalled, not read). What has no
//! source beside it is what this crate's README says of it.

mod ends;
mod game_point;
mod games;
mod lineups;
mod notation;
mod players;
mod properties;
mod published;
mod random;
mod referee;
mod rows;
mod score_object;
mod serving;
