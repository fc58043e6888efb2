//! The one unsafe step of the crate: taking compiled code for what it is.
//!
//! `wasmtime` checks version, target and settings of such code, but cannot
//! check that it came out of its own compiler. That it did is the invariant of
//! [`compiled`](crate::compiled), the only caller.

use wasmtime::Engine;
use wasmtime::component::Component;

/// Takes compiled code. `code` was written by this program into a folder that
/// nobody else may write to, and its checksum fits.
#[allow(
    unsafe_code,
    reason = "compiled code is machine code; `compiled` sees to where it comes from"
)]
pub(crate) fn component(engine: &Engine, code: &[u8]) -> wasmtime::Result<Component> {
    // SAFETY: by the invariant above, `code` is what `Component::serialize` gave.
    unsafe { Component::deserialize(engine, code) }
}
