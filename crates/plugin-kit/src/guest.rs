//! The thin layer between the exported functions and an author's [`Plugin`].

use crate::interface::rallytide::plugin::types as wire;
use crate::{Key, Manifest, Moment, Opening, Plugin, Publisher, Reading, Score};

/// A plugin on its way through a match; what [`export_plugin!`](crate::export_plugin)
/// keeps between calls.
#[doc(hidden)]
pub struct Running<P>(Option<Started<P>>);

/// A plugin in a match, and the score as it was last handed over; none only
/// while the plugin is at it. The lists are empty, kept for their memory.
struct Started<P> {
    plugin: P,
    score: Option<Score>,
    changed: Vec<Reading>,
    gone: Vec<Key>,
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
            readings: sent.readings.into_iter().map(Reading::from).collect(),
        };
        let mut publish = Publisher::default();
        self.0 = Some(Started {
            plugin: P::start(&opening, &mut publish)?,
            score: Some(opening.score),
            changed: Vec::new(),
            gone: Vec::new(),
        });
        Ok(publish.into_wire())
    }

    /// Hands over the next entry.
    ///
    /// # Panics
    /// If no match has been started: a fault of the host, not of the author.
    pub fn step(&mut self, sent: wire::Moment) -> Vec<wire::Change> {
        let Some(started) = &mut self.0 else {
            panic!("the host handed over an entry before it started a match");
        };
        let Some(before) = started.score.take() else {
            panic!("the host handed over an entry while the plugin was at another");
        };
        let mut moment = Moment {
            entry: sent.entry,
            score: before,
            changed: std::mem::take(&mut started.changed),
            gone: std::mem::take(&mut started.gone),
        };
        for news in sent.news.into_iter().flatten() {
            match news {
                wire::News::Score(new) => moment.score = new,
                wire::News::Reading(reading) => moment.changed.push(reading.into()),
                wire::News::Gone(key) => moment.gone.push(key),
            }
        }
        let mut publish = Publisher::default();
        started.plugin.step(&moment, &mut publish);
        moment.changed.clear();
        moment.gone.clear();
        started.changed = moment.changed;
        started.gone = moment.gone;
        started.score = Some(moment.score);
        publish.into_wire()
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
