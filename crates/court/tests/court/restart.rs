//! A host that comes back finds everything as it was.

use rallytide_chart::{MatchId, Seq};
use rallytide_court::{CourtName, Role};

use crate::support::{charter, court_with, entries, header, host, simulated};

#[test]
fn after_a_restart_every_court_shows_what_it_showed() {
    let folder = tempfile::tempdir().unwrap();
    let chart = simulated(8);
    let shown = {
        let courts = host(folder.path());
        let court = court_with(&courts, "centre", chart.header());
        court_with(&courts, "2", &header("other"));
        for sent in entries(&chart) {
            court
                .submit(&charter("laptop"), &chart.header().id, sent)
                .unwrap();
        }
        court.now(Role::Booth)
    };
    let courts = host(folder.path());
    let names: Vec<String> = courts
        .all()
        .iter()
        .map(|one| one.name().to_string())
        .collect();
    assert_eq!(names, ["2", "centre"]);
    let court = courts.court(&CourtName::new("centre").unwrap()).unwrap();
    assert_eq!(court.now(Role::Booth), shown);
}

#[test]
fn a_client_that_comes_back_is_told_what_it_had_sent() {
    let folder = tempfile::tempdir().unwrap();
    let chart = simulated(8);
    let sent: Vec<_> = entries(&chart).into_iter().take(6).collect();
    {
        let courts = host(folder.path());
        let court = court_with(&courts, "1", chart.header());
        for (place, one) in sent.iter().enumerate() {
            let client = if place % 2 == 0 { "left" } else { "right" };
            court
                .submit(&charter(client), &chart.header().id, one.clone())
                .unwrap();
        }
    }
    let courts = host(folder.path());
    let court = courts.court(&CourtName::new("1").unwrap()).unwrap();
    let ids = |client: &str, after| -> Vec<String> {
        let ids = court.welcome(client, Seq(after)).ids;
        ids.iter().map(ToString::to_string).collect()
    };
    let id = |place: usize| sent[place]["id"].as_str().unwrap().to_owned();
    assert_eq!(ids("left", 0), [id(0), id(2), id(4)]);
    assert_eq!(ids("right", 2), [id(3), id(5)]);
    assert_eq!(court.match_id(), MatchId::new(chart.header().id.as_str()));
}

#[test]
fn a_host_whose_own_log_cannot_be_read_sets_it_aside_and_starts_with_every_match() {
    let folder = tempfile::tempdir().unwrap();
    {
        let courts = host(folder.path());
        court_with(&courts, "1", &header("kept"));
    }
    let log = folder.path().join("_house.jsonl");
    let mut bytes = std::fs::read(&log).unwrap();
    bytes[5] ^= 1;
    std::fs::write(&log, &bytes).unwrap();
    let courts = host(folder.path());
    assert!(courts.all().is_empty());
    let aside = folder.path().join("_house.jsonl.damaged-1");
    assert_eq!(std::fs::read(aside).unwrap(), bytes);
    let court = court_with(&courts, "2", &header("kept"));
    assert_eq!(court.match_id(), MatchId::new("kept"));
}

#[test]
fn what_the_disk_did_not_take_is_said_to_have_failed_and_works_once_it_does() {
    let folder = tempfile::tempdir().unwrap();
    drop(host(folder.path()));
    let courts = host(folder.path());
    let log = folder.path().join("_house.jsonl");
    let away = folder.path().join("away");
    std::fs::rename(&log, &away).unwrap();
    // A folder under the log's name cannot be opened for writing.
    std::fs::create_dir(&log).unwrap();
    courts.set_text_files(Some("x".into())).unwrap_err();
    courts.set_text_files(Some("x".into())).unwrap_err();
    assert_eq!(courts.text_files(), None);
    std::fs::remove_dir(&log).unwrap();
    std::fs::rename(&away, &log).unwrap();
    courts.set_text_files(Some("y".into())).unwrap();
    drop(courts);
    assert_eq!(host(folder.path()).text_files().as_deref(), Some("y"));
}
