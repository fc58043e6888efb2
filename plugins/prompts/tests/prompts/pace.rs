//! When something is said, and how much of it at a time.

use rallytide_plugin_kit::Team;

use crate::booth::Booth;

#[test]
fn nothing_is_said_while_a_rally_is_on() {
    let mut booth = Booth::open();
    booth
        .charted(30)
        .share("pressed.won", Team::A, 0, 30)
        .share("pressed.won", Team::B, 30, 30)
        .play("a serve | b return | a time_out | a drop");
    assert_eq!(booth.said, []);
    booth.stands(7, 0).count("score.run", Team::A, 7);
    booth.play("a winner");
    assert_eq!(booth.said.len(), 1);
}

#[test]
fn a_rally_brings_one_line_at_most_with_the_time_out_after_it() {
    let mut booth = Booth::open();
    booth
        .charted(30)
        .share("pressed.won", Team::A, 0, 30)
        .share("pressed.won", Team::B, 30, 30)
        .stands(9, 0)
        .count("score.run", Team::A, 9)
        .play("a serve | a ace | b time_out | a time_out");
    assert_eq!(booth.said.len(), 1);
    assert_eq!(booth.last().kind(), "ace", "the weightiest of them");
}

#[test]
fn only_a_time_out_is_a_stop_between_rallies() {
    for stop in ["note", "a penalty", "replay"] {
        let mut booth = Booth::open();
        booth
            .charted(30)
            .share("pressed.won", Team::A, 0, 30)
            .share("pressed.won", Team::B, 30, 30)
            .play(&format!("a wins | {stop}"));
        assert_eq!(booth.said, [], "{stop}");
    }
}

#[test]
fn before_the_first_rally_nothing_is_said() {
    let mut booth = Booth::open();
    booth.stands(5, 0).count("score.run", Team::A, 5);
    booth.play("b time_out");
    assert_eq!(booth.said, []);
}

#[test]
fn an_entry_put_in_later_says_nothing_of_when_it_happened() {
    let mut booth = Booth::open();
    booth.stands(9, 0).count("score.run", Team::A, 9);
    booth.play("a serve | inserted 600000ms a wins");
    assert_eq!(booth.said, []);
}

#[test]
fn the_same_thing_is_not_told_in_other_words_within_five_rallies() {
    let mut booth = Booth::open();
    for points in 3..20 {
        booth.stands(points, 0).count("score.run", Team::A, points);
        booth.play("a wins");
    }
    let at: Vec<&str> = booth.said.iter().map(|said| said.entry.as_str()).collect();
    assert_eq!(at, ["r2e1", "r8e1", "r14e1"]);
}

#[test]
fn three_lines_are_current_at_most_and_the_oldest_makes_room() {
    let mut booth = Booth::open();
    booth
        .stands(1, 6)
        .play("b wins")
        .stands(10, 6)
        .play("a wins");
    booth
        .game_over(11, 6)
        .count("score.run", Team::A, 10)
        .play("a wins");
    assert_eq!(booth.texts().len(), 3);
    booth.stands(1, 0).play("b serve | b wins | b serve");
    booth.stands(2, 0).play("a ace");
    let texts = booth.texts();
    assert_eq!(texts.len(), 3);
    assert_eq!(texts[2], "Ada Reed served an ace to make it 2–0.");
}

#[test]
fn keys_sort_in_the_order_in_which_the_lines_were_said() {
    let mut booth = Booth::open();
    for points in 3..40 {
        booth.stands(points, 0).count("score.run", Team::A, points);
        booth.play("a wins");
    }
    booth.game_over(40, 0).play("a wins");
    let slots: Vec<&str> = booth
        .said
        .iter()
        .map(|said| said.reading.key.slot.as_deref().unwrap())
        .collect();
    assert!(slots.len() > 5 && slots.is_sorted(), "{slots:?}");
}
