//! The thin layer between the exported functions and an author's [`Plugin`].

use crate::interface::rallytide::plugin::types as wire;
use crate::{Manifest, Moment, Opening, Plugin, Reading, Readings, Score, Upstream};

/// A plugin on its way through a match; what [`export_plugin!`](crate::export_plugin)
/// keeps between calls.
#[doc(hidden)]
pub struct Running<P>(Option<Started<P>>);

/// A plugin in a match, with what the next call starts from. Score and upstream
/// readings are out only while the plugin is called.
struct Started<P> {
    plugin: P,
    held_over: Option<(Score, Upstream)>,
    readings: Readings,
}

impl<P: Plugin> Running<P> {
    /// Nothing has been started.
    #[must_use]
    pub const fn idle() -> Self {
        Self(None)
    }

    /// The plugin's manifest.
    #[must_use]
    pub fn describe() -> Manifest {
        P::manifest()
    }

    /// Starts a match, forgetting any match before.
    ///
    /// # Errors
    /// What the plugin says against its settings.
    pub fn start(&mut self, sent: wire::Opening) -> Result<Vec<wire::Change>, String> {
        let opening = Opening {
            header: sent.header,
            settings: sent.settings,
            score: sent.score,
            upstream: sent.readings.into_iter().map(Reading::from).collect(),
        };
        let started = self.0.insert(Started {
            plugin: P::start(&opening)?,
            held_over: Some((opening.score, opening.upstream)),
            readings: Readings::default(),
        });
        Ok(started.changes())
    }

    /// Hands over the next entry.
    ///
    /// # Panics
    /// If no match has been started: a fault of the host, not of the author.
    pub fn step(&mut self, sent: wire::Moment) -> Vec<wire::Change> {
        let Some(started) = &mut self.0 else {
            panic!("the host handed over an entry before it started a match");
        };
        let Some((score, mut upstream)) = started.held_over.take() else {
            panic!("the host handed over an entry while the plugin was at another");
        };
        upstream.next_call();
        let mut moment = Moment {
            entry: sent.entry,
            score,
            upstream,
        };
        for news in sent.news.into_iter().flatten() {
            match news {
                wire::News::Score(new) => moment.score = new,
                wire::News::Reading(reading) => moment.upstream.set(reading.into()),
                wire::News::Gone(key) => moment.upstream.withdraw(key.into()),
            }
        }
        started.plugin.step(&moment);
        started.held_over = Some((moment.score, moment.upstream));
        started.changes()
    }
}

impl<P: Plugin> Started<P> {
    fn changes(&mut self) -> Vec<wire::Change> {
        self.plugin.readings(&mut self.readings);
        let changes = self.readings.changes().into_iter();
        changes.map(wire::Change::from).collect()
    }
}

/// Lets a panic's message and place reach the host's log; without it a panic
/// is a bare trap.
#[doc(hidden)]
pub fn note_panics() {
    #[cfg(target_family = "wasm")]
    std::panic::set_hook(Box::new(|panic| {
        crate::log(crate::Severity::Error, &panic.to_string());
    }));
}

/// Makes a component of a [`Plugin`]. Stands once in a plugin's crate, whose
/// type is `cdylib`.
#[macro_export]
macro_rules! export_plugin {
    ($plugin:ty) => {
        #[cfg(target_family = "wasm")]
        #[allow(unsafe_code, reason = "the exported functions of a component")]
        const _: () = {
            use $crate::interface::exports::rallytide::plugin::guest::Guest;

            std::thread_local! {
                static RUNNING: std::cell::RefCell<$crate::Running<$plugin>> =
                    const { std::cell::RefCell::new($crate::Running::idle()) };
            }

            struct Exported;

            impl Guest for Exported {
                fn describe() -> $crate::Manifest {
                    $crate::note_panics();
                    $crate::Running::<$plugin>::describe()
                }

                fn start(
                    opening: $crate::interface::rallytide::plugin::types::Opening,
                ) -> Result<Vec<$crate::interface::rallytide::plugin::types::Change>, String>
                {
                    $crate::note_panics();
                    RUNNING.with_borrow_mut(|running| running.start(opening))
                }

                fn step(
                    moment: $crate::interface::rallytide::plugin::types::Moment,
                ) -> Vec<$crate::interface::rallytide::plugin::types::Change> {
                    RUNNING.with_borrow_mut(|running| running.step(moment))
                }
            }

    $crate::interface::export!(Exported with_types_in $crate::interface);
        };
    };
}
