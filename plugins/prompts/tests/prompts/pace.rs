//! When something is said, and how much of it at a time.

use rallytide_plugin_kit::{SettingValue, Team, Value, key};

use crate::booth::{Booth, read};

/// Rallies of which there is always something to say, of four kinds in turns, each
/// so long after the one before.
fn eventful(booth: &mut Booth, rallies: std::ops::Range<u32>, gap: &str) {
    for number in rallies {
        match number % 4 {
            0 => booth.count("score.run", Team::A, number),
            1 => booth.reads(read(key("rally.shots"), Value::Count(20 + number))),
            2 => booth.count("escape.streak", Team::A, number),
            _ => booth
                .share("serve.won", Team::A, 40, 80)
                .share("serve.won", Team::B, 40, 80)
                .reads(read(
                    key("win.swing"),
                    Value::Chance(f64::from(50 + number) / 100.0),
                )),
        };
        booth.play(&format!("{gap} a serve | 0ms a wins"));
    }
}

#[test]
fn the_next_line_waits_until_the_pause_is_over() {
    let mut booth = Booth::open();
    eventful(&mut booth, 8..12, "4000ms");
    let times: Vec<f64> = booth.said.iter().map(|said| said.at_ms).collect();
    assert_eq!(times, [4000.0, 12_000.0]);
}

#[test]
fn the_pause_is_the_streamers() {
    let mut booth = Booth::with("pause_seconds", SettingValue::Whole(12));
    eventful(&mut booth, 8..14, "4000ms");
    let times: Vec<f64> = booth.said.iter().map(|said| said.at_ms).collect();
    assert_eq!(times, [4000.0, 16_000.0]);
}

#[test]
fn a_clock_that_is_set_back_neither_shortens_nor_ends_the_pauses() {
    let mut booth = Booth::open();
    eventful(&mut booth, 8..9, "60000ms");
    eventful(&mut booth, 9..11, "-20000ms");
    assert_eq!(booth.said.len(), 1, "nothing was played meanwhile");
    eventful(&mut booth, 11..12, "9000ms");
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
        .share("serve.won", Team::A, 40, 80)
        .share("serve.won", Team::B, 40, 80)
        .count("score.run", Team::A, 12)
        .play("a serve | a wins");
    booth
        .reads(read(key("win.swing"), Value::Chance(0.6)))
        .play("9000ms a time_out");
    booth
        .share("offense.finished", Team::A, 1, 12)
        .share("offense.finished", Team::B, 11, 12)
        .play("9000ms b time_out");
    let first = booth.texts();
    assert_eq!(first.len(), 3);
    booth
        .count("escape.streak", Team::A, 6)
        .play("9000ms a serve | a wins");
    let then = booth.texts();
    assert_eq!(booth.said.len(), 4);
    assert_eq!(then[..2], first[1..]);
    assert_eq!(then[2], "Out of trouble again, Harbour: 6 times in a row.");
}

#[test]
fn of_one_kind_nothing_is_said_for_some_rallies() {
    let mut booth = Booth::open();
    for points in 3..20 {
        booth.count("score.run", Team::A, points);
        booth.play("9000ms a serve | a wins");
    }
    let at: Vec<&str> = booth.said.iter().map(|said| said.entry.as_str()).collect();
    assert_eq!(at, ["r1e2", "r5e2", "r9e2", "r13e2", "r17e2"]);
}

#[test]
fn numbers_are_for_when_nothing_else_has_been_said_for_a_while() {
    let mut booth = Booth::open();
    booth
        .count("score.run", Team::A, 5)
        .play("9000ms a serve | a wins");
    for part in 10..16 {
        booth.share("escape.share", Team::A, part, 20);
        booth.play("9000ms a serve | a wins");
    }
    let at: Vec<&str> = booth.said.iter().map(|said| said.entry.as_str()).collect();
    assert_eq!(at, ["r1e2", "r4e2"]);
}

#[test]
fn where_play_stops_and_after_the_match_there_is_time_for_numbers() {
    let after = |line: &str, over: bool| {
        let mut booth = Booth::open();
        booth
            .share("escape.share", Team::A, 12, 20)
            .count("score.run", Team::A, 5)
            .play("9000ms a serve | a wins");
        if over {
            booth.score().winner = Some(Team::A);
        }
        booth.play(line);
        booth.said.len()
    };
    assert_eq!(after("9000ms a serve | a wins", false), 1);
    assert_eq!(after("9000ms a time_out", false), 2);
    assert_eq!(after("9000ms a serve | a wins", true), 2);
}

#[test]
fn keys_sort_in_the_order_in_which_the_lines_were_said() {
    let mut booth = Booth::open();
    eventful(&mut booth, 8..40, "9000ms");
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
        .share("offense.finished", Team::A, 1, 12)
        .share("offense.finished", Team::B, 11, 12)
        .play("a serve | a wins");
    assert_eq!(
        booth.last().text(),
        "Attacks finished: Harbour 1 of 12, Dunes 11 of 12."
    );
    for _ in 0..8 {
        booth.play("20000ms note | 20000ms a serve | a wins");
    }
    assert_eq!(booth.said.len(), 1, "{:?}", booth.said);
}
