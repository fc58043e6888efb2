//! Every row of the cue table by name, and when it is not read.
//! The table is common practice of the trade; there is no published standard.

mod charted;

use charted::{check, check_level};

#[test]
fn depth_is_against_the_deeper_team() {
    check("a serve | b return", "b 1.00 depth:a:r1s2?");
}

#[test]
fn depth_is_inferred_unless_both_teams_are_explicit() {
    check("a at back | a serve | b return", "b 1.00 depth:a:r1s2?");
    check("b at line | a serve | b return", "b 1.00 depth:a:r1s2?");
    check(
        "a at transition | b at line | a serve | b return",
        "b 1.00 depth:a:r1s2",
    );
}

#[test]
fn depth_is_not_read_where_both_are_as_deep() {
    check_level("a serve | b return", "- 0.00");
    check("a serve", "- 0.00");
}

#[test]
fn an_inferred_depth_speaks_only_where_nothing_else_does() {
    check(
        "a serve | b return | a drop +attackable",
        "b 1.00 attackable:a:r1s3",
    );
    check(
        "a serve | b return | a drive | b volley +off_balance",
        "- 0.00 air:a:r1s4 body:b:r1s4 contested",
    );
    check(
        "b at line | a serve | b return | a drive | b volley",
        "b 1.00 air:a:r1s4",
    );
    check(
        "a at back | b at line | a serve | b return | a drive | b volley",
        "b 1.00 air:a:r1s4 depth:a:r1s4",
    );
}

#[test]
fn body_is_against_the_striker_whether_off_balance_or_awkward() {
    check_level("a serve | b return +off_balance", "a 1.00 body:b:r1s2");
    check_level("a serve | b return +awkward", "a 1.00 body:b:r1s2");
    check_level(
        "a serve | b return +awkward +off_balance",
        "a 1.00 body:b:r1s2",
    );
}

#[test]
fn body_is_read_of_the_latest_shot_only() {
    check_level("a serve | b return +awkward | a drop", "- 0.00");
    check_level("a serve | b return | a drop | +awkward @2", "- 0.00");
}

#[test]
fn half_volley_is_against_the_striker() {
    check_level(
        "a serve | b return half_volley",
        "a 1.00 half_volley:b:r1s2",
    );
    check_level("a serve | b return half_volley | a drop", "- 0.00");
}

#[test]
fn attackable_is_against_the_team_that_left_the_ball() {
    check_level("a serve | b return +attackable", "a 1.00 attackable:b:r1s2");
}

#[test]
fn attackable_is_still_read_when_the_ball_is_answered() {
    check_level(
        "a serve | b return +attackable | a drive",
        "a 1.00 attackable:b:r1s2",
    );
    check_level(
        "a serve | b return +attackable | a drive | b drive",
        "- 0.00",
    );
}

#[test]
fn attackable_passes_on_with_an_answer_that_sits_up_as_well() {
    check_level(
        "a serve | b return +attackable | a drop +attackable",
        "b 1.00 attackable:a:r1s3",
    );
}

#[test]
fn attackable_is_let_go_by_a_dink_a_drop_or_a_lob_and_by_nothing_else() {
    let sitter = "a serve | b return | a drop | b drive +attackable";
    for soft in ["dink", "drop"] {
        check_level(&format!("{sitter} | a {soft}"), "- 0.00");
    }
    // Nobody noted how the lob met the ball: as before.
    check_level(&format!("{sitter} | a lob"), "a 0.00 carried");
    check_level(&format!("{sitter} | a dink air"), "a 1.00 air:b:r1s5");
    check_level(
        &format!("{sitter} | a dink +attackable"),
        "b 1.00 attackable:a:r1s5",
    );
    for other in ["drive", "block", "reset bounce", "other bounce"] {
        check_level(&format!("{sitter} | a {other}"), "a 1.00 attackable:b:r1s4");
    }
}

#[test]
fn a_speedup_and_a_ball_around_the_post_attack_however_the_ball_came() {
    let drop = "a serve | b return | a drop";
    for (stroke, row) in [
        ("speedup", "attack"),
        ("speedup bounce", "attack"),
        ("speedup air", "air"),
        ("atp", "attack"),
        ("atp air", "air"),
    ] {
        check_level(
            &format!("{drop} | b {stroke}"),
            &format!("b 1.00 {row}:a:r1s4"),
        );
        check_level(
            &format!("{drop} | b {stroke} +attackable"),
            "a 1.00 attackable:b:r1s4",
        );
    }
    for stroke in ["speedup", "atp"] {
        check_level(
            &format!("{drop} | b {stroke} half_volley"),
            "- 0.00 attack:a:r1s4 half_volley:b:r1s4 contested",
        );
    }
}

#[test]
fn an_attack_answered_by_hitting_is_against_both_under_the_code_of_each() {
    let speedup = "a serve | b return | a drop | b speedup bounce";
    check_level(
        &format!("{speedup} | a volley"),
        "- 0.00 air:b:r1s5 attack:a:r1s5 contested",
    );
    check_level(
        &format!("{speedup} | a speedup"),
        "- 0.00 attack:a:r1s5 attack:b:r1s5 contested",
    );
    check_level(
        &format!("{speedup} | a atp +attackable"),
        "b 1.00 attack:a:r1s5 attackable:a:r1s5",
    );
    check_level(
        "a serve | b return | a drop | b volley | a atp",
        "- 0.00 air:a:r1s5 attack:b:r1s5 contested",
    );
}

#[test]
fn an_attack_is_against_whoever_only_blocks_it_and_not_against_who_lets_it_bounce() {
    let speedup = "a serve | b return | a drop | b speedup bounce";
    check_level(&format!("{speedup} | a block"), "b 1.00 attack:a:r1s5");
    check_level(&format!("{speedup} | a reset air"), "b 1.00 attack:a:r1s5");
    check_level(&format!("{speedup} | a reset bounce"), "b 0.00 carried");
    check_level(&format!("{speedup} | a dink"), "- 0.00");
}

#[test]
fn a_speedup_seen_to_sit_up_afterwards_was_no_attack() {
    let speedup = "a serve | b return | a drop | b speedup bounce";
    check_level(
        &format!("{speedup} | +attackable"),
        "a 1.00 attackable:b:r1e7",
    );
    check_level(
        &format!("{speedup} | a block | +attackable @4"),
        "a 1.00 attackable:b:r1e8",
    );
}

#[test]
fn air_is_against_the_opponents_of_the_striker() {
    check_level(
        "a serve | b return | a drive | b volley",
        "b 1.00 air:a:r1s4",
    );
    check_level("a serve | b return | a drive | b erne", "b 1.00 air:a:r1s4");
    check_level(
        "a serve | b return | a drop | b dink air",
        "b 1.00 air:a:r1s4",
    );
}

#[test]
fn air_is_not_read_of_a_block_or_a_reset() {
    check_level("a serve | b return | a drive | b block", "- 0.00 carried");
    check_level(
        "a serve | b return | a drive | b reset air",
        "- 0.00 carried",
    );
}

#[test]
fn air_is_not_read_of_a_ball_that_sits_up() {
    check_level(
        "a serve | b return | a drive | b volley +attackable",
        "a 1.00 attackable:b:r1s4",
    );
}

#[test]
fn air_is_against_both_when_both_volley() {
    check_level(
        "a serve | b return | a drive | b volley | a volley",
        "- 0.00 air:a:r1s5 air:b:r1s5 contested",
    );
}

#[test]
fn air_is_against_whoever_only_blocks_a_volley() {
    let volley = "a serve | b return | a drive | b volley";
    check_level(&format!("{volley} | a block"), "b 1.00 air:a:r1s5");
    check_level(&format!("{volley} | a reset air"), "b 1.00 air:a:r1s5");
    check_level(
        &format!("{volley} | a volley +attackable"),
        "b 1.00 air:a:r1s5 attackable:a:r1s5",
    );
}

#[test]
fn air_is_not_against_the_striker_when_the_ball_before_was_passive_or_sat_up() {
    let drive = "a serve | b return | a drive";
    check_level(
        &format!("{drive} | b block | a volley"),
        "a 1.00 air:b:r1s5",
    );
    check_level(
        &format!("{drive} | b reset air | a volley"),
        "a 1.00 air:b:r1s5",
    );
    check_level(
        &format!("{drive} | b volley +attackable | a volley"),
        "a 1.00 air:b:r1s5 attackable:b:r1s4",
    );
}

#[test]
fn air_is_not_against_the_striker_when_the_ball_before_or_this_one_bounced() {
    let drive = "a serve | b return | a drive";
    check_level(&format!("{drive} | b volley | a drive"), "- 0.00");
    check_level(
        &format!("{drive} | b drive | a volley"),
        "a 1.00 air:b:r1s5",
    );
}

#[test]
fn a_net_cord_counts_for_nobody() {
    check_level("a serve | b return +net_cord", "- 0.00");
    check_level("a serve | b return | +net_cord", "- 0.00");
}

#[test]
fn a_row_names_the_entry_that_first_marked_the_shot() {
    check_level(
        "a serve | b return | +attackable | +attackable",
        "a 1.00 attackable:b:r1e5",
    );
    check_level(
        "a serve | b return +awkward | +off_balance",
        "a 1.00 body:b:r1s2",
    );
    check_level(
        "a serve | b return | +attackable | a drive",
        "a 1.00 attackable:b:r1e5",
    );
}

#[test]
fn a_cue_about_an_older_shot_counts_where_the_table_looks_at_that_shot() {
    check_level(
        "a serve | b return | a drive | +attackable @2",
        "a 1.00 attackable:b:r1e6",
    );
    check_level("a serve | b return | a drive | +attackable @1", "- 0.00");
}

#[test]
fn a_cue_about_the_shot_before_can_take_a_row_away() {
    check_level(
        "a serve | b return | a drive | b volley | a volley | +attackable @4",
        "a 1.00 air:b:r1s5 attackable:b:r1e8",
    );
}

#[test]
fn a_cue_about_no_shot_of_the_rally_has_no_effect() {
    check_level("a serve | b return | +attackable nowhere", "- 0.00");
    check("+attackable | a serve", "- 0.00");
}

#[test]
fn beside_an_assumed_shot_the_shot_before_is_unknown() {
    // b's two shots in a row: whatever a struck between them was not seen.
    check_level(
        "a serve | b return | a drive | b volley | b volley",
        "b 1.00 air:a:r1s6",
    );
    check_level(
        "a serve | b return | a drive | b drive +attackable | b drive",
        "- 0.00",
    );
    check_level(
        "a serve | b return | a drive | b drive | b drive | +attackable @4",
        "- 0.00",
    );
}

#[test]
fn rows_are_sorted_by_code_then_by_the_team_they_are_against() {
    let volleys = "a serve | b return | a drive | b volley | a volley";
    let five = "- 0.00 air:a:r1s5 air:b:r1s5 contested";
    let six = "- 0.00 air:a:r1s6 air:b:r1s6 contested";
    check_level(volleys, five);
    check_level(&format!("{volleys} | b volley"), six);
    check(
        "a at back | b at line | a serve | b return | a drive | b volley \
         | a volley +off_balance",
        "b 0.50 air:a:r1s5 air:b:r1s5 body:a:r1s5 depth:a:r1s5 contested",
    );
}
