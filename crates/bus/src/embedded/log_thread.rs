//! The thread that writes: what it shares with the callers, and its loop.
//!
//! Invariants: a log that holds lines is on the list, or among those that are
//! tried again because the disk took nothing; an append after the thread has
//! begun to stop returns `Stopped`; when the thread ends, for whatever reason, every ticket still open fails instead of hanging.

use std::collections::HashMap;
use std::sync::{Arc, Condvar, Mutex, PoisonError};
use std::time::Duration;

use super::log::{Batch, Log, Written};
use crate::storage::Storage;
use crate::{BusError, TopicName, Trouble, locked};

/// How long a disk that takes nothing is left alone before it is tried again.
const RETRY: Duration = Duration::from_millis(200);

/// What callers and the log thread share.
#[derive(Default)]
pub(super) struct Shared {
    logs: Mutex<HashMap<TopicName, Arc<Log>>>,
    list: Mutex<List>,
    enlisted: Condvar,
}

/// The logs that wait for the log thread. Bounded by the number of open logs:
/// a log is on it once.
#[derive(Default)]
struct List {
    waiting: Vec<Arc<Log>>,
    stopping: bool,
}

impl Shared {
    pub(super) fn log(&self, topic: &TopicName) -> Option<Arc<Log>> {
        locked(&self.logs).get(topic).cloned()
    }

    pub(super) fn add(&self, log: Arc<Log>) {
        locked(&self.logs).insert(log.topic().clone(), log);
    }

    pub(super) fn remove(&self, topic: &TopicName) {
        locked(&self.logs).remove(topic);
    }

    /// Puts a log on the list; refused once the thread stops.
    pub(super) fn enlist(&self, log: &Arc<Log>) -> Result<(), BusError> {
        let mut list = locked(&self.list);
        if list.stopping {
            return Err(BusError::Stopped);
        }
        list.waiting.push(Arc::clone(log));
        drop(list);
        self.enlisted.notify_one();
        Ok(())
    }

    pub(super) fn stop(&self) {
        locked(&self.list).stopping = true;
        self.enlisted.notify_one();
    }

    pub(super) fn is_stopping(&self) -> bool {
        locked(&self.list).stopping
    }

    /// What keeps open logs from being written.
    pub(super) fn troubles(&self) -> Vec<Trouble> {
        let logs: Vec<_> = locked(&self.logs).values().cloned().collect();
        logs.iter().filter_map(|log| log.trouble()).collect()
    }

    /// Waits until there is something to write, at most for `limit`; `None` once
    /// there never will be.
    fn next_round(&self, limit: Option<Duration>) -> Option<Vec<Arc<Log>>> {
        let mut list = locked(&self.list);
        while list.waiting.is_empty() {
            if list.stopping {
                return None;
            }
            let Some(limit) = limit else {
                let woken = self.enlisted.wait(list);
                list = woken.unwrap_or_else(PoisonError::into_inner);
                continue;
            };
            let woken = self.enlisted.wait_timeout(list, limit);
            let (woken, timeout) = woken.unwrap_or_else(PoisonError::into_inner);
            list = woken;
            if timeout.timed_out() {
                break;
            }
        }
        Some(std::mem::take(&mut list.waiting))
    }
}

/// Writes until told to stop and nothing is left to write.
pub(super) fn run(shared: &Shared, storage: &dyn Storage) {
    let _ending = StopGuard { shared };
    let mut stalled: Vec<Arc<Log>> = Vec::new();
    while let Some(mut logs) = shared.next_round((!stalled.is_empty()).then_some(RETRY)) {
        logs.append(&mut stalled);
        stalled = write(logs, storage);
    }
    // Once more, and then what still waits is given up.
    for log in write(stalled, storage) {
        if let Some(trouble) = log.trouble() {
            log.give_up(trouble.cause);
        }
    }
}

/// Writes and syncs logs; gives those back that the disk does not take.
fn write(logs: Vec<Arc<Log>>, storage: &dyn Storage) -> Vec<Arc<Log>> {
    let mut written: Vec<(Arc<Log>, Batch)> = Vec::new();
    let mut stalled = Vec::new();
    // All writes before the first sync: the disk then has them all to order, and
    // a log's wait does not include another's writing.
    for log in logs {
        match log.write(storage) {
            Written::Batch(batch) => written.push((log, batch)),
            Written::Stalled => stalled.push(log),
            Written::Nothing => {}
        }
    }
    for (log, batch) in written {
        log.sync(&batch);
    }
    stalled
}

/// Tells everybody that the thread has ended, also when it panicked.
struct StopGuard<'a> {
    shared: &'a Shared,
}

impl Drop for StopGuard<'_> {
    fn drop(&mut self) {
        self.shared.stop();
        let logs: Vec<_> = locked(&self.shared.logs).drain().collect();
        for (_, log) in logs {
            log.fail(BusError::Stopped);
        }
    }
}
