//! A prompt is taken back when it is no longer so.

use rallytide_plugin_kit::Team;

use crate::booth::Booth;

/// A run of points that was told.
fn run() -> Booth {
    let mut booth = Booth::open();
    booth.stands(6, 2).count("score.run", Team::A, 4);
    booth.play("a wins");
    assert_eq!(
        booth.texts(),
        ["Harbour scored 4 points in a row to lead 6–2."]
    );
    booth
}

#[test]
fn what_is_said_of_the_last_rally_lasts_until_another_has_ended() {
    let mut booth = run();
    booth.play("a serve | b return");
    assert_eq!(booth.texts().len(), 1);
    booth.play("b wins");
    assert_eq!(booth.texts(), [""; 0]);
}

#[test]
fn what_speaks_of_the_score_goes_with_it() {
    let mut booth = run();
    booth.stands(5, 2).play("a penalty");
    assert_eq!(booth.texts(), [""; 0]);
}

#[test]
fn game_point_is_over_when_the_partner_serves() {
    let mut booth = Booth::open();
    booth.stands(10, 4).score().game_point = Some(Team::A);
    booth.play("a wins");
    assert_eq!(booth.texts().len(), 1);
    booth.score().server_player = 1;
    booth.play("note");
    assert_eq!(booth.texts(), [""; 0]);
}

#[test]
fn a_comparison_goes_when_one_of_its_figures_changes() {
    let mut booth = Booth::open();
    booth
        .charted(30)
        .share("pressed.won", Team::A, 0, 16)
        .share("pressed.won", Team::B, 16, 16)
        .play("b wins | a time_out");
    assert_eq!(booth.texts().len(), 1);
    booth.play("b wins");
    assert_eq!(booth.texts().len(), 1);
    booth.share("pressed.won", Team::A, 0, 17).play("b wins");
    assert_eq!(booth.texts(), [""; 0]);
}

#[test]
fn a_recap_has_its_time_though_nothing_changes_it() {
    let mut booth = Booth::open();
    booth
        .stands(10, 8)
        .play("a wins")
        .game_over(11, 8)
        .play("a wins");
    assert_eq!(booth.texts().len(), 2);
    booth.play("b wins | a wins");
    assert_eq!(booth.texts().len(), 2);
    booth.play("b wins");
    assert_eq!(booth.texts(), [""; 0]);
}

#[test]
fn what_a_replayed_rally_had_changed_is_not_told_of_the_next() {
    let mut booth = Booth::open();
    booth
        .charted(30)
        .reads(longest(17))
        .play("a serve | b return");
    booth.reads(longest(23)).play("a drop");
    booth.reads(longest(17)).play("replay");
    booth.play("a serve | a wins");
    assert_eq!(booth.said, []);
}

fn longest(shots: u32) -> rallytide_plugin_kit::Reading {
    crate::booth::read(
        rallytide_plugin_kit::key("rally.longest"),
        rallytide_plugin_kit::Value::Count(shots),
    )
}
