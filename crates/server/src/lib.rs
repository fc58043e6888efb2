//! The host's face: the intake for charters, the feed for viewers, the state
//! over HTTP, and the pages. The only crate that names axum.
//!
//! Thin: each route reads what was sent, asks a court, and writes the answer.
//! It knows nothing about plugins, logs or scoring, nor what stands in an
//! exported file.
//!
//! Floors, each standing on those before it: what an answer is (`rejection`,
//! `etag`, `json_body`, `blocking`), who gets in (`access`), the parts of
//! the `state`, what serves one connection (`feed`, `intake`), and on top
//! the `routes`.

mod access;
mod answers;
mod blocking;
mod error_status;
mod etag;
mod feed;
mod intake;
mod intake_refusal;
mod json_body;
mod limits;
mod listeners;
mod match_jobs;
mod next_match;
mod pages;
mod place_keeper;
mod plugin_desk;
mod protocol;
mod refusal_counts;
mod rejection;
mod routes;
#[cfg(feature = "schema")]
pub mod schema;
mod score_text;
mod serve;
mod state;
mod text_files;
mod text_values;
mod websocket;

pub use access::{Access, Address, Keys, KeysError, Permit};
pub use limits::ConnectionLimits;
pub use listeners::Listeners;
pub use place_keeper::PlaceKeeper;
pub use plugin_desk::{PluginDesk, PluginRefusal, PluginReport};
pub use routes::router;
pub use serve::{ServeError, bind, serve};
pub use state::{AppState, Extras};
pub use text_files::{TextFiles, try_folder};
