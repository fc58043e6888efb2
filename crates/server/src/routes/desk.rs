//! The streamer's desk: matches, courts, corrections, links, text files.
//!
//! Thin, as all of this crate: what an order of the desk means is the courts'
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
use axum::routing::{delete, get, post, put};

use crate::state::AppState;

/// The routes of the desk.
pub(crate) fn routes() -> Router<AppState> {
    Router::new()
        .route("/desk/links", get(links::show))
        .route("/desk/keys", post(links::renew))
        .route("/desk/others", put(links::let_others_in))
        .route("/desk/state", get(state::show))
        .route(
            "/matches/import",
            post(import::import).layer(DefaultBodyLimit::max(import::FILE_LIMIT)),
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
