//! A court with its log and its viewers.

use rallytide_chart::{MatchId, RefusalCode, Seq};
use rallytide_court::{CannotDo, Replace, Role, ViewerStart};
use serde_json::Value;

use crate::support::{block_on, charter, court_with, entries, entry, header, host, simulated};

fn serve(id: &str) -> serde_json::Map<String, Value> {
    entry(&format!(
        r#"{{"id":"{id}","at":"2026-05-02T10:00:00.000Z","kind":"shot","team":"a","stroke":"serve"}}"#
    ))
}

#[test]
fn the_same_entry_again_gets_its_first_position() {
    let folder = tempfile::tempdir().unwrap();
    let courts = host(folder.path());
    let court = court_with(&courts, "1", &header("again"));
    let id = MatchId::new("again").unwrap();
    let first = court.submit(&charter("laptop"), &id, serve("s1")).unwrap();
    court.submit(&charter("laptop"), &id, serve("s2")).unwrap();
    let again = court.submit(&charter("laptop"), &id, serve("s1")).unwrap();
    assert_eq!((first.accepted.seq, again.accepted.seq), (Seq(1), Seq(1)));
    assert_eq!(block_on(again.durable()).unwrap().seq, Seq(1));
}

#[test]
fn a_refused_entry_leaves_no_trace() {
    let folder = tempfile::tempdir().unwrap();
    let courts = host(folder.path());
    let court = court_with(&courts, "1", &header("clean"));
    let id = MatchId::new("clean").unwrap();
    let before = court.now(Role::Booth);
    let bad = entry(r#"{"id":"x","at":"2026-05-02T10:00:00.000Z","kind":"retract","target":"y"}"#);
    let refused = court.submit(&charter("laptop"), &id, bad).unwrap_err();
    assert!(
        matches!(&refused, CannotDo::Refused(refusal) if refusal.code() == RefusalCode::BadCorrection),
        "{refused}"
    );
    assert_eq!(court.now(Role::Booth), before);
    assert_eq!(
        court
            .submit(&charter("laptop"), &id, serve("s1"))
            .unwrap()
            .accepted
            .seq,
        Seq(1)
    );
}

#[test]
fn an_entry_for_a_match_that_is_no_longer_on_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let courts = host(folder.path());
    let court = court_with(&courts, "1", &header("first"));
    let first = MatchId::new("first").unwrap();
    court
        .submit(&charter("laptop"), &first, serve("s1"))
        .unwrap();
    let busy = courts
        .start_by_charter(&court, header("second"), Replace::OnlyFinished)
        .unwrap_err();
    assert!(matches!(busy, CannotDo::BeingPlayed { .. }));
    courts
        .start_by_charter(&court, header("second"), Replace::Any)
        .unwrap();
    let refused = court
        .submit(&charter("laptop"), &first, serve("s2"))
        .unwrap_err();
    assert!(matches!(refused, CannotDo::OtherMatch { .. }));
}

#[test]
fn a_viewer_sees_every_change_in_order_and_can_come_back_where_it_was() {
    let folder = tempfile::tempdir().unwrap();
    let courts = host(folder.path());
    let chart = simulated(2);
    let court = court_with(&courts, "1", chart.header());
    let id = chart.header().id.clone();
    let (start, mut viewer) = court.watch(Role::Viewer, None, None);
    assert!(matches!(start, ViewerStart::Snapshot(_)));
    let entries = entries(&chart);
    for sent in &entries[..20] {
        court.submit(&charter("laptop"), &id, sent.clone()).unwrap();
        let text = block_on(viewer.next(&court)).unwrap();
        let message: Value = serde_json::from_str(&text).unwrap();
        assert!(message["seq"].as_u64().is_some());
    }
    let (start, mut back) = court.watch(Role::Viewer, Some(18), Some(id.as_str()));
    assert!(matches!(start, ViewerStart::Resumed));
    let missed: Value = serde_json::from_str(&block_on(back.next(&court)).unwrap()).unwrap();
    assert_eq!(missed["seq"], 19);
    let (other, _) = court.watch(Role::Viewer, Some(18), Some("another-match"));
    assert!(
        matches!(other, ViewerStart::Snapshot(_)),
        "a position of another match means nothing"
    );
}

#[test]
fn a_viewer_that_does_not_read_is_sent_the_state_of_the_moment() {
    let folder = tempfile::tempdir().unwrap();
    let courts = host(folder.path());
    let chart = simulated(2);
    let court = court_with(&courts, "1", chart.header());
    let id = chart.header().id.clone();
    let (_, mut sleepy) = court.watch(Role::Viewer, None, None);
    let entries = entries(&chart);
    assert!(entries.len() > 300, "longer than the ring");
    for sent in entries {
        court.submit(&charter("laptop"), &id, sent).unwrap();
    }
    let text = block_on(sleepy.next(&court)).unwrap();
    assert_eq!(text, court.now(Role::Viewer));
}

#[test]
fn other_plugins_come_in_with_one_snapshot_and_no_entry_lost() {
    let folder = tempfile::tempdir().unwrap();
    let courts = host(folder.path());
    let chart = simulated(4);
    let court = court_with(&courts, "1", chart.header());
    let id = chart.header().id.clone();
    for sent in entries(&chart) {
        court.submit(&charter("laptop"), &id, sent).unwrap();
    }
    let before: Value = serde_json::from_str(&court.now(Role::Booth)).unwrap();
    let (_, mut viewer) = court.watch(Role::Viewer, None, None);
    courts.change_plugins(&crate::support::no_plugins());
    let text = block_on(viewer.next(&court)).unwrap();
    let after: Value = serde_json::from_str(&text).unwrap();
    assert_eq!(after["reason"], "plugins");
    let revision = |snapshot: &Value| snapshot["revision"].as_u64().unwrap();
    assert_eq!(revision(&after), revision(&before) + 1);
    for part in ["seq", "score", "rally", "readings", "match"] {
        assert_eq!(after[part], before[part], "{part}");
    }
    assert_eq!(
        court.welcome("laptop", Seq(0)).ids.len(),
        chart.entries().len()
    );
}
