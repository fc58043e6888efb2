//! The kinds that only concern the score: `time_out`, `penalty`, `score_fix`,
//! `lineup`, `retire`.

use rallytide_chart::RefusalCode::{self, BadField, MissingField};
use rallytide_chart::{Format, Lineup, PairOf, Play, ScoreFix, Team, TimeOut};
use serde_json::{Value, json};

use crate::notation::{
    check_play, check_play_in, check_refused_play, check_refused_play_in, doubles, rally_doubles,
    set, singles, without,
};

#[test]
fn a_time_out_is_a_standard_one_unless_it_says_medical() {
    for (fields, medical) in [
        (json!({"kind": "time_out", "team": "b"}), false),
        (
            json!({"kind": "time_out", "team": "b", "medical": null}),
            false,
        ),
        (
            json!({"kind": "time_out", "team": "b", "medical": false}),
            false,
        ),
        (
            json!({"kind": "time_out", "team": "b", "medical": true}),
            true,
        ),
    ] {
        let team = Team::B;
        check_play(fields, &Play::TimeOut(TimeOut { team, medical }));
    }
    for medical in [json!("yes"), json!(1)] {
        let fields = json!({"kind": "time_out", "team": "b", "medical": medical});
        check_refused_play(fields, BadField, &["`medical`", "`true` or `false`"]);
    }
}

#[test]
fn a_penalty_and_a_retirement_name_their_team() {
    let fields = json!({"kind": "penalty", "team": "a"});
    check_play(fields, &Play::Penalty { team: Team::A });
    let fields = json!({"kind": "retire", "team": "b"});
    check_play(fields, &Play::Retire { team: Team::B });
    for kind in ["penalty", "retire", "time_out", "lineup"] {
        check_refused_play(
            json!({"kind": kind}),
            MissingField,
            &["`team` is missing", "`a` `b`"],
        );
        let fields = json!({"kind": kind, "team": "both"});
        check_refused_play(fields, BadField, &["`team` is `\"both\"`", "`a` `b`"]);
    }
}

#[test]
fn a_lineup_names_the_new_starting_server() {
    // USA Pickleball rulebook 2025, 5.A.2 (published): there is one starting server
    // a team.
    for starting_server in [0, 1] {
        let fields = json!({"kind": "lineup", "team": "a", "starting_server": starting_server});
        let team = Team::A;
        check_play(
            fields,
            &Play::Lineup(Lineup {
                team,
                starting_server,
            }),
        );
    }
    let parts = ["`starting_server` is missing", "`0` or `1`"];
    check_refused_play(json!({"kind": "lineup", "team": "a"}), MissingField, &parts);
    let fields = json!({"kind": "lineup", "team": "a", "starting_server": 2});
    check_refused_play(
        fields,
        BadField,
        &["`starting_server` is `2`", "`0` or `1`"],
    );
    let fields = json!({"kind": "lineup", "team": "a", "starting_server": 1});
    check_refused_play_in(
        &singles(),
        fields,
        BadField,
        &["`starting_server`", "singles"],
    );
}

fn score_fix() -> Value {
    json!({"kind": "score_fix", "points": {"a": 3, "b": 5}, "serving": "b"})
}

const FIXED: ScoreFix = ScoreFix {
    points: PairOf { a: 3, b: 5 },
    serving: Team::B,
    server: None,
    games: None,
};

#[track_caller]
fn check_refused_fix(pointer: &str, value: Value, code: RefusalCode, parts: &[&str]) {
    check_refused_play(set(score_fix(), pointer, value), code, parts);
}

#[test]
fn a_score_fix_needs_points_and_the_serving_team() {
    check_play(score_fix(), &Play::ScoreFix(FIXED));
    for pointer in ["/points", "/points/a", "/points/b", "/serving"] {
        let path = pointer[1..].replace('/', ".");
        let missing = format!("`{path}` is missing");
        check_refused_play(without(score_fix(), pointer), MissingField, &[&missing]);
    }
    check_refused_fix("/serving", json!("c"), BadField, &["`serving`", "`a` `b`"]);
    check_refused_fix(
        "/points",
        json!([3, 5]),
        BadField,
        &["`points`", "an object"],
    );
}

#[test]
fn points_of_a_score_fix_have_a_bound_against_slips() {
    for (points, a) in [(json!(0), 0), (json!(999), 999)] {
        let points_fixed = PairOf { a, b: 5 };
        let expected = ScoreFix {
            points: points_fixed,
            ..FIXED
        };
        check_play(
            set(score_fix(), "/points/a", points),
            &Play::ScoreFix(expected),
        );
    }
    for points in [json!(1000), json!(-1), json!("3"), json!(2.5)] {
        let found = format!("`points.a` is `{points}`");
        check_refused_fix("/points/a", points, BadField, &[&found, "0 to 999"]);
    }
}

#[test]
fn the_server_is_1_or_2_where_a_turn_has_two() {
    // USA Pickleball rulebook 2026, 5.B.2 and 6.B.2 (published): servers are
    // numbered 1 and 2.
    for server in [1, 2] {
        let expected = ScoreFix {
            server: Some(server),
            ..FIXED
        };
        let fields = set(score_fix(), "/server", json!(server));
        check_play(fields, &Play::ScoreFix(expected));
    }
    for server in [json!(0), json!(3), json!("1")] {
        check_refused_fix("/server", server, BadField, &["`server`", "`1` or `2`"]);
    }
}

#[test]
fn the_only_server_of_a_turn_can_be_called_1_but_not_2() {
    // USA Pickleball rulebook 2026, 14.A.5 (published): one server a turn.
    for format in [rally_doubles(), singles()] {
        let expected = ScoreFix {
            server: Some(1),
            ..FIXED
        };
        let fields = set(score_fix(), "/server", json!(1));
        check_play_in(&format, fields, &Play::ScoreFix(expected));
        let fields = set(score_fix(), "/server", json!(2));
        check_refused_play_in(
            &format,
            fields,
            BadField,
            &["`server` is `2`", "one server"],
        );
    }
}

#[test]
fn games_of_a_score_fix_are_fewer_than_win_the_match() {
    for (games, most) in [(1, 0), (3, 1), (5, 2)] {
        let format = Format { games, ..doubles() };
        let fix = |a: u32| set(score_fix(), "/games", json!({"a": a, "b": 0}));
        let games = Some(PairOf { a: most, b: 0 });
        check_play_in(
            &format,
            fix(most),
            &Play::ScoreFix(ScoreFix { games, ..FIXED }),
        );
        let found = format!("`games.a` is `{}`", most + 1);
        let allowed = format!("0 to {most}");
        let parts = [&*found, &*allowed, "win the match"];
        check_refused_play_in(&format, fix(most + 1), BadField, &parts);
    }
    check_refused_fix(
        "/games",
        json!({"a": 1}),
        MissingField,
        &["`games.b` is missing"],
    );
    check_refused_fix(
        "/games",
        json!(2),
        BadField,
        &["`games` is `2`", "an object"],
    );
}
