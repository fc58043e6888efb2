//! What the desk does with matches and courts, and what a restart finds of it.

use rallytide_chart::Header;
use rallytide_court::{CannotDo, CourtName, Courts, EntryFate, MatchPhase, Replace, Role, Seat};
use serde_json::Value;
use tempfile::tempdir;

use crate::support::{charter, court_with, entry, header, host};

fn renamed(id: &str, name: &str) -> Header {
    let mut source = header(id).to_json().clone();
    source["teams"]["a"]["name"] = name.into();
    source["teams"]["a"]["color"] = "#0072B2".into();
    Header::from_json(source).unwrap()
}

fn state_of(courts: &Courts, id: &str) -> Option<MatchPhase> {
    let matches = courts.matches().unwrap();
    let one = matches.iter().find(|one| one.header.id.as_str() == id);
    one.map(|one| one.state)
}

fn court(courts: &Courts, name: &str) -> std::sync::Arc<rallytide_court::LiveCourt> {
    courts.court(&CourtName::new(name).unwrap()).unwrap()
}

fn now(court: &rallytide_court::LiveCourt) -> Value {
    serde_json::from_str(&court.now(Role::Viewer)).unwrap()
}

const NOTE: &str = r#"{"id":"n1","at":"2026-05-02T10:00:00.000Z","kind":"note","text":"x"}"#;

#[test]
fn a_planned_match_survives_a_restart_and_can_be_put_on_after_it() {
    let folder = tempdir().unwrap();
    host(folder.path()).plan(vec![header("m1")]).unwrap();
    let courts = host(folder.path());
    assert_eq!(state_of(&courts, "m1"), Some(MatchPhase::Planned));
    let court = court(&courts, "1");
    courts
        .start_by_desk(&court, "m1", Replace::OnlyFinished)
        .unwrap();
    assert_eq!(state_of(&courts, "m1"), Some(MatchPhase::On));
    let log = std::fs::read_to_string(folder.path().join("m1.jsonl")).unwrap();
    assert!(log.contains("Reed / Lund"));
}

#[test]
fn plans_are_taken_all_or_none() {
    let folder = tempdir().unwrap();
    let courts = host(folder.path());
    courts.plan(vec![header("m1")]).unwrap();
    for taken in ["m1", "M1", "_house"] {
        let refused = courts.plan(vec![header("m2"), header(taken)]);
        assert!(matches!(refused, Err(CannotDo::IdTaken { .. })), "{taken}");
        assert_eq!(state_of(&courts, "m2"), None);
    }
}

#[test]
fn a_planned_match_can_be_given_up_and_one_that_was_begun_cannot() {
    let folder = tempdir().unwrap();
    let courts = host(folder.path());
    courts.plan(vec![header("m1"), header("m2")]).unwrap();
    courts.remove_planned("m1").unwrap();
    assert_eq!(state_of(&courts, "m1"), None);
    let court = court(&courts, "1");
    courts
        .start_by_desk(&court, "m2", Replace::OnlyFinished)
        .unwrap();
    assert!(matches!(
        courts.remove_planned("m2"),
        Err(CannotDo::Begun { .. })
    ));
    assert!(matches!(
        courts.remove_planned("m3"),
        Err(CannotDo::UnknownMatch { .. })
    ));
}

#[test]
fn new_words_for_a_begun_match_are_shown_and_survive_while_its_log_stays() {
    let folder = tempdir().unwrap();
    {
        let courts = host(folder.path());
        let court = court_with(&courts, "1", &header("m1"));
        let id = court.match_id().unwrap();
        court.submit(&charter("left"), &id, entry(NOTE)).unwrap();
        let before = std::fs::read(folder.path().join("m1.jsonl"));
        courts.give_header(&renamed("m1", "Ebb / Flow")).unwrap();
        assert_eq!(now(&court)["match"]["teams"]["a"]["name"], "Ebb / Flow");
        assert_eq!(now(&court)["seq"], 1);
        drop(before);
    }
    let courts = host(folder.path());
    let court = court(&courts, "1");
    assert_eq!(now(&court)["match"]["teams"]["a"]["color"], "#0072B2");
    let log = std::fs::read_to_string(folder.path().join("m1.jsonl")).unwrap();
    assert!(log.contains("Reed / Lund") && !log.contains("Ebb / Flow"));
    let chart = courts.chart_of("m1").unwrap();
    assert_eq!(chart.header().teams.a.name, "Ebb / Flow");
    // A client that says hello with either header means the same match.
    for same in [header("m1"), renamed("m1", "Ebb / Flow")] {
        courts
            .start_by_charter(&court, same, Replace::OnlyFinished)
            .unwrap();
    }
    let other = renamed("m1", "Somebody else");
    assert!(
        courts
            .start_by_charter(&court, other, Replace::OnlyFinished)
            .is_err()
    );
}

#[test]
fn the_format_of_a_begun_match_stays() {
    let folder = tempdir().unwrap();
    let courts = host(folder.path());
    let longer = |id: &str| {
        let mut source = header(id).to_json().clone();
        source["format"]["points"] = 15.into();
        Header::from_json(source).unwrap()
    };
    court_with(&courts, "1", &header("begun"));
    courts.plan(vec![header("planned")]).unwrap();
    courts.give_header(&longer("planned")).unwrap();
    let refused = courts.give_header(&longer("begun")).unwrap_err();
    assert!(refused.to_string().contains("`format.points`"), "{refused}");
}

#[test]
fn a_match_that_the_desk_took_off_comes_back_by_the_desk_alone() {
    let folder = tempdir().unwrap();
    let courts = host(folder.path());
    let court = court_with(&courts, "1", &header("m1"));
    let id = court.match_id().unwrap();
    court.submit(&charter("left"), &id, entry(NOTE)).unwrap();
    courts.remove_match(&court).unwrap();
    assert_eq!(state_of(&courts, "m1"), Some(MatchPhase::PutAside));
    assert_eq!(now(&court)["match"], Value::Null);
    let again = courts.start_by_charter(&court, header("m1"), Replace::OnlyFinished);
    assert!(matches!(again, Err(CannotDo::RemovedByDesk { .. })));
    courts
        .start_by_desk(&court, "m1", Replace::OnlyFinished)
        .unwrap();
    assert_eq!(now(&court)["seq"], 1);
    let repeat = court.submit(&charter("left"), &id, entry(NOTE)).unwrap();
    assert_eq!(repeat.accepted.seq.0, 1);
}

#[test]
fn a_match_being_played_gives_way_to_the_desk_only_if_it_says_so() {
    let folder = tempdir().unwrap();
    let courts = host(folder.path());
    let court = court_with(&courts, "1", &header("m1"));
    let id = court.match_id().unwrap();
    court.submit(&charter("left"), &id, entry(NOTE)).unwrap();
    courts.plan(vec![header("m2")]).unwrap();
    let refused = courts.start_by_desk(&court, "m2", Replace::OnlyFinished);
    assert!(matches!(refused, Err(CannotDo::BeingPlayed { .. })));
    courts.start_by_desk(&court, "m2", Replace::Any).unwrap();
    assert_eq!(state_of(&courts, "m1"), Some(MatchPhase::PutAside));
    // The charter of the match before does not bring it back unasked.
    let back = courts.start_by_charter(&court, header("m1"), Replace::OnlyFinished);
    assert!(back.is_err());
}

#[test]
fn a_match_just_set_up_stays_when_a_laptop_comes_back_with_another_one() {
    let folder = tempdir().unwrap();
    let courts = host(folder.path());
    let court = court_with(&courts, "1", &header("old"));
    courts.plan(vec![header("new")]).unwrap();
    courts
        .start_by_desk(&court, "new", Replace::OnlyFinished)
        .unwrap();
    // One that was on this court before, and one charted without the host.
    for id in ["old", "offline"] {
        let back = courts.start_by_charter(&court, header(id), Replace::OnlyFinished);
        back.unwrap_err();
        assert_eq!(court.match_id().unwrap().as_str(), "new");
    }
    let told = courts.start_by_charter(&court, header("offline"), Replace::OnlyFinished);
    assert!(told.unwrap_err().to_string().contains("ask the desk"));
    // Not even where its charter says so: what the desk has started is the desk's.
    let pushed = courts.start_by_charter(&court, header("offline"), Replace::Any);
    assert!(matches!(pushed, Err(CannotDo::StartedByDesk { .. })));
    assert_eq!(court.match_id().unwrap().as_str(), "new");
}

#[test]
fn a_charters_empty_match_gives_way_to_a_new_one_and_not_to_an_old_one() {
    let folder = tempdir().unwrap();
    let courts = host(folder.path());
    let court = court_with(&courts, "1", &header("misspelt"));
    courts
        .start_by_charter(&court, header("spelt"), Replace::OnlyFinished)
        .unwrap();
    let back = courts.start_by_charter(&court, header("misspelt"), Replace::OnlyFinished);
    assert!(matches!(back, Err(CannotDo::SetUp { .. })));
}

#[test]
fn a_pause_is_said_by_every_message_until_play_goes_on_and_survives_a_restart() {
    let folder = tempdir().unwrap();
    {
        let courts = host(folder.path());
        let court = court_with(&courts, "1", &header("m1"));
        courts.pause(&court, true).unwrap();
        assert_eq!(now(&court)["paused"], true);
        let id = court.match_id().unwrap();
        court.submit(&charter("left"), &id, entry(NOTE)).unwrap();
        assert_eq!(now(&court)["paused"], true);
    }
    let courts = host(folder.path());
    let court = court(&courts, "1");
    assert_eq!(now(&court)["paused"], true);
    courts.pause(&court, false).unwrap();
    assert_eq!(now(&court).get("paused"), None);
}

#[test]
fn a_match_declared_over_is_finished_until_that_is_taken_back() {
    let folder = tempdir().unwrap();
    let courts = host(folder.path());
    let court = court_with(&courts, "1", &header("m1"));
    courts.declare_over(&court, true).unwrap();
    assert_eq!(state_of(&courts, "m1"), Some(MatchPhase::Finished));
    courts.declare_over(&court, false).unwrap();
    assert_eq!(state_of(&courts, "m1"), Some(MatchPhase::On));
}

#[test]
fn only_an_empty_court_that_nobody_looks_at_is_closed() {
    let folder = tempdir().unwrap();
    let courts = host(folder.path());
    let name = CourtName::new("1").unwrap();
    let court = court_with(&courts, "1", &header("m1"));
    assert!(matches!(courts.close(&name), Err(CannotDo::OnCourt { .. })));
    courts.remove_match(&court).unwrap();
    let (_, viewer) = court.watch(Role::Viewer, None, None);
    assert!(matches!(
        courts.close(&name),
        Err(CannotDo::CourtInUse { pages: 1, .. })
    ));
    drop(viewer);
    courts.close(&name).unwrap();
    assert!(courts.all().is_empty());
    assert!(matches!(
        courts.close(&name),
        Err(CannotDo::UnknownCourt { .. })
    ));
}

#[test]
fn the_desk_records_whoever_has_the_seat_and_a_retract_undoes_it() {
    let folder = tempdir().unwrap();
    let courts = host(folder.path());
    let court = court_with(&courts, "1", &header("m1"));
    let id = court.match_id().unwrap();
    let charters = court.charters();
    charters.arrive(
        1,
        Seat::Chart,
        "left",
        rallytide_court::Arrival::TakesOver,
        0,
    );
    let fix = r#"{"id":"f1","at":"2026-05-02T10:00:00.000Z","kind":"score_fix",
        "points":{"a":5,"b":3},"serving":"a"}"#;
    assert!(court.submit(&charter("right"), &id, entry(fix)).is_err());
    let preview = court
        .preview(vec![serde_json::from_str(fix).unwrap()])
        .unwrap();
    assert_eq!(preview.score_after["points"]["a"], 5);
    assert_eq!(now(&court)["score"]["points"]["a"], 0);
    court.submit_by_desk(&id, entry(fix)).unwrap();
    assert_eq!(now(&court)["score"], preview.score_after);
    let undo = r#"{"id":"u1","at":"2026-05-02T10:00:01.000Z","kind":"retract","target":"f1"}"#;
    court.submit_by_desk(&id, entry(undo)).unwrap();
    assert_eq!(now(&court)["score"], preview.score_before);
    let told = court
        .with_match(|charted| charted.listed(None, 50))
        .unwrap();
    assert_eq!(told.len(), 1);
    assert_eq!(told[0].fate, EntryFate::Retracted);
    assert_eq!(told[0].correction.as_deref(), Some("u1"));
}
