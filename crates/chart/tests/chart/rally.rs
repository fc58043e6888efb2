//! The reading of a rally: numbers, contacts, assumed shots, what a cue is
//! about, and the flags that need no score.

use rallytide_chart::{Contact, RallyReader, RallyStep, Stroke};
use serde_json::{Value, json};

use crate::notation::chart_of;

/// A rally in short form. `a:drive` is a shot, `a:drive/air` one with its
/// contact; `!awkward` a cue about the latest shot, `!awkward@e3` one about an
/// entry; `won=a` the end, `replay`, `depth` and `note` what they say. Ids are
/// `e1`, `e2`, …
fn play(text: &str) -> Vec<Value> {
    let words = text.split_whitespace().enumerate();
    words
        .map(|(place, word)| {
            let mut fields = play_word(word);
            fields["id"] = json!(format!("e{}", place + 1));
            fields
        })
        .collect()
}

fn play_word(word: &str) -> Value {
    if let Some(cue) = word.strip_prefix('!') {
        return match cue.split_once('@') {
            Some((cue, shot)) => json!({"kind": "cue", "cue": cue, "shot": shot}),
            None => json!({"kind": "cue", "cue": cue}),
        };
    }
    if let Some(team) = word.strip_prefix("won=") {
        return json!({"kind": "rally_end", "won_by": team});
    }
    if let Some((team, stroke)) = word.split_once(':') {
        return match stroke.split_once('/') {
            Some((stroke, contact)) => {
                json!({"kind": "shot", "team": team, "stroke": stroke, "contact": contact})
            }
            None => json!({"kind": "shot", "team": team, "stroke": stroke}),
        };
    }
    match word {
        "depth" => json!({"kind": "depth", "team": "a", "depth": "line"}),
        "note" => json!({"kind": "note", "text": ""}),
        "replay" => json!({"kind": "replay"}),
        other => panic!("`{other}` is no word of the short form"),
    }
}

/// What the entries are to their rallies, in short form: for a shot its number,
/// with `/contact` where it is known and `+` before it where a shot is assumed
/// before it; for a cue `>` and the number of its shot; `-` for all others; then
/// `!flag` for every flag.
fn steps(entries: Vec<Value>) -> String {
    let mut reader = RallyReader::default();
    let effective = chart_of(entries).effective();
    let words = effective.iter().map(|entry| {
        let cue = entry.play.kind().word() == "cue";
        step_word(&reader.step(entry), cue)
    });
    words.collect::<Vec<_>>().join(" ")
}

fn step_word(step: &RallyStep, cue: bool) -> String {
    let mut word = match &step.shot {
        None => "-".to_owned(),
        Some(shot) if cue => format!(">{}", shot.number),
        Some(shot) => {
            let missed = if shot.missed_before { "+" } else { "" };
            let contact = shot
                .contact
                .map_or(String::new(), |contact| format!("/{contact}"));
            format!("{missed}{}{contact}", shot.number)
        }
    };
    for flag in &step.flags {
        word = format!("{word}!{flag}");
    }
    word
}

#[track_caller]
fn check(entries: &str, expected: &str) {
    assert_eq!(steps(play(entries)), expected);
}

#[test]
fn shots_of_a_rally_are_numbered_from_its_serve() {
    check(
        "a:serve b:return a:drop b:dink won=a b:serve a:return",
        "1 2/bounce 3/bounce 4/bounce - 1 2/bounce",
    );
}

#[test]
fn only_the_end_and_a_replay_end_a_rally() {
    check("a:serve depth note b:return", "1 - - 2/bounce");
    check("a:serve replay a:serve", "1 - 1");
    check("a:serve won=b b:serve", "1 - 1");
    let between = vec![
        json!({"id": "s1", "kind": "shot", "team": "a", "stroke": "serve"}),
        json!({"id": "t1", "kind": "time_out", "team": "a"}),
        json!({"id": "p1", "kind": "penalty", "team": "a"}),
        json!({"id": "f1", "kind": "score_fix", "points": {"a": 1, "b": 0}, "serving": "a"}),
        json!({"id": "l1", "kind": "lineup", "team": "a", "starting_server": 1}),
        json!({"id": "r1", "kind": "retire", "team": "a"}),
        json!({"id": "s2", "kind": "shot", "team": "b", "stroke": "return"}),
    ];
    assert_eq!(steps(between), "1 - - - - - 2/bounce");
}

#[test]
fn a_chart_of_rally_ends_alone_has_no_shots() {
    check("won=a won=b won=a", "- - -");
}

#[test]
fn the_first_recorded_shot_is_shot_1_also_if_it_is_no_serve() {
    check("a:drop b:dink", "1/bounce!no_serve 2/bounce!no_serve");
}

#[test]
fn every_shot_before_a_serve_is_flagged_and_none_after_it() {
    check("b:volley a:serve b:return", "1/air!no_serve 2 3/bounce");
    check("a:serve b:return won=a b:return", "1 2/bounce - 1!no_serve");
    check("a:serve replay a:return", "1 - 1!no_serve");
}

#[test]
fn two_shots_in_a_row_by_one_team_assume_one_between() {
    check("a:serve a:drop b:dink", "1 +3/bounce!missed_shot 4/bounce");
    check(
        "a:serve b:return b:volley b:volley",
        "1 2/bounce +4/air!missed_shot +6/air!missed_shot",
    );
}

#[test]
fn nothing_is_assumed_across_the_end_of_a_rally() {
    check("a:serve won=a a:serve", "1 - 1");
    check("a:serve replay a:serve", "1 - 1");
}

#[test]
fn a_shot_can_be_both_without_a_serve_and_after_a_missed_one() {
    check(
        "b:volley b:volley",
        "1/air!no_serve +3/air!no_serve!missed_shot",
    );
}

#[test]
fn a_cue_between_two_shots_of_one_team_hides_no_missed_shot() {
    check("a:serve !net_cord a:drop", "1 >1 +3/bounce!missed_shot");
}

/// The contact that follows from the stroke alone: common practice of the trade,
/// no published standard.
fn from_stroke(stroke: Stroke) -> Option<Contact> {
    match stroke.word() {
        "volley" | "block" | "overhead" | "erne" => Some(Contact::Air),
        "dink" | "drop" | "drive" | "atp" => Some(Contact::Bounce),
        _ => None,
    }
}

fn contact_of_last(entries: &str) -> Option<Contact> {
    let mut reader = RallyReader::default();
    let effective = chart_of(play(entries)).effective();
    let last = effective.iter().map(|entry| reader.step(entry)).last();
    last.and_then(|step| step.shot)
        .expect("the last entry is a shot")
        .contact
}

#[test]
fn from_the_fourth_shot_on_a_contact_follows_from_the_stroke_or_is_unknown() {
    for stroke in Stroke::ALL {
        let fourth = format!("a:serve b:return a:drop b:{stroke}");
        assert_eq!(contact_of_last(&fourth), from_stroke(*stroke), "{stroke}");
        let first = format!("b:{stroke}");
        assert_eq!(contact_of_last(&first), from_stroke(*stroke), "{stroke}");
    }
}

/// USA Pickleball rulebook 2026, rule 10.A (two-bounce rule): the serve and the
/// return each have to bounce.
#[test]
fn the_second_and_third_shot_bounce_unless_the_stroke_says_otherwise() {
    for stroke in Stroke::ALL
        .iter()
        .filter(|stroke| **stroke != Stroke::Serve)
    {
        let expected = from_stroke(*stroke).or(Some(Contact::Bounce));
        assert_eq!(
            contact_of_last(&format!("a:serve b:{stroke}")),
            expected,
            "{stroke}"
        );
        let third = format!("a:serve b:return a:{stroke}");
        assert_eq!(contact_of_last(&third), expected, "{stroke}");
    }
}

#[test]
fn assumed_shots_count_for_the_two_bounce_rule() {
    // Shot 3 because one is assumed, shot 5 because two are. Derived from 10.A, as
    // above.
    assert_eq!(contact_of_last("a:serve a:speedup"), Some(Contact::Bounce));
    assert_eq!(contact_of_last("a:serve a:drive a:speedup"), None);
    assert_eq!(contact_of_last("a:serve b:return b:speedup"), None);
}

#[test]
fn a_recorded_contact_overrides_what_would_follow() {
    for stroke in Stroke::ALL
        .iter()
        .filter(|stroke| **stroke != Stroke::Serve)
    {
        for contact in Contact::ALL {
            for before in ["", "a:serve", "a:serve b:return a:drop"] {
                let entries = format!("{before} b:{stroke}/{contact}");
                assert_eq!(contact_of_last(&entries), Some(*contact), "{entries}");
            }
        }
    }
}

#[test]
fn a_serve_has_no_contact_and_one_given_is_ignored() {
    // USA Pickleball rulebook 2026, 7.C and 7.D: a serve is struck out of the air
    // or after a drop; neither is a contact in the sense of a chart (our choice).
    for contact in Contact::ALL {
        assert_eq!(contact_of_last(&format!("a:serve/{contact}")), None);
        assert_eq!(contact_of_last(&format!("a:serve b:serve/{contact}")), None);
    }
}

#[test]
fn a_cue_without_a_shot_is_about_the_latest_one_of_the_rally() {
    check(
        "a:serve b:return !awkward note !net_cord",
        "1 2/bounce >2 - >2",
    );
}

#[test]
fn a_cue_may_be_about_an_older_shot_of_the_rally() {
    check(
        "a:serve b:return a:drop !awkward@e2",
        "1 2/bounce 3/bounce >2",
    );
}

#[test]
fn a_cue_outside_a_rally_has_no_shot() {
    check("!awkward", "-!no_shot");
    check("a:serve won=a !awkward", "1 - -!no_shot");
    check("a:serve replay !awkward a:serve", "1 - -!no_shot 1");
}

#[test]
fn a_cue_about_a_shot_of_an_earlier_rally_or_about_no_shot_has_none() {
    check("a:serve won=a b:serve !awkward@e1", "1 - 1 -!no_shot");
    check("a:serve note !awkward@e2", "1 - -!no_shot");
    check("a:serve !net_cord !awkward@e2", "1 >1 -!no_shot");
}

/// A rally that has been corrected: shots `s1`, `s2`, `s3`, then `corrections`.
#[track_caller]
fn check_corrected(corrections: &[Value], expected: &str) {
    let mut entries = vec![
        json!({"id": "s1", "kind": "shot", "team": "a", "stroke": "serve"}),
        json!({"id": "s2", "kind": "shot", "team": "b", "stroke": "return"}),
        json!({"id": "s3", "kind": "shot", "team": "a", "stroke": "speedup"}),
        json!({"id": "q1", "kind": "cue", "cue": "attackable", "shot": "s2"}),
    ];
    for (place, correction) in corrections.iter().enumerate() {
        let mut correction = correction.clone();
        correction["id"] = json!(format!("c{place}"));
        entries.push(correction);
    }
    assert_eq!(steps(entries), expected);
}

#[test]
fn a_rally_is_read_as_its_corrections_leave_it() {
    let shot = |team: &str, stroke: &str| json!({"kind": "shot", "team": team, "stroke": stroke});
    check_corrected(&[], "1 2/bounce 3/bounce >2");
    // Without the return one is assumed, and the cue about it has no shot.
    let retract = json!({"kind": "retract", "target": "s2"});
    check_corrected(&[retract], "1 +3/bounce!missed_shot -!no_shot");
    // A shot put in before the speedup makes it the fourth.
    let insert = json!({"kind": "insert", "after": "s1", "entry": shot("a", "drive")});
    check_corrected(&[insert], "1 +3/bounce!missed_shot 4 5 >4");
    // No shot any more: the cue has none.
    let amend = json!({"kind": "amend", "target": "s2", "with": {"kind": "note", "text": ""}});
    check_corrected(&[amend], "1 - +3/bounce!missed_shot -!no_shot");
}

#[test]
fn a_cue_can_be_about_an_inserted_shot() {
    let insert = json!({"kind": "insert", "after": "s3",
        "entry": {"kind": "shot", "team": "b", "stroke": "block"}});
    let cue = json!({"kind": "cue", "cue": "awkward", "shot": "c0"});
    check_corrected(&[insert, cue], "1 2/bounce 3/bounce 4/air >2 >4");
}

#[test]
fn a_cue_about_a_shot_that_comes_later_in_the_rally_has_none() {
    let insert = json!({"kind": "insert", "after": "s1",
        "entry": {"kind": "cue", "cue": "awkward", "shot": "s3"}});
    check_corrected(&[insert], "1 -!no_shot 2/bounce 3/bounce >2");
}
