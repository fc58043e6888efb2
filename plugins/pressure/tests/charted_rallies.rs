//! The plugin behind the initiative plugin, on charted rallies.
//! The rules are common practice of the trade; there is no published standard.
#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use rallytide_initiative::Initiative;
use rallytide_plugin_kit::testing::{Script, Trial};
use rallytide_plugin_kit::{Change, Share, Team, Value, about};
use rallytide_pressure::Pressure;

/// Charts a match through both plugins, as the host runs them.
fn charted(text: &str) -> Trial<Pressure> {
    let mut initiative = Trial::<Initiative>::start(Vec::new(), Vec::new()).unwrap();
    let mut pressure = Trial::<Pressure>::start(Vec::new(), initiative.readings()).unwrap();
    for entry in Script::default().read(text) {
        let changes = initiative.entry(entry.clone(), Vec::new());
        let changed = changes.into_iter().filter_map(|change| match change {
            Change::Set(reading) => Some(reading),
            Change::Gone(_) => None,
        });
        pressure.entry(entry, changed.collect());
    }
    pressure
}

#[track_caller]
fn check(trial: &Trial<Pressure>, indicator: &str, a: &str, b: &str) {
    for (team, expected) in [(Team::A, a), (Team::B, b)] {
        let found = match trial.value(&about(indicator, team)) {
            Some(Value::Share(Share { part, whole })) => format!("{part} of {whole}"),
            other => panic!("{other:?}"),
        };
        assert_eq!(found, expected, "{indicator} of {team:?}");
    }
}

/// Both teams come to the line, neutral.
const TO_THE_LINE: &str = "a serve | b return | a drop | b dink | a dink";

#[test]
fn everything_is_there_from_the_start_with_no_cases() {
    let trial = charted("a serve");
    for indicator in [
        "offense.finished",
        "neutral.first",
        "defense.bounced",
        "gift.share",
    ] {
        check(&trial, indicator, "0 of 0", "0 of 0");
    }
}

#[test]
fn an_attack_that_holds_to_the_end_of_a_won_rally_is_finished() {
    let trial = charted(&format!(
        "{TO_THE_LINE} | +attackable | b volley | b winner"
    ));
    check(&trial, "offense.finished", "0 of 0", "1 of 1");
}

#[test]
fn an_attack_that_is_lost_or_given_up_is_not_finished() {
    let lost = charted(&format!("{TO_THE_LINE} | +attackable | b volley | b out"));
    check(&lost, "offense.finished", "0 of 0", "0 of 1");
    let given_up = charted(&format!(
        "{TO_THE_LINE} | +attackable | b volley | a reset | b dink | a dink | b wins"
    ));
    check(&given_up, "offense.finished", "0 of 0", "0 of 1");
}

#[test]
fn holding_by_depth_alone_is_no_attack_to_finish() {
    let trial = charted("a serve | b return | a drive | b wins");
    check(&trial, "offense.finished", "0 of 0", "0 of 0");
}

#[test]
fn whoever_attacks_first_out_of_neutral_at_the_line_is_first() {
    let trial = charted(&format!("{TO_THE_LINE} | b volley | a block | a wins"));
    check(&trial, "neutral.first", "0 of 1", "1 of 1");
}

#[test]
fn a_rally_that_never_was_neutral_at_the_line_has_no_first() {
    let trial = charted("a serve | b return | a drive | b volley | b wins");
    check(&trial, "neutral.first", "0 of 0", "0 of 0");
}

#[test]
fn a_defender_that_makes_the_next_ball_bounce_has_done_its_work() {
    // The reset is struck while b holds; its answer, a dink, has bounced. The
    // third shot is struck while b holds by depth; its answer is volleyed.
    let trial = charted("a serve | b return | a drive | b volley | a reset | b dink | a wins");
    check(&trial, "defense.bounced", "1 of 2", "0 of 0");
}

#[test]
fn an_answer_that_is_assumed_or_of_unknown_contact_is_no_case() {
    let assumed = charted("a serve | b return | a drive | a volley | a wins");
    check(&assumed, "defense.bounced", "0 of 0", "0 of 0");
    let unknown = charted("a serve | b return | a drive | b lob | a wins");
    check(&unknown, "defense.bounced", "0 of 0", "0 of 0");
}

#[test]
fn a_gift_is_an_own_error_while_not_on_defense() {
    let gift = charted(&format!("{TO_THE_LINE} | b net"));
    check(&gift, "gift.share", "0 of 0", "1 of 1");
    let pressed = charted("a serve | b return | a net");
    check(&pressed, "gift.share", "0 of 1", "0 of 0");
    let won = charted(&format!("{TO_THE_LINE} | a winner"));
    check(&won, "gift.share", "0 of 0", "0 of 1");
    let unknown = charted(&format!("{TO_THE_LINE} | a wins"));
    check(&unknown, "gift.share", "0 of 0", "0 of 1");
}

#[test]
fn a_replayed_rally_and_one_cut_off_count_nothing() {
    let trial = charted(&format!(
        "{TO_THE_LINE} | +attackable | b volley | replay | {TO_THE_LINE} | b volley | a retires"
    ));
    for indicator in [
        "offense.finished",
        "neutral.first",
        "defense.bounced",
        "gift.share",
    ] {
        check(&trial, indicator, "0 of 0", "0 of 0");
    }
}
