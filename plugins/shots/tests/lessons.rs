//! What rallies have brought, worked by hand. The rules are common practice of
//! the trade; there is no published standard.
#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use rallytide_plugin_kit::testing::{Script, Trial, header, opening_score};
use rallytide_plugin_kit::{
    Change, Moment, Opening, Pair, Play, Plugin, Readings, Score, ScoreFix, Share, Team, Upstream,
    Value, about,
};
use rallytide_shots::Shots;

/// A match in which team a serves until somebody else is said to.
struct Match {
    script: Script,
    trial: Trial<Shots>,
}

impl Match {
    fn new() -> Self {
        Self {
            script: Script::default(),
            trial: Trial::start(Vec::new(), Vec::new()).unwrap(),
        }
    }

    #[track_caller]
    fn chart(&mut self, text: &str) -> Vec<Change> {
        let mut changes = Vec::new();
        for entry in self.script.read(text) {
            changes.extend(self.trial.entry(entry, Vec::new()));
        }
        changes
    }

    /// An entry after which `serving` serves.
    #[track_caller]
    fn then_serves(&mut self, serving: Team, entry: &str) {
        self.trial.score().serving = serving;
        self.chart(entry);
    }

    #[track_caller]
    fn check(
        &self,
        indicator: &'static str,
        team: Team,
        slot: Option<&'static str>,
        expected: &str,
    ) {
        let mut key = about(indicator, team);
        if let Some(slot) = slot {
            key = key.slot(slot);
        }
        let found = match self.trial.value(&key) {
            Some(Value::Share(Share { part, whole })) => format!("{part} of {whole}"),
            Some(value) => panic!("{value:?}"),
            None => "none".to_owned(),
        };
        assert_eq!(found, expected, "{indicator} {team:?} {slot:?}");
    }
}

#[track_caller]
fn charted(text: &str) -> Match {
    let mut charted = Match::new();
    charted.chart(text);
    charted
}

/// What is shown at a time: `serve.won a 0/1`, sorted.
fn shown(charted: &Match) -> Vec<String> {
    let readings = charted.trial.readings().into_iter().map(|reading| {
        let Value::Share(Share { part, whole }) = reading.value else {
            panic!("{reading:?}");
        };
        assert!(reading.why.is_empty() && reading.flags.is_empty());
        let slot = reading
            .key
            .slot
            .map_or(String::new(), |slot| format!("{slot} "));
        let team = match reading.key.team {
            Some(Team::A) => "a",
            Some(Team::B) => "b",
            None => "nobody",
        };
        format!("{} {team} {slot}{part}/{whole}", reading.key.indicator)
    });
    readings.collect()
}

#[test]
fn everything_but_slots_is_there_from_the_start_with_no_cases() {
    assert_eq!(
        shown(&Match::new()),
        [
            "serve.won a 0/0",
            "serve.won b 0/0",
            "sitter.punished a 0/0",
            "sitter.punished b 0/0",
        ]
    );
}

#[test]
fn the_example_of_the_readme() {
    let mut charted =
        charted("a serve | b return | a drop | b dink | +attackable | a speedup | a wins");
    assert_eq!(
        shown(&charted),
        [
            "serve.won a 1/1",
            "serve.won b 0/0",
            "sitter.punished a 1/1",
            "sitter.punished b 0/0",
            "speedup.won a sitter 1/1",
            "third.won a drop 1/1",
        ]
    );
    charted.chart("a serve | b return | a drive | b speedup | a wins");
    assert_eq!(
        shown(&charted),
        [
            "serve.won a 2/2",
            "serve.won b 0/0",
            "sitter.punished a 1/1",
            "sitter.punished b 0/0",
            "speedup.won a sitter 1/1",
            "speedup.won b other 0/1",
            "third.won a drive 1/1",
            "third.won a drop 1/1",
        ]
    );
}

#[test]
fn a_serve_counts_for_who_serves_by_the_score_before_the_rally_ends() {
    let mut charted = charted("a serve | b return | a wins | a serve | b wins");
    charted.check("serve.won", Team::A, None, "1 of 2");
    // The score after the rally has the other team serve.
    charted.then_serves(Team::B, "b wins");
    charted.check("serve.won", Team::A, None, "1 of 3");
    charted.check("serve.won", Team::B, None, "0 of 0");
    charted.then_serves(Team::B, "b wins");
    charted.check("serve.won", Team::B, None, "1 of 1");
}

#[test]
fn a_team_that_serves_first_by_the_opening_score_has_served_the_first_rally() {
    let opening = Opening {
        header: header(),
        settings: Vec::new(),
        score: Score {
            serving: Team::B,
            ..opening_score()
        },
        upstream: Upstream::default(),
    };
    let mut shots = Shots::start(&opening).unwrap();
    let mut readings = Readings::default();
    shots.readings(&mut readings);
    readings.changes();
    let moment = Moment {
        entry: Script::default().read("b wins").remove(0),
        score: opening_score(),
        upstream: Upstream::default(),
    };
    shots.step(&moment);
    shots.readings(&mut readings);
    let [Change::Set(reading)] = &readings.changes()[..] else {
        panic!("one reading changes");
    };
    assert_eq!(reading.key, about("serve.won", Team::B));
    assert_eq!(reading.value, Value::Share(Share { part: 1, whole: 1 }));
}

#[test]
fn the_score_decides_who_serves_whatever_was_struck_and_also_if_it_is_fixed_within() {
    let receivers = charted("b serve | a return | b drop | b wins");
    receivers.check("serve.won", Team::A, None, "0 of 1");
    receivers.check("third.won", Team::A, Some("drop"), "0 of 1");

    let mut fixed = charted("a serve | b return | a drop");
    fixed.trial.score().serving = Team::B;
    fixed.trial.play(Play::ScoreFix(ScoreFix {
        points: Pair { a: 0, b: 0 },
        serving: Team::B,
        server: None,
        games: None,
    }));
    fixed.chart("b wins");
    fixed.check("serve.won", Team::A, None, "0 of 0");
    fixed.check("serve.won", Team::B, None, "1 of 1");
    fixed.check("third.won", Team::B, Some("drop"), "1 of 1");
}

#[test]
fn a_third_shot_counts_under_its_stroke_for_the_team_that_served() {
    let charted = charted(
        "a serve | b return | a drop | a wins
         a serve | b return | a drive | b wins
         a serve | b return | a drop | b drive | b wins",
    );
    charted.check("third.won", Team::A, Some("drop"), "1 of 2");
    charted.check("third.won", Team::A, Some("drive"), "0 of 1");
    charted.check("third.won", Team::A, Some("lob"), "none");
    charted.check("third.won", Team::B, Some("drop"), "none");
}

#[test]
fn every_stroke_has_its_slot() {
    for stroke in [
        "serve", "return", "drive", "drop", "dink", "lob", "reset", "volley", "block", "speedup",
        "overhead", "erne", "atp", "other",
    ] {
        let charted = charted(&format!("a serve | b return | a {stroke} | a wins"));
        charted.check("third.won", Team::A, Some(stroke), "1 of 1");
    }
}

#[test]
fn an_assumed_third_shot_is_no_case_and_a_shot_after_an_assumed_second_is() {
    let third = charted("a serve | b return | b volley | b wins");
    third.check("third.won", Team::A, Some("volley"), "none");
    third.check("serve.won", Team::A, None, "0 of 1");
    let second = charted("a serve | a drop | b wins");
    second.check("third.won", Team::A, Some("drop"), "0 of 1");
    let short = charted("a serve | b return | b wins");
    assert_eq!(shown(&short).len(), 4, "{:?}", shown(&short));
}

#[test]
fn a_speedup_is_off_a_sitter_if_the_ball_was_marked_and_other_otherwise() {
    let charted = charted(
        "a serve | b return | a dink +attackable | b speedup | b wins
         a serve | b return | a dink | b speedup | a wins
         a serve | b return | a dink +off_balance | b speedup | a wins",
    );
    charted.check("speedup.won", Team::B, Some("sitter"), "1 of 1");
    charted.check("speedup.won", Team::B, Some("other"), "0 of 2");
    charted.check("speedup.won", Team::A, Some("other"), "none");
}

#[test]
fn a_speedup_off_a_ball_that_is_not_known_is_another() {
    let assumed = charted("a serve | b return +attackable | b speedup | b wins");
    assumed.check("speedup.won", Team::B, Some("other"), "1 of 1");
    let first = charted("a speedup | a wins");
    first.check("speedup.won", Team::A, Some("other"), "1 of 1");
}

#[test]
fn the_first_speedup_of_a_team_decides() {
    let charted = charted(
        "a serve | b return | a dink | b speedup | a volley +attackable | b speedup | b wins",
    );
    charted.check("speedup.won", Team::B, Some("other"), "1 of 1");
    charted.check("speedup.won", Team::B, Some("sitter"), "none");
}

#[test]
fn both_teams_speedups_count_in_one_rally() {
    let charted =
        charted("a serve | b return | a dink | b speedup +attackable | a speedup | b wins");
    charted.check("speedup.won", Team::B, Some("other"), "1 of 1");
    charted.check("speedup.won", Team::A, Some("sitter"), "0 of 1");
}

#[test]
fn marks_count_as_they_stand_when_the_rally_ends() {
    let charted =
        charted("a serve | b return | a dink | b speedup | a block | +attackable @3 | b wins");
    charted.check("speedup.won", Team::B, Some("sitter"), "1 of 1");
    charted.check("speedup.won", Team::B, Some("other"), "none");
    charted.check("sitter.punished", Team::B, None, "1 of 1");
}

#[test]
fn a_ball_that_sat_up_is_punished_by_winning_the_rally() {
    let charted = charted(
        "a serve | b return +attackable | a drive | a wins
         a serve | b return | a drop | +attackable | a wins",
    );
    charted.check("sitter.punished", Team::A, None, "1 of 1");
    charted.check("sitter.punished", Team::B, None, "0 of 1");
}

#[test]
fn a_rally_counts_once_for_each_team_however_many_balls_sat_up() {
    let charted = charted(
        "a serve +attackable | b return +attackable | a dink +attackable | b drive +attackable | a wins",
    );
    charted.check("sitter.punished", Team::A, None, "1 of 1");
    charted.check("sitter.punished", Team::B, None, "0 of 1");
}

#[test]
fn another_cue_or_one_without_its_shot_leaves_no_attackable_ball() {
    let charted = charted(
        "a serve | b return +net_cord | +awkward | +attackable nowhere | a speedup | a wins",
    );
    charted.check("sitter.punished", Team::A, None, "0 of 0");
    charted.check("speedup.won", Team::A, Some("other"), "1 of 1");
}

#[test]
fn nothing_counts_before_the_rally_has_ended() {
    let mut charted = Match::new();
    let rally = "a serve | b return +attackable | a speedup";
    assert_eq!(charted.chart(rally), []);
    assert_eq!(charted.chart("b block | note word | b at line"), []);
    assert_eq!(charted.chart("a wins").len(), 4);
}

#[test]
fn a_replayed_rally_and_one_cut_off_count_nothing() {
    let nothing = shown(&Match::new());
    let rally = "a serve | b return +attackable | a speedup";
    assert_eq!(shown(&charted(&format!("{rally} | replay"))), nothing);
    assert_eq!(shown(&charted(&format!("{rally} | b retires"))), nothing);
}

#[test]
fn nothing_of_a_rally_is_left_in_the_next() {
    let mut charted = charted("a serve | b return +attackable | a speedup | replay");
    charted.chart("a serve | a wins");
    charted.check("serve.won", Team::A, None, "1 of 1");
    charted.chart("a serve | b return | a speedup | a wins");
    charted.chart("b wins");
    charted.check("sitter.punished", Team::A, None, "0 of 0");
    charted.check("speedup.won", Team::A, Some("other"), "1 of 1");
    charted.check("third.won", Team::A, Some("speedup"), "1 of 1");
    charted.check("serve.won", Team::A, None, "2 of 3");
}

#[test]
fn it_provides_what_it_publishes() {
    let provides = Shots::manifest().provides;
    let indicators = ["serve.won", "third.won", "speedup.won", "sitter.punished"];
    assert_eq!(provides, indicators);
}
