//! Rallies worked by hand. The rules are common practice of the trade; there is
//! no published standard.

use rallytide_plugin_kit::testing::Script;
use rallytide_plugin_kit::{Change, Ending, Play, Plugin, RallyEnd, Team};
use rallytide_pressure::Pressure;

use crate::charted::{Charted, INDICATORS, OF_PLAYERS};

/// Both teams come to the line, and nobody holds.
const TO_THE_LINE: &str = "a serve | b return | a drop | b dink | a dink";

#[track_caller]
fn nothing_is_counted(charted: &Charted) {
    for indicator in INDICATORS {
        charted.check(indicator, "0 of 0", "0 of 0");
    }
}

#[test]
fn everything_is_there_from_the_start_with_no_cases() {
    nothing_is_counted(&Charted::start());
}

#[test]
fn a_rally_counts_when_it_has_ended_and_not_before() {
    let mut charted = Charted::read(&format!(
        "{TO_THE_LINE} | b volley | a block | b volley | a reset | b dink | a dink"
    ));
    nothing_is_counted(&charted);
    charted.chart("a net");
    charted.check("offense.finished", "0 of 0", "0 of 1");
    charted.check("neutral.first", "0 of 1", "1 of 1");
    charted.check("defense.bounced", "2 of 3", "0 of 0");
    charted.check("gift.share", "1 of 1", "0 of 0");
}

#[test]
fn the_example_of_the_readme() {
    let charted = Charted::read(
        "a serve | b return | a drop | b dink | a dink | +attackable | b volley | b winner",
    );
    charted.check("offense.finished", "0 of 0", "1 of 1");
    charted.check("neutral.first", "0 of 1", "1 of 1");
    charted.check("defense.bounced", "1 of 1", "0 of 0");
    charted.check("gift.share", "0 of 1", "0 of 0");
}

#[test]
fn an_attack_that_is_lost_or_given_up_is_not_finished() {
    let lost = Charted::read(&format!("{TO_THE_LINE} | +attackable | b volley | b out"));
    lost.check("offense.finished", "0 of 0", "0 of 1");
    let given_up = Charted::read(&format!(
        "{TO_THE_LINE} | b volley | a reset | b dink | a dink | b wins"
    ));
    given_up.check("offense.finished", "0 of 0", "0 of 1");
}

#[test]
fn holding_by_depth_alone_is_no_attack_to_finish() {
    let charted = Charted::read("a serve | b return | a drive | b wins");
    charted.check("offense.finished", "0 of 0", "0 of 0");
}

#[test]
fn a_spell_that_begins_by_depth_is_an_attack_from_its_first_other_row_on() {
    // b holds by depth from the return on. The volley adds a row, the drive after
    // it takes it away again: it is one spell throughout.
    let charted = Charted::read("a serve | b return | a drive | b volley | a drive | b wins");
    charted.check("offense.finished", "0 of 0", "1 of 1");
}

#[test]
fn each_attack_of_a_rally_counts_and_only_the_last_can_be_finished() {
    let charted = Charted::read(&format!(
        "{TO_THE_LINE} | b volley | a reset | b dink | a dink | b volley | b wins"
    ));
    charted.check("offense.finished", "0 of 0", "1 of 2");
}

#[test]
fn an_attack_ends_where_the_others_begins() {
    // b attacks in the air, and the same ball sits up: a holds at once.
    let charted = Charted::read(&format!("{TO_THE_LINE} | b volley | +attackable | a wins"));
    charted.check("offense.finished", "1 of 1", "0 of 1");
}

#[test]
fn a_row_that_is_read_where_a_spell_ends_is_no_part_of_it() {
    // b holds by depth. a's dink ends that: both are at the line, and a row
    // against a (off balance) weighs as much as one against b (in the air).
    let charted = Charted::read("a serve | b return | a dink air +off_balance | b wins");
    charted.check("offense.finished", "0 of 0", "0 of 0");
}

#[test]
fn whoever_attacks_first_out_of_neutral_at_the_line_is_first() {
    let charted = Charted::read(&format!("{TO_THE_LINE} | b volley | a block | a wins"));
    charted.check("neutral.first", "0 of 1", "1 of 1");
    // The other team's attack later in the rally changes nothing.
    let charted = Charted::read(&format!(
        "{TO_THE_LINE} | b volley | a reset | b dink | a volley | a wins"
    ));
    charted.check("neutral.first", "0 of 1", "1 of 1");
}

#[test]
fn a_cue_or_a_depth_can_make_the_first_attack_and_the_neutral_stand() {
    let by_a_cue = Charted::read(&format!("{TO_THE_LINE} | +off_balance | a wins"));
    by_a_cue.check("neutral.first", "0 of 1", "1 of 1");
    // Both are at the line by the word of the charter from the serve on.
    let from_the_serve =
        Charted::read("a at line | b at line | a serve | b return +awkward | a wins");
    from_the_serve.check("neutral.first", "1 of 1", "0 of 1");
}

#[test]
fn what_stands_before_the_first_shot_is_no_neutral_stand() {
    // At the line before the serve, but a not any more when it is struck.
    let charted = Charted::read(
        "a at line | b at line | a at back | a serve | b return | a drive +awkward | b wins",
    );
    charted.check("neutral.first", "0 of 0", "0 of 0");
}

#[test]
fn both_at_the_line_with_somebody_holding_is_no_neutral_stand() {
    // a's dink brings both to the line and sits up.
    let charted = Charted::read("a serve | b return | a dink +attackable | b volley | b wins");
    charted.check("neutral.first", "0 of 0", "0 of 0");
}

#[test]
fn holding_by_depth_alone_is_not_to_be_first() {
    let charted = Charted::read(&format!("{TO_THE_LINE} | a at back | b dink | b wins"));
    charted.check("neutral.first", "0 of 0", "0 of 0");
}

#[test]
fn a_rally_that_never_was_neutral_at_the_line_has_no_first() {
    let charted = Charted::read("a serve | b return | a drive | b volley | b wins");
    charted.check("neutral.first", "0 of 0", "0 of 0");
}

#[test]
fn a_defender_that_makes_the_next_ball_bounce_has_done_its_work() {
    // The reset is struck while b holds; its answer, a dink, has bounced. The
    // third shot is struck while b holds by depth; its answer is volleyed.
    let charted =
        Charted::read("a serve | b return | a drive | b volley | a reset | b dink | a wins");
    charted.check("defense.bounced", "1 of 2", "0 of 0");
}

#[test]
fn a_half_volley_is_let_bounce_as_well() {
    let charted = Charted::read("a serve | b return | a drive | b volley half_volley | b wins");
    charted.check("defense.bounced", "1 of 1", "0 of 0");
}

#[test]
fn the_state_right_before_the_shot_decides_also_by_a_cue() {
    // The drop is the first case in all three.
    let none = Charted::read(&format!(
        "{TO_THE_LINE} | b drive | a dink | b dink | b wins"
    ));
    none.check("defense.bounced", "1 of 1", "0 of 0");
    // The ball that b has just driven had sat up, so a is on defense.
    let before = Charted::read(&format!(
        "{TO_THE_LINE} | b drive | +attackable @5 | a dink | b dink | b wins"
    ));
    before.check("defense.bounced", "2 of 2", "0 of 0");
    // Said when a has struck again, it comes too late.
    let after = Charted::read(&format!(
        "{TO_THE_LINE} | b drive | a dink | +attackable @5 | b dink | b wins"
    ));
    after.check("defense.bounced", "1 of 1", "0 of 0");
}

#[test]
fn an_answer_that_is_assumed_or_of_unknown_contact_or_missing_is_no_case() {
    let assumed = Charted::read("a serve | b return | a drive | a volley | a wins");
    assumed.check("defense.bounced", "0 of 0", "0 of 0");
    let unknown = Charted::read("a serve | b return | a drive | b lob | a wins");
    unknown.check("defense.bounced", "0 of 0", "0 of 0");
    let missing = Charted::read("a serve | b return | a drive | a wins");
    missing.check("defense.bounced", "0 of 0", "0 of 0");
}

#[test]
fn a_shot_after_an_assumed_one_can_be_struck_on_defense() {
    // a is on defense by depth after its own drive; b's answer is not recorded.
    let charted = Charted::read("a serve | b return | a drive | a drive | b dink | a wins");
    charted.check("defense.bounced", "1 of 1", "0 of 0");
}

#[test]
fn a_gift_is_an_own_error_while_not_on_defense() {
    for error in ["net", "out", "fault"] {
        let gift = Charted::read(&format!("{TO_THE_LINE} | b {error}"));
        gift.check("gift.share", "0 of 0", "1 of 1");
        let pressed = Charted::read(&format!("a serve | b return | a {error}"));
        pressed.check("gift.share", "0 of 1", "0 of 0");
    }
    // b errs while it is on offense.
    let on_offense = Charted::read(&format!("{TO_THE_LINE} | b volley | b out"));
    on_offense.check("gift.share", "0 of 0", "1 of 1");
    let won = Charted::read(&format!("{TO_THE_LINE} | a winner"));
    won.check("gift.share", "0 of 0", "0 of 1");
    let unknown = Charted::read(&format!("{TO_THE_LINE} | a wins"));
    unknown.check("gift.share", "0 of 0", "0 of 0");
}

#[test]
fn an_error_without_a_shot_is_a_gift() {
    let charted = Charted::read("b net");
    charted.check("gift.share", "0 of 0", "1 of 1");
}

#[test]
fn an_error_of_nobody_named_is_the_losers() {
    for (how, gift) in [
        (Ending::Net, "1 of 1"),
        (Ending::Out, "1 of 1"),
        (Ending::Fault, "1 of 1"),
        (Ending::Winner, "0 of 1"),
        (Ending::Ace, "0 of 1"),
        (Ending::Unknown, "0 of 0"),
    ] {
        let mut charted = Charted::start();
        let mut entry = Script::default().read("a wins").remove(0);
        entry.play = Play::RallyEnd(RallyEnd {
            winner: Team::A,
            how: Some(how),
            by: None,
            player: None,
            fault: None,
        });
        charted.entry(entry);
        charted.check("gift.share", "0 of 0", gift);
    }
}

#[test]
fn rallies_are_told_apart_by_whether_the_team_was_pressed_in_them() {
    let pressed = Charted::read(&format!("{TO_THE_LINE} | b volley | a reset | a wins"));
    pressed.check("pressed.won", "1 of 1", "0 of 0");
    pressed.check("unpressed.won", "0 of 0", "0 of 1");
    // Two pressed spells are one rally under pressure; each team can have one.
    let both = Charted::read(&format!(
        "{TO_THE_LINE} | b volley | a reset | b dink | a volley | b block | a volley | b out"
    ));
    both.check("pressed.won", "1 of 1", "0 of 1");
    both.check("unpressed.won", "0 of 0", "0 of 0");
}

#[test]
fn to_stand_deep_alone_is_no_rally_under_pressure() {
    let charted = Charted::read("a serve | b return | a drive | a out");
    charted.check("pressed.won", "0 of 0", "0 of 0");
    charted.check("unpressed.won", "0 of 1", "1 of 1");
}

#[test]
fn a_rally_charted_without_shots_is_neither_pressed_nor_unpressed() {
    let charted = Charted::read("a at back | b at line | b net");
    charted.check("pressed.won", "0 of 0", "0 of 0");
    charted.check("unpressed.won", "0 of 0", "0 of 0");
}

#[test]
fn a_replayed_rally_and_one_cut_off_count_nothing() {
    let rally = format!("{TO_THE_LINE} | b volley | a block | b volley");
    nothing_is_counted(&Charted::read(&format!("{rally} | replay")));
    nothing_is_counted(&Charted::read(&format!("{rally} | a retires")));
}

#[test]
fn nothing_of_a_replayed_rally_is_left_in_the_next() {
    // b's attack and the neutral stand before it are forgotten, and the next
    // rally's serve does not answer the replayed volley.
    let charted = Charted::read(&format!(
        "{TO_THE_LINE} | b volley | replay | a serve | b return +off_balance | b net"
    ));
    charted.check("offense.finished", "1 of 1", "0 of 0");
    charted.check("neutral.first", "0 of 0", "0 of 0");
    charted.check("defense.bounced", "0 of 0", "0 of 0");
    charted.check("gift.share", "0 of 0", "0 of 1");
}

#[test]
fn however_long_the_rally_each_reading_is_published_once() {
    // a is on defense by depth throughout, and every answer bounces: more cases
    // than a plugin may publish changes in one call.
    let mut charted = Charted::start();
    charted.chart("b at line | a at back | a serve | b return");
    for _ in 0..400 {
        charted.chart("a drive | b drive | a drive | b drop");
    }
    let changes = charted.chart("b wins");
    assert_eq!(changes.len(), 3, "{changes:?}");
    charted.check("defense.bounced", "800 of 800", "0 of 0");
}

#[test]
fn only_what_has_changed_is_published_and_all_of_it_is_declared() {
    let mut charted = Charted::start();
    let provides = Pressure::manifest().provides;
    assert_eq!(provides, [&INDICATORS[..], &OF_PLAYERS].concat());
    assert!(charted.chart(TO_THE_LINE).is_empty());
    let changes = charted.chart("b volley | a wins");
    let changed: Vec<String> = changes
        .into_iter()
        .map(|change| match change {
            Change::Set(reading) => {
                assert!(reading.why.is_empty() && reading.flags.is_empty());
                format!("{} {:?}", reading.key.indicator, reading.key.team.unwrap())
            }
            Change::Gone(key) => panic!("{key:?} is gone"),
        })
        .collect();
    assert_eq!(
        changed,
        [
            "neutral.first Team::A",
            "defense.bounced Team::A",
            "pressed.won Team::A",
            "offense.finished Team::B",
            "neutral.first Team::B",
            "unpressed.won Team::B",
        ]
    );
}
