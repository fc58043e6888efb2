//! Telling a whole match for whoever asks: away from the connections, few at a
//! time. What is being played needs the machine more than files do.

use std::sync::Arc;

use axum::http::StatusCode;
use rallytide_court::CannotDo;
use tokio::sync::Semaphore;

use crate::desk::aside;
use crate::routes::Refused;

/// So many matches are told at once: a slow plugin in one of them must not keep
/// all others waiting, and the machine streams, too.
const AT_ONCE: usize = 2;

/// So many requests wait for their turn; one more is told to come again.
const WAITING: usize = 16;

/// The turns to tell a match.
#[derive(Clone)]
pub(crate) struct Runs {
    turns: Arc<Semaphore>,
    places: Arc<Semaphore>,
}

impl Runs {
    pub(crate) fn new() -> Self {
        Self {
            turns: Arc::new(Semaphore::new(AT_ONCE)),
            places: Arc::new(Semaphore::new(AT_ONCE + WAITING)),
        }
    }

    /// Does `work` when its turn comes. Who goes away while waiting gives the
    /// place back; what has begun is ended, and keeps its turn until then.
    pub(crate) async fn run<T: Send + 'static>(
        &self,
        work: impl FnOnce() -> Result<T, CannotDo> + Send + 'static,
    ) -> Result<T, Refused> {
        let Ok(place) = Arc::clone(&self.places).try_acquire_owned() else {
            return Err(Refused(
                StatusCode::SERVICE_UNAVAILABLE,
                "the host is at work on files that others asked for; try again in a moment".into(),
            ));
        };
        let turn = Arc::clone(&self.turns).acquire_owned().await;
        aside(move || {
            let done = work();
            drop((turn, place));
            done
        })
        .await
    }
}

#[cfg(test)]
mod tests {
    use std::sync::atomic::{AtomicUsize, Ordering};
    use std::sync::mpsc;
    use std::time::Duration;

    use super::*;

    const PATIENCE: Duration = Duration::from_secs(20);

    #[tokio::test]
    async fn few_are_told_at_once_some_wait_and_one_more_is_told_to_come_again() {
        let runs = Runs::new();
        let now = Arc::new(AtomicUsize::new(0));
        let most = Arc::new(AtomicUsize::new(0));
        let (go, gate) = mpsc::channel::<()>();
        let gate = Arc::new(std::sync::Mutex::new(gate));
        let asked: Vec<_> = (0..AT_ONCE + WAITING)
            .map(|_| {
                let (now, most) = (Arc::clone(&now), Arc::clone(&most));
                let (runs, gate) = (runs.clone(), Arc::clone(&gate));
                tokio::spawn(async move {
                    runs.run(move || {
                        most.fetch_max(now.fetch_add(1, Ordering::SeqCst) + 1, Ordering::SeqCst);
                        gate.lock().unwrap().recv_timeout(PATIENCE).unwrap();
                        now.fetch_sub(1, Ordering::SeqCst);
                        Ok(())
                    })
                    .await
                })
            })
            .collect();
        let full = async {
            while runs.places.available_permits() > 0 {
                tokio::task::yield_now().await;
            }
        };
        tokio::time::timeout(PATIENCE, full).await.unwrap();
        let Err(refused) = runs.run(|| Ok(())).await else {
            panic!("there was room for one more");
        };
        assert_eq!(refused.0, StatusCode::SERVICE_UNAVAILABLE);
        for _ in 0..asked.len() {
            go.send(()).unwrap();
        }
        for one in asked {
            assert!(one.await.unwrap().is_ok());
        }
        assert!(most.load(Ordering::SeqCst) <= AT_ONCE);
        assert!(
            runs.run(|| Ok(())).await.is_ok(),
            "the places are free again"
        );
    }
}
