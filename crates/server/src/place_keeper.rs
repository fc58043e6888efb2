//! Keeps the places of matches that wait for other matches: one owner hears that
//! something has changed and has the courts fill what can be filled.

use std::sync::Arc;
use std::time::Duration;

use rallytide_court::Courts;
use tokio::sync::watch;

use crate::websocket;

/// How long changes are gathered: a match's last rally and what follows from it
/// come close together.
const GATHERED: Duration = Duration::from_millis(40);

/// Who keeps the places.
#[derive(Clone)]
pub struct PlaceKeeper {
    courts: Arc<Courts>,
}

impl PlaceKeeper {
    pub(crate) fn new(courts: Arc<Courts>) -> Self {
        Self { courts }
    }

    /// Fills places, after every change, until `stop` becomes true.
    pub async fn run(self, mut stop: watch::Receiver<bool>) {
        let mut changes = self.courts.changes().listen();
        loop {
            let courts = Arc::clone(&self.courts);
            match tokio::task::spawn_blocking(move || courts.fill_places()).await {
                Ok(Ok(())) => {}
                // The next change tries again.
                Ok(Err(error)) => {
                    tracing::warn!("places of matches were not filled: {}", error.sentence());
                }
                Err(error) => {
                    tracing::error!(%error, "filling the places of matches was interrupted");
                }
            }
            let next = async {
                changes.changed().await;
                tokio::time::sleep(GATHERED).await;
            };
            tokio::select! {
                () = websocket::stopped(&mut stop) => return,
                () = next => {}
            }
        }
    }
}
