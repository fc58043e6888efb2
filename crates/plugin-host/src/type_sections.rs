//! The type sections of a file, before anything in them is read.
//!
//! Whoever reads a type recurses, and types nest at three bytes a level: only
//! their size keeps that recursion in bounds.

use wasmparser::{Parser, Payload};

use crate::limits::TYPE_SECTION_BYTES;
use crate::refused::RefusedReason;

/// Judges the sizes of type sections, by their frames alone: nothing in them
/// has been read yet.
pub(crate) fn check(file: &[u8]) -> Result<(), RefusedReason> {
    for payload in Parser::new(0).parse_all(file) {
        let size = match payload.map_err(RefusedReason::malformed)? {
            Payload::ComponentTypeSection(types) => types.range().len(),
            Payload::CoreTypeSection(types) => types.range().len(),
            _ => continue,
        };
        if size > TYPE_SECTION_BYTES {
            return Err(RefusedReason::TypesTooBig {
                size,
                limit: TYPE_SECTION_BYTES,
            });
        }
    }
    Ok(())
}
