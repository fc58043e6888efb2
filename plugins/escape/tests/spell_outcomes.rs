//! The spells alone, on made-up readings of the initiative: every outcome, and
//! which entries make a spell a pressed one.
//! The rules are common practice of the trade; there is no published standard.

use rallytide_escape::spells::{EndedSpell, SpellOutcome, Spells};
use rallytide_plugin_kit::{Held, Lean, Reading, Reason, Team, Value, key};

/// `by` holds, with rows as `code:team`.
fn held(by: Option<Team>, rows: &[(&str, Team)]) -> Held {
    let row = |(code, against): &(&str, Team)| Reason {
        code: (*code).into(),
        team: Some(*against),
        entry: 4,
        inferred: false,
    };
    let lean = Lean {
        toward: by,
        strength: 1.0,
    };
    let reading = Reading {
        key: key("initiative"),
        value: Value::Lean(lean),
        why: rows.iter().map(row).collect(),
        flags: Vec::new(),
    };
    Held::of(&reading).expect("it leans")
}

fn nobody() -> Held {
    held(None, &[])
}

/// b is on defense, with a row other than `depth` against it.
fn b_pressed() -> Held {
    held(Some(Team::A), &[("air", Team::B)])
}

#[track_caller]
fn check(spell: Option<EndedSpell>, team: Team, pressed: bool, outcome: SpellOutcome) {
    let spell = spell.expect("a spell ends here");
    assert_eq!(
        (spell.team, spell.pressed, spell.outcome),
        (team, pressed, outcome)
    );
}

#[test]
fn a_spell_that_goes_over_to_nobody_is_recovered() {
    let mut spells = Spells::default();
    assert_eq!(spells.entry(b_pressed(), 4), None);
    assert_eq!(spells.entry(b_pressed(), 5), None);
    let ended = spells.entry(nobody(), 6);
    check(ended, Team::B, true, SpellOutcome::Recovered);
    assert_eq!(spells.entry(nobody(), 7), None, "it ends only once");
}

#[test]
fn a_spell_that_goes_straight_over_to_offense_is_turned_and_begins_the_others() {
    let mut spells = Spells::default();
    spells.entry(b_pressed(), 4);
    let turned = spells.entry(held(Some(Team::B), &[("body", Team::A)]), 5);
    check(turned, Team::B, true, SpellOutcome::Turned);
    check(
        spells.rally_won_by(Team::B),
        Team::A,
        true,
        SpellOutcome::Lost,
    );
}

#[test]
fn a_spell_that_is_open_when_the_rally_ends_is_won_or_lost() {
    let mut spells = Spells::default();
    spells.entry(b_pressed(), 4);
    check(
        spells.rally_won_by(Team::B),
        Team::B,
        true,
        SpellOutcome::Won,
    );
    spells.entry(b_pressed(), 4);
    check(
        spells.rally_won_by(Team::A),
        Team::B,
        true,
        SpellOutcome::Lost,
    );
    assert_eq!(spells.rally_won_by(Team::A), None, "it ends only once");
}

#[test]
fn a_spell_that_is_broken_off_has_no_outcome() {
    let mut spells = Spells::default();
    spells.entry(b_pressed(), 4);
    spells.break_off();
    assert_eq!(spells.rally_won_by(Team::A), None);
}

#[test]
fn depth_alone_does_not_press() {
    let mut spells = Spells::default();
    spells.entry(held(Some(Team::A), &[("depth", Team::B)]), 2);
    let ended = spells.entry(nobody(), 4);
    check(ended, Team::B, false, SpellOutcome::Recovered);
}

#[test]
fn a_row_against_the_opponents_does_not_press() {
    let mut spells = Spells::default();
    let rows = [("air", Team::A), ("depth", Team::B)];
    spells.entry(held(Some(Team::A), &rows), 4);
    let ended = spells.entry(nobody(), 5);
    check(ended, Team::B, false, SpellOutcome::Recovered);
}

#[test]
fn one_pressed_entry_presses_the_whole_spell() {
    let mut spells = Spells::default();
    spells.entry(held(Some(Team::A), &[("depth", Team::B)]), 4);
    spells.entry(b_pressed(), 5);
    spells.entry(held(Some(Team::A), &[]), 6);
    let ended = spells.entry(nobody(), 7);
    check(ended, Team::B, true, SpellOutcome::Recovered);
}

#[test]
fn the_entry_that_ends_a_spell_does_not_press_it() {
    let mut spells = Spells::default();
    spells.entry(held(Some(Team::A), &[("depth", Team::B)]), 4);
    let contested = held(None, &[("air", Team::B), ("body", Team::A)]);
    let ended = spells.entry(contested, 5);
    check(ended, Team::B, false, SpellOutcome::Recovered);
}

#[test]
fn only_a_spell_that_begins_at_the_second_shot_is_from_the_second_shot() {
    for (begins_at, expected) in [(1, false), (2, true), (3, false)] {
        let mut spells = Spells::default();
        spells.entry(b_pressed(), begins_at);
        spells.entry(b_pressed(), begins_at + 1);
        let ended = spells.rally_won_by(Team::A).expect("it is open");
        assert_eq!(ended.from_second_shot, expected, "began at {begins_at}");
    }
}
