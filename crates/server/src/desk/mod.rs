//! The streamer's desk: matches, courts, corrections, links, text files.
//!
//! Thin, as all of this crate: what a word of the desk means is the courts'
//! business; here it is read, and answered with a status and a sentence.

mod courts;
mod downloads;
mod entries;
mod exports;
mod import;
mod links;
mod matches;
mod plan;
mod state;
mod text_files;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::http::StatusCode;
use axum::routing::{delete, get, post, put};
use rallytide_court::CannotDo;

use crate::routes::{Refused, Site};

/// The routes of the desk.
pub(crate) fn routes() -> Router<Site> {
    Router::new()
        .route("/desk/links", get(links::show))
        .route("/desk/keys", post(links::renew))
        .route("/desk/others", put(links::let_others_in))
        .route("/desk/state", get(state::show))
        .route(
            "/matches/import",
            post(import::import).layer(DefaultBodyLimit::max(import::BYTES_LIMIT)),
        )
        .route("/matches", post(matches::plan))
        .route(
            "/matches/{id}",
            put(matches::give_header).delete(matches::give_up),
        )
        .route("/matches/{id}/chart.jsonl", get(downloads::chart))
        .route("/matches/{id}/feed.jsonl", get(downloads::feed))
        .route("/matches/{id}/readings.jsonl", get(downloads::readings))
        .route("/matches/{id}/export/{file}", get(exports::file))
        .route("/courts/{court}", delete(courts::close))
        .route(
            "/courts/{court}/match",
            put(courts::put_match).delete(courts::take_off),
        )
        .route("/courts/{court}/pause", put(courts::pause))
        .route("/courts/{court}/finish", put(courts::finish))
        .route(
            "/courts/{court}/entries",
            get(entries::list).post(entries::record),
        )
        .route("/courts/{court}/preview", post(entries::preview))
        .route("/text-files", put(text_files::choose))
}

impl From<CannotDo> for Refused {
    fn from(error: CannotDo) -> Self {
        let status = match error {
            CannotDo::Unknown(_) => StatusCode::NOT_FOUND,
            CannotDo::Conflict(_) => StatusCode::CONFLICT,
            CannotDo::Unfit(_) => StatusCode::UNPROCESSABLE_ENTITY,
            CannotDo::NotStored(_) => StatusCode::SERVICE_UNAVAILABLE,
        };
        Self(status, error.to_string())
    }
}

/// Does what waits for the disk, or runs matches, away from the connections.
pub(crate) async fn aside<T: Send + 'static>(
    work: impl FnOnce() -> Result<T, CannotDo> + Send + 'static,
) -> Result<T, Refused> {
    let done = tokio::task::spawn_blocking(work).await.map_err(|error| {
        tracing::error!(%error, "a word of the desk broke off");
        Refused(
            StatusCode::INTERNAL_SERVER_ERROR,
            "this broke off; look at the state and try again".into(),
        )
    })?;
    Ok(done?)
}
