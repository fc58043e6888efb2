//! The description of its interface that a core module carries along, in custom
//! sections, for the converter.
//!
//! Invariant of what passes: it names no interfaces but those of the plugin
//! package of this version, so no packages depend on each other in a circle;
//! worlds may have any name. Whether the types are the right ones is judged
//! later, by the engine.

use wasmparser::{
    ComponentType, ComponentTypeDeclaration, ComponentTypeRef, InstanceTypeDeclaration, Parser,
    Payload, Validator,
};

use crate::imports::check_import;
use crate::interface;
use crate::limits::TYPE_SECTION_BYTES;
use crate::refused::RefusedReason;
use crate::type_sections;

/// How the names of the sections start.
const SECTION: &str = "component-type";

/// Judges every description in a core module that the validator has passed.
pub(crate) fn check(module: &[u8]) -> Result<(), RefusedReason> {
    for payload in Parser::new(0).parse_all(module) {
        if let Payload::CustomSection(section) = payload.map_err(RefusedReason::malformed)?
            && section.name().starts_with(SECTION)
        {
            check_section(section.data())?;
        }
    }
    Ok(())
}

fn check_section(description: &[u8]) -> Result<(), RefusedReason> {
    if !Parser::is_component(description) {
        return Err(RefusedReason::Unconvertible {
            detail: "the description of its interface is not in a form that is known".into(),
        });
    }
    if description.len() > TYPE_SECTION_BYTES {
        return Err(RefusedReason::TypesTooBig {
            size: description.len(),
            limit: TYPE_SECTION_BYTES,
        });
    }
    type_sections::check(description)?;
    Validator::new()
        .validate_all(description)
        .map_err(RefusedReason::malformed)?;
    for payload in Parser::new(0).parse_all(description) {
        match payload.map_err(RefusedReason::malformed)? {
            Payload::ComponentTypeSection(types) => {
                for found in types {
                    check_type(&found.map_err(RefusedReason::malformed)?)?;
                }
            }
            Payload::ComponentImportSection(imports) => {
                for import in imports {
                    let import = import.map_err(RefusedReason::malformed)?;
                    check_name(import.name.name, import.ty)?;
                }
            }
            _ => {}
        }
    }
    Ok(())
}

fn check_type(found: &ComponentType<'_>) -> Result<(), RefusedReason> {
    match found {
        ComponentType::Component(declarations) => {
            for declaration in declarations {
                match declaration {
                    ComponentTypeDeclaration::Type(inner) => check_type(inner)?,
                    ComponentTypeDeclaration::Export { name, ty } => check_name(name.name, *ty)?,
                    ComponentTypeDeclaration::Import(import) => {
                        check_name(import.name.name, import.ty)?;
                    }
                    ComponentTypeDeclaration::CoreType(_) | ComponentTypeDeclaration::Alias(_) => {}
                }
            }
        }
        ComponentType::Instance(declarations) => {
            for declaration in declarations {
                match declaration {
                    InstanceTypeDeclaration::Type(inner) => check_type(inner)?,
                    InstanceTypeDeclaration::Export { name, ty } => check_name(name.name, *ty)?,
                    InstanceTypeDeclaration::CoreType(_) | InstanceTypeDeclaration::Alias(_) => {}
                }
            }
        }
        ComponentType::Defined(_) | ComponentType::Func(_) | ComponentType::Resource { .. } => {}
    }
    Ok(())
}

/// Judges the name of an interface; functions, types and worlds are not judged.
fn check_name(name: &str, what: ComponentTypeRef) -> Result<(), RefusedReason> {
    let interface = matches!(what, ComponentTypeRef::Instance(_)) && name.contains(':');
    if !interface || name == interface::GUEST {
        return Ok(());
    }
    check_import(name, None)
}
