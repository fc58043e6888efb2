//! What every handler works on, and how a court is found in it.

use std::path::PathBuf;
use std::sync::Arc;

use rallytide_chart::ID_RULE;
use rallytide_court::{CourtName, Courts, LiveCourt};
use tokio::sync::watch;

use crate::access::Access;
use crate::limits::ConnectionLimits;
use crate::listeners::Listeners;
use crate::match_jobs::MatchJobs;
use crate::pages::Pages;
use crate::place_keeper::PlaceKeeper;
use crate::plugin_desk::PluginDesk;
use crate::refusal_counts::RefusalCounts;
use crate::rejection::Rejection;
use crate::text_files::TextFiles;

/// What the routes work on.
#[derive(Clone)]
pub struct AppState {
    pub(crate) courts: Arc<Courts>,
    pub(crate) plugins: Arc<dyn PluginDesk>,
    pub(crate) text_files: TextFiles,
    pub(crate) match_jobs: MatchJobs,
    pub(crate) pages: Pages,
    pub(crate) extras: Extras,
    pub(crate) access: Access,
    pub(crate) listeners: Listeners,
    pub(crate) limits: ConnectionLimits,
    pub(crate) refusals: RefusalCounts,
    /// True from the moment on when the host stops.
    pub(crate) stop: watch::Receiver<bool>,
}

/// What the pages need from the program, besides the courts.
#[derive(Clone)]
pub struct Extras {
    /// Chart and score as a WebAssembly module, for the charters' page.
    pub chart_wasm: &'static [u8],
    /// Makes up a match to practice on: the lines of its chart, from a seed.
    pub made_up: fn(u64) -> Result<Vec<String>, String>,
}

impl AppState {
    /// The state of a host with these `courts`. Connections end when `stop`
    /// becomes true. Files in `own_pages` win over the pages inside the binary.
    #[must_use]
    pub fn new(
        courts: Arc<Courts>,
        plugins: Arc<dyn PluginDesk>,
        own_pages: Option<PathBuf>,
        extras: Extras,
        access: Access,
        limits: ConnectionLimits,
        stop: watch::Receiver<bool>,
    ) -> Self {
        Self {
            text_files: TextFiles::new(Arc::clone(&courts)),
            listeners: Listeners::new(access.clone(), Arc::clone(&courts), limits.clone()),
            match_jobs: MatchJobs::new(),
            refusals: RefusalCounts::default(),
            pages: Pages::new(own_pages),
            courts,
            plugins,
            extras,
            access,
            limits,
            stop,
        }
    }

    /// Who writes the text files for streaming programs; it has to be run.
    #[must_use]
    pub fn text_files(&self) -> TextFiles {
        self.text_files.clone()
    }

    /// Who keeps the places of matches that wait for others; it has to be run.
    #[must_use]
    pub fn place_keeper(&self) -> PlaceKeeper {
        PlaceKeeper::new(Arc::clone(&self.courts))
    }

    /// What listens for other machines; it has to be run.
    #[must_use]
    pub fn listeners(&self) -> Listeners {
        self.listeners.clone()
    }

    /// The court of that name, made if there is none: for whoever brings
    /// something onto it. Looking at a court never makes one.
    pub(crate) fn court(&self, name: &str) -> Result<Arc<LiveCourt>, Rejection> {
        Ok(self.courts.court(&court_name(name)?)?)
    }

    /// The court of that name, if there is one.
    pub(crate) fn known_court(&self, name: &str) -> Result<Arc<LiveCourt>, Rejection> {
        let name = court_name(name)?;
        self.courts.find(&name).ok_or_else(|| {
            Rejection::not_found(format!(
                "there is no court `{name}` yet; `/courts` lists them"
            ))
        })
    }
}

/// Reads the name of a court.
pub(crate) fn court_name(name: &str) -> Result<CourtName, Rejection> {
    CourtName::new(name)
        .ok_or_else(|| Rejection::not_found(format!("`{name}` is no name of a court: {ID_RULE}")))
}
