//! What a plugin author needs: the interface as Rust types, and a trait to
//! fill in.
//!
//! A plugin is a struct that holds its own state and implements [`Plugin`];
//! [`export_plugin!`] makes it a component. The logic is plain Rust and is
//! tested natively with [`testing`]; only the built file needs the
//! `wasm32-unknown-unknown` target. This crate knows nothing about the host.
//!
//! ```
//! use rallytide_plugin_kit::{Manifest, Moment, Opening, Play, Plugin, Readings, Value, key};
//!
//! /// Counts the serves of the match.
//! struct Serves(u32);
//!
//! impl Plugin for Serves {
//!     fn manifest() -> Manifest {
//!         Manifest::new("serves", "0.1.0", "Counts serves.").provides(&["serves.struck"])
//!     }
//!
//!     fn start(_: &Opening) -> Result<Self, String> {
//!         Ok(Self(0))
//!     }
//!
//!     fn step(&mut self, moment: &Moment) {
//!         if let Play::Shot(shot) = &moment.entry.play
//!             && shot.number == 1
//!         {
//!             self.0 += 1;
//!         }
//!     }
//!
//!     fn readings(&self, readings: &mut Readings) {
//!         readings.set(key("serves.struck"), Value::Count(self.0));
//!     }
//! }
//!
//! rallytide_plugin_kit::export_plugin!(Serves);
//! ```

mod guest;
mod held;
#[allow(
    missing_docs,
    unsafe_code,
    unreachable_pub,
    clippy::all,
    clippy::pedantic,
    reason = "generated from the WIT, whose comments are the documentation"
)]
pub mod interface {
    //! The raw bindings, generated from `wit/v1/plugin.wit`.

    wit_bindgen::generate!({
        path: "wit/v1",
        world: "plugin",
        additional_derives: [PartialEq],
        pub_export_macro: true,
        default_bindings_module: "rallytide_plugin_kit::interface",
    });
}
mod key;
mod manifest;
mod moment;
mod opening;
mod reading;
mod readings;
mod struck;
mod tally;
mod team;
pub mod testing;
mod upstream;
mod words;

#[doc(hidden)]
pub use guest::{Running, note_panics};
pub use held::Held;
pub use interface::rallytide::plugin::types::{
    Contact, Court, Cue, CueMark, Cues, Depth, DepthMark, Discipline, Ending, Entry, Fault, Lean,
    Lineup, Manifest, MatchHeader, Pair, Play, PlayKind, Positions, RallyEnd, Reason, Score,
    ScoreFix, Scoring, Setting, SettingOffer, SettingType, SettingValue, Severity, Share, Shot,
    Stroke, Team, TeamSheet, TimeOut, Value, WinningPoint,
};
pub use key::{Key, about, key};
pub use moment::Moment;
pub use opening::Opening;
pub use reading::{Change, Reading};
pub use readings::Readings;
pub use struck::{RallyShots, Struck};
pub use tally::{Shares, Tally};
pub use team::PerTeam;
pub use upstream::Upstream;

/// What a plugin is made of.
///
/// An instance lives for one pass over one match: after a correction the host
/// makes a fresh one and hands it the corrected chart from the start. Whatever
/// a plugin answers depends on what it was handed and on nothing else.
pub trait Plugin: Sized {
    /// Says what this plugin is.
    fn manifest() -> Manifest;

    /// Starts a match.
    ///
    /// # Errors
    /// Settings that do not go together, with a sentence for the streamer.
    fn start(opening: &Opening) -> Result<Self, String>;

    /// Takes the next entry.
    fn step(&mut self, moment: &Moment);

    /// States every reading as it now is, after the start and after each entry.
    /// What has changed goes to the host; what is not stated any more is taken
    /// back.
    fn readings(&self, readings: &mut Readings);
}

/// Writes a line to the plugin's log on the host. Natively (in tests) it goes
/// to the standard error.
pub fn log(severity: Severity, text: &str) {
    #[cfg(target_family = "wasm")]
    interface::rallytide::plugin::host::log(severity, text);
    #[cfg(not(target_family = "wasm"))]
    eprintln!("{severity:?}: {text}");
}
