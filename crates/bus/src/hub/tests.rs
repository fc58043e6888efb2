//! What a reader may rely on: order, no gap without `Lagged`, resume by number.

use std::future::Future;
use std::time::Duration;

use proptest::prelude::*;

use super::*;

/// Waits for a future, but not for ever, and says what it waited for.
async fn within<F: Future>(what: &str, future: F) -> F::Output {
    tokio::time::timeout(Duration::from_secs(20), future)
        .await
        .unwrap_or_else(|_| panic!("waited 20 s for {what}"))
}

fn hub(seq: u64, capacity: usize) -> Hub<Arc<str>> {
    Hub::new(seq, NonZeroUsize::new(capacity).unwrap())
}

fn publish(hub: &Hub<Arc<str>>, seq: u64, text: &str) {
    hub.publish(seq, text.into());
}

/// Everything there is for a reader at the moment.
fn drain(subscription: &mut Subscription<Arc<str>>) -> Vec<String> {
    std::iter::from_fn(|| subscription.try_next())
        .map(|next| match next {
            Next::Message(text) => text.to_string(),
            Next::Lagged => "(lagged)".to_owned(),
            Next::Closed => "(closed)".to_owned(),
        })
        .collect()
}

fn resumed(hub: &Hub<Arc<str>>, after: u64) -> Subscription<Arc<str>> {
    match hub.subscribe(Some(after)) {
        Subscribed::Resumed(subscription) => subscription,
        Subscribed::Behind(_) => panic!("{after} is still in the ring"),
    }
}

fn behind(hub: &Hub<Arc<str>>, after: Option<u64>) -> Subscription<Arc<str>> {
    match hub.subscribe(after) {
        Subscribed::Behind(subscription) => subscription,
        Subscribed::Resumed(_) => panic!("{after:?} cannot be resumed from"),
    }
}

#[test]
fn a_new_reader_gets_what_comes_after_it() {
    let hub = hub(0, 8);
    publish(&hub, 1, "one");
    let mut reader = behind(&hub, None);
    publish(&hub, 2, "two");
    assert_eq!(drain(&mut reader), ["two"]);
}

#[test]
fn a_reader_resumes_after_the_number_it_has_seen() {
    let hub = hub(0, 8);
    for (seq, text) in [(1, "one"), (2, "two"), (4, "four")] {
        publish(&hub, seq, text);
    }
    assert_eq!(drain(&mut resumed(&hub, 1)), ["two", "four"]);
    assert_eq!(drain(&mut resumed(&hub, 3)), ["four"]);
    assert!(drain(&mut resumed(&hub, 4)).is_empty());
}

#[test]
fn a_number_that_may_have_more_messages_than_were_kept_is_not_resumed_from() {
    let hub = hub(0, 2);
    for (seq, text) in [(1, "one"), (2, "two"), (2, "two, corrected"), (3, "three")] {
        publish(&hub, seq, text);
    }
    // "two" has left the ring; who has seen "two" may lack "two, corrected".
    for after in [0, 1, 2] {
        assert!(drain(&mut behind(&hub, Some(after))).is_empty());
    }
    assert!(drain(&mut resumed(&hub, 3)).is_empty());
}

#[test]
fn a_second_message_of_a_number_is_never_left_out_by_resuming() {
    let hub = hub(0, 8);
    for (seq, text) in [(1, "one"), (2, "update"), (2, "snapshot"), (3, "three")] {
        publish(&hub, seq, text);
    }
    assert_eq!(drain(&mut resumed(&hub, 2)), ["snapshot", "three"]);
}

#[test]
fn what_was_before_the_hub_cannot_be_resumed_from() {
    let hub = hub(41, 8);
    behind(&hub, Some(41));
    publish(&hub, 42, "later");
    behind(&hub, Some(41));
    behind(&hub, Some(0));
    resumed(&hub, 42);
}

#[test]
fn a_number_from_the_future_is_answered_with_behind() {
    let hub = hub(0, 8);
    publish(&hub, 1, "one");
    behind(&hub, Some(2));
}

#[test]
fn a_reader_that_fell_out_of_the_ring_is_told_once_and_goes_on_with_the_newest() {
    let hub = hub(0, 3);
    let mut reader = behind(&hub, None);
    for seq in 1..=4 {
        publish(&hub, seq, "lost");
    }
    assert_eq!(drain(&mut reader), ["(lagged)"]);
    publish(&hub, 5, "five");
    assert_eq!(drain(&mut reader), ["five"]);
}

#[test]
fn a_reader_exactly_as_slow_as_the_ring_is_long_misses_nothing() {
    let hub = hub(0, 3);
    let mut reader = behind(&hub, None);
    for (seq, text) in [(1, "one"), (2, "two"), (3, "three")] {
        publish(&hub, seq, text);
    }
    assert_eq!(drain(&mut reader), ["one", "two", "three"]);
}

#[test]
fn skipping_to_the_newest_leaves_out_what_a_snapshot_contains() {
    let hub = hub(0, 3);
    let mut reader = behind(&hub, None);
    publish(&hub, 1, "in the snapshot");
    reader.skip_to_newest();
    publish(&hub, 2, "after it");
    assert_eq!(drain(&mut reader), ["after it"]);
}

#[test]
fn nobody_resumes_across_a_restart_and_all_readers_are_told() {
    let hub = hub(0, 8);
    publish(&hub, 5, "old match");
    let mut caught_up = behind(&hub, None);
    hub.restart(0);
    assert_eq!(drain(&mut caught_up), ["(lagged)"]);
    publish(&hub, 1, "new match");
    assert_eq!(drain(&mut caught_up), ["new match"]);
    behind(&hub, Some(5));
}

#[test]
fn a_number_that_goes_back_is_a_restart() {
    let hub = hub(0, 8);
    let mut reader = behind(&hub, None);
    publish(&hub, 5, "old match");
    publish(&hub, 1, "new match");
    assert_eq!(drain(&mut reader), ["(lagged)"]);
    behind(&hub, Some(5));
}

#[tokio::test]
async fn a_waiting_reader_is_woken_by_a_message() {
    let hub = hub(0, 8);
    let mut reader = behind(&hub, None);
    let waiting = tokio::spawn(async move { reader.next().await });
    tokio::task::yield_now().await;
    publish(&hub, 1, "one");
    let next = within("the reader to wake", waiting).await.unwrap();
    assert_eq!(next, Next::Message("one".into()));
}

#[tokio::test]
async fn when_the_hub_is_gone_readers_get_the_rest_and_then_the_end() {
    let hub = hub(0, 8);
    let mut reader = behind(&hub, None);
    publish(&hub, 1, "one");
    drop(hub);
    let first = within("the rest", reader.next()).await;
    assert_eq!(first, Next::Message("one".into()));
    assert_eq!(within("the end", reader.next()).await, Next::Closed);
    assert_eq!(within("the end again", reader.next()).await, Next::Closed);
}

#[tokio::test]
async fn a_reader_that_never_reads_costs_the_hub_no_memory() {
    let hub = hub(0, 4);
    let _asleep = behind(&hub, None);
    let first: Arc<str> = "kept only as long as the ring keeps it".into();
    let watched = Arc::downgrade(&first);
    hub.publish(1, first);
    for seq in 2..=5 {
        publish(&hub, seq, "newer");
    }
    assert!(watched.upgrade().is_none());
    assert_eq!(locked(&hub.ring).messages.len(), 4);
}

/// One publisher, 200 readers of very different pace: all see the numbers rise,
/// and no number is missing unless `Lagged` came before.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn many_readers_of_different_pace_see_no_gap_without_being_told() {
    const LAST: u64 = 5_000;
    let hub = Hub::new(0, NonZeroUsize::new(64).unwrap());
    let readers: Vec<_> = (0..200)
        .map(|pace| {
            let (Subscribed::Behind(mut reader) | Subscribed::Resumed(mut reader)) =
                hub.subscribe(None);
            tokio::spawn(async move {
                let (mut expected, mut lags) = (1, 0);
                loop {
                    match reader.next().await {
                        Next::Message(number) if lags > 0 && expected == 0 => expected = number + 1,
                        Next::Message(number) => {
                            assert_eq!(number, expected, "reader {pace}");
                            expected += 1;
                        }
                        Next::Lagged => {
                            lags += 1;
                            expected = 0;
                        }
                        Next::Closed => return (expected, lags),
                    }
                    for _ in 0..pace % 7 {
                        tokio::task::yield_now().await;
                    }
                }
            })
        })
        .collect();
    assert_eq!(hub.readers(), 200);
    for number in 1..=LAST {
        hub.publish(number, number);
        if number % 16 == 0 {
            tokio::task::yield_now().await;
        }
    }
    drop(hub);
    for (index, reader) in readers.into_iter().enumerate() {
        let (expected, lags) = within("all readers to end", reader).await.unwrap();
        assert!(
            expected == LAST + 1 || (expected == 0 && lags > 0),
            "reader {index} ended before {expected}, lagged {lags} times"
        );
    }
}

#[derive(Clone, Debug)]
enum Step {
    Publish { seq_step: u64 },
    Restart { seq: u64 },
    Read { reader: usize, count: usize },
    Skip { reader: usize },
    Subscribe,
    Reconnect { reader: usize },
}

fn step() -> impl Strategy<Value = Step> {
    prop_oneof![
        8 => (0..3_u64).prop_map(|seq_step| Step::Publish { seq_step }),
        1 => (0..6_u64).prop_map(|seq| Step::Restart { seq }),
        6 => (0..4_usize, 1..6_usize).prop_map(|(reader, count)| Step::Read { reader, count }),
        1 => (0..4_usize).prop_map(|reader| Step::Skip { reader }),
        1 => Just(Step::Subscribe),
        2 => (0..4_usize).prop_map(|reader| Step::Reconnect { reader }),
    ]
}

/// A message says its own place in the whole stream, its number, and which
/// beginning it belongs to.
type Labelled = (usize, u64, u32);

struct Reader {
    subscription: Subscription<Labelled>,
    /// The place of the message that must come next, if it is a message.
    due: usize,
    /// The number and beginning of what it has seen last.
    seen: Option<(u64, u32)>,
}

proptest! {
    /// Against the plain list of everything ever published: between two
    /// `Lagged` a reader sees it without a gap and in order; who resumes gets
    /// everything after what was seen, or is told that it is behind.
    #[test]
    fn a_reader_sees_a_gapless_run_or_is_told(
        capacity in 1..6_usize,
        steps in prop::collection::vec(step(), 1..120),
    ) {
        let hub = Hub::new(0, NonZeroUsize::new(capacity).unwrap());
        let mut published: Vec<Labelled> = Vec::new();
        let (mut seq, mut beginning) = (0, 0);
        let mut readers: Vec<Reader> = Vec::new();
        for step in steps {
            match step {
                Step::Publish { seq_step } => {
                    seq += seq_step;
                    let message = (published.len(), seq, beginning);
                    hub.publish(seq, message);
                    published.push(message);
                }
                Step::Restart { seq: from } => {
                    hub.restart(from);
                    seq = from;
                    beginning += 1;
                }
                Step::Subscribe => {
                    let (Subscribed::Behind(subscription) | Subscribed::Resumed(subscription)) =
                        hub.subscribe(None);
                    readers.push(Reader { subscription, due: published.len(), seen: None });
                }
                Step::Skip { reader } => {
                    let Some(reader) = readers.get_mut(reader) else { continue };
                    reader.subscription.skip_to_newest();
                    reader.due = published.len();
                }
                Step::Read { reader, count } => {
                    let Some(reader) = readers.get_mut(reader) else { continue };
                    for _ in 0..count {
                        match reader.subscription.try_next() {
                            Some(Next::Message(message)) => {
                                prop_assert_eq!(message, published[reader.due]);
                                reader.due += 1;
                                reader.seen = Some((message.1, message.2));
                            }
                            Some(Next::Lagged) => reader.due = published.len(),
                            Some(Next::Closed) => prop_assert!(false, "the hub is there"),
                            None => {
                                prop_assert_eq!(reader.due, published.len());
                                break;
                            }
                        }
                    }
                }
                Step::Reconnect { reader } => {
                    let Some(reader) = readers.get_mut(reader) else { continue };
                    // A number of an earlier beginning is not the hub's to tell
                    // apart; its owner compares matches before it asks.
                    let Some((seen, of)) = reader.seen else { continue };
                    if of != beginning { continue; }
                    match hub.subscribe(Some(seen)) {
                        Subscribed::Behind(subscription) => {
                            reader.subscription = subscription;
                            reader.due = published.len();
                        }
                        Subscribed::Resumed(subscription) => {
                            reader.subscription = subscription;
                            let first = published
                                .iter()
                                .position(|m| m.2 == of && m.1 == seen)
                                .expect("it has been seen");
                            reader.due = first + 1;
                            prop_assert!(reader.due <= published.len());
                        }
                    }
                }
            }
        }
    }
}
