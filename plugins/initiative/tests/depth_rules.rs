//! Where the teams stand: the charter's word, and D1–D4 by name.
//! The rules are common practice of the trade; there is no published standard.

mod charted;

use charted::{Charted, check_depths};

#[test]
fn both_teams_start_a_rally_back() {
    check_depths("", "back? back?");
    check_depths("a serve", "back? back?");
    check_depths("a serve | b return | a out", "back? back?");
    check_depths("a serve | b return | replay", "back? back?");
}

#[test]
fn d1_the_team_of_the_second_shot_is_at_the_line() {
    check_depths("a serve | b return", "back? line?");
    check_depths("b serve | a lob", "line? back?");
}

#[test]
fn d1_is_not_triggered_by_an_assumed_second_shot() {
    check_depths("a serve | a drive", "back? back?");
}

#[test]
fn d2_a_dink_puts_its_team_at_the_line() {
    check_depths("a serve | b return | a dink", "line? line?");
}

#[test]
fn d2_ends_an_explicit_depth_given_for_the_team() {
    check_depths("a at back | a serve | b return | a dink", "line? line?");
}

#[test]
fn d2_does_nothing_once_a_single_player_was_named_in_the_rally() {
    check_depths(
        "a0 at transition | a serve | b return | a dink",
        "back line?",
    );
    check_depths(
        "a0 at line | a at transition | a serve | b return | a dink",
        "transition line?",
    );
}

#[test]
fn d2_works_again_in_the_next_rally() {
    check_depths(
        "a0 at back | a serve | b out | a serve | b return | a dink",
        "line? line?",
    );
}

#[test]
fn inference_goes_on_after_d2_has_ended_an_explicit_depth() {
    // a's dink ends its explicit depth; b's lob then bounces and sends a back.
    check_depths(
        "a at transition | a serve | b return | a dink | b lob | a drive bounce",
        "back? line?",
    );
}

#[test]
fn d3_a_drop_that_bounces_brings_its_team_to_the_line() {
    let drop = "a serve | b return | a drop";
    check_depths(drop, "back? line?");
    check_depths(&format!("{drop} | b dink"), "line? line?");
    check_depths(&format!("{drop} | b other half_volley"), "line? line?");
}

#[test]
fn d3_works_for_a_reset_as_well() {
    check_depths("a serve | b return | a reset | b dink", "line? line?");
}

#[test]
fn d3_is_not_triggered_by_an_answer_in_the_air_or_unknown() {
    check_depths("a serve | b return | a drop | b volley", "back? line?");
    check_depths("a serve | b return | a drop | b other", "back? line?");
}

#[test]
fn d3_waits_for_the_very_next_shot() {
    check_depths(
        "a serve | b return | a drop | b volley | a drive | b dink",
        "back? line?",
    );
}

#[test]
fn d3_asks_where_the_team_stood_after_the_rules_of_its_own_shot() {
    // The lob bounces and sends b back (D4), so b's drop is one from deep.
    let drop = "a serve | b return | a lob | b drop";
    check_depths(drop, "line? back?");
    check_depths(&format!("{drop} | a drive bounce"), "line? line?");
}

#[test]
fn d4_a_lob_that_bounces_brings_its_team_in_and_sends_the_other_back() {
    check_depths("a serve | b return | a lob", "back? line?");
    check_depths("a serve | b return | a lob | b drive", "line? back?");
}

#[test]
fn d4_is_not_triggered_by_an_overhead_or_a_half_volley() {
    check_depths("a serve | b return | a lob | b overhead", "back? line?");
    check_depths(
        "a serve | b return | a lob | b other half_volley",
        "back? line?",
    );
}

#[test]
fn d4_overrides_d1_and_d2() {
    check_depths("a lob | b return", "line? back?");
    check_depths("a serve | b return | a lob | b dink", "line? back?");
}

#[test]
fn an_assumed_shot_ends_the_wait_of_d3_and_d4() {
    check_depths(
        "a serve | b return | a drop | a drive | b dink",
        "back? line?",
    );
    check_depths("a serve | b return | a lob | a drive", "back? line?");
    check_depths("a serve | b return | a drop | a dink bounce", "line? line?");
}

#[test]
fn the_charters_word_stops_inference_for_that_team_only() {
    let given = "a at transition | a serve | b return | a drop | b drive bounce";
    check_depths(given, "transition line?");
    check_depths("b at back | a serve | b return", "back? back");
    check_depths(
        "b at line | a serve | b return | a lob | b drive",
        "line? line",
    );
}

#[test]
fn the_charters_word_in_the_middle_of_a_rally_counts_from_there() {
    check_depths("a serve | b return | b at transition", "back? transition");
}

#[test]
fn a_depth_between_two_rallies_belongs_to_the_coming_one() {
    let given = "a serve | b return | a out | a at line";
    check_depths(given, "line back?");
    check_depths(&format!("{given} | a serve"), "line back?");
    check_depths(
        &format!("{given} | a serve | b return | replay"),
        "back? back?",
    );
}

#[test]
fn a_team_is_as_deep_as_its_deeper_player() {
    check_depths("a0 at line | a1 at transition", "transition back?");
    check_depths("a0 at line | a1 at line", "line back?");
}

#[test]
fn a_depth_given_for_one_player_leaves_the_partners_as_it_was() {
    check_depths("a0 at line", "back back?");
    // b's partner is at the line already, by D1.
    check_depths("a serve | b return | b1 at transition", "back? transition");
    check_depths("a serve | b return | b1 at line", "back? line");
}

#[test]
fn in_singles_the_only_player_is_the_team() {
    let mut charted = Charted::singles();
    charted.chart("a0 at line");
    assert_eq!(charted.depths(), "line back?");
}

#[test]
fn in_singles_player_0_counts_as_a_single_player() {
    let mut charted = Charted::singles();
    charted.chart("a0 at back | a serve | b return | a dink");
    assert_eq!(charted.depths(), "back line?");
    charted.chart("b out | a at back | a serve | b return | a dink");
    assert_eq!(charted.depths(), "line? line?");
}
