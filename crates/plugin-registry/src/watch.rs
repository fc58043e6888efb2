//! Watching the plugin folder: says when something has changed in it and the
//! dust has settled. A folder that is removed and made anew is watched again.

use std::path::{Path, PathBuf};
use std::sync::mpsc::{self, Receiver, RecvTimeoutError, SyncSender};
use std::thread::JoinHandle;
use std::time::Duration;

use notify::{RecommendedWatcher, RecursiveMode, Watcher};
use same_file::Handle;

/// How long nothing may happen in the folder before it is looked at: a file is
/// written in pieces, and a half of it is no plugin.
const SETTLED: Duration = Duration::from_millis(300);

/// How often to look whether the folder is still the one that is watched: the
/// system watches a folder itself, and does not say when another one has taken
/// its name.
const SAME_FOLDER: Duration = Duration::from_secs(1);

/// How many events may wait; more of them say nothing new, so they are dropped.
const EVENTS: usize = 64;

/// A folder being watched; dropping it ends that.
pub struct Watch {
    events: SyncSender<Event>,
    thread: Option<JoinHandle<()>>,
}

/// The folder cannot be watched.
#[derive(Debug, thiserror::Error)]
#[error("could not watch the plugin folder `{}`", folder.display())]
pub struct WatchError {
    folder: PathBuf,
    source: notify::Error,
}

enum Event {
    Changed,
    Stop,
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
    let (send, events) = mpsc::sync_channel(EVENTS);
    let mut watched = Watched::begin(folder, &send).map_err(|source| WatchError {
        folder: folder.to_owned(),
        source,
    })?;
    let (folder, own) = (folder.to_owned(), send.clone());
    let thread = std::thread::spawn(move || {
        loop {
            let happened = match events.recv_timeout(SAME_FOLDER) {
                Ok(Event::Changed) => true,
                Err(RecvTimeoutError::Timeout) => false,
                Ok(Event::Stop) | Err(RecvTimeoutError::Disconnected) => return,
            };
            let is_another = watched.goes_on_with(&folder, &own);
            if happened || is_another {
                if !settled(&events) {
                    return;
                }
                changed();
            }
        }
    });
    Ok(Watch {
        events: send,
        thread: Some(thread),
    })
}

/// Waits until nothing has happened for a moment; false where the watch ends
/// meanwhile.
fn settled(events: &Receiver<Event>) -> bool {
    loop {
        match events.recv_timeout(SETTLED) {
            Ok(Event::Changed) => {}
            Err(RecvTimeoutError::Timeout) => return true,
            Ok(Event::Stop) | Err(RecvTimeoutError::Disconnected) => return false,
        }
    }
}

/// The folder that the system watches for us.
struct Watched {
    /// Held open, so that no other folder can be taken for it.
    identity: Option<Handle>,
    _watcher: RecommendedWatcher,
}

impl Watched {
    fn begin(folder: &Path, send: &SyncSender<Event>) -> notify::Result<Self> {
        let send = send.clone();
        let mut watcher =
            notify::recommended_watcher(move |event: notify::Result<notify::Event>| {
                let matters = match event {
                    Ok(event) => !event.kind.is_access(),
                    Err(error) => {
                        tracing::warn!(%error, "the plugin folder is not watched as it should be");
                        true
                    }
                };
                if matters {
                    // A full queue is as good as one more event.
                    let _full_or_gone = send.try_send(Event::Changed);
                }
            })?;
        let identity = Handle::from_path(folder).ok();
        watcher.watch(folder, RecursiveMode::NonRecursive)?;
        Ok(Self {
            identity,
            _watcher: watcher,
        })
    }

    /// Watches the folder that has the name now; says whether it is another one.
    /// While there is none, the one before stays watched.
    fn goes_on_with(&mut self, folder: &Path, send: &SyncSender<Event>) -> bool {
        let Ok(now) = Handle::from_path(folder) else {
            return false;
        };
        if self.identity.as_ref() == Some(&now) {
            return false;
        }
        match Self::begin(folder, send) {
            Ok(watched) => {
                tracing::info!(folder = %folder.display(), "the plugin folder was made anew");
                *self = watched;
                true
            }
            Err(error) => {
                tracing::warn!(%error, "the plugin folder was made anew and cannot be watched yet");
                false
            }
        }
    }
}

impl Drop for Watch {
    fn drop(&mut self) {
        // The thread is gone only where it has panicked.
        let _gone = self.events.send(Event::Stop);
        if let Some(thread) = self.thread.take()
            && thread.join().is_err()
        {
            tracing::error!("the thread that looks at the plugin folder has panicked");
        }
    }
}
