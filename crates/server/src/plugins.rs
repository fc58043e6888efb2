//! `GET /plugins` and what the desk can do with plugins. What a plugin is, this
//! crate does not know: the program hands in a [`PluginDesk`].

use std::sync::Arc;

use axum::extract::{Json, Path, State};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use serde_json::{Map, Value};

use crate::origin;
use crate::routes::{Refused, Site};

/// The program's side of the plugins.
pub trait PluginDesk: Send + Sync {
    /// Every plugin with its state on every court, and every attempt to load one.
    fn report(&self) -> Value;

    /// Switches a plugin on or off.
    ///
    /// # Errors
    /// Why not.
    fn switch(&self, plugin: &str, on: bool) -> Result<(), DeskRefusal>;

    /// Chooses settings for a plugin, by name; what is not named has its default.
    ///
    /// # Errors
    /// Why not, with what is allowed.
    fn set(&self, plugin: &str, chosen: Map<String, Value>) -> Result<(), DeskRefusal>;
}

/// Why the desk cannot do something.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum DeskRefusal {
    /// There is no such plugin.
    Unknown(String),
    /// It does not fit; the sentence says what does.
    Unfit(String),
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Switch {
    on: bool,
}

pub(crate) async fn report(State(site): State<Site>) -> Json<Value> {
    Json(site.plugins.report())
}

pub(crate) async fn switch(
    State(site): State<Site>,
    Path(plugin): Path<String>,
    headers: HeaderMap,
    Json(switch): Json<Switch>,
) -> Result<Response, Refused> {
    let desk = Arc::clone(&site.plugins);
    change(&headers, move || desk.switch(&plugin, switch.on)).await
}

pub(crate) async fn set(
    State(site): State<Site>,
    Path(plugin): Path<String>,
    headers: HeaderMap,
    Json(chosen): Json<Map<String, Value>>,
) -> Result<Response, Refused> {
    let desk = Arc::clone(&site.plugins);
    change(&headers, move || desk.set(&plugin, chosen)).await
}

/// Runs the matches under the changed plugins: away from the connections.
async fn change(
    headers: &HeaderMap,
    change: impl FnOnce() -> Result<(), DeskRefusal> + Send + 'static,
) -> Result<Response, Refused> {
    if !origin::is_own(headers) {
        return Err(Refused(
            StatusCode::FORBIDDEN,
            "plugins are changed from this host's own pages and by programs, not from pages of \
             other sites"
                .into(),
        ));
    }
    let done = tokio::task::spawn_blocking(change).await.map_err(|error| {
        tracing::error!(%error, "a change of plugins broke off");
        Refused(
            StatusCode::INTERNAL_SERVER_ERROR,
            "the change broke off; what ran goes on".into(),
        )
    })?;
    match done {
        Ok(()) => Ok(StatusCode::NO_CONTENT.into_response()),
        Err(DeskRefusal::Unknown(sentence)) => Err(Refused(StatusCode::NOT_FOUND, sentence)),
        Err(DeskRefusal::Unfit(sentence)) => {
            Err(Refused(StatusCode::UNPROCESSABLE_ENTITY, sentence))
        }
    }
}
