//! The same chart gives the same readings and takes the same fuel, every time.

use rallytide_plugin_host::{PluginSet, Run, Settings};

use crate::support::{
    Played, behaviour, benign, chart, guest, load, loader, play, play_plugin_set, untimed,
};

/// Everything that a run shows: readings, outcomes, health, byte for byte; but
/// not the time it took.
fn shown(played: &Played) -> String {
    let health = serde_json::to_string(&untimed(&played.run)).unwrap();
    format!("{:?}\n{:?}\n{health}", played.readings, played.outcomes)
}

#[test]
fn a_hundred_runs_give_the_same_readings_and_take_the_same_fuel() {
    let chart = chart(20);
    let first = play(benign(), &Settings::new(), &chart);
    for _ in 1..100 {
        let again = play(benign(), &Settings::new(), &chart);
        assert!(shown(&again) == shown(&first), "two runs differ");
    }
}

#[test]
fn code_that_is_compiled_again_behaves_the_same() {
    let settings = behaviour("loop", 5);
    let names = ["counts", "echoes", "misbehaves"];
    let anew = |name| {
        let file = format!("{name}.wasm");
        loader().load(&file, &guest(name)).unwrap()
    };
    let first = play(names.map(load).to_vec(), &settings, &chart(2));
    let again = play(names.map(anew).to_vec(), &settings, &chart(2));
    assert!(shown(&first) == shown(&again), "two builds differ");
}

#[test]
fn runs_side_by_side_do_not_touch_each_other() {
    fn is_send<T: Send>() {}
    fn is_shared<T: Send + Sync>() {}
    is_send::<Run>();
    is_shared::<PluginSet>();
    let mut plugins = benign();
    plugins.push(load("misbehaves"));
    let plugin_set = PluginSet::assemble(plugins, &behaviour("allocate_for_ever", 7)).unwrap();
    let alone = shown(&play_plugin_set(&plugin_set, &chart(5)));
    std::thread::scope(|scope| {
        let threads: Vec<_> = (0..4)
            .map(|_| scope.spawn(|| shown(&play_plugin_set(&plugin_set, &chart(5)))))
            .collect();
        for thread in threads {
            assert!(
                thread.join().unwrap() == alone,
                "a run beside others differs"
            );
        }
    });
}
