//! Whose shot it was and who erred, where only the score tells.

use rallytide_chart::{Chart, Entry, Header};
use rallytide_scoring::PlayByPlay;
use serde_json::{Value, json};

use crate::notation::{SIDE_OUT, SIDE_OUT_SINGLES, STATIC, best_of_three_to_11};

/// A chart in short form: `a:serve`, `b1:return` (with its player), `A` a rally
/// by its winner, `a!net` one by its end, `a1!net` with the player, `A=1` a
/// lineup.
fn entry(word: &str) -> Value {
    let team = |word: &str| word[..1].to_lowercase();
    let player = |word: &str| word[1..].parse::<u32>().ok();
    if let Some((who, stroke)) = word.split_once(':') {
        return json!({"kind": "shot", "team": team(who), "stroke": stroke, "player": player(who)});
    }
    if let Some((who, how)) = word.split_once('!') {
        return json!({"kind": "rally_end", "how": how, "by": team(who), "player": player(who)});
    }
    if let Some((who, player)) = word.split_once('=') {
        let player: u32 = player.parse().expect("a player is a number");
        return json!({"kind": "lineup", "team": team(who), "starting_server": player});
    }
    json!({"kind": "rally_end", "won_by": team(word)})
}

/// The player of each shot and of each error, `-` where it is not known; other
/// entries are left out.
fn players(header: &Header, text: &str) -> String {
    let mut chart = Chart::new(header.clone());
    for (place, word) in text.split_whitespace().enumerate() {
        let mut fields = entry(word);
        if fields["player"].is_null() {
            fields
                .as_object_mut()
                .expect("an entry is an object")
                .remove("player");
        }
        fields["id"] = json!(format!("e{place}"));
        fields["at"] = json!("2026-05-02T10:00:00.000Z");
        chart.push(
            Entry::from_text(&fields.to_string(), &header.format)
                .expect("the entry is well formed"),
        );
    }
    let mut play = PlayByPlay::new(header);
    let told = chart.effective().into_iter().filter_map(|entry| {
        let turn = play.step(&entry);
        match entry.play.kind().word() {
            "shot" => Some(turn.rally.shot.expect("a shot was struck").player),
            "rally_end" if entry.to_json().contains_key("how") => Some(turn.rally.erred),
            _ => None,
        }
    });
    let word = |player: Option<u32>| player.map_or("-".to_owned(), |player| player.to_string());
    told.map(word).collect::<Vec<_>>().join(" ")
}

#[track_caller]
fn check(rules: &str, text: &str, expected: &str) {
    assert_eq!(
        players(&best_of_three_to_11(rules), text),
        expected,
        "{text}"
    );
}

#[test]
fn the_server_serves_and_the_receiver_returns() {
    // Derived from 5.B.5 and 7.E of the USA Pickleball rulebook 2026: who serves,
    // and to the diagonal court.
    check(SIDE_OUT, "a:serve b:return a:drop b:dink", "0 0 - -");
    // A point: player 0 serves from the left, to the left player.
    check(SIDE_OUT, "A a:serve b:return", "0 1");
    // A side out of the first turn: b's right player serves to a's.
    check(SIDE_OUT, "B b:serve a:return", "0 0");
    check(SIDE_OUT, "A B b:serve a:return", "0 1");
}

#[test]
fn whatever_the_second_shot_is_it_is_the_receivers() {
    check(SIDE_OUT, "a:drive b:lob", "- 0");
}

#[test]
fn out_of_turn_or_after_a_missed_shot_the_score_tells_nothing() {
    check(SIDE_OUT, "b:serve a:return", "- -");
    check(SIDE_OUT, "a:serve a:drop", "0 -");
}

#[test]
fn what_was_recorded_counts_more() {
    check(SIDE_OUT, "a1:serve b1:return a1:drop", "1 1 1");
}

#[test]
fn partners_who_keep_their_courts_serve_by_the_score() {
    // Common practice of team leagues; no rulebook edition has it.
    check(STATIC, "A a:serve b:return", "1 1");
}

#[test]
fn another_starting_server_serves() {
    check(SIDE_OUT, "A=1 B=1 a:serve b:return", "1 1");
}

#[test]
fn in_singles_every_shot_and_error_is_the_only_players() {
    check(SIDE_OUT_SINGLES, "b:drop a:dink b:dink b!net", "0 0 0 0");
    check(SIDE_OUT_SINGLES, "a!out", "0");
}

#[test]
fn whoever_struck_the_last_ball_of_the_losers_erred() {
    // Common practice of charting; the ball in the net or out is the fault of the
    // side that struck it (USA Pickleball rulebook 2022 and 2024, 7.B and 7.D,
    // published).
    check(SIDE_OUT, "a:serve a!net", "0 0");
    check(SIDE_OUT, "a:serve b:return b!out", "0 0 0");
    check(SIDE_OUT, "a:serve b:return a1:drop a!out", "0 0 1 1");
    check(SIDE_OUT, "a:serve b:return a1:drop a0!out", "0 0 1 0");
    check(SIDE_OUT, "a:serve b:return a:drop a!out", "0 0 - -");
}

#[test]
fn nobody_is_known_to_have_erred_where_the_last_ball_was_the_winners_or_nobody_erred() {
    check(SIDE_OUT, "a:serve b:return a!fault", "0 0 -");
    check(SIDE_OUT, "a!net", "-");
    check(SIDE_OUT, "a:serve a!ace", "0 -");
    check(SIDE_OUT, "a:serve b:return a1:drive a1!winner", "0 0 1 -");
}
