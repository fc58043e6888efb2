//! Plugins that read from each other: order, circles, missing sources.

use rallytide_plugin_host::{
    AssembleError, PluginCode, PluginSet, PluginState, SettingValue, Settings,
};

use crate::files::written_over;
use crate::support::{behaviour, chart, guest, load, loader, play_plugin_set};

const READS: [&str; 2] = [
    "no.indicator.that.the.piece.needs",
    "no.indicator.that.it.needs.either",
];

/// A plugin `the-test-piece-that-is-called-NAME` that provides
/// `an.indicator.given.by.the.piece.NAME` and reads those of `reads`.
fn piece(name: char, reads: &[char]) -> PluginCode {
    let mut file = written_over(
        guest("piece"),
        "the-test-piece-that-is-called-x",
        &format!("the-test-piece-that-is-called-{name}"),
    );
    file = written_over(file, &given('x'), &given(name));
    for (place, source) in reads.iter().enumerate() {
        file = written_over(file, READS[place], &given(*source));
    }
    let code = loader().load(&format!("{name}.wasm"), &file).unwrap();
    assert_eq!(code.manifest().reads.len(), reads.len());
    code
}

fn given(name: char) -> String {
    format!("an.indicator.given.by.the.piece.{name}")
}

fn assemble(plugins: Vec<PluginCode>) -> Result<PluginSet, AssembleError> {
    PluginSet::assemble(plugins, &Settings::new())
}

/// The last letters of the ids, in running order.
fn order(plugin_set: &PluginSet) -> String {
    let ids = plugin_set.plugins().map(|code| code.id().as_str());
    ids.map(|id| &id[id.len() - 1..]).collect()
}

#[test]
fn plugins_run_after_those_they_read_from_whatever_order_they_came_in() {
    let all = [
        piece('a', &['c', 'b']),
        piece('b', &['d']),
        piece('c', &[]),
        piece('d', &[]),
        piece('e', &['c']),
    ];
    for turn in 0..all.len() {
        let mut plugins = all.to_vec();
        plugins.rotate_left(turn);
        let plugin_set = assemble(plugins).unwrap();
        assert_eq!(order(&plugin_set), "cdbae");
        let played = play_plugin_set(&plugin_set, &chart(1));
        let upstream = |name: char| {
            let reading = played.run.reading(&given(name)).unwrap();
            serde_json::to_value(&reading.value).unwrap()["n"].clone()
        };
        assert_eq!(upstream('a'), 2, "both sources had published by then");
        assert_eq!(upstream('b'), 1);
        assert_eq!(upstream('c'), 0);
    }
}

#[test]
fn a_circle_is_an_error_that_names_its_plugins_and_indicators() {
    let plugins = vec![
        piece('a', &['b']),
        piece('b', &['c']),
        piece('c', &['b']),
        piece('d', &[]),
    ];
    let error = assemble(plugins).unwrap_err();
    assert_eq!(
        error.to_string(),
        format!(
            "plugins read from each other in a circle: `the-test-piece-that-is-called-b` reads \
             `{}` of `the-test-piece-that-is-called-c` reads `{}` of \
             `the-test-piece-that-is-called-b`",
            given('c'),
            given('b')
        )
    );
}

#[test]
fn an_indicator_that_two_plugins_provide_is_an_error_that_names_both() {
    let twin = written_over(
        guest("piece"),
        "the-test-piece-that-is-called-x",
        "the-test-piece-that-is-called-y",
    );
    let twin = loader().load("y.wasm", &twin).unwrap();
    let error = assemble(vec![twin, load("piece")]).unwrap_err();
    assert_eq!(
        error.to_string(),
        format!(
            "the plugins `the-test-piece-that-is-called-x` and `the-test-piece-that-is-called-y` \
             both provide `{}`; an indicator belongs to one plugin",
            given('x')
        )
    );
}

#[test]
fn two_files_with_one_plugin_are_an_error_that_names_the_files() {
    let again = loader().load("again.wasm", &guest("piece")).unwrap();
    let error = assemble(vec![load("piece"), again]).unwrap_err();
    assert_eq!(
        error.to_string(),
        "the files `again.wasm` and `piece.wasm` both hold a plugin \
         `the-test-piece-that-is-called-x`; one of them has to go"
    );
}

#[test]
fn a_plugin_whose_source_is_missing_waits_and_so_does_who_reads_from_it() {
    let plugins = vec![piece('a', &['z']), piece('b', &['a']), piece('c', &[])];
    let plugin_set = assemble(plugins).unwrap();
    assert_eq!(order(&plugin_set), "c");
    let played = play_plugin_set(&plugin_set, &chart(1));
    let waiting: Vec<String> = played.run.unavailable().map(|(_, why)| why).collect();
    assert_eq!(
        waiting,
        [
            format!(
                "the plugin `the-test-piece-that-is-called-a` waits for `{}`, which no plugin \
                 provides",
                given('z')
            ),
            format!(
                "the plugin `the-test-piece-that-is-called-b` waits for `{}` of the plugin \
                 `the-test-piece-that-is-called-a`, which is suspended itself",
                given('a')
            ),
        ]
    );
    let states: Vec<bool> = played
        .run
        .health()
        .iter()
        .map(|it| matches!(it.state, PluginState::Suspended { .. }))
        .collect();
    assert_eq!(states, [false, true, true]);
}

#[test]
fn a_plugin_that_waited_runs_once_its_source_is_there() {
    let waiting = piece('a', &['z']);
    assert_eq!(order(&assemble(vec![waiting.clone()]).unwrap()), "");
    let both = vec![waiting, piece('z', &[])];
    assert_eq!(order(&assemble(both).unwrap()), "za");
}

#[test]
fn where_everything_has_to_be_there_an_unknown_indicator_is_an_error() {
    let plugins = vec![piece('a', &['z']), piece('c', &[])];
    let error = assemble(plugins).unwrap().complete().unwrap_err();
    assert_eq!(
        error.to_string(),
        format!(
            "the plugin `the-test-piece-that-is-called-a` reads `{}`, which no plugin provides; \
             there are `{}`, `{}`",
            given('z'),
            given('a'),
            given('c')
        )
    );
    assert!(assemble(vec![piece('c', &[])]).unwrap().complete().is_ok());
}

#[test]
fn a_setting_that_does_not_fit_is_refused_and_one_of_an_absent_plugin_is_left_alone() {
    let mut settings = behaviour("", 1);
    settings
        .get_mut("hostile")
        .unwrap()
        .insert("at".into(), SettingValue::Whole(-1));
    let error = PluginSet::assemble(vec![load("misbehaves")], &settings).unwrap_err();
    assert_eq!(
        error.to_string(),
        "the setting `at` of the plugin `hostile` is -1; it has to be a whole number from 0 to 9999"
    );
    assert!(PluginSet::assemble(vec![load("counts")], &settings).is_ok());
}
