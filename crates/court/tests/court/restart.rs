//! A host that comes back finds everything as it was.

use rallytide_chart::{MatchId, Seq};
use rallytide_court::{CourtName, Role};

use crate::support::{court_with, entries, header, host, simulated};

#[test]
fn after_a_restart_every_court_shows_what_it_showed() {
    let folder = tempfile::tempdir().unwrap();
    let chart = simulated(8);
    let shown = {
        let courts = host(folder.path());
        let court = court_with(&courts, "centre", chart.header());
        court_with(&courts, "2", &header("other"));
        for sent in entries(&chart) {
            court.submit("laptop", &chart.header().id, sent).unwrap();
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
                .submit(client, &chart.header().id, one.clone())
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
