//! A match to go through afterwards, and which matches there are.

use std::sync::Arc;

use axum::extract::{Path, State};
use axum::http::HeaderMap;
use axum::response::{Json, Response};
use rallytide_court::{CannotDo, Courts, MatchPhase, Review, match_record};

use crate::answers::matches::{BegunMatch, BegunMatches};
use crate::blocking::run_blocking;
use crate::etag::tagged;
use crate::rejection::Rejection;
use crate::state::AppState;

/// The match, told rally by rally.
pub(crate) async fn show(
    State(state): State<AppState>,
    Path(id): Path<String>,
    headers: HeaderMap,
) -> Result<Response, Rejection> {
    let courts = Arc::clone(&state.courts);
    let told = state.match_jobs.run(move || {
        let chart = courts.chart_of(&id).map_err(|error| match error {
            CannotDo::UnknownMatch { .. } => Rejection::not_found(with_known(&courts, &error)),
            other => other.into(),
        })?;
        let record = match_record(&chart, &courts.plugin_set());
        serde_json::to_vec(&Review::new(&record)).map_err(|error| {
            tracing::error!(%error, "could not write a match for the review page");
            Rejection::unavailable("this match could not be written; the host's log says why")
        })
    });
    Ok(tagged(told.await?, "application/json", &headers))
}

/// The matches that have been begun, by id.
pub(crate) async fn list(State(state): State<AppState>) -> Result<Json<BegunMatches>, Rejection> {
    let matches = run_blocking(move || state.courts.matches()).await?;
    let begun = matches
        .into_iter()
        .filter(|known| known.state != MatchPhase::Planned)
        .map(|known| BegunMatch {
            id: known.header.id.to_string(),
            state: known.state,
            header: known.header.to_json().clone(),
        });
    let matches = begun.collect();
    Ok(Json(BegunMatches { matches }))
}

/// That there is no such match, with those there are, so that a misspelt one is
/// found.
fn with_known(courts: &Courts, unknown: &CannotDo) -> String {
    const MOST: usize = 20;
    let Ok(matches) = courts.matches() else {
        return format!("{unknown}; which there are could not be read");
    };
    let ids: Vec<String> = matches
        .iter()
        .take(MOST)
        .map(|known| format!("`{}`", known.header.id))
        .collect();
    match (ids.len(), matches.len() - ids.len()) {
        (0, _) => format!("{unknown}; none has been planned or charted yet"),
        (_, 0) => format!("{unknown}; there are {}", ids.join(", ")),
        (_, more) => format!("{unknown}; there are {} and {more} more", ids.join(", ")),
    }
}
