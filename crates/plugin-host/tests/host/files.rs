//! Files that are no plugins: each is refused with its reason and, where there
//! is something to say, what its author can change.

use rallytide_plugin_host::limits::{
    COMPONENT_BYTES, CORE_MODULE_BYTES, FUNCTION_BYTES, TYPE_SECTION_BYTES,
};
use rallytide_plugin_host::{PluginFaultKind, PluginRefused, RefusedReason, Settings};

use crate::support::{Played, chart, guest, load, loader, play};

#[track_caller]
fn refused(bytes: &[u8]) -> PluginRefused {
    loader().load("trial.wasm", bytes).unwrap_err()
}

#[track_caller]
fn check(bytes: &[u8], message: &str, hint: Option<&str>) {
    let refused = refused(bytes);
    assert_eq!(
        refused.to_string(),
        format!("the file `trial.wasm` is refused as a plugin: {message}")
    );
    match (refused.hint(), hint) {
        (Some(found), Some(words)) => assert!(found.contains(words), "{found}"),
        (found, expected) => assert_eq!(found.as_deref(), expected),
    }
}

/// A guest as a ready component.
pub(crate) fn component_of(name: &str) -> Vec<u8> {
    wit_component::ComponentEncoder::default()
        .module(&guest(name))
        .unwrap()
        .encode()
        .unwrap()
}

fn wat(text: &str) -> Vec<u8> {
    wat::parse_str(text).unwrap()
}

/// A built guest with a text in it written over by one of the same length.
pub(crate) fn written_over(mut file: Vec<u8>, old: &str, new: &str) -> Vec<u8> {
    assert_eq!(old.len(), new.len());
    let places: Vec<usize> = file
        .windows(old.len())
        .enumerate()
        .filter(|(_, window)| *window == old.as_bytes())
        .map(|(place, _)| place)
        .collect();
    assert!(!places.is_empty(), "`{old}` is not in the file");
    for place in places {
        file[place..place + new.len()].copy_from_slice(new.as_bytes());
    }
    file
}

#[test]
fn a_plugin_is_taken_as_a_core_module_and_as_a_ready_component() {
    let core = load("counts");
    assert_eq!(core.manifest().id, "counts");
    assert_eq!(core.manifest().about, "Counts entries and shots.");
    assert_eq!(core.size(), guest("counts").len());
    assert!(core.describe_fuel() > 0);
    let component = component_of("counts");
    let ready = loader().load("ready.wasm", &component).unwrap();
    assert_eq!(ready.manifest(), core.manifest());
    assert_ne!(ready.sha256(), core.sha256(), "the file is another one");
}

#[test]
fn a_text_file_is_refused() {
    for bytes in [
        b"".as_slice(),
        b"kind: plugin\n",
        b"\0asn\x01\0\0\0",
        b"\0asm",
    ] {
        check(bytes, "it is no WebAssembly file", Some("cargo build"));
    }
}

#[test]
fn a_file_above_its_size_is_refused_before_it_is_read() {
    let mut core = guest("counts");
    core.resize(CORE_MODULE_BYTES + 1, 0);
    check(
        &core,
        "it is 4194305 bytes long; a core module may be 4194304 bytes at most",
        Some("--release"),
    );
    let mut component = wat("(component)");
    component.resize(COMPONENT_BYTES + 1, 0);
    assert_eq!(refused(&component).reason.word(), "too_big");
}

/// Each of these kept the compiler busy for a minute and more before there was
/// a limit for it, or would have.
#[test]
fn a_file_that_would_keep_the_compiler_busy_is_refused() {
    let nested = |open: &str, close: &str, levels: usize| {
        format!(
            "(func (param i32) {}{})",
            open.repeat(levels),
            close.repeat(levels)
        )
    };
    let leave = "(br_if 0 (local.get 0))";
    let set: Vec<String> = (0..3000)
        .map(|n| format!("(local.set {} (i32.const {n})) {leave}", n % 900 + 1))
        .collect();
    let carried = format!(
        "(func (param i32) (local {}) block {} end)",
        "i32 ".repeat(900),
        set.concat()
    );
    for (code, words) in [
        (
            nested("loop ", &format!("{leave} end "), 51),
            "51 nested loops; 50 are allowed",
        ),
        (
            nested("block ", "end ", 2000),
            "2001 nested blocks; 2000 are allowed",
        ),
        (
            nested(leave, "", 32_000),
            "branches, squared; 1000000000 are allowed",
        ),
        (nested(leave, "", 3000).repeat(112), "branches, squared"),
        (
            carried,
            "2700900 values carried along in one function; 2000000 are allowed",
        ),
        (
            nested("nop ", "", FUNCTION_BYTES),
            "bytes of one function; 524288 are allowed",
        ),
    ] {
        // Beside a plugin that is in order, so that nothing else is the matter.
        let module = section(1, &wat(&format!("(module {code})")));
        let refused = refused(&[component_of("counts"), module].concat());
        assert_eq!(refused.reason.word(), "too_intricate", "{refused}");
        assert!(refused.to_string().contains(words), "{refused}");
    }
}

/// Beyond what is compiled with care, within what is compiled at all.
#[test]
fn intricate_code_within_the_limits_is_taken_and_behaves_the_same() {
    let groups = format!("{}{}", "loop ".repeat(50), "end ".repeat(50)).repeat(20);
    let blocks = format!("{}{}", "block ".repeat(1999), "end ".repeat(1999));
    let leave: Vec<String> = (0..1000)
        .map(|n| {
            format!(
                "(local.set {} (i32.const {n})) (br_if 0 (local.get 0))",
                n % 100 + 1
            )
        })
        .collect();
    let carried = format!(
        "(func (param i32) (local {}) block {} end)",
        "i32 ".repeat(100),
        leave.concat()
    );
    let module = wat(&format!(
        "(module (func {groups}) (func {blocks}) {carried})"
    ));
    let file = [component_of("counts"), section(1, &module)].concat();
    let intricate = loader().load("large.wasm", &file).unwrap();
    let plain = play(vec![load("counts")], &Settings::new(), &chart(2));
    let quick = play(vec![intricate], &Settings::new(), &chart(2));
    assert_eq!(quick.readings, plain.readings);
    let fuel = |played: &Played| played.run.health()[0].fuel;
    assert_eq!(
        fuel(&quick),
        fuel(&plain),
        "fuel does not depend on the compiler"
    );
}

#[test]
fn a_file_that_is_cut_off_is_refused() {
    let core = guest("counts");
    let refused = refused(&core[..core.len() / 2]);
    assert_eq!(refused.reason.word(), "malformed");
    assert!(refused.hint().unwrap().contains("copy it again"));
}

#[test]
fn a_foreign_import_is_refused_and_named() {
    check(
        &wat(r#"(module (import "env" "now" (func (result f64))))"#),
        "it imports `env::now`; a plugin may import nothing but `rallytide:plugin/host@1.0.0`",
        Some("no clock"),
    );
    check(
        &wat(r#"(module (import "wasi_snapshot_preview1" "fd_write" (func)))"#),
        "it imports `wasi_snapshot_preview1::fd_write`; a plugin may import nothing but `rallytide:plugin/host@1.0.0`",
        Some("wasm32-unknown-unknown"),
    );
    check(
        &wat(r#"(component (import "wasi:cli/environment@0.2.6" (instance)))"#),
        "it imports `wasi:cli/environment@0.2.6`; a plugin may import nothing but `rallytide:plugin/host@1.0.0`",
        Some("stub WASI out"),
    );
}

#[test]
fn an_unknown_function_of_the_hosts_own_interface_is_refused() {
    let module = wat(r#"(module (import "rallytide:plugin/host@1.0.0" "now" (func)))"#);
    assert_eq!(refused(&module).reason.word(), "unconvertible");
}

#[test]
fn a_plugin_for_another_version_of_the_interface_is_refused_and_the_version_named() {
    let later = of_version_2(&["plugin@", "host@", "guest@", "types@"]);
    check(
        &later,
        "it was built for version 2.0.0 of the plugin interface; this host runs version 1.0.0",
        Some("plugin-kit"),
    );
    let component = wit_component::ComponentEncoder::default()
        .module(&later)
        .unwrap()
        .encode()
        .unwrap();
    assert_eq!(
        refused(&component).reason,
        RefusedReason::OtherVersion {
            found: "2.0.0".into()
        }
    );
}

/// The guest that counts with the version of these names written over.
fn of_version_2(names: &[&str]) -> Vec<u8> {
    names.iter().fold(guest("counts"), |file, name| {
        written_over(file, &format!("{name}1.0.0"), &format!("{name}2.0.0"))
    })
}

/// The converter, left alone with it, recurses until the process ends.
#[test]
fn a_description_whose_packages_depend_on_each_other_in_a_circle_is_refused() {
    let mixed = of_version_2(&["plugin@", "host@", "guest@"]);
    assert_eq!(refused(&mixed).reason.word(), "other_version");
    let mixed = of_version_2(&["types@"]);
    assert_eq!(refused(&mixed).reason.word(), "other_version");
}

/// A section of component types, so many levels deep.
fn deep_types(levels: usize) -> Vec<u8> {
    let mut types = vec![1];
    for _ in 0..levels {
        types.extend([0x41, 1, 1]);
    }
    types.extend([0x41, 0]);
    section(7, &types)
}

fn section(id: u8, content: &[u8]) -> Vec<u8> {
    let mut section = vec![id];
    let mut length = content.len();
    while length > 0x7f {
        section.push(length as u8 | 0x80);
        length >>= 7;
    }
    section.push(length as u8);
    section.extend(content);
    section
}

/// Types nest by three bytes a level, and the parser reads them by recursion:
/// on an ordinary stack such a file ends the process.
#[test]
fn types_nested_beyond_reason_are_refused_or_loaded_and_never_end_the_process() {
    let component = component_of("counts");
    let with = |levels| [component.clone(), deep_types(levels)].concat();
    assert_eq!(refused(&with(1_000_000)).reason.word(), "types_too_big");
    let deepest = TYPE_SECTION_BYTES / 3 - 2;
    assert!(loader().load("deep.wasm", &with(deepest)).is_ok());
    // The same in the description that a core module carries along.
    let described = |levels| {
        let name = b"component-type:deep";
        let mut content = vec![name.len() as u8];
        content.extend(name);
        content.extend(b"\0asm\x0d\0\x01\0");
        content.extend(deep_types(levels));
        [guest("counts"), section(0, &content)].concat()
    };
    assert_eq!(
        refused(&described(1_000_000)).reason.word(),
        "types_too_big"
    );
    assert_eq!(
        refused(&described(deepest - 20)).reason.word(),
        "unconvertible"
    );
}

#[test]
fn components_nested_beyond_reason_never_end_the_process() {
    let mut nested = wat("(component)");
    for _ in 0..5_000 {
        nested = [b"\0asm\x0d\0\x01\0".to_vec(), section(4, &nested)].concat();
    }
    let file = [component_of("counts"), section(4, &nested)].concat();
    // Whether it is taken is the engine's to say.
    let _ = loader().load("deep.wasm", &file);
}

#[test]
fn a_module_without_the_interface_is_refused_with_what_to_write() {
    let message = "it does not export `rallytide:plugin/guest@1.0.0`";
    check(
        &wat("(module (func (export \"run\")))"),
        message,
        Some("export_plugin!"),
    );
    check(&wat("(component)"), message, Some("cdylib"));
}

#[test]
fn an_interface_without_its_functions_is_refused() {
    let component = wat(r#"(component
        (instance $nothing)
        (export "rallytide:plugin/guest@1.0.0" (instance $nothing)))"#);
    let refused = refused(&component);
    assert_eq!(refused.reason.word(), "mistyped_guest");
    assert!(refused.to_string().contains("describe"), "{refused}");
}

#[test]
fn an_interface_whose_types_differ_is_refused_and_the_difference_named() {
    let edited = written_over(guest("counts"), "half-volley", "half-vulley");
    check(
        &edited,
        "its `rallytide:plugin/guest@1.0.0` is not as the interface says: failed to convert \
         function to given type: type mismatch with parameters: type mismatch for field entry: \
         type mismatch for field play: type mismatch for case shot: type mismatch for field \
         contact: expected enum case named half-volley, found half-vulley",
        Some("unchanged"),
    );
}

#[test]
fn a_start_function_that_loops_is_stopped_while_the_file_is_loaded() {
    let refused = refused(&guest("initialises_for_ever"));
    let RefusedReason::Stopped { kind, message } = &refused.reason else {
        panic!("{refused}");
    };
    assert_eq!(*kind, PluginFaultKind::OutOfFuel);
    assert!(message.contains("50000000 units"), "{message}");
}

#[test]
fn a_memory_that_is_too_large_from_the_start_is_refused() {
    let component = |memory: &str| {
        let text = format!(
            r#"(component
                (core module $large (memory {memory}) (table 200000 funcref))
                (core instance (instantiate $large))
                (instance $nothing)
                (export "rallytide:plugin/guest@1.0.0" (instance $nothing)))"#
        );
        wat(&text)
    };
    // Judged by what it exports before anything of it is made.
    assert_eq!(refused(&component("60000")).reason.word(), "mistyped_guest");
}

#[test]
fn a_bad_manifest_is_refused_with_what_is_allowed() {
    check(
        &guest("describes_itself_badly"),
        "its manifest breaks a rule: `id` holds `No Name`; a name is 1 to 64 lower case letters, \
         digits and `-`, a letter first",
        None,
    );
}
