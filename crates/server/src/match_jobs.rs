//! Computing a whole match for whoever asks: away from the connections, few at a
//! time. What is being played needs the machine more than files do.

use std::sync::Arc;

use tokio::sync::Semaphore;

use crate::blocking::run_blocking;
use crate::rejection::Rejection;

/// How many matches are computed at once: a slow plugin in one of them must not keep
/// all others waiting, and the machine streams, too.
const AT_ONCE: usize = 2;

/// How many requests wait for their turn; one more is told to come again.
const WAITING: usize = 16;

/// The queue of whole matches to compute.
#[derive(Clone)]
pub(crate) struct MatchJobs {
    running: Arc<Semaphore>,
    queued: Arc<Semaphore>,
}

impl MatchJobs {
    pub(crate) fn new() -> Self {
        Self {
            running: Arc::new(Semaphore::new(AT_ONCE)),
            queued: Arc::new(Semaphore::new(AT_ONCE + WAITING)),
        }
    }

    /// Does `work` when its turn comes. Whoever goes away while waiting leaves the
    /// queue; what has begun is finished, and holds its slot until then.
    pub(crate) async fn run<T, E>(
        &self,
        work: impl FnOnce() -> Result<T, E> + Send + 'static,
    ) -> Result<T, Rejection>
    where
        T: Send + 'static,
        E: Into<Rejection> + Send + 'static,
    {
        let Ok(in_queue) = Arc::clone(&self.queued).try_acquire_owned() else {
            return Err(Rejection::unavailable(
                "the host is at work on files that others asked for; try again in a moment",
            ));
        };
        let slot = Arc::clone(&self.running).acquire_owned().await;
        run_blocking(move || {
            let done = work();
            drop((slot, in_queue));
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
    async fn few_run_at_once_some_wait_and_one_more_is_told_to_come_again() {
        let jobs = MatchJobs::new();
        let now = Arc::new(AtomicUsize::new(0));
        let most = Arc::new(AtomicUsize::new(0));
        let (go, gate) = mpsc::channel::<()>();
        let gate = Arc::new(std::sync::Mutex::new(gate));
        let asked: Vec<_> = (0..AT_ONCE + WAITING)
            .map(|_| {
                let (now, most) = (Arc::clone(&now), Arc::clone(&most));
                let (jobs, gate) = (jobs.clone(), Arc::clone(&gate));
                tokio::spawn(async move {
                    jobs.run(move || {
                        most.fetch_max(now.fetch_add(1, Ordering::SeqCst) + 1, Ordering::SeqCst);
                        gate.lock().unwrap().recv_timeout(PATIENCE).unwrap();
                        now.fetch_sub(1, Ordering::SeqCst);
                        Ok::<_, Rejection>(())
                    })
                    .await
                })
            })
            .collect();
        let full = async {
            while jobs.queued.available_permits() > 0 {
                tokio::task::yield_now().await;
            }
        };
        tokio::time::timeout(PATIENCE, full).await.unwrap();
        let Err(refused) = jobs.run(|| Ok::<_, Rejection>(())).await else {
            panic!("there was room for one more");
        };
        assert_eq!(refused.status, axum::http::StatusCode::SERVICE_UNAVAILABLE);
        for _ in 0..asked.len() {
            go.send(()).unwrap();
        }
        for one in asked {
            assert!(one.await.unwrap().is_ok());
        }
        assert!(most.load(Ordering::SeqCst) <= AT_ONCE);
        assert!(
            jobs.run(|| Ok::<_, Rejection>(())).await.is_ok(),
            "the queued are free again"
        );
    }
}
