//! A prompt is taken back when it is no longer so.

use rallytide_plugin_kit::Team;

use crate::booth::Booth;

#[test]
fn a_prompt_whose_figure_has_changed_is_taken_back() {
    let mut booth = Booth::open();
    booth
        .count("score.run", Team::A, 4)
        .play("a serve | a wins");
    assert_eq!(booth.texts(), ["4 points in a row for Harbour."]);
    booth
        .count("score.run", Team::A, 0)
        .play("a serve | b wins");
    assert_eq!(booth.texts(), [""; 0]);
}

#[test]
fn what_a_team_needs_is_taken_back_the_moment_it_is_out() {
    let mut booth = Booth::open();
    booth.play("a serve | b return");
    booth.pressed(Team::A, "r1s2").play("a drive");
    booth
        .pressed(Team::A, "r1s4")
        .play("b volley | a block | b volley");
    assert_eq!(booth.texts().len(), 1);
    booth.level().play("a reset");
    assert_eq!(booth.texts(), [""; 0]);
}

#[test]
fn what_is_said_of_the_last_rally_lasts_until_another_has_ended() {
    let air = "a drop | b volley | a volley | b volley | a volley | b volley | a volley";
    let mut booth = Booth::open();
    booth.play(&format!("a serve | b return | {air} | a winner"));
    assert_eq!(booth.texts().len(), 1);
    booth.play("a serve | b return");
    assert_eq!(booth.texts().len(), 1);
    booth.play("b out");
    assert_eq!(booth.texts(), [""; 0]);
}

#[test]
fn game_point_is_over_with_the_game_point() {
    let mut booth = Booth::open();
    booth.score().game_point = Some(Team::B);
    booth.play("b serve | b wins");
    assert_eq!(booth.texts(), ["Game point for Dunes."]);
    booth.play("b serve | a return");
    assert_eq!(booth.texts().len(), 1);
    booth.score().game_point = None;
    booth.play("b out");
    assert_eq!(booth.texts(), [""; 0]);
}

#[test]
fn a_figure_that_nobody_changes_has_its_time_all_the_same() {
    let mut booth = Booth::open();
    booth
        .count("score.run", Team::A, 4)
        .play("a serve | a wins");
    booth.play("a serve | b wins | a serve | b wins");
    assert_eq!(booth.texts().len(), 1);
    booth.play("a serve | b wins");
    assert_eq!(booth.texts(), [""; 0]);
}

#[test]
fn what_was_said_in_a_rally_that_does_not_count_is_taken_back() {
    let mut booth = Booth::open();
    booth.play("a serve | b return");
    booth.pressed(Team::A, "r1s2").play("a drive");
    booth
        .pressed(Team::A, "r1s4")
        .play("b volley | a block | b volley");
    assert_eq!(booth.texts().len(), 1);
    booth.play("replay");
    assert_eq!(booth.texts(), [""; 0]);
}

#[test]
fn what_a_replayed_rally_had_changed_is_not_told_of_the_next() {
    let mut booth = Booth::open();
    booth
        .count("escape.streak", Team::A, 2)
        .play("a serve | b return");
    booth.count("escape.streak", Team::A, 3).play("a drop");
    booth.count("escape.streak", Team::A, 2).play("replay");
    booth.play("9000ms a serve | a wins");
    assert_eq!(booth.said, []);
}
