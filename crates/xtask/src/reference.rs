//! The plugin authors' reference, written out of the interface (WIT) and the
//! host's limits into one committed file.
//!
//! The interface is read with the parser that the host's own engine uses
//! (`wit-parser`, in the tree anyway): a reader of our own would have to follow
//! the language. The limits are read as text, because what matters of them is
//! their documentation.

use std::fmt::Write as _;
use std::path::Path;

use anyhow::{Context, bail};
use wit_parser::{Docs, Function, InterfaceId, Resolve, Result_, Type, TypeDef, TypeDefKind};

use crate::limits;

const FILE: &str = "plugins/reference.md";
const WIT: &str = "crates/plugin-kit/wit/v1/plugin.wit";

/// The interfaces in the order in which an author needs them.
const INTERFACES: &[&str] = &["guest", "host", "types"];

/// Writes the file anew.
pub(crate) fn write(root: &Path) -> anyhow::Result<()> {
    let file = root.join(FILE);
    std::fs::write(&file, generate(root)?).with_context(|| format!("could not write `{FILE}`"))
}

/// Fails where the committed file is not what interface and limits say.
pub(crate) fn check(root: &Path) -> anyhow::Result<()> {
    let committed = std::fs::read_to_string(root.join(FILE))
        .with_context(|| format!("could not read `{FILE}`"))?;
    if committed != generate(root)? {
        bail!(
            "`{FILE}` is not what `{WIT}` and the limits say; run `cargo xtask plugin-reference`"
        );
    }
    Ok(())
}

fn generate(root: &Path) -> anyhow::Result<String> {
    let text = std::fs::read_to_string(root.join(WIT))
        .with_context(|| format!("could not read `{WIT}`"))?;
    let limits = limits::section(root)?;
    Ok(format!("{}\n{limits}", interface(&text)?))
}

/// The reference of the interface in `text`.
fn interface(text: &str) -> anyhow::Result<String> {
    let mut resolve = Resolve::default();
    let package = resolve.push_str("plugin.wit", text)?;
    let mut out = String::new();
    writeln!(
        out,
        "# The plugin interface, `{}`\n",
        resolve.packages[package].name
    )?;
    writeln!(
        out,
        "Written by `cargo xtask plugin-reference` out of\n[`plugin.wit`](../{WIT}) and the host's \
         limits; do not edit. How to use it stands in\nthe [guide](README.md)."
    )?;
    for name in INTERFACES {
        let id = resolve.packages[package]
            .interfaces
            .get(*name)
            .with_context(|| format!("`{WIT}` has no interface `{name}`"))?;
        one_interface(&mut out, &resolve, *id)?;
    }
    Ok(out)
}

fn one_interface(out: &mut String, resolve: &Resolve, id: InterfaceId) -> anyhow::Result<()> {
    let interface = &resolve.interfaces[id];
    let name = interface.name.as_deref().unwrap_or_default();
    writeln!(out, "\n## `{name}`\n\n{}", described(&interface.docs))?;
    for function in interface.functions.values() {
        let signature = signature(resolve, function);
        writeln!(out, "\n### `{signature}`\n\n{}", described(&function.docs))?;
    }
    for id in interface.types.values() {
        let definition = &resolve.types[*id];
        // What an interface only takes over from another is described there.
        if !matches!(definition.kind, TypeDefKind::Type(Type::Id(_))) {
            type_definition(out, resolve, definition)?;
        }
    }
    Ok(())
}

fn type_definition(out: &mut String, resolve: &Resolve, def: &TypeDef) -> anyhow::Result<()> {
    let name = def.name.as_deref().unwrap_or_default();
    let kind = def.kind.as_str();
    writeln!(out, "\n### {kind} `{name}`\n")?;
    if def.docs.contents.is_some() {
        writeln!(out, "{}\n", described(&def.docs))?;
    }
    match &def.kind {
        TypeDefKind::Enum(it) => {
            writeln!(out, "{}", names(it.cases.iter().map(|it| &it.name)))?;
        }
        TypeDefKind::Flags(it) => {
            writeln!(out, "{}", names(it.flags.iter().map(|it| &it.name)))?;
        }
        TypeDefKind::Record(it) => {
            writeln!(out, "| field | type | |\n|---|---|---|")?;
            for field in &it.fields {
                let ty = spelled(resolve, &field.ty);
                writeln!(
                    out,
                    "| `{}` | `{ty}` | {} |",
                    field.name,
                    described(&field.docs)
                )?;
            }
        }
        TypeDefKind::Variant(it) => {
            writeln!(out, "| case | holds | |\n|---|---|---|")?;
            for case in &it.cases {
                let ty = case.ty.as_ref();
                let ty = ty.map_or("–".into(), |ty| format!("`{}`", spelled(resolve, ty)));
                writeln!(
                    out,
                    "| `{}` | {ty} | {} |",
                    case.name,
                    described(&case.docs)
                )?;
            }
        }
        other => bail!(
            "the reference does not know how to show the {} `{name}`",
            other.as_str()
        ),
    }
    Ok(())
}

fn names<'a>(names: impl Iterator<Item = &'a String>) -> String {
    let names: Vec<String> = names.map(|name| format!("`{name}`")).collect();
    names.join(" ")
}

/// The documentation on one line, so that it fits into a table, too.
fn described(docs: &Docs) -> String {
    let text = docs.contents.as_deref().unwrap_or_default();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn signature(resolve: &Resolve, function: &Function) -> String {
    let parameters: Vec<String> = function
        .params
        .iter()
        .map(|it| format!("{}: {}", it.name, spelled(resolve, &it.ty)))
        .collect();
    let result = function.result.as_ref();
    let result = result.map_or(String::new(), |ty| format!(" -> {}", spelled(resolve, ty)));
    format!("{}({}){result}", function.name, parameters.join(", "))
}

/// A type as it is written in WIT.
fn spelled(resolve: &Resolve, ty: &Type) -> String {
    let Type::Id(id) = ty else {
        return match ty {
            Type::Bool => "bool",
            Type::U8 => "u8",
            Type::U16 => "u16",
            Type::U32 => "u32",
            Type::U64 => "u64",
            Type::S8 => "s8",
            Type::S16 => "s16",
            Type::S32 => "s32",
            Type::S64 => "s64",
            Type::F32 => "f32",
            Type::F64 => "f64",
            Type::Char => "char",
            Type::String => "string",
            Type::ErrorContext | Type::Id(_) => "error-context",
        }
        .into();
    };
    let definition = &resolve.types[*id];
    if let Some(name) = &definition.name {
        return name.clone();
    }
    let maybe = |ty: &Option<Type>| ty.as_ref().map_or("_".into(), |ty| spelled(resolve, ty));
    match &definition.kind {
        TypeDefKind::Option(ty) => format!("option<{}>", spelled(resolve, ty)),
        TypeDefKind::List(ty) => format!("list<{}>", spelled(resolve, ty)),
        TypeDefKind::Result(Result_ { ok, err }) => {
            format!("result<{}, {}>", maybe(ok), maybe(err))
        }
        TypeDefKind::Tuple(it) => {
            let types: Vec<String> = it.types.iter().map(|ty| spelled(resolve, ty)).collect();
            format!("tuple<{}>", types.join(", "))
        }
        other => other.as_str().into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SMALL: &str = "package a:b@1.0.0;
        /// All types.
        interface types {
            /// A side.
            enum side { left, right }
            /// A thing.
            record thing {
                /// Which
                /// side.
                on: option<side>,
                many: list<tuple<u32, f64>>,
            }
            variant play { shot(thing), %replay }
        }
        interface host { use types.{side}; log: func(on: side); }
        interface guest { use types.{thing}; step: func(it: thing) -> result<list<thing>, string>; }";

    #[test]
    fn types_fields_and_functions_stand_in_it_with_their_words() {
        let text = interface(SMALL).unwrap();
        for line in [
            "# The plugin interface, `a:b@1.0.0`",
            "### `step(it: thing) -> result<list<thing>, string>`",
            "### `log(on: side)`",
            "### enum `side`",
            "`left` `right`",
            "| `on` | `option<side>` | Which side. |",
            "| `many` | `list<tuple<u32, f64>>` |  |",
            "| `shot` | `thing` |  |",
            "| `replay` | – |  |",
        ] {
            assert!(text.lines().any(|it| it == line), "no `{line}` in:\n{text}");
        }
        assert_eq!(
            text.matches("`thing`\n").count(),
            1,
            "described once:\n{text}"
        );
    }

    #[test]
    fn an_interface_that_is_missing_is_named() {
        let error = interface("package a:b; interface types {}").unwrap_err();
        assert!(error.to_string().contains("`guest`"), "{error}");
    }
}
