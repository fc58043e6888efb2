//! Which rallies count as charted without a gap. Saying how much was seen is
//! common practice of the trade.
#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use rallytide_coverage::Coverage;
use rallytide_plugin_kit::testing::{Script, Trial};
use rallytide_plugin_kit::{Plugin, Share, Value, key};

#[track_caller]
fn check(match_text: &str, part: u32, whole: u32) {
    let mut trial = Trial::<Coverage>::start(Vec::new(), Vec::new()).unwrap();
    for entry in Script::default().read(match_text) {
        trial.entry(entry, Vec::new());
    }
    let value = trial.value(&key("charting.coverage")).unwrap();
    assert_eq!(*value, Value::Share(Share { part, whole }), "{match_text}");
}

#[test]
fn nothing_is_counted_before_a_rally_has_ended() {
    check("", 0, 0);
    check("a serve | b return", 0, 0);
}

#[test]
fn a_rally_from_the_serve_on_without_an_assumed_shot_is_whole() {
    check("a serve | b return | a drop | b wins", 1, 1);
    check("b serve | b ace", 1, 1);
}

#[test]
fn what_is_said_before_and_between_the_shots_makes_no_gap() {
    check(
        "a at back | note word | a serve | +awkward | b return | b at line | a time_out | b wins",
        1,
        1,
    );
}

#[test]
fn a_missing_serve_an_assumed_shot_or_no_shot_at_all_is_a_gap() {
    check("b return | a drop | b wins", 0, 1);
    check("a serve | b return | b volley | b wins", 0, 1);
    check("a serve | a serve | b return | b wins", 0, 1);
    check("a wins", 0, 1);
}

#[test]
fn a_gap_does_not_close_again() {
    check(
        "a serve | b return | b volley | a block | b dink | a wins",
        0,
        1,
    );
    check("b return | a serve | b return | a wins", 0, 1);
}

#[test]
fn a_replayed_rally_is_not_counted_and_leaves_nothing_behind() {
    check("a serve | b return | replay | a wins", 0, 1);
    check("b return | a drop | replay | a serve | a wins", 1, 1);
}

#[test]
fn a_rally_that_the_end_of_the_match_cuts_off_is_not_counted() {
    check("a serve | a wins | a serve | b return | b retires", 1, 1);
}

#[test]
fn the_example_of_the_readme() {
    check(
        "a serve | b return | a drop | a wins
         b wins
         a serve | b return | b volley | b wins",
        1,
        3,
    );
}

#[test]
fn it_provides_what_it_publishes() {
    assert_eq!(Coverage::manifest().provides, ["charting.coverage"]);
}
