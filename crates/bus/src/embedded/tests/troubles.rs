//! What keeps a log from being written: a full disk, too many open files, other
//! programs.

use super::*;

/// The disk refuses `operation`, the log waits, the disk takes it again.
#[track_caller]
fn check_a_log_waits(operation: &'static str, kind: io::ErrorKind, said: &str) {
    let (disk, engine) = engine();
    disk.change(|inner| inner.fail = Some((operation, kind)));
    let first = append(&engine, "one");
    disk.wait_for_failures(1);
    let later = [append(&engine, "one"), append(&engine, "one")];
    // Tried again by itself, with what came in meanwhile.
    disk.wait_for_failures(3);
    assert!(!first.ticket.is_durable().unwrap());
    disk.change(|inner| inner.fail = None);
    first.ticket.settle().unwrap();
    for appended in later {
        appended.ticket.settle().unwrap();
    }
    assert!(engine.troubles().is_empty());
    let text = disk.text("one");
    let numbers: Vec<bool> = (1..=3)
        .map(|seq| {
            text.lines()
                .nth(seq)
                .unwrap()
                .contains(&format!(r#""seq":{seq},"#))
        })
        .collect();
    assert_eq!(
        (numbers, text.lines().count()),
        (vec![true; 3], 4),
        "{said}"
    );
    assert_eq!(engine.open(&topic("one")).unwrap().damage, []);
}

#[test]
fn a_full_disk_makes_a_log_wait_and_go_on_by_itself() {
    check_a_log_waits("write", io::ErrorKind::StorageFull, "full");
    check_a_log_waits("write", io::ErrorKind::QuotaExceeded, "over quota");
}

#[test]
fn a_file_that_cannot_be_opened_makes_a_log_wait_and_go_on_by_itself() {
    check_a_log_waits("open", io::ErrorKind::PermissionDenied, "no right");
}

#[test]
fn what_a_full_disk_took_is_cut_off_before_the_next_attempt_where_it_cannot_be_taken_back() {
    let (disk, engine) = engine();
    append(&engine, "one").ticket.settle().unwrap();
    disk.change(|inner| {
        inner.fail = Some(("write", io::ErrorKind::StorageFull));
        inner.cannot_take_back = true;
    });
    let waiting = append(&engine, "one");
    disk.wait_for_failures(1);
    disk.change(|inner| inner.fail = None);
    waiting.ticket.settle().unwrap();
    assert_eq!(disk.text("one").lines().count(), 3);
    assert_eq!(engine.open(&topic("one")).unwrap().damage, []);
}

#[test]
fn a_log_that_waits_can_be_asked_for() {
    let (disk, engine) = engine();
    disk.change(|inner| inner.fail = Some(("write", io::ErrorKind::StorageFull)));
    let waiting = append(&engine, "one");
    disk.wait_for_failures(2);
    let stalled = engine.open(&topic("one")).unwrap_err();
    assert!(matches!(stalled, BusError::Stalled { .. }), "{stalled}");
    let troubles = engine.troubles();
    assert_eq!(troubles.len(), 1);
    assert_eq!(troubles[0].topic, topic("one"));
    assert!(matches!(troubles[0].cause, BusError::Stalled { .. }));
    assert!(stalled.hint().unwrap().contains("by itself"));
    disk.change(|inner| inner.fail = None);
    waiting.ticket.settle().unwrap();
}

#[test]
fn closing_a_log_that_waits_gives_up_what_waits_and_it_can_be_opened_again() {
    let (disk, engine) = engine();
    append(&engine, "one").ticket.settle().unwrap();
    disk.change(|inner| inner.fail = Some(("write", io::ErrorKind::StorageFull)));
    let given_up = append(&engine, "one");
    disk.wait_for_failures(1);
    let error = engine.close(&topic("one")).unwrap_err();
    assert!(matches!(error, BusError::Closed { .. }), "{error}");
    assert!(given_up.ticket.settle().is_err());
    disk.change(|inner| inner.fail = None);
    let opened = engine.open(&topic("one")).unwrap();
    assert_eq!((opened.records.len(), opened.damage.len()), (1, 0));
    let again = append(&engine, "one");
    assert_eq!(again.seq, 2);
    again.ticket.settle().unwrap();
}

#[test]
fn a_full_disk_does_not_keep_the_engine_from_stopping() {
    let (disk, engine) = engine();
    disk.change(|inner| inner.fail = Some(("write", io::ErrorKind::StorageFull)));
    let waiting = append(&engine, "one");
    disk.wait_for_failures(1);
    engine.shutdown();
    assert!(waiting.ticket.settle().is_err());
}

#[test]
fn nothing_is_durable_in_a_file_that_another_program_has_changed() {
    let (disk, engine) = engine();
    append(&engine, "one").ticket.settle().unwrap();
    disk.change(|inner| inner.change = Some(FileChange::Gone));
    let lost = append(&engine, "one").ticket.settle().unwrap_err();
    assert!(
        chain(&lost).ends_with("it was deleted or moved"),
        "{}",
        chain(&lost)
    );
    disk.change(|inner| inner.change = None);
    let refused = engine.append(&topic("one"), "{}").unwrap_err();
    assert!(matches!(refused, BusError::Changed { .. }), "{refused}");
    assert!(matches!(
        engine.troubles()[0].cause,
        BusError::Changed { .. }
    ));
}
