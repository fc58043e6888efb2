//! Watching the plugin folder: says when something has changed in it and the
//! dust has settled.

use std::path::{Path, PathBuf};
use std::sync::mpsc::{self, RecvTimeoutError};
use std::thread::JoinHandle;
use std::time::Duration;

use notify::{RecommendedWatcher, RecursiveMode, Watcher};

/// How long nothing may happen in the folder before it is looked at: a file is
/// written in pieces, and a half of it is no plugin.
const SETTLED: Duration = Duration::from_millis(300);

/// How many events may wait; more of them say nothing new, so they are dropped.
const EVENTS: usize = 64;

/// A folder being watched; dropping it ends that.
pub struct Watch {
    watcher: Option<RecommendedWatcher>,
    thread: Option<JoinHandle<()>>,
}

/// The folder cannot be watched.
#[derive(Debug, thiserror::Error)]
#[error("could not watch the plugin folder `{}`", folder.display())]
pub struct WatchError {
    folder: PathBuf,
    source: notify::Error,
}

/// Watches a folder; `changed` is called on a thread of its own, after every
/// change once nothing has happened for a moment.
///
/// # Errors
/// If the folder cannot be watched.
pub fn watch(
    folder: &Path,
    mut changed: impl FnMut() + Send + 'static,
) -> Result<Watch, WatchError> {
    let failed = |source| WatchError {
        folder: folder.to_owned(),
        source,
    };
    let (send, events) = mpsc::sync_channel(EVENTS);
    let mut watcher = notify::recommended_watcher(move |event: notify::Result<notify::Event>| {
        let matters = match event {
            Ok(event) => !event.kind.is_access(),
            Err(error) => {
                tracing::warn!(%error, "the plugin folder is not watched as it should be");
                true
            }
        };
        if matters {
            // A full queue is as good as one more event.
            let _full_or_gone = send.try_send(());
        }
    })
    .map_err(failed)?;
    watcher
        .watch(folder, RecursiveMode::NonRecursive)
        .map_err(failed)?;
    let thread = std::thread::spawn(move || {
        while events.recv().is_ok() {
            loop {
                match events.recv_timeout(SETTLED) {
                    Ok(()) => {}
                    Err(RecvTimeoutError::Timeout) => break,
                    Err(RecvTimeoutError::Disconnected) => return,
                }
            }
            changed();
        }
    });
    Ok(Watch {
        watcher: Some(watcher),
        thread: Some(thread),
    })
}

impl Drop for Watch {
    fn drop(&mut self) {
        // Without the watcher the queue ends, and with it the thread.
        drop(self.watcher.take());
        if let Some(thread) = self.thread.take()
            && thread.join().is_err()
        {
            tracing::error!("the thread that looks at the plugin folder has panicked");
        }
    }
}
