//! Who holds the initiative by the rows, when it is carried, and when nobody
//! can hold it. Common practice of the trade; there is no published standard.

mod charted;

use charted::{Charted, check, check_level};
use rallytide_plugin_kit::{Change, Plugin};

#[test]
fn the_team_with_fewer_rows_against_it_holds() {
    check(
        "a at back | b at line | a serve | b return | a drive | b volley +awkward",
        "b 0.33 air:a:r1s4 body:b:r1s4 depth:a:r1s4 contested",
    );
}

#[test]
fn as_many_rows_against_both_leave_it_with_nobody() {
    check_level(
        "a serve | b return | a drive | b volley +awkward",
        "- 0.00 air:a:r1s4 body:b:r1s4 contested",
    );
}

#[test]
fn without_rows_a_ball_that_is_known_leaves_it_with_nobody() {
    let held = "a serve | b return +attackable | a drive";
    check_level(held, "a 1.00 attackable:b:r1s2");
    check_level(&format!("{held} | b drive"), "- 0.00");
}

#[test]
fn a_serve_is_nobodys() {
    check_level("a serve", "- 0.00");
    check_level("a drive | +attackable | a serve", "- 0.00");
}

#[test]
fn a_block_or_reset_carries_what_was_before() {
    let held = "a serve | b return +attackable | a drive";
    check_level(&format!("{held} | b block"), "a 0.00 carried");
    check_level(&format!("{held} | b reset"), "a 0.00 carried");
    check_level(&format!("{held} | b reset bounce"), "a 0.00 carried");
}

#[test]
fn a_ball_of_unknown_contact_carries_what_was_before() {
    check_level(
        "a serve | b return | a drive | b volley | a lob",
        "b 0.00 carried",
    );
}

#[test]
fn carried_is_said_also_when_nobody_held() {
    check_level("a serve | b return | a drop | b lob", "- 0.00 carried");
}

#[test]
fn what_is_carried_is_what_was_just_before_the_entry() {
    let mut charted = Charted::doubles();
    charted.chart("a at back | b at line | a serve | b return | a drive | b lob");
    assert_eq!(charted.initiative(), "b 1.00 depth:a:r1s4");
    charted.chart("a at line");
    assert_eq!(charted.initiative(), "b 0.00 carried");
    charted.chart("+attackable");
    assert_eq!(charted.initiative(), "a 1.00 attackable:b:r1e8");
}

#[test]
fn before_the_first_shot_nobody_holds_whatever_the_depths() {
    check("a at line | b at back", "- 0.00");
    check("a at line | b at back | a serve", "a 1.00 depth:b:r1s1");
}

#[test]
fn from_the_end_of_a_rally_on_nobody_holds() {
    check("a serve | b return | a out", "- 0.00");
    check("a serve | b return | replay", "- 0.00");
    check(
        "a serve | b return | a out | a at line | +awkward",
        "- 0.00",
    );
}

#[test]
fn other_entries_within_a_rally_leave_it_as_it_is() {
    let mut charted = Charted::doubles();
    charted.chart("a serve | b return");
    for entry in ["a time_out", "b penalty", "note ball came loose"] {
        assert!(charted.chart(entry).is_empty(), "after `{entry}`");
    }
    assert_eq!(charted.initiative(), "b 1.00 depth:a:r1s2?");
}

#[test]
fn when_the_match_is_cut_off_the_rally_is_over_and_nobody_holds() {
    let mut charted = Charted::doubles();
    charted.chart("a serve | b return | a retires");
    assert_eq!(charted.initiative(), "- 0.00");
    assert_eq!(charted.depths(), "back? back?");
}

#[test]
fn an_entry_that_changes_nothing_publishes_nothing() {
    let mut charted = Charted::doubles();
    assert!(charted.chart("a serve").is_empty());
    let changes = charted.chart("b return");
    assert_eq!(
        changes.len(),
        2,
        "the initiative and b's depth: {changes:?}"
    );
    assert!(charted.chart("+net_cord").is_empty());
}

#[test]
fn everything_published_is_declared() {
    let provides = rallytide_initiative::Initiative::manifest().provides;
    let mut charted = Charted::doubles();
    let changes = charted.chart("a serve | b return");
    for change in changes {
        let Change::Set(reading) = change else {
            panic!("nothing is taken back: {change:?}");
        };
        assert!(
            provides.iter().any(|name| *name == reading.key.indicator),
            "{reading:?}"
        );
    }
}
