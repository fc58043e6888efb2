//! The thread that writes: what it shares with the callers, and its loop.
//!
//! Invariants: a log that holds lines is on the list; whoever puts lines into a
//! log after the thread has begun to stop is told so; when the thread ends, for
//! whatever reason, every ticket still open fails instead of hanging.

use std::collections::HashMap;
use std::sync::{Arc, Condvar, Mutex, PoisonError};

use super::log::{Batch, Log};
use crate::storage::Storage;
use crate::{BusError, TopicName, locked};

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

    /// Waits until there is something to write; `None` once there never will be.
    fn next_round(&self) -> Option<Vec<Arc<Log>>> {
        let mut list = locked(&self.list);
        while list.waiting.is_empty() {
            if list.stopping {
                return None;
            }
            list = self
                .enlisted
                .wait(list)
                .unwrap_or_else(PoisonError::into_inner);
        }
        Some(std::mem::take(&mut list.waiting))
    }
}

/// Writes until told to stop and nothing is left to write.
pub(super) fn run(shared: &Shared, storage: &dyn Storage) {
    let _ending = Ending { shared };
    while let Some(logs) = shared.next_round() {
        // All writes before the first sync: the disk then has them all to
        // order, and a log's wait does not include another's writing.
        let written: Vec<(Arc<Log>, Batch)> = logs
            .into_iter()
            .filter_map(|log| log.write(storage).map(|batch| (log, batch)))
            .collect();
        for (log, batch) in written {
            log.sync(&batch);
        }
    }
}

/// Tells everybody that the thread has ended, also when it panicked.
struct Ending<'a> {
    shared: &'a Shared,
}

impl Drop for Ending<'_> {
    fn drop(&mut self) {
        self.shared.stop();
        let logs: Vec<_> = locked(&self.shared.logs).drain().collect();
        for (_, log) in logs {
            log.fail(BusError::Stopped);
        }
    }
}
