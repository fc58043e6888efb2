//! The engine on a disk that can be held up or made to fail.

use std::collections::HashMap;
use std::path::PathBuf;
use std::sync::Condvar;
use std::time::Duration;

mod troubles;

use super::*;
use crate::{FileChange, Timestamp};

/// A disk in memory. `held` stops every sync until it is let go; `fail` makes
/// the named operation fail from then on.
#[derive(Default)]
struct TestDisk {
    inner: Mutex<Inner>,
    changed: Condvar,
}

#[derive(Default)]
struct Inner {
    files: HashMap<String, Vec<u8>>,
    held: bool,
    waiting: usize,
    syncs: usize,
    fail: Option<(&'static str, io::ErrorKind)>,
    /// How often something failed.
    failed: usize,
    cannot_take_back: bool,
    /// What another program has done to the files.
    change: Option<FileChange>,
    panic: bool,
}

impl TestDisk {
    fn change(&self, change: impl FnOnce(&mut Inner)) {
        change(&mut locked(&self.inner));
        self.changed.notify_all();
    }

    fn attempt(&self, operation: &str) -> io::Result<()> {
        let mut inner = locked(&self.inner);
        match inner.fail {
            Some((failing, kind)) if failing == operation => {
                inner.failed += 1;
                drop(inner);
                self.changed.notify_all();
                Err(kind.into())
            }
            _ => Ok(()),
        }
    }

    /// Waits until the disk has refused something `times` times.
    fn wait_for_failures(&self, times: usize) {
        let (_inner, timeout) = self
            .changed
            .wait_timeout_while(locked(&self.inner), Duration::from_secs(20), |inner| {
                inner.failed < times
            })
            .unwrap();
        assert!(!timeout.timed_out(), "waited 20 s for the disk to refuse");
    }

    fn syncs(&self) -> usize {
        locked(&self.inner).syncs
    }

    fn text(&self, topic: &str) -> String {
        String::from_utf8(locked(&self.inner).files[topic].clone()).unwrap()
    }

    /// Waits until a sync is being held up.
    fn wait_for_a_held_sync(&self) {
        let (_inner, timeout) = self
            .changed
            .wait_timeout_while(locked(&self.inner), Duration::from_secs(20), |inner| {
                inner.waiting == 0
            })
            .unwrap();
        assert!(!timeout.timed_out(), "waited 20 s for a sync to be held");
    }
}

impl Storage for Arc<TestDisk> {
    fn folder(&self) -> PathBuf {
        "test-disk".into()
    }

    fn path(&self, topic: &TopicName) -> PathBuf {
        self.folder().join(topic.as_str())
    }

    fn topics(&self) -> io::Result<Vec<TopicName>> {
        self.attempt("list")?;
        let names: Vec<String> = locked(&self.inner).files.keys().cloned().collect();
        Ok(names.into_iter().map(|n| topic(&n)).collect())
    }

    fn create(&self, topic: &TopicName, head: &[u8]) -> io::Result<()> {
        self.attempt("create")?;
        self.change(|inner| {
            inner.files.insert(topic.to_string(), head.to_vec());
        });
        Ok(())
    }

    fn read(&self, topic: &TopicName) -> io::Result<Vec<u8>> {
        self.attempt("read")?;
        let inner = locked(&self.inner);
        let file = inner.files.get(topic.as_str()).cloned();
        file.ok_or_else(|| io::ErrorKind::NotFound.into())
    }

    fn cut(&self, topic: &TopicName, at: u64) -> io::Result<()> {
        self.attempt("cut")?;
        self.change(|inner| {
            let file = inner.files.get_mut(topic.as_str()).unwrap();
            file.truncate(usize::try_from(at).unwrap());
        });
        Ok(())
    }

    fn set_aside(&self, topic: &TopicName) -> io::Result<PathBuf> {
        self.change(|inner| {
            inner.files.remove(topic.as_str());
        });
        Ok("aside".into())
    }

    fn appender(&self, topic: &TopicName) -> io::Result<Box<dyn crate::storage::Appender>> {
        self.attempt("open")?;
        let (disk, topic) = (Arc::clone(self), topic.clone());
        Ok(Box::new(TestFile { disk, topic }))
    }
}

struct TestFile {
    disk: Arc<TestDisk>,
    topic: TopicName,
}

impl crate::storage::Appender for TestFile {
    fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        let failed = self.disk.attempt("write");
        // A full disk takes a part before it refuses.
        let taken = if failed.is_ok() { bytes } else { &bytes[..9] };
        self.disk.change(|inner| {
            let file = inner.files.get_mut(self.topic.as_str()).unwrap();
            file.extend_from_slice(taken);
        });
        failed
    }

    fn sync(&mut self) -> io::Result<()> {
        self.disk.change(|inner| {
            inner.syncs += 1;
            inner.waiting += 1;
        });
        let inner = locked(&self.disk.inner);
        let mut inner = self.disk.changed.wait_while(inner, |i| i.held).unwrap();
        inner.waiting -= 1;
        let asked_to_panic = inner.panic;
        drop(inner);
        assert!(!asked_to_panic, "a panic asked for");
        self.disk.attempt("sync")
    }

    fn take_back(&mut self, length: u64) -> io::Result<()> {
        if locked(&self.disk.inner).cannot_take_back {
            return Err(io::ErrorKind::Other.into());
        }
        self.disk.change(|inner| {
            let file = inner.files.get_mut(self.topic.as_str()).unwrap();
            file.truncate(usize::try_from(length).unwrap());
        });
        Ok(())
    }

    fn change(&self, _length: u64) -> io::Result<Option<FileChange>> {
        Ok(locked(&self.disk.inner).change)
    }
}

fn topic(name: &str) -> TopicName {
    TopicName::new(name).unwrap()
}

fn clock() -> Clock {
    Arc::new(|| Timestamp::from_millisecond(1_777_000_000_123).unwrap())
}

/// An engine that lets its disk go before it waits for it, so that a test that
/// fails while the disk is held up ends.
struct TestEngine {
    bus: EmbeddedBus,
    disk: Arc<TestDisk>,
}

impl std::ops::Deref for TestEngine {
    type Target = EmbeddedBus;

    fn deref(&self) -> &EmbeddedBus {
        &self.bus
    }
}

impl Drop for TestEngine {
    fn drop(&mut self) {
        self.disk.change(|inner| inner.held = false);
    }
}

fn engine() -> (Arc<TestDisk>, TestEngine) {
    let disk = Arc::new(TestDisk::default());
    let bus = EmbeddedBus::start_on(Arc::new(Arc::clone(&disk)), clock(), None).unwrap();
    let engine = TestEngine {
        bus,
        disk: Arc::clone(&disk),
    };
    engine.create(&topic("one"), "{}").unwrap();
    engine.create(&topic("two"), "{}").unwrap();
    (disk, engine)
}

fn append(engine: &EmbeddedBus, to: &str) -> Appended {
    engine.append(&topic(to), r#"{"kind":"note"}"#).unwrap()
}

/// Waiting for a ticket, but not for ever.
trait Settle {
    fn settle(self) -> Result<(), BusError>;
}

impl Settle for Ticket {
    #[track_caller]
    fn settle(self) -> Result<(), BusError> {
        let seq = self.seq();
        let clock_only = tokio::runtime::Builder::new_current_thread()
            .enable_time()
            .build()
            .unwrap();
        clock_only
            .block_on(async { tokio::time::timeout(Duration::from_secs(20), self.durable()).await })
            .unwrap_or_else(|_| panic!("waited 20 s for record {seq}"))
    }
}

/// What an error says, its causes included.
fn chain(error: &dyn std::error::Error) -> String {
    let mut text = error.to_string();
    let mut cause = error.source();
    while let Some(error) = cause {
        text = format!("{text}: {error}");
        cause = error.source();
    }
    text
}

#[test]
fn many_records_that_wait_share_one_sync() {
    let (disk, engine) = engine();
    disk.change(|inner| inner.held = true);
    let first = append(&engine, "one");
    disk.wait_for_a_held_sync();
    let later: Vec<_> = (0..1000).map(|_| append(&engine, "one")).collect();
    let numbers: Vec<u64> = later.iter().map(|appended| appended.seq).collect();
    assert_eq!(numbers, (2..=1001).collect::<Vec<_>>());
    assert!(!first.ticket.is_durable().unwrap());
    disk.change(|inner| inner.held = false);
    for appended in later {
        appended.ticket.settle().unwrap();
    }
    assert_eq!(disk.syncs(), 2);
    assert_eq!(disk.text("one").lines().count(), 1002);
}

#[test]
fn a_round_syncs_each_touched_file_once() {
    let (disk, engine) = engine();
    engine.create(&topic("idle"), "{}").unwrap();
    disk.change(|inner| inner.held = true);
    let first = append(&engine, "one");
    disk.wait_for_a_held_sync();
    let tickets: Vec<_> = ["one", "two", "one", "two"]
        .map(|to| append(&engine, to).ticket)
        .into();
    disk.change(|inner| inner.held = false);
    first.ticket.settle().unwrap();
    for ticket in tickets {
        ticket.settle().unwrap();
    }
    assert_eq!(disk.syncs(), 3);
}

#[test]
fn a_ticket_completes_only_after_the_sync() {
    let (disk, engine) = engine();
    disk.change(|inner| inner.held = true);
    let appended = append(&engine, "one");
    disk.wait_for_a_held_sync();
    assert!(disk.text("one").contains(r#""seq":1"#));
    assert!(!appended.ticket.is_durable().unwrap());
    disk.change(|inner| inner.held = false);
    appended.ticket.settle().unwrap();
}

#[test]
fn the_ticket_of_a_resent_record_waits_for_the_first_copy() {
    let (disk, engine) = engine();
    disk.change(|inner| inner.held = true);
    let first = append(&engine, "one");
    let resent = engine.durable(&topic("one"), first.seq).unwrap();
    disk.wait_for_a_held_sync();
    assert_eq!(resent.seq(), 1);
    assert!(!resent.is_durable().unwrap());
    disk.change(|inner| inner.held = false);
    resent.settle().unwrap();
    assert!(first.ticket.is_durable().unwrap());
}

#[test]
fn there_is_no_ticket_for_a_record_that_was_never_appended() {
    let (_disk, engine) = engine();
    append(&engine, "one").ticket.settle().unwrap();
    for seq in [0, 2] {
        let refused = engine.durable(&topic("one"), seq).unwrap_err();
        assert!(
            matches!(refused, BusError::NoRecord { last: 1, .. }),
            "{refused}"
        );
    }
}

#[track_caller]
fn check_a_failure_closes_the_topic(operation: &'static str, kind: io::ErrorKind, said: &str) {
    let (disk, engine) = engine();
    disk.change(|inner| inner.held = true);
    let (durable, failed) = (append(&engine, "two"), append(&engine, "one"));
    disk.wait_for_a_held_sync();
    let queued = append(&engine, "one");
    disk.change(|inner| {
        inner.fail = Some((operation, kind));
        inner.held = false;
    });
    let error = queued.ticket.settle().unwrap_err();
    let expected = format!("the log `one` takes no more records: could not {said} `test-disk/one`");
    assert!(chain(&error).starts_with(&expected), "{}", chain(&error));
    assert!(error.hint().unwrap().contains("restart the host"));
    // Nothing is tried again on that file, not even once the disk has recovered.
    disk.change(|inner| inner.fail = None);
    let syncs = disk.syncs();
    let error = engine.append(&topic("one"), "{}").unwrap_err();
    assert!(chain(&error).starts_with(&expected), "{}", chain(&error));
    let error = engine.durable(&topic("one"), queued.seq).unwrap().settle();
    assert!(matches!(error, Err(BusError::Closed { .. })));
    assert_eq!(disk.syncs(), syncs);
    drop((durable, failed));
}

#[test]
fn a_failed_write_closes_the_topic_and_says_why() {
    check_a_failure_closes_the_topic("write", io::ErrorKind::Other, "write to");
}

#[test]
fn a_failed_sync_closes_the_topic_even_if_the_disk_was_only_full() {
    check_a_failure_closes_the_topic("sync", io::ErrorKind::StorageFull, "sync");
}

#[test]
fn other_topics_go_on_after_one_has_failed() {
    let (disk, engine) = engine();
    disk.change(|inner| inner.fail = Some(("write", io::ErrorKind::Other)));
    append(&engine, "one").ticket.settle().unwrap_err();
    disk.change(|inner| inner.fail = None);
    append(&engine, "two").ticket.settle().unwrap();
    assert!(engine.append(&topic("one"), "{}").is_err());
}

#[test]
fn what_was_durable_before_a_failure_stays_durable_and_readable() {
    let (disk, engine) = engine();
    append(&engine, "one").ticket.settle().unwrap();
    disk.change(|inner| inner.fail = Some(("write", io::ErrorKind::Other)));
    append(&engine, "one").ticket.settle().unwrap_err();
    engine.durable(&topic("one"), 1).unwrap().settle().unwrap();
    let opened = engine.open(&topic("one")).unwrap();
    assert_eq!(opened.records.len(), 1);
    assert_eq!(opened.damage, []);
    assert!(engine.close(&topic("one")).is_err());
}

#[test]
fn a_full_queue_refuses_and_gives_no_number_away() {
    let (disk, engine) = engine();
    disk.change(|inner| inner.held = true);
    append(&engine, "one");
    disk.wait_for_a_held_sync();
    for _ in 0..MAX_QUEUED_RECORDS {
        append(&engine, "one");
    }
    let refused = engine.append(&topic("one"), "{}").unwrap_err();
    assert!(
        matches!(refused, BusError::Overloaded { records, .. } if records == MAX_QUEUED_RECORDS),
        "{refused}"
    );
    append(&engine, "two");
    let last = 1 + MAX_QUEUED_RECORDS as u64;
    let newest = engine.durable(&topic("one"), last).unwrap();
    disk.change(|inner| inner.held = false);
    newest.settle().unwrap();
    assert_eq!(append(&engine, "one").seq, last + 1);
}

#[test]
fn a_queue_full_of_long_records_refuses_too() {
    let (disk, engine) = engine();
    disk.change(|inner| inner.held = true);
    append(&engine, "one");
    disk.wait_for_a_held_sync();
    let long = format!(r#"{{"text":"{}"}}"#, "x".repeat(MAX_QUEUED_BYTES / 2));
    engine.append(&topic("one"), &long).unwrap();
    let refused = engine.append(&topic("one"), &long).unwrap_err();
    assert!(
        matches!(refused, BusError::Overloaded { records: 1, .. }),
        "{refused}"
    );
    assert_eq!(append(&engine, "one").seq, 3);
    disk.change(|inner| inner.held = false);
}

#[test]
fn one_record_longer_than_the_queue_is_taken() {
    let (_disk, engine) = engine();
    let long = format!(r#"{{"text":"{}"}}"#, "x".repeat(MAX_QUEUED_BYTES + 1));
    let appended = engine.append(&topic("one"), &long).unwrap();
    appended.ticket.settle().unwrap();
}

#[test]
fn shutting_down_writes_out_what_is_queued() {
    let (disk, engine) = engine();
    disk.change(|inner| inner.held = true);
    let first = append(&engine, "one");
    disk.wait_for_a_held_sync();
    let queued = [append(&engine, "one"), append(&engine, "two")];
    thread::scope(|scope| {
        scope.spawn(|| engine.shutdown());
        disk.change(|inner| inner.held = false);
    });
    first.ticket.settle().unwrap();
    for appended in queued {
        appended.ticket.settle().unwrap();
    }
    assert_eq!(disk.text("two").lines().count(), 2);
    let one = topic("one");
    for refused in [
        engine.append(&one, "{}").map(drop),
        engine.durable(&one, 1).map(drop),
        engine.create(&topic("three"), "{}"),
        engine.open(&one).map(drop),
    ] {
        assert!(matches!(refused, Err(BusError::Stopped)), "{refused:?}");
    }
    engine.shutdown();
}

#[test]
fn no_ticket_hangs_when_the_log_thread_dies() {
    let (disk, engine) = engine();
    disk.change(|inner| inner.held = true);
    let in_hand = append(&engine, "one").ticket;
    disk.wait_for_a_held_sync();
    let in_line = append(&engine, "two").ticket;
    disk.change(|inner| {
        inner.panic = true;
        inner.held = false;
    });
    for ticket in [in_hand, in_line] {
        assert!(matches!(ticket.settle(), Err(BusError::Stopped)));
    }
    let refused = engine.append(&topic("two"), "{}");
    assert!(matches!(refused, Err(BusError::Stopped)), "{refused:?}");
}

#[test]
fn a_closed_log_takes_nothing_until_it_is_opened_again() {
    let (_disk, engine) = engine();
    let one = topic("one");
    let appended = append(&engine, "one");
    engine.close(&one).unwrap();
    assert!(appended.ticket.is_durable().unwrap());
    let refused = engine.append(&one, "{}").unwrap_err();
    assert!(matches!(refused, BusError::NotOpen { .. }), "{refused}");
    engine.close(&one).unwrap();
    assert_eq!(engine.open(&one).unwrap().records.len(), 1);
    assert_eq!(append(&engine, "one").seq, 2);
}

#[test]
fn a_refusal_of_the_disk_says_what_was_attempted_where_and_why() {
    for (operation, attempt) in [("list", "list the logs of"), ("read", "read the log")] {
        let (disk, engine) = engine();
        engine.close(&topic("one")).unwrap();
        disk.change(|inner| inner.fail = Some((operation, io::ErrorKind::PermissionDenied)));
        let error = match operation {
            "list" => engine.topics().unwrap_err(),
            _ => engine.open(&topic("one")).unwrap_err(),
        };
        let text = chain(&error);
        let expected = format!("could not {attempt} `test-disk");
        assert!(text.starts_with(&expected), "{text}");
        assert!(text.ends_with("permission denied"), "{text}");
        assert!(error.hint().unwrap().contains("let this user"));
    }
}

#[test]
fn a_log_that_cannot_be_created_is_not_there() {
    let (disk, engine) = engine();
    disk.change(|inner| inner.fail = Some(("create", io::ErrorKind::PermissionDenied)));
    let three = topic("three");
    let error = engine.create(&three, "{}").unwrap_err();
    assert!(chain(&error).contains("create the log `test-disk/three`"));
    let refused = engine.append(&three, "{}").unwrap_err();
    assert!(matches!(refused, BusError::NotOpen { .. }), "{refused}");
}

#[test]
fn a_tail_that_cannot_be_cut_off_closes_the_log_and_stays() {
    let (disk, engine) = engine();
    let one = topic("one");
    append(&engine, "one").ticket.settle().unwrap();
    engine.close(&one).unwrap();
    disk.change(|inner| {
        inner.files.get_mut("one").unwrap().extend(b"{\"torn");
        inner.fail = Some(("cut", io::ErrorKind::PermissionDenied));
    });
    assert_eq!(engine.open(&one).unwrap().damage.len(), 1);
    let error = append(&engine, "one").ticket.settle().unwrap_err();
    assert!(chain(&error).contains("take the torn tail off"), "{error}");
    assert!(disk.text("one").ends_with("{\"torn"));
}

#[test]
fn a_log_cut_at_any_byte_gives_the_intact_prefix_and_goes_on() {
    let (disk, engine) = engine();
    let one = topic("one");
    let mut ends = vec![disk.text("one").len()];
    for _ in 1..=12 {
        append(&engine, "one").ticket.settle().unwrap();
        ends.push(disk.text("one").len());
    }
    let whole = disk.text("one").into_bytes();
    assert!(whole.len() - ends[0] >= 900);
    for cut in ends[0]..whole.len() {
        engine.close(&one).unwrap();
        disk.change(|inner| {
            inner.files.insert("one".into(), whole[..cut].to_vec());
        });
        let intact = ends.iter().filter(|&&end| end <= cut).count() as u64 - 1;
        let opened = engine.open(&one).unwrap();
        let numbers: Vec<u64> = opened.records.iter().map(|record| record.seq).collect();
        assert_eq!(numbers, (1..=intact).collect::<Vec<_>>(), "cut at {cut}");
        assert_eq!(
            opened.damage.is_empty(),
            ends.contains(&cut),
            "cut at {cut}"
        );
        let appended = append(&engine, "one");
        assert_eq!(appended.seq, intact + 1, "cut at {cut}");
        appended.ticket.settle().unwrap();
        // The clock stands still here, so the record is the one that was cut.
        let end = ends[usize::try_from(intact).unwrap() + 1];
        assert_eq!(disk.text("one").as_bytes(), &whole[..end], "cut at {cut}");
    }
}
