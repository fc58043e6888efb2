//! The log on real files: the format, recovery after a cut, the lock of the
//! folder, errors of the disk, many writers at once.

#![expect(
    clippy::unwrap_used,
    reason = "the lint knows tests by their attribute, this file has helpers too"
)]

use std::fs;
use std::path::Path;
use std::sync::Arc;
use std::thread;

use rallytide_bus::{
    Bus, BusError, Clock, DamagePlace, EmbeddedBus, Flaw, Opened, Timestamp, TopicName,
};
use tempfile::TempDir;

const HEAD: &str = r#"{"kind":"match","id":"pier-cup-final"}"#;

fn clock() -> Clock {
    Arc::new(|| "2026-05-02T09:00:00.250Z".parse().unwrap())
}

fn start(folder: &Path) -> EmbeddedBus {
    EmbeddedBus::start(folder, clock()).unwrap()
}

fn topic(name: &str) -> TopicName {
    TopicName::new(name).unwrap()
}

fn text(number: u64) -> String {
    format!(r#"{{"id":"e{number}","kind":"note","text":"something of some length"}}"#)
}

/// The bytes of a log with `count` records.
fn log_bytes(count: u64) -> Vec<u8> {
    let folder = TempDir::new().unwrap();
    let bus = start(folder.path());
    bus.create(&topic("t"), HEAD).unwrap();
    for number in 1..=count {
        let _ = bus.append(&topic("t"), &text(number)).unwrap();
    }
    bus.shutdown();
    fs::read(folder.path().join("t.jsonl")).unwrap()
}

#[track_caller]
fn assert_holds(opened: &Opened, texts: &[String]) {
    let read: Vec<&str> = opened.records.iter().map(|r| r.text.as_str()).collect();
    assert_eq!(read, texts);
    let numbers: Vec<u64> = opened.records.iter().map(|r| r.seq).collect();
    assert_eq!(numbers, (1..=texts.len() as u64).collect::<Vec<_>>());
    assert_eq!(opened.head, HEAD);
}

#[test]
fn a_log_reads_back_what_was_appended() {
    let folder = TempDir::new().unwrap();
    let bus = start(folder.path());
    bus.create(&topic("final"), HEAD).unwrap();
    let first = bus.append(&topic("final"), &text(1)).unwrap();
    let second = bus.append(&topic("final"), "{}").unwrap();
    assert_eq!((first.seq, second.seq), (1, 2));
    let expected = [text(1), "{}".to_owned()];
    // Once while it is open, once by another engine.
    assert_holds(&bus.open(&topic("final")).unwrap(), &expected);
    drop(bus);
    let bus = start(folder.path());
    let opened = bus.open(&topic("final")).unwrap();
    assert_holds(&opened, &expected);
    assert_eq!(opened.damage, []);
    let received: Timestamp = "2026-05-02T09:00:00.250Z".parse().unwrap();
    assert_eq!(opened.records[0].received, received);
    assert_eq!(bus.append(&topic("final"), "{}").unwrap().seq, 3);
}

#[test]
fn the_file_is_lines_of_json_with_our_fields_last() {
    let bytes = log_bytes(2);
    let file = String::from_utf8(bytes).unwrap();
    let lines: Vec<&str> = file.lines().collect();
    assert_eq!(lines.len(), 3);
    assert!(lines[0].starts_with(r#"{"kind":"match","id":"pier-cup-final","crc":""#));
    let second = text(2);
    let own = second.strip_suffix('}').unwrap();
    let expected = format!(r#"{own},"seq":2,"received":"2026-05-02T09:00:00.250Z","crc":""#);
    assert!(lines[2].starts_with(&expected), "{}", lines[2]);
    assert!(file.ends_with("\"}\n"));
}

/// Every line border with a byte on either side, and every 17th byte; the unit
/// tests of the engine cut at every byte, on a disk that is quicker.
#[test]
fn a_file_cut_in_its_end_gives_the_intact_prefix_and_goes_on() {
    let whole = log_bytes(9);
    let ends: Vec<usize> = (0..=9).map(|count| log_bytes(count).len()).collect();
    let near_a_border = |cut: usize| ends.iter().any(|end| end.abs_diff(cut) <= 1);
    let cuts: Vec<usize> = (whole.len() - 900..whole.len())
        .filter(|&cut| cut % 17 == 0 || near_a_border(cut))
        .collect();
    let folder = TempDir::new().unwrap();
    for &cut in &cuts {
        let path = folder.path().join(format!("cut-{cut}.jsonl"));
        fs::write(path, &whole[..cut]).unwrap();
    }
    let intact = |cut: usize| ends.iter().filter(|&&end| end <= cut).count() as u64 - 1;

    let bus = start(folder.path());
    for &cut in &cuts {
        let name = topic(&format!("cut-{cut}"));
        let opened = bus.open(&name).unwrap();
        let kept = intact(cut);
        assert_holds(&opened, &(1..=kept).map(text).collect::<Vec<_>>());
        let sound = ends.contains(&cut);
        assert_eq!(opened.damage.is_empty(), sound, "cut at {cut}");
        let appended = bus.append(&name, &text(kept + 1)).unwrap();
        assert_eq!(appended.seq, kept + 1, "cut at {cut}");
    }
    drop(bus);

    let bus = start(folder.path());
    for cut in cuts {
        let opened = bus.open(&topic(&format!("cut-{cut}"))).unwrap();
        let kept = intact(cut) + 1;
        assert_holds(&opened, &(1..=kept).map(text).collect::<Vec<_>>());
        assert_eq!(opened.damage, [], "cut at {cut}");
    }
}

#[test]
fn what_is_cut_off_is_set_aside_first() {
    let folder = TempDir::new().unwrap();
    let (whole, sound) = (log_bytes(3), log_bytes(2).len());
    let path = folder.path().join("t.jsonl");
    fs::write(&path, &whole[..whole.len() - 5]).unwrap();
    let bus = start(folder.path());
    bus.open(&topic("t")).unwrap();
    // Only reading it has changed nothing.
    assert_eq!(fs::read(&path).unwrap(), whole[..whole.len() - 5]);
    let appended = bus.append(&topic("t"), &text(3)).unwrap();
    appended.ticket.wait().unwrap();
    assert_eq!(fs::read(&path).unwrap(), whole);
    let mut torn = whole[sound..whole.len() - 5].to_vec();
    torn.push(b'\n');
    assert_eq!(fs::read(folder.path().join("t.jsonl.torn")).unwrap(), torn);
    let appended = bus.append(&topic("t"), &text(4)).unwrap();
    appended.ticket.wait().unwrap();
    assert_eq!(fs::read(folder.path().join("t.jsonl.torn")).unwrap(), torn);
    assert_eq!(bus.topics().unwrap(), [topic("t")]);
}

#[test]
fn a_tail_of_zeros_is_reported_and_cut_off() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("t.jsonl");
    let mut bytes = log_bytes(2);
    bytes.extend([0; 4096]);
    fs::write(&path, bytes).unwrap();
    let bus = start(folder.path());
    let opened = bus.open(&topic("t")).unwrap();
    assert_holds(&opened, &[text(1), text(2)]);
    assert_eq!(opened.damage.len(), 1);
    assert_eq!(opened.damage[0].place, DamagePlace::Tail);
    assert_eq!(opened.damage[0].length, 4096);
    let appended = bus.append(&topic("t"), &text(3)).unwrap();
    appended.ticket.wait().unwrap();
    assert_eq!(fs::read(&path).unwrap(), log_bytes(3));
}

#[test]
fn a_bad_record_in_the_middle_is_reported_and_stays_in_the_file() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("t.jsonl");
    let mut bytes = log_bytes(4);
    let start_of_second = log_bytes(1).len();
    bytes[start_of_second + 20] ^= 1;
    fs::write(&path, &bytes).unwrap();
    let bus = start(folder.path());
    let opened = bus.open(&topic("t")).unwrap();
    let numbers: Vec<u64> = opened.records.iter().map(|r| r.seq).collect();
    assert_eq!(numbers, [1, 3, 4]);
    let damage = &opened.damage[0];
    assert_eq!((damage.line, damage.offset), (3, start_of_second as u64));
    assert_eq!(damage.place, DamagePlace::Middle);
    assert!(matches!(damage.flaw, Flaw::WrongChecksum { .. }));
    assert_eq!(opened.damage.len(), 1);
    let appended = bus.append(&topic("t"), &text(5)).unwrap();
    assert_eq!(appended.seq, 5);
    appended.ticket.wait().unwrap();
    assert!(fs::read(&path).unwrap().starts_with(&bytes));
}

#[test]
fn a_log_whose_head_is_damaged_is_refused_and_left_alone() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("t.jsonl");
    let sound = log_bytes(1);
    let mut flipped = sound.clone();
    flipped[5] ^= 1;
    for bytes in [&b""[..], &sound[..10], &flipped, b"{\"kind\":\"match\"}\n"] {
        fs::write(&path, bytes).unwrap();
        let bus = start(folder.path());
        let error = bus.open(&topic("t")).unwrap_err();
        assert!(matches!(error, BusError::DamagedHead { .. }), "{error}");
        assert!(error.to_string().contains(path.to_str().unwrap()));
        assert!(bus.append(&topic("t"), "{}").is_err());
        assert_eq!(fs::read(&path).unwrap(), bytes);
    }
}

#[test]
fn a_second_engine_on_a_folder_is_refused_until_the_first_is_gone() {
    let folder = TempDir::new().unwrap();
    let first = start(folder.path());
    let refused = EmbeddedBus::start(folder.path(), clock()).err().unwrap();
    assert!(matches!(refused, BusError::Locked { .. }), "{refused}");
    let said = refused.to_string();
    assert!(said.contains(folder.path().to_str().unwrap()), "{said}");
    assert!(refused.hint().unwrap().contains("stop the other host"));
    first.shutdown();
    start(folder.path());
}

#[test]
fn a_missing_folder_is_said_to_be_missing() {
    let folder = TempDir::new().unwrap();
    let missing = folder.path().join("not-there");
    let refused = EmbeddedBus::start(&missing, clock()).err().unwrap();
    assert!(matches!(refused, BusError::NoFolder { .. }), "{refused}");
    assert!(refused.to_string().contains("not-there"));
}

#[test]
fn a_file_in_place_of_the_folder_is_refused_with_the_cause() {
    let folder = TempDir::new().unwrap();
    let file = folder.path().join("file");
    fs::write(&file, "").unwrap();
    let refused = EmbeddedBus::start(&file, clock()).err().unwrap();
    assert!(matches!(refused, BusError::Disk { .. }), "{refused}");
    assert!(std::error::Error::source(&refused).is_some());
}

#[test]
fn a_folder_in_place_of_a_log_is_refused_with_the_cause() {
    let folder = TempDir::new().unwrap();
    fs::create_dir(folder.path().join("t.jsonl")).unwrap();
    let bus = start(folder.path());
    let error = bus.open(&topic("t")).unwrap_err();
    assert!(error.to_string().starts_with("could not read the log `"));
    assert!(std::error::Error::source(&error).is_some());
    let error = bus.create(&topic("t"), HEAD).unwrap_err();
    assert!(matches!(error, BusError::Exists { .. }), "{error}");
}

#[test]
fn a_topic_is_created_once() {
    let folder = TempDir::new().unwrap();
    let bus = start(folder.path());
    bus.create(&topic("t"), HEAD).unwrap();
    let appended = bus.append(&topic("t"), &text(1)).unwrap();
    appended.ticket.wait().unwrap();
    let refused = bus.create(&topic("t"), "{}").unwrap_err();
    assert!(matches!(refused, BusError::Exists { .. }), "{refused}");
    assert_holds(&bus.open(&topic("t")).unwrap(), &[text(1)]);
}

#[test]
fn a_topic_that_is_not_there_or_not_open_is_said_to_be_so() {
    let folder = TempDir::new().unwrap();
    let bus = start(folder.path());
    let error = bus.open(&topic("t")).unwrap_err();
    assert!(matches!(error, BusError::NotFound { .. }), "{error}");
    let error = bus.append(&topic("t"), "{}").unwrap_err();
    assert!(matches!(error, BusError::NotOpen { .. }), "{error}");
    let error = bus.durable(&topic("t"), 1).unwrap_err();
    assert!(matches!(error, BusError::NotOpen { .. }), "{error}");
}

#[test]
fn unfit_text_is_refused_and_uses_no_number() {
    let folder = TempDir::new().unwrap();
    let bus = start(folder.path());
    let error = bus.create(&topic("t"), "[]").unwrap_err();
    assert!(matches!(error, BusError::Unfit { .. }), "{error}");
    bus.create(&topic("t"), HEAD).unwrap();
    for unfit in ["{\"a\":\n1}", "", r#"{"seq":1}"#] {
        let error = bus.append(&topic("t"), unfit).unwrap_err();
        assert!(matches!(error, BusError::Unfit { .. }), "{error}");
    }
    assert_eq!(bus.append(&topic("t"), "{}").unwrap().seq, 1);
}

#[test]
fn the_topics_are_the_log_files_of_the_folder_sorted() {
    let folder = TempDir::new().unwrap();
    let bus = start(folder.path());
    for name in ["b", "a", "C-1"] {
        bus.create(&topic(name), HEAD).unwrap();
    }
    for other in ["notes.txt", "x.jsonl.tmp", "no topic.jsonl", ".jsonl"] {
        fs::write(folder.path().join(other), "").unwrap();
    }
    let names: Vec<String> = bus
        .topics()
        .unwrap()
        .iter()
        .map(ToString::to_string)
        .collect();
    assert_eq!(names, ["C-1", "a", "b"]);
}

#[test]
fn a_file_left_from_a_creation_cut_short_is_in_nobodys_way() {
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("t.jsonl.tmp"), "{\"kind\":\"mat").unwrap();
    let bus = start(folder.path());
    bus.create(&topic("t"), HEAD).unwrap();
    assert_holds(&bus.open(&topic("t")).unwrap(), &[]);
    assert!(!folder.path().join("t.jsonl.tmp").exists());
}

#[test]
fn many_writers_get_distinct_numbers_in_the_order_of_the_file() {
    const WRITERS: u64 = 8;
    const EACH: u64 = 200;
    let folder = TempDir::new().unwrap();
    let bus = start(folder.path());
    bus.create(&topic("t"), HEAD).unwrap();
    let mut given: Vec<(u64, String)> = thread::scope(|scope| {
        let bus = &bus;
        let writers: Vec<_> = (0..WRITERS)
            .map(|writer| {
                scope.spawn(move || {
                    let append = |number| {
                        let text = text(writer * 10_000 + number);
                        let appended = bus.append(&topic("t"), &text).unwrap();
                        appended.ticket.wait().unwrap();
                        (appended.seq, text)
                    };
                    (0..EACH).map(append).collect::<Vec<_>>()
                })
            })
            .collect();
        let given = writers.into_iter().map(|writer| writer.join().unwrap());
        given
            .inspect(|own| assert!(own.is_sorted_by_key(|(seq, _)| *seq)))
            .flatten()
            .collect()
    });
    given.sort();
    let opened = bus.open(&topic("t")).unwrap();
    let texts: Vec<String> = given.into_iter().map(|(_, text)| text).collect();
    assert_eq!(texts.len() as u64, WRITERS * EACH);
    assert_holds(&opened, &texts);
}

#[tokio::test]
async fn a_ticket_can_be_awaited() {
    let folder = TempDir::new().unwrap();
    let bus: Arc<dyn Bus> = Arc::new(start(folder.path()));
    bus.create(&topic("t"), HEAD).unwrap();
    let appended = bus.append(&topic("t"), &text(1)).unwrap();
    let resent = bus.durable(&topic("t"), appended.seq).unwrap();
    appended.ticket.durable().await.unwrap();
    resent.durable().await.unwrap();
}

/// Does something to the file of an open log behind the host's back.
#[track_caller]
fn check_a_change_is_found(change: impl FnOnce(&Path), said: &str) {
    let folder = TempDir::new().unwrap();
    let bus = start(folder.path());
    bus.create(&topic("t"), HEAD).unwrap();
    let appended = bus.append(&topic("t"), &text(1)).unwrap();
    appended.ticket.wait().unwrap();
    change(&folder.path().join("t.jsonl"));
    let lost = bus.append(&topic("t"), &text(2)).unwrap();
    let error = lost.ticket.wait().unwrap_err();
    let BusError::Changed { source, .. } = &error else {
        panic!("{error}");
    };
    assert!(source.to_string().contains(said), "{source}");
    assert!(bus.append(&topic("t"), &text(3)).is_err());
}

#[test]
fn nothing_is_accepted_into_a_log_that_was_deleted() {
    check_a_change_is_found(|log| fs::remove_file(log).unwrap(), "deleted");
}

#[test]
fn nothing_is_accepted_into_a_log_that_was_replaced_by_a_copy() {
    let replace = |log: &Path| {
        let copy = log.with_extension("copy");
        fs::copy(log, &copy).unwrap();
        fs::rename(copy, log).unwrap();
    };
    check_a_change_is_found(replace, "another file");
}

#[test]
fn nothing_is_accepted_into_a_log_that_another_program_wrote_to_or_cut() {
    let write = |log: &Path| {
        let mut bytes = fs::read(log).unwrap();
        bytes.push(b'\n');
        fs::write(log, bytes).unwrap();
    };
    check_a_change_is_found(write, "bytes long");
    check_a_change_is_found(|log| fs::write(log, "").unwrap(), "bytes long");
}

#[test]
fn a_folder_stays_taken_when_everything_in_it_is_deleted() {
    let folder = TempDir::new().unwrap();
    let _first = start(folder.path());
    for file in fs::read_dir(folder.path()).unwrap() {
        fs::remove_file(file.unwrap().path()).unwrap();
    }
    let refused = EmbeddedBus::start(folder.path(), clock()).err().unwrap();
    assert!(matches!(refused, BusError::Locked { .. }), "{refused}");
}

#[test]
fn a_log_that_cannot_be_read_is_set_aside_whole_and_another_made() {
    let folder = TempDir::new().unwrap();
    let bus = start(folder.path());
    for round in 1..=2 {
        fs::write(folder.path().join("t.jsonl"), format!("damaged {round}")).unwrap();
        assert!(bus.open(&topic("t")).is_err());
        let aside = bus.set_aside(&topic("t")).unwrap();
        assert_eq!(
            fs::read_to_string(aside).unwrap(),
            format!("damaged {round}")
        );
        assert!(bus.topics().unwrap().is_empty());
    }
    bus.create(&topic("t"), HEAD).unwrap();
    let refused = bus.set_aside(&topic("t")).unwrap_err();
    assert!(matches!(refused, BusError::Exists { .. }), "{refused}");
}
