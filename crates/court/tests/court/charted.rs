//! A match with everything derived from it.

use rallytide_chart::{Chart, Flag, Seq};
use rallytide_court::{ChartedMatch, Role};
use serde_json::Value;

use crate::support::{header, no_plugins, read, simulated, state, taken_one_by_one};

#[test]
fn a_match_that_took_its_corrections_live_shows_what_a_fresh_one_would() {
    for seed in 0..12 {
        let chart = simulated(seed);
        let live = taken_one_by_one(&chart);
        let fresh = ChartedMatch::from_chart(chart, no_plugins());
        assert_eq!(state(&live), state(&fresh), "seed {seed}");
    }
}

#[test]
fn at_every_correction_the_snapshot_sent_is_what_a_fresh_host_would_send() {
    let chart = simulated(3);
    let mut live = ChartedMatch::new(chart.header().as_ref().clone(), no_plugins());
    let mut so_far = Chart::new(chart.header().as_ref().clone());
    let mut corrections = 0;
    for (seq, entry) in chart.entries() {
        let change = live.take(*seq, entry.as_ref().clone(), None);
        so_far.push_at(*seq, entry.as_ref().clone());
        if entry.is_correction() {
            corrections += 1;
            let fresh = ChartedMatch::from_chart(so_far.clone(), no_plugins());
            let expected = fresh.snapshot(Some("corrected"));
            assert_eq!(
                change.message.text(Role::Booth),
                expected.text(Role::Booth),
                "after `{}`",
                entry.id
            );
        }
    }
    assert!(corrections > 0, "the simulated match holds corrections");
}

#[test]
fn updates_put_together_give_the_score_and_rally_of_the_snapshot() {
    let chart = simulated(5);
    let mut live = ChartedMatch::new(chart.header().as_ref().clone(), no_plugins());
    let mut seen: Value = serde_json::from_str(&state(&live)).unwrap();
    for (seq, entry) in chart.entries() {
        let change = live.take(*seq, entry.as_ref().clone(), None);
        let message: Value = serde_json::from_str(change.message.text(Role::Viewer)).unwrap();
        if message["type"] == "snapshot" {
            seen = message;
            continue;
        }
        if !message["score"].is_null() {
            seen["score"] = message["score"].clone();
        }
        apply_rally(&mut seen, &message);
        let now: Value = serde_json::from_str(&state(&live)).unwrap();
        assert_eq!(seen["score"], now["score"], "after `{}`", entry.id);
        for part in ["number", "shots", "end"] {
            assert_eq!(
                seen["rally"][part], now["rally"][part],
                "after `{}`",
                entry.id
            );
        }
    }
}

/// Puts a patch in as a page would.
fn apply_rally(seen: &mut Value, message: &Value) {
    let patch = &message["rally"];
    if patch.is_null() {
        return;
    }
    if seen["rally"]["number"] != patch["number"] {
        seen["rally"] = serde_json::json!({"number": patch["number"], "shots": [], "end": null});
    }
    let shots = seen["rally"]["shots"].as_array_mut().unwrap();
    for shot in patch["shots"].as_array().unwrap() {
        match shots.iter().position(|known| known["n"] == shot["n"]) {
            Some(place) => shots[place] = shot.clone(),
            None => shots.push(shot.clone()),
        }
    }
    if !patch["end"].is_null() {
        seen["rally"]["end"] = patch["end"].clone();
    }
}

#[test]
fn an_amended_entry_is_flagged_as_it_is_now() {
    let header = header("flags");
    let mut charted = ChartedMatch::new(header.clone(), no_plugins());
    let at = "2026-05-02T10:00:00.000Z";
    let mut take = |seq, text: String| charted.take(Seq(seq), read(&header, &text), None).flags;
    let shot = |id: &str, team: &str, stroke: &str| {
        format!(r#"{{"id":"{id}","at":"{at}","kind":"shot","team":"{team}","stroke":"{stroke}"}}"#)
    };
    assert_eq!(take(1, shot("s1", "b", "serve")), [Flag::ServeByReceivers]);
    assert_eq!(take(2, shot("s2", "b", "drive")), [Flag::MissedShot]);
    let amend = format!(
        r#"{{"id":"c1","at":"{at}","kind":"amend","target":"s1","with":{{"kind":"shot","team":"a","stroke":"serve"}}}}"#
    );
    assert_eq!(take(3, amend), []);
    let insert = format!(
        r#"{{"id":"c2","at":"{at}","kind":"insert","after":"s2","entry":{{"kind":"shot","team":"b","stroke":"drop"}}}}"#
    );
    assert_eq!(take(4, insert), [Flag::MissedShot]);
}

#[test]
fn an_entry_after_the_match_changes_neither_score_nor_rally() {
    let header = header("late");
    let mut charted = ChartedMatch::new(header.clone(), no_plugins());
    let end = |n: u64| {
        format!(
            r#"{{"id":"e{n}","at":"2026-05-02T10:00:00.000Z","kind":"rally_end","won_by":"a"}}"#
        )
    };
    for n in 1..=11 {
        charted.take(Seq(n), read(&header, &end(n)), None);
    }
    assert!(charted.score().is_over());
    let refused = charted.judge(&read(&header, &end(12))).unwrap_err();
    assert_eq!(refused.code().word(), "match_over");
    let before: Value = serde_json::from_str(&state(&charted)).unwrap();
    charted.take(Seq(12), read(&header, &end(12)), None);
    let after: Value = serde_json::from_str(&state(&charted)).unwrap();
    assert_eq!(before["score"], after["score"]);
    assert_eq!(before["rally"], after["rally"]);
}

#[test]
fn a_page_opened_during_a_time_out_is_told_of_it_until_play_goes_on() {
    let header = header("m1");
    let mut charted = ChartedMatch::new(header.clone(), no_plugins());
    let mut seq = 0;
    let mut between_after = |text: &str| {
        seq += 1;
        charted.take(Seq(seq), read(&header, text), None);
        let now: Value = serde_json::from_str(&state(&charted)).unwrap();
        now["between"]["id"].as_str().map(str::to_owned)
    };
    let at = r#""at":"2026-05-01T10:00:00.000Z""#;
    let end = format!(r#"{{"id":"e1",{at},"kind":"rally_end","won_by":"a"}}"#);
    assert_eq!(between_after(&end), None);
    let time_out = format!(r#"{{"id":"t1",{at},"kind":"time_out","team":"b","medical":true}}"#);
    assert_eq!(between_after(&time_out).as_deref(), Some("t1"));
    let note = format!(r#"{{"id":"n1",{at},"kind":"note","text":"ankle"}}"#);
    assert_eq!(between_after(&note).as_deref(), Some("t1"));
    let undone = format!(r#"{{"id":"r1",{at},"kind":"retract","target":"t1"}}"#);
    assert_eq!(between_after(&undone), None);
    let redone = format!(r#"{{"id":"r2",{at},"kind":"retract","target":"r1"}}"#);
    assert_eq!(between_after(&redone).as_deref(), Some("t1"));
    let serve = format!(r#"{{"id":"s1",{at},"kind":"shot","team":"a","stroke":"serve"}}"#);
    assert_eq!(between_after(&serve), None);
    let replay = format!(r#"{{"id":"p1",{at},"kind":"replay"}}"#);
    assert_eq!(between_after(&replay).as_deref(), Some("p1"));
}
