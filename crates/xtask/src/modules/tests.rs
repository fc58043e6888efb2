//! The check on crates made of a few lines of text.

use std::path::Path;

use super::*;

/// The circles of a crate whose files are given by name and text.
fn circles_in(files: &[(&str, &str)]) -> Vec<Vec<String>> {
    let modules = read_crate(Path::new("src/lib.rs"), &|wanted| {
        files
            .iter()
            .find(|(name, _)| Path::new("src").join(name) == wanted)
            .map(|(_, text)| (*text).to_owned())
            .with_context(|| format!("no `{}`", wanted.display()))
    })
    .unwrap();
    let uses = uses(&modules)
        .into_iter()
        .map(|(from, to)| {
            let to = to.iter().map(|file| file.display().to_string()).collect();
            (from.display().to_string(), to)
        })
        .collect();
    let circles = circles(&uses);
    circles
        .into_iter()
        .map(|circle| circle.into_iter().collect())
        .collect()
}

#[test]
fn files_that_use_each_other_are_a_circle() {
    for b in [
        "use crate::a::A;",
        "use super::a::{self, A as Other};",
        "use {std::fs, crate::{a::A}};",
        "fn f() -> usize { crate::a::size(&[1], 2) }",
        "fn f() { panic!(\"{}\", super::a::size()) }",
        "mod inline { use super::super::a::A; }",
        "use crate::A;",
    ] {
        let root = "mod a; mod b; pub use a::A;";
        let a = "use crate::b::B; pub struct A;";
        let found = circles_in(&[("lib.rs", root), ("a.rs", a), ("b.rs", b)]);
        assert_eq!(found, [["src/a.rs", "src/b.rs"]], "{b}");
    }
}

#[test]
fn a_way_round_over_three_files_is_one_circle() {
    let found = circles_in(&[
        ("lib.rs", "mod a; mod b; mod c; mod d;"),
        ("a.rs", "use crate::b::B;"),
        ("b.rs", "mod deep;"),
        ("b/deep.rs", "use super::super::c::C; use super::B;"),
        ("c.rs", "use crate::a::A; use crate::b::deep::Deep;"),
        ("d.rs", "use crate::a::A;"),
    ]);
    assert_eq!(found, [["src/b/deep.rs", "src/c.rs"]]);
}

#[test]
fn a_parent_and_a_child_that_need_each_other_are_a_circle() {
    let child = ("a/child.rs", "use super::A;");
    let root = ("lib.rs", "mod a;");
    let found = circles_in(&[root, ("a.rs", "mod child; use child::Child;"), child]);
    assert_eq!(found, [["src/a.rs", "src/a/child.rs"]]);
    let found = circles_in(&[root, ("a.rs", "mod child; fn f() { child::g(); }"), child]);
    assert_eq!(found, [["src/a.rs", "src/a/child.rs"]]);
}

#[test]
fn what_leads_one_way_is_no_circle() {
    for b in [
        "use crate::Shared; use std::crate_like::a::A;",
        "#[cfg(test)] mod tests { use crate::a::A; }",
        "#[cfg(test)] use crate::a::A;",
        "// use crate::a::A;\nconst TEXT: &str = \"crate::a::A\";",
        "fn f(it: Thing) { it.crate_::a(); }",
    ] {
        let root = "mod a; mod b; pub use a::A; pub use b::B; pub struct Shared;";
        let a = "use crate::{B, Shared}; use crate::b::B as Other;";
        let found = circles_in(&[("lib.rs", root), ("a.rs", a), ("b.rs", b)]);
        assert!(found.is_empty(), "{b}: {found:?}");
    }
}

#[test]
fn a_known_circle_is_allowed_until_it_is_gone() {
    let circle: BTreeSet<String> = ["x/a.rs", "x/b.rs"].map(String::from).into();
    let known: &[&[&str]] = &[&["x/a.rs", "x/b.rs", "x/c.rs"]];
    assert!(judged(std::slice::from_ref(&circle), known).is_empty());
    let new = judged(&[circle], &[]);
    assert_eq!(
        new,
        ["these files need each other in a circle: x/a.rs, x/b.rs"]
    );
    assert_eq!(judged(&[], known).len(), 1);
}

#[test]
fn mod_rs_is_the_old_style_but_for_what_tests_share() {
    for (file, is_old) in [
        ("crates/bus/src/embedded/mod.rs", true),
        ("crates/bus/tests/bus/support/mod.rs", true),
        ("crates/bus/tests/support/mod.rs", false),
        ("crates/bus/src/embedded.rs", false),
    ] {
        assert_eq!(is_old_style(Path::new(file)), is_old, "{file}");
    }
}
