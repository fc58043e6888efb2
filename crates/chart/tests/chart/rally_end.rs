//! The end of a rally: who won, however it was recorded.

use rallytide_chart::RefusalCode::{self, BadField, Contradiction, MissingField};
use rallytide_chart::{FaultKind, How, Play, RallyEnd, Team};
use serde_json::{Value, json};

use crate::notation::{check_play, check_refused_play, check_refused_play_in, singles};

fn rally_end(fields: &Value) -> Value {
    let mut whole = json!({"kind": "rally_end"});
    for (name, value) in fields.as_object().unwrap() {
        whole[name] = value.clone();
    }
    whole
}

#[track_caller]
fn check_end(fields: &Value, expected: RallyEnd) {
    check_play(rally_end(fields), &Play::RallyEnd(expected));
}

#[track_caller]
fn check_refused_end(fields: &Value, code: RefusalCode, parts: &[&str]) {
    check_refused_play(rally_end(fields), code, parts);
}

fn won_by(winner: Team) -> RallyEnd {
    RallyEnd {
        winner,
        how: None,
        by: None,
        player: None,
        fault: None,
    }
}

/// Who wins where `by` is a: the rule for each `how`. A ball in the net or out
/// and a fault are lost by the side that made it (USA Pickleball rulebook 2022 and
/// 2024, 7.B, 7.D); winners and aces are its own (common practice).
const RULE: [(How, Option<Team>); 6] = [
    (How::Winner, Some(Team::A)),
    (How::Ace, Some(Team::A)),
    (How::Net, Some(Team::B)),
    (How::Out, Some(Team::B)),
    (How::Fault, Some(Team::B)),
    (How::Unknown, None),
];

#[test]
fn the_winner_alone_is_enough() {
    check_end(&json!({"won_by": "a"}), won_by(Team::A));
    check_end(&json!({"won_by": "b"}), won_by(Team::B));
}

#[test]
fn how_and_by_say_who_won() {
    for (how, winner) in RULE {
        let Some(winner) = winner else { continue };
        for by in [Team::A, Team::B] {
            let winner = if by == Team::A {
                winner
            } else {
                winner.other()
            };
            let expected = RallyEnd {
                how: Some(how),
                by: Some(by),
                ..won_by(winner)
            };
            check_end(&json!({"how": how.word(), "by": by.word()}), expected);
        }
    }
}

#[test]
fn all_three_are_taken_where_they_agree() {
    for (how, winner) in RULE {
        let winner = winner.unwrap_or(Team::B);
        let fields = json!({"how": how.word(), "by": "a", "won_by": winner.word()});
        let expected = RallyEnd {
            how: Some(how),
            by: Some(Team::A),
            ..won_by(winner)
        };
        check_end(&fields, expected);
    }
}

#[test]
fn all_three_are_a_contradiction_where_they_do_not() {
    for (how, winner) in RULE {
        let Some(winner) = winner else { continue };
        let claimed = winner.other();
        let fields = json!({"how": how.word(), "by": "a", "won_by": claimed.word()});
        let claim = format!("`won_by` is `{claimed}`");
        let truth = format!("`{winner}` won");
        check_refused_end(&fields, Contradiction, &[&claim, &truth, "`how`", "`by`"]);
    }
}

#[test]
fn how_unknown_says_nothing_about_the_winner() {
    for (by, winner) in [
        ("a", Team::A),
        ("a", Team::B),
        ("b", Team::A),
        ("b", Team::B),
    ] {
        let fields = json!({"how": "unknown", "by": by, "won_by": winner.word()});
        let expected = RallyEnd {
            how: Some(How::Unknown),
            by: Team::from_word(by),
            ..won_by(winner)
        };
        check_end(&fields, expected);
    }
    for fields in [
        json!({"how": "unknown"}),
        json!({"how": "unknown", "by": "a"}),
    ] {
        let parts = ["`won_by` is missing", "`unknown`"];
        check_refused_end(&fields, MissingField, &parts);
    }
}

#[test]
fn how_without_by_needs_the_winner() {
    for (how, _) in RULE {
        let fields = json!({"how": how.word(), "won_by": "b"});
        let expected = RallyEnd {
            how: Some(how),
            ..won_by(Team::B)
        };
        check_end(&fields, expected);
        let parts = ["`won_by` is missing", "`a` or `b`"];
        check_refused_end(&json!({"how": how.word()}), MissingField, &parts);
    }
}

#[test]
fn by_without_how_needs_the_winner() {
    let expected = RallyEnd {
        by: Some(Team::A),
        ..won_by(Team::B)
    };
    check_end(&json!({"by": "a", "won_by": "b"}), expected);
    let parts = ["`won_by` is missing", "`how`"];
    check_refused_end(&json!({"by": "a"}), MissingField, &parts);
    check_refused_end(&json!({}), MissingField, &parts);
}

#[test]
fn a_fault_may_be_named() {
    // The words are ours, and so is what they leave to `other`. The faults are
    // those of the USA Pickleball rulebook 2026: 7.A to 7.E (serve), 11.A
    // (kitchen), 10.A and 10.B (bounces); 2022 and 2024: 7.G (net), 7.H (body).
    let words = "serve kitchen early_volley second_bounce net_touch body other";
    let listed: Vec<&str> = FaultKind::ALL.iter().map(|fault| fault.word()).collect();
    assert_eq!(listed.join(" "), words);
    for fault in FaultKind::ALL.iter().copied() {
        let fields = json!({"how": "fault", "by": "b", "player": 1, "fault": fault.word()});
        let expected = RallyEnd {
            how: Some(How::Fault),
            by: Some(Team::B),
            player: Some(1),
            fault: Some(fault),
            ..won_by(Team::A)
        };
        check_end(&fields, expected);
    }
}

#[test]
fn words_and_numbers_that_are_not_allowed_are_refused() {
    for (fields, parts) in [
        (json!({"won_by": "c"}), ["`won_by` is `\"c\"`", "`a` `b`"]),
        (json!({"won_by": "a", "by": 1}), ["`by` is `1`", "`a` `b`"]),
        (
            json!({"won_by": "a", "how": "luck"}),
            ["`how` is `\"luck\"`", "`winner` `ace` `net`"],
        ),
        (
            json!({"won_by": "a", "fault": "foot"}),
            ["`fault` is `\"foot\"`", "`kitchen`"],
        ),
        (
            json!({"won_by": "a", "player": 2}),
            ["`player` is `2`", "`0` or `1`"],
        ),
    ] {
        check_refused_end(&fields, BadField, &parts);
    }
    let in_singles = rally_end(&json!({"won_by": "a", "player": 1}));
    check_refused_play_in(
        &singles(),
        in_singles,
        BadField,
        &["`player` is `1`", "singles"],
    );
}
