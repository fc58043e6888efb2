//! The plugin behind the initiative plugin: by hand, against its definitions on
//! random rallies, and without what it reads.
#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

mod charted;
mod charted_rallies;
mod definitions;
mod players;
mod random_rallies;
mod without_sources;
