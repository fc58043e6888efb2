//! From a file's bytes to a component whose imports and exports are known.
//!
//! The order matters. Sizes come first, those of type sections included: whoever
//! reads a type recurses. Then the validator, because the converter panics on
//! files that are cut off. Then the names in the description of the interface,
//! because the converter recurses without end where packages depend on each
//! other in a circle. The conversion is fenced in besides. Nothing here runs or
//! compiles code.

use std::borrow::Cow;
use std::panic::{AssertUnwindSafe, catch_unwind};

use wasmparser::{Parser, Payload, Validator};

use crate::description;
use crate::imports::{check_import, other_version};
use crate::interface;
use crate::intricacy::{self, Intricacy};
use crate::limits::{COMPONENT_BYTES, CORE_MODULE_BYTES};
use crate::refused::RefusedReason;
use crate::type_sections;

/// Makes a component of a plugin's file: a core module is converted, a
/// component is taken as it is. What comes back imports nothing but the host's
/// interface and exports the guest's, as far as names can say, and is fit to be
/// compiled in the way that stands beside it.
pub(crate) fn to_component(file: &[u8]) -> Result<(Cow<'_, [u8]>, Intricacy), RefusedReason> {
    let core = Parser::is_core_wasm(file);
    if !core && !Parser::is_component(file) {
        return Err(RefusedReason::NotWasm);
    }
    check_size(file, core)?;
    type_sections::check(file)?;
    let intricacy = validate(file)?;
    if !core {
        check_component(file)?;
        return Ok((Cow::Borrowed(file), intricacy));
    }
    check_core_imports(file)?;
    description::check(file)?;
    let component = convert(file)?;
    check_component(&component)?;
    Ok((Cow::Owned(component), intricacy))
}

fn check_size(file: &[u8], core: bool) -> Result<(), RefusedReason> {
    let (form, limit) = if core {
        ("core module", CORE_MODULE_BYTES)
    } else {
        ("component", COMPONENT_BYTES)
    };
    if file.len() > limit {
        return Err(RefusedReason::TooBig {
            size: file.len(),
            form,
            limit,
        });
    }
    Ok(())
}

fn validate(file: &[u8]) -> Result<Intricacy, RefusedReason> {
    Validator::new()
        .validate_all(file)
        .map_err(RefusedReason::malformed)?;
    intricacy::check(file)
}

fn check_core_imports(module: &[u8]) -> Result<(), RefusedReason> {
    for payload in Parser::new(0).parse_all(module) {
        let Payload::ImportSection(imports) = payload.map_err(RefusedReason::malformed)? else {
            continue;
        };
        for import in imports.into_imports() {
            let import = import.map_err(RefusedReason::malformed)?;
            check_import(import.module, Some(import.name))?;
        }
    }
    Ok(())
}

fn convert(module: &[u8]) -> Result<Vec<u8>, RefusedReason> {
    let convert = || {
        wit_component::ComponentEncoder::default()
            .validate(true)
            .module(module)?
            .encode()
    };
    let converted = catch_unwind(AssertUnwindSafe(convert)).map_err(|_| "the converter panicked");
    match converted {
        Ok(Ok(component)) => Ok(component),
        Ok(Err(error)) => Err(RefusedReason::Unconvertible {
            detail: format!("{error:#}")
                .split_whitespace()
                .collect::<Vec<_>>()
                .join(" "),
        }),
        Err(panicked) => Err(RefusedReason::Unconvertible {
            detail: panicked.into(),
        }),
    }
}

/// Judges the names that a component imports and exports, its own ones only,
/// not those of the modules and components inside it.
fn check_component(component: &[u8]) -> Result<(), RefusedReason> {
    let mut depth = 0_usize;
    let mut exports = Vec::new();
    for payload in Parser::new(0).parse_all(component) {
        match payload.map_err(RefusedReason::malformed)? {
            Payload::ModuleSection { .. } | Payload::ComponentSection { .. } => depth += 1,
            Payload::End(_) => depth = depth.saturating_sub(1),
            Payload::ComponentImportSection(imports) if depth == 0 => {
                for import in imports {
                    let import = import.map_err(RefusedReason::malformed)?;
                    check_import(import.name.name, None)?;
                }
            }
            Payload::ComponentExportSection(section) if depth == 0 => {
                for export in section {
                    let export = export.map_err(RefusedReason::malformed)?;
                    exports.push(export.name.name);
                }
            }
            _ => {}
        }
    }
    if exports.contains(&interface::GUEST) {
        return Ok(());
    }
    let other = exports
        .iter()
        .find(|name| name.starts_with(interface::GUEST_OF_ANY_VERSION));
    Err(match other {
        Some(name) => other_version(name),
        None => RefusedReason::NoGuest,
    })
}
