//! When something is said, and how much of it at a time.

use rallytide_plugin_kit::{SettingValue, Team};

use crate::booth::Booth;

/// Rallies with a run that grows, each so long after the one before.
fn running(booth: &mut Booth, rallies: std::ops::Range<u32>, gap: &str) {
    for points in rallies {
        booth.count("score.run", Team::A, points);
        booth.play(&format!("{gap} a serve | 0ms a wins"));
    }
}

#[test]
fn the_next_line_waits_until_the_pause_is_over() {
    let mut booth = Booth::open();
    running(&mut booth, 8..12, "4000ms");
    let times: Vec<f64> = booth.said.iter().map(|said| said.at_ms).collect();
    assert_eq!(times, [4000.0, 12_000.0]);
}

#[test]
fn the_pause_is_the_streamers() {
    let mut booth = Booth::with("pause_seconds", SettingValue::Whole(12));
    running(&mut booth, 8..14, "4000ms");
    let times: Vec<f64> = booth.said.iter().map(|said| said.at_ms).collect();
    assert_eq!(times, [4000.0, 16_000.0]);
}

#[test]
fn a_clock_that_is_set_back_neither_shortens_nor_ends_the_pauses() {
    let mut booth = Booth::open();
    running(&mut booth, 8..9, "60000ms");
    running(&mut booth, 9..11, "-20000ms");
    assert_eq!(booth.said.len(), 1, "nothing was played meanwhile");
    running(&mut booth, 11..12, "9000ms");
    assert_eq!(booth.said.len(), 2);
}

#[test]
fn an_entry_put_in_later_says_nothing_of_when_it_happened() {
    let mut booth = Booth::open();
    booth.count("score.run", Team::A, 9);
    booth.play("a serve | inserted 600000ms a wins");
    assert_eq!(booth.said, []);
}

#[test]
fn there_are_three_lines_at_most_and_the_oldest_makes_room() {
    let mut booth = Booth::open();
    booth
        .share("offense.finished", Team::A, 8, 9)
        .share("sitter.punished", Team::B, 8, 9)
        .share("gift.share", Team::A, 8, 9)
        .play("a serve | a wins")
        .play("9000ms a time_out | 9000ms b time_out");
    let first = booth.texts();
    assert_eq!(first.len(), 3);
    booth
        .count("score.run", Team::A, 6)
        .play("9000ms a serve | a wins");
    let then = booth.texts();
    assert_eq!(booth.said.len(), 4);
    assert_eq!(then[..2], first[1..]);
    assert_eq!(then[2], "6 points in a row for Harbour.");
}

#[test]
fn keys_sort_in_the_order_in_which_the_lines_were_said() {
    let mut booth = Booth::open();
    running(&mut booth, 8..40, "9000ms");
    let slots: Vec<&str> = booth
        .said
        .iter()
        .map(|said| said.reading.key.slot.as_deref().unwrap())
        .collect();
    assert!(slots.len() > 3 && slots.is_sorted(), "{slots:?}");
}

#[test]
fn the_same_figures_are_not_told_twice_in_other_words() {
    let mut booth = Booth::open();
    booth
        .share("escape.share", Team::A, 8, 9)
        .play("a serve | a wins");
    assert_eq!(
        booth.last().text(),
        "Harbour got out of 8 of 9 pressed spells."
    );
    for _ in 0..8 {
        booth.play("20000ms note | 20000ms a serve | a wins");
    }
    assert_eq!(booth.said.len(), 1, "{:?}", booth.said);
}
