//! What stands in the host log, and what the host keeps open.

use rallytide_chart::Header;
use rallytide_court::{CannotDo, CourtName, Replace};
use tempfile::tempdir;

use crate::support::{block_on, entry, header, host};

#[test]
fn a_sheet_of_matches_is_one_record_so_that_no_half_of_it_can_be_found() {
    let folder = tempdir().unwrap();
    let courts = host(folder.path());
    let records = || {
        let log = std::fs::read_to_string(folder.path().join("_house.jsonl")).unwrap();
        log.lines().count()
    };
    let before = records();
    courts
        .plan(vec![header("m1"), header("m2"), header("m3")])
        .unwrap();
    assert_eq!(records(), before + 1);
    drop(courts);
    assert_eq!(host(folder.path()).matches().unwrap().len(), 3);
}

#[test]
fn a_header_too_deep_to_be_read_back_is_refused_and_not_lost_at_a_restart() {
    let nested = |depth: usize| {
        let lists = format!("{}{}", "[".repeat(depth), "]".repeat(depth));
        let mut source = header("m1").to_json().clone();
        source.insert("seating".into(), serde_json::from_str(&lists).unwrap());
        Header::from_json(source).unwrap()
    };
    let folder = tempdir().unwrap();
    let courts = host(folder.path());
    // JSON is read to a depth of 127 lists or objects within one another.
    let refused = courts.plan(vec![nested(126)]).unwrap_err();
    assert!(matches!(refused, CannotDo::TooDeep), "{refused:?}");
    assert!(refused.to_string().contains("too deeply"), "{refused}");
    courts.plan(vec![nested(100)]).unwrap();
    drop(courts);
    assert_eq!(host(folder.path()).matches().unwrap().len(), 1);
}

#[cfg(target_os = "linux")]
#[test]
fn the_log_of_a_match_that_has_left_its_court_is_closed() {
    let folder = tempdir().unwrap();
    let place = folder.path().canonicalize().unwrap();
    let open = || -> Vec<String> {
        let held = std::fs::read_dir("/proc/self/fd").unwrap();
        let held = held.filter_map(|one| std::fs::read_link(one.ok()?.path()).ok());
        let logs = held.filter(|file| file.starts_with(&place));
        let names = logs.filter_map(|file| Some(file.file_name()?.to_str()?.to_owned()));
        names.filter(|name| name.starts_with('m')).collect()
    };
    let courts = host(folder.path());
    let court = courts.court(&CourtName::new("1").unwrap()).unwrap();
    let note = |id: &str| {
        let text =
            format!(r#"{{"id":"{id}","at":"2026-05-02T10:00:00.000Z","kind":"note","text":"x"}}"#);
        let receipt = court.submit_by_desk(&court.match_id().unwrap(), entry(&text));
        block_on(receipt.unwrap().durable()).unwrap();
    };
    for id in ["m1", "m2", "m3"] {
        courts.plan(vec![header(id)]).unwrap();
        courts.start_by_desk(&court, id, Replace::Any).unwrap();
        note("n1");
        assert_eq!(open(), [format!("{id}.jsonl")]);
    }
    courts.remove_match(&court).unwrap();
    assert_eq!(open(), Vec::<String>::new());
    // Started again it is there as before, and takes entries.
    courts.start_by_desk(&court, "m1", Replace::Any).unwrap();
    note("n2");
    assert_eq!(open(), ["m1.jsonl"]);
}
