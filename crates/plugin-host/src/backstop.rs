//! The clock behind the fuel: ends a call that holds the host up although its
//! fuel lasts, and says how long all calls of a run may take.
//!
//! It counts ticks of its own thread and not time that has gone by, so a process
//! that was stopped, or a machine that slept, blames no plugin. Nothing a plugin
//! says may depend on it: it is set far behind the fuel, and what it ends is
//! reported as a kind of its own.

use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::mpsc::{self, RecvTimeoutError, SyncSender};
use std::thread::JoinHandle;
use std::time::Duration;

use wasmtime::Engine;

use crate::fault::HostFault;
use crate::limits::{CALL_MILLISECONDS, ENTRY_MICROSECONDS, RUN_MILLISECONDS, TICK_MILLISECONDS};

/// How long plugins may take on the host's clock.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TimeLimits {
    /// One call, in ticks of the clock, rounded up, and one more where that is
    /// more than one; with no time at all a call is ended as it begins.
    pub call: Duration,
    /// All calls of one run together, and `entry` more for each of them.
    pub run: Duration,
    /// What each call adds to `run`.
    pub entry: Duration,
}

impl TimeLimits {
    /// The shortest time of a call that is any: it ends with the first tick.
    pub const SHORTEST: Duration = Duration::from_millis(1);
}

impl Default for TimeLimits {
    fn default() -> Self {
        Self {
            call: Duration::from_millis(CALL_MILLISECONDS),
            run: Duration::from_millis(RUN_MILLISECONDS),
            entry: Duration::from_micros(ENTRY_MICROSECONDS),
        }
    }
}

/// The clock of a loader's engines; it stops when the loader and all that
/// was loaded in it are gone.
pub(crate) struct Backstop {
    ticks: AtomicU64,
    run_microseconds: AtomicU64,
    entry_microseconds: AtomicU64,
    stop: Option<SyncSender<()>>,
    thread: Option<JoinHandle<()>>,
}

impl Backstop {
    /// Starts the clock of these engines.
    pub(crate) fn start<const N: usize>(engines: [Engine; N]) -> Result<Self, HostFault> {
        let (stop, stopped) = mpsc::sync_channel(0);
        let tick = Duration::from_millis(TICK_MILLISECONDS);
        let thread = std::thread::Builder::new()
            .name("plugin clock".into())
            .spawn(move || {
                while stopped.recv_timeout(tick) == Err(RecvTimeoutError::Timeout) {
                    for engine in &engines {
                        engine.increment_epoch();
                    }
                }
            })
            .map_err(|error| HostFault::new("start the clock of the plugins", error))?;
        let backstop = Self {
            ticks: AtomicU64::new(0),
            run_microseconds: AtomicU64::new(0),
            entry_microseconds: AtomicU64::new(0),
            stop: Some(stop),
            thread: Some(thread),
        };
        backstop.set(TimeLimits::default());
        Ok(backstop)
    }

    /// Sets other limits, from the next call on.
    pub(crate) fn set(&self, limits: TimeLimits) {
        let milliseconds = limits.call.as_millis() as u64;
        // The first tick may come at once, so one more is waited for.
        let ticks = match milliseconds.div_ceil(TICK_MILLISECONDS) {
            few @ (0 | 1) => few,
            many => many + 1,
        };
        self.ticks.store(ticks, Ordering::Relaxed);
        let store = |to: &AtomicU64, time: Duration| {
            let microseconds = u64::try_from(time.as_micros()).unwrap_or(u64::MAX);
            to.store(microseconds, Ordering::Relaxed);
        };
        store(&self.run_microseconds, limits.run);
        store(&self.entry_microseconds, limits.entry);
    }

    /// How many ticks a call may see.
    pub(crate) fn ticks(&self) -> u64 {
        self.ticks.load(Ordering::Relaxed)
    }

    /// How long so many calls of a run may take together.
    pub(crate) fn time_for(&self, calls: u64) -> Duration {
        let run = self.run_microseconds.load(Ordering::Relaxed);
        let entry = self.entry_microseconds.load(Ordering::Relaxed);
        Duration::from_micros(run.saturating_add(entry.saturating_mul(calls)))
    }
}

impl Drop for Backstop {
    fn drop(&mut self) {
        // Without a sender the clock stops at once.
        drop(self.stop.take());
        if let Some(thread) = self.thread.take() {
            // The thread does nothing that could panic.
            let _ended = thread.join();
        }
    }
}
