//! Chart and score for a page, so that a charter without a network sees at once
//! what an entry means: the host's own rules, compiled for the browser.
//!
//! [`LocalChart`] is plain Rust: text in, text out. The module `page` exports it
//! to a page as a WebAssembly module without imports. It keeps one match, does
//! no I/O, has no clock; entries get their ids and times from the page.

mod local_chart;

#[cfg(target_family = "wasm")]
mod page;

pub use local_chart::{LocalChart, refused};
