//! The plugin interface, version 1, as the host sees it: generated types and
//! the names by which a file is recognised.
//!
//! The interface is written in `plugin-kit`'s `wit/v1`. A later version gets a
//! module beside this one; a file says by the name of what it exports which one
//! it was built for.

/// The version of the interface.
pub(crate) const VERSION: &str = "1.0.0";
/// What a plugin exports.
pub(crate) const GUEST: &str = "rallytide:plugin/guest@1.0.0";
/// What a plugin may import.
pub(crate) const HOST: &str = "rallytide:plugin/host@1.0.0";
/// What a component's import list may name besides: types, no functions.
pub(crate) const TYPES: &str = "rallytide:plugin/types@1.0.0";
/// How the names above start, whatever their version.
pub(crate) const PACKAGE: &str = "rallytide:plugin/";
/// The start of the exported interface's name, whatever its version.
pub(crate) const GUEST_OF_ANY_VERSION: &str = "rallytide:plugin/guest@";

#[allow(
    missing_docs,
    unreachable_pub,
    clippy::all,
    clippy::pedantic,
    clippy::unwrap_used,
    reason = "generated from the WIT, whose comments are the documentation"
)]
mod bindings {
    wasmtime::component::bindgen!({
        path: "../plugin-kit/wit/v1",
        world: "plugin",
        imports: { default: trappable },
        additional_derives: [PartialEq],
    });
}

pub(crate) use bindings::rallytide::plugin::host::Host as HostFunctions;
pub(crate) use bindings::rallytide::plugin::types as wit;
pub(crate) use bindings::{Plugin, PluginPre};
