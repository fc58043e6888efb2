//! What rallies have brought, rally by rally.
#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use rallytide_plugin_kit::testing::{Script, Trial};
use rallytide_plugin_kit::{Share, Team, Value, about};
use rallytide_shots::Shots;

/// Charts a match in which team a serves throughout.
fn charted(text: &str) -> Trial<Shots> {
    let mut trial = Trial::<Shots>::start(Vec::new(), Vec::new()).unwrap();
    for entry in Script::default().read(text) {
        trial.entry(entry, Vec::new());
    }
    trial
}

#[track_caller]
fn check(trial: &Trial<Shots>, indicator: &str, team: Team, slot: Option<&str>, expected: &str) {
    let mut key = about(indicator, team);
    if let Some(slot) = slot {
        key = key.slot(slot);
    }
    let found = match trial.value(&key) {
        Some(Value::Share(Share { part, whole })) => format!("{part} of {whole}"),
        Some(value) => panic!("{value:?}"),
        None => "none".to_owned(),
    };
    assert_eq!(found, expected, "{indicator} {team:?} {slot:?}");
}

#[test]
fn a_serve_is_won_by_who_serves_by_the_score_before_the_rally_ends() {
    let trial = charted("a serve | b return | a wins | a serve | b wins | b wins");
    check(&trial, "serve.won", Team::A, None, "1 of 3");
    check(&trial, "serve.won", Team::B, None, "0 of 0");

    let mut trial = Trial::<Shots>::start(Vec::new(), Vec::new()).unwrap();
    let mut script = Script::default();
    // The score after the rally has the other team serve: it counts for the
    // team that served it.
    trial.score().serving = Team::B;
    for entry in script.read("b wins | b wins") {
        trial.entry(entry, Vec::new());
    }
    check(&trial, "serve.won", Team::A, None, "0 of 1");
    check(&trial, "serve.won", Team::B, None, "1 of 1");
}

#[test]
fn a_third_shot_counts_under_its_stroke_for_the_team_that_served() {
    let trial = charted(
        "a serve | b return | a drop | a wins
         a serve | b return | a drive | b wins
         a serve | b return | a drop | b wins",
    );
    check(&trial, "third.won", Team::A, Some("drop"), "1 of 2");
    check(&trial, "third.won", Team::A, Some("drive"), "0 of 1");
    check(&trial, "third.won", Team::A, Some("lob"), "none");
}

#[test]
fn an_assumed_third_shot_is_no_case() {
    let trial = charted("a serve | b return | b volley | b wins");
    check(&trial, "third.won", Team::A, Some("volley"), "none");
    check(&trial, "serve.won", Team::A, None, "0 of 1");
}

#[test]
fn a_speedup_is_ready_off_an_attackable_ball_and_forced_otherwise() {
    let trial = charted(
        "a serve | b return | a dink +attackable | b speedup | b wins
         a serve | b return | a dink | b speedup | a wins
         a serve | b return | a dink | b dink | b speedup | b wins",
    );
    check(&trial, "speedup.won", Team::B, Some("ready"), "1 of 1");
    check(&trial, "speedup.won", Team::B, Some("forced"), "1 of 2");
}

#[test]
fn the_first_speedup_of_a_team_decides_and_marks_count_as_they_stand_at_the_end() {
    let trial = charted(
        "a serve | b return | a dink | b speedup | a volley +attackable | b speedup | +attackable @3 | b wins",
    );
    check(&trial, "speedup.won", Team::B, Some("ready"), "1 of 1");
    check(&trial, "speedup.won", Team::B, Some("forced"), "none");
}

#[test]
fn a_ball_that_sat_up_is_punished_by_winning_the_rally() {
    let trial = charted(
        "a serve | b return +attackable | a drive | a wins
         a serve | b return | a drop | +attackable | a wins",
    );
    check(&trial, "sitter.punished", Team::A, None, "1 of 1");
    check(&trial, "sitter.punished", Team::B, None, "0 of 1");
}

#[test]
fn a_replayed_rally_and_one_cut_off_count_nothing() {
    let trial = charted(
        "a serve | b return +attackable | a speedup | replay | a serve | b return | a drop | b retires",
    );
    check(&trial, "serve.won", Team::A, None, "0 of 0");
    check(&trial, "sitter.punished", Team::A, None, "0 of 0");
    check(&trial, "speedup.won", Team::A, Some("ready"), "none");
}
