//! The scoring as its users see it: published rules, the README rule by rule, and
//! properties over random matches.
//!
//! Beside a check stands the rule it rests on, with its edition, and how sure that
//! is: `published` (the named rule says so), `derived` (worked out by us from the
//! rule), `memory` (recalled, not read), `common practice` (played so, in no
//! edition). What has no source beside it is our own choice: this crate's README
//! says it.

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
