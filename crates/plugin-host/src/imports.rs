//! What a plugin's file may import: the host's interface and its types, of this
//! version, and nothing else.

use crate::interface;
use crate::refused::RefusedReason;

/// Judges a name that a file imports.
pub(crate) fn check_import(interface: &str, item: Option<&str>) -> Result<(), RefusedReason> {
    if interface == interface::HOST || (item.is_none() && interface == interface::TYPES) {
        return Ok(());
    }
    if interface.starts_with(interface::PACKAGE) {
        return Err(other_version(interface));
    }
    Err(RefusedReason::ForeignImport {
        import: match item {
            Some(item) => format!("{interface}::{item}"),
            None => interface.to_owned(),
        },
    })
}

/// The file was built for the version that this name of ours ends in.
pub(crate) fn other_version(interface: &str) -> RefusedReason {
    let version = interface.rsplit_once('@').map_or("none", |(_, v)| v);
    RefusedReason::OtherVersion {
        found: version.to_owned(),
    }
}
