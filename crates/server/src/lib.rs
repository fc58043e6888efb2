//! The host's face: the intake for charters, the feed for viewers, the state
//! over HTTP, and the pages. The only crate that names axum.
//!
//! Thin: each route reads what was sent, asks a court, and writes the answer.
//! It knows nothing about plugins, logs or scoring, nor what stands in an
//! exported file.

mod body;
mod desk;
mod documents;
mod doors;
mod feed;
mod gate;
mod intake;
mod keys;
mod now;
mod origin;
mod pages;
mod pass;
mod plugins;
mod protocol;
mod review;
mod routes;
mod runs;
mod serve;
mod socket;
mod text_files;

pub use doors::tend_doors;
pub use gate::{Access, Address};
pub use keys::{Keys, KeysError, Permit};
pub use plugins::{DeskRefusal, PluginDesk};
pub use routes::{Extras, Site, router};
pub use serve::{ServeError, bind, serve};
pub use text_files::{TextFiles, try_folder};
