//! Corrections worked out by hand: every sentence of the rules, in the short
//! form of [`script`].

use rallytide_chart::{At, Chart, Play, Seq};
use serde_json::{Value, json};

use crate::notation::{NOON, chart_of, object, script, shown};

/// Checks what remains of a chart after all its corrections.
#[track_caller]
fn check(entries: &str, effective: &str) {
    assert_eq!(shown(&chart_of(script(entries)).effective()), effective);
}

#[test]
fn a_chart_without_corrections_is_effective_as_it_is() {
    check("", "");
    check("x y z", "x y z");
}

#[test]
fn a_retracted_entry_never_happened() {
    check("x y z c=-y", "x z");
    check("x c=-x", "");
}

#[test]
fn an_amended_entry_was_really_something_else_and_keeps_its_place() {
    check("x y z c=y~new", "x y:new z");
}

#[test]
fn an_inserted_entry_stands_immediately_after_the_one_it_names() {
    check("x y i=x+i", "x i y");
    check("x y i=y+i", "x y i");
    check("x i=x+i y", "x i y");
}

#[test]
fn an_entry_inserted_after_null_stands_before_the_first_one() {
    check("x y i=^+i", "i x y");
    check("i=^+i", "i");
    check("i=^+i x", "i x");
}

#[test]
fn of_several_inserts_after_one_entry_the_later_stands_nearer_to_it() {
    check("x y i=x+i j=x+j k=x+k", "x k j i y");
    check("x i=^+i j=^+j", "j i x");
    check("x i=x+i y j=x+j", "x j i y");
}

#[test]
fn an_insert_can_be_inserted_after() {
    check("x y i=x+i j=i+j k=j+k", "x i j k y");
    check("x y i=x+i j=i+j k=i+k", "x i k j y");
    check("i=^+i j=i+j x", "i j x");
}

#[test]
fn what_was_inserted_after_an_insert_stays_with_it_when_another_comes_between() {
    check("x y i=x+i j=i+j k=x+k", "x k i j y");
    check("x y i=x+i k=x+k j=k+j l=i+l", "x k j i l y");
}

#[test]
fn an_insert_stays_where_its_neighbour_has_been_retracted() {
    check("x y z i=y+i c=-y", "x i z");
    check("x y z c=-y i=y+i", "x i z");
    check("x y i=x+i j=i+j c=-i", "x j y");
    check("x c=-x i=x+i j=x+j", "j i");
}

#[test]
fn an_insert_stays_where_its_neighbour_has_been_amended() {
    check("x y c=x~new i=x+i", "x:new i y");
}

#[test]
fn retracting_an_insert_removes_what_it_inserted() {
    check("x i=x+i y c=-i", "x y");
    check("x i=x+i j=x+j c=-j", "x i");
}

#[test]
fn an_insert_can_be_amended() {
    check("x i=x+wrong y c=i~right", "x i:right y");
    check("x i=^+wrong c=i~right", "i:right x");
}

#[test]
fn retracting_a_retract_undoes_it() {
    check("x y c=-x d=-c", "x y");
    check("x i=x+i c=-i d=-c", "x i");
}

#[test]
fn retracting_an_amend_undoes_it() {
    check("x c=x~new d=-c", "x");
    check("x i=x+old c=i~new d=-c", "x i:old");
}

#[test]
fn a_chain_of_retracts_turns_with_every_link() {
    check("x c=-x d=-c e=-d", "");
    check("x c=-x d=-c e=-d f=-e", "x");
    check("x c=x~new d=-c e=-d", "x:new");
    check("x c=x~new d=-c e=-d f=-e", "x");
}

#[test]
fn the_latest_correction_in_force_decides() {
    check("x c=x~one d=x~two", "x:two");
    check("x c=x~one d=x~two e=x~three", "x:three");
    check("x c=x~new d=-x", "");
}

#[test]
fn an_amend_after_a_retract_brings_the_entry_back_as_amended() {
    check("x y c=-x d=x~new", "x:new y");
    check("x i=x+old y c=-i d=i~new", "x i:new y");
}

#[test]
fn where_the_latest_correction_is_undone_the_one_before_decides() {
    check("x c=x~one d=x~two e=-d", "x:one");
    check("x c=-x d=x~new e=-d", "");
    check("x c=x~new d=-x e=-d", "x:new");
    check("x c=x~one d=x~two e=-d f=-c", "x");
    check("x c=x~one d=x~two e=-c", "x:two");
}

#[test]
fn an_entry_retracted_twice_comes_back_when_both_are_undone() {
    check("x c=-x d=-x", "");
    check("x c=-x d=-x e=-c", "");
    check("x c=-x d=-x e=-d", "");
    check("x c=-x d=-x e=-d f=-c", "x");
}

#[test]
fn a_correction_that_is_brought_back_keeps_its_place_in_the_file() {
    // `c` is in force again from the end of the file on, but `d` is still later.
    check("x c=x~one e=-c d=x~two f=-e", "x:two");
}

#[test]
fn a_retract_of_a_retract_can_be_retracted_twice_over() {
    // Either of `e` and `f` keeps `d` from undoing `c`.
    check("x c=-x d=-c e=-d f=-d", "");
    check("x c=-x d=-c e=-d f=-d g=-e", "");
    check("x c=-x d=-c e=-d f=-d g=-e h=-f", "x");
}

#[test]
fn an_entry_after_a_correction_follows_in_the_order_of_the_file() {
    check("x c=-x y d=y~new z", "y:new z");
}

fn correctable() -> Vec<Value> {
    vec![
        json!({"id": "x", "at": "2026-05-02T12:00:01.000Z", "kind": "shot", "team": "a",
               "stroke": "drive", "speed": 40}),
        json!({"id": "y", "at": "2026-05-02T12:00:02.000Z", "kind": "replay"}),
    ]
}

#[test]
fn an_amended_entry_keeps_id_time_and_position_and_loses_its_other_fields() {
    let amend = json!({"id": "c", "at": "2026-05-02T12:09:00.000Z", "kind": "amend",
        "target": "x", "by_whom": "referee",
        "with": {"kind": "shot", "team": "b", "stroke": "lob", "why": "seen on video"}});
    let effective = chart_of([correctable(), vec![amend]].concat()).effective();
    let [amended, _] = effective.as_slice() else {
        panic!("{effective:?}");
    };
    assert_eq!(amended.seq, Seq(1));
    assert_eq!(Some(amended.at), At::parse("2026-05-02T12:00:01.000Z"));
    assert!(!amended.inserted);
    let expected = json!({"id": "x", "at": "2026-05-02T12:00:01.000Z", "kind": "shot",
        "team": "b", "stroke": "lob", "why": "seen on video"});
    assert_eq!(amended.to_json(), object(expected));
}

#[test]
fn an_inserted_entry_takes_id_time_and_position_of_the_inserting_one() {
    let insert = json!({"id": "i", "at": "2026-05-02T12:09:00.000Z", "kind": "insert",
        "after": "x", "entry": {"kind": "note", "text": "late", "mood": "good"}});
    let effective = chart_of([correctable(), vec![insert]].concat()).effective();
    let [_, inserted, _] = effective.as_slice() else {
        panic!("{effective:?}");
    };
    assert_eq!(inserted.seq, Seq(3));
    assert_eq!(Some(inserted.at), At::parse("2026-05-02T12:09:00.000Z"));
    assert!(inserted.inserted);
    let expected = json!({"id": "i", "at": "2026-05-02T12:09:00.000Z", "kind": "note",
        "text": "late", "mood": "good"});
    assert_eq!(inserted.to_json(), object(expected));
}

#[test]
fn an_inserted_entry_that_is_amended_is_still_an_inserted_one() {
    let effective = chart_of(script("x i=x+old c=i~new")).effective();
    assert_eq!(shown(&effective), "x i:new");
    assert!(effective[1].inserted);
    assert_eq!(effective[1].seq, Seq(2));
}

#[test]
fn an_effective_entry_shows_id_and_time_first_and_keeps_unknown_fields() {
    let fields = json!({"kind": "note", "mood": "good", "text": "n", "id": "x", "at": NOON});
    let effective = chart_of([fields.clone()]).effective();
    let shown = effective[0].to_json();
    assert_eq!(shown, object(fields));
    let order: Vec<&str> = shown.keys().map(String::as_str).collect();
    assert_eq!(order, ["id", "at", "kind", "mood", "text"]);
}

#[test]
fn an_amend_may_turn_an_entry_into_another_kind() {
    let amend = json!({"id": "c", "kind": "amend", "target": "y",
        "with": {"kind": "rally_end", "won_by": "a"}});
    let effective = chart_of([correctable(), vec![amend]].concat()).effective();
    assert!(matches!(*effective[1].play, Play::RallyEnd(_)));
    assert_eq!(effective[1].id.as_str(), "y");
}

#[test]
fn nothing_is_erased_from_the_chart() {
    let entries = "x y c=-x d=y~new e=-d i=^+i";
    let chart = chart_of(script(entries));
    let kept: Vec<&str> = chart
        .entries()
        .iter()
        .map(|(_, entry)| entry.id.as_str())
        .collect();
    assert_eq!(kept, ["x", "y", "c", "d", "e", "i"]);
    assert_eq!(chart.last_seq(), Seq(6));
    assert_eq!(
        chart.entry("d").map(|entry| entry.is_correction()),
        Some(true)
    );
}

#[test]
fn the_revision_counts_corrections() {
    for (entries, revision) in [
        ("", 0),
        ("x y", 0),
        ("x c=-x", 1),
        ("x c=-x d=-c y i=^+i", 3),
    ] {
        assert_eq!(chart_of(script(entries)).revision(), revision, "{entries}");
    }
}

fn latest(chart: &Chart) -> Option<String> {
    chart.latest_effective().map(|entry| entry.id.to_string())
}

#[test]
fn only_an_entry_that_is_no_correction_is_the_latest_effective_one() {
    assert_eq!(latest(&chart_of(script(""))), None);
    assert_eq!(latest(&chart_of(script("x"))).as_deref(), Some("x"));
    assert_eq!(latest(&chart_of(script("x i=x+i"))), None);
    assert_eq!(latest(&chart_of(script("x i=x+i y"))).as_deref(), Some("y"));
}

#[test]
fn a_chain_as_long_as_a_chart_can_be_needs_no_deep_stack() {
    let mut inserts = vec!["n0".to_owned()];
    let mut retracts = vec!["n0".to_owned(), "n1=-n0".to_owned()];
    for place in 1..20_000 {
        inserts.push(format!("n{place}=n{}+n{place}", place - 1));
        retracts.push(format!("n{}=-n{place}", place + 1));
    }
    let effective = chart_of(script(&inserts.join(" "))).effective();
    assert_eq!(effective.len(), 20_000);
    assert_eq!(effective[19_999].id.as_str(), "n19999");
    // 20,000 retracts, each of the one before: the last is in force, so every
    // other one is not, the first among them.
    let effective = chart_of(script(&retracts.join(" "))).effective();
    assert_eq!(shown(&effective), "n0");
}
