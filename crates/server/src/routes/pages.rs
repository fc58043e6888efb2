//! The addresses of the pages.

use axum::extract::{Path, State};
use axum::http::{HeaderMap, Uri, header};
use axum::response::{IntoResponse, Response};

use crate::access::{Permit, Visitor};
use crate::etag::tagged;
use crate::pages::blank_page;
use crate::rejection::Rejection;
use crate::state::{AppState, court_name};

pub(crate) async fn index(State(state): State<AppState>, headers: HeaderMap) -> Response {
    state.pages.of_folder("index", &headers).await
}

pub(crate) async fn graphic(
    State(state): State<AppState>,
    Path(name): Path<String>,
    visitor: Visitor,
    headers: HeaderMap,
) -> Result<Response, Rejection> {
    court_name(&name)?;
    if let Err(rejection) = state.access.check(&visitor, Permit::Viewer) {
        // A streaming program shows on air whatever a page holds, and loads it
        // anew by itself: the sentence is for the tab of whoever looks it up.
        return Ok((rejection.status, blank_page(&rejection.sentence)).into_response());
    }
    Ok(state.pages.of_folder("graphic", &headers).await)
}

pub(crate) async fn booth(
    State(state): State<AppState>,
    Path(name): Path<String>,
    headers: HeaderMap,
) -> Result<Response, Rejection> {
    court_name(&name)?;
    Ok(state.pages.of_folder("booth", &headers).await)
}

pub(crate) async fn chart(
    State(state): State<AppState>,
    Path(name): Path<String>,
    headers: HeaderMap,
) -> Result<Response, Rejection> {
    court_name(&name)?;
    Ok(state.pages.of_folder("chart", &headers).await)
}

pub(crate) async fn cues(
    State(state): State<AppState>,
    Path(name): Path<String>,
    headers: HeaderMap,
) -> Result<Response, Rejection> {
    court_name(&name)?;
    Ok(state.pages.of_folder("cues", &headers).await)
}

pub(crate) async fn practice(State(state): State<AppState>, headers: HeaderMap) -> Response {
    state.pages.of_folder("practice", &headers).await
}

pub(crate) async fn desk(State(state): State<AppState>, headers: HeaderMap) -> Response {
    state.pages.of_folder("desk", &headers).await
}

/// The page of a match. Its files stand at the same place and hold nothing of a
/// match, so only the page itself asks for a key; a match has no full stop in
/// its id.
pub(crate) async fn review(
    State(state): State<AppState>,
    Path(id): Path<String>,
    visitor: Visitor,
    headers: HeaderMap,
) -> Result<Response, Rejection> {
    if id.contains('.') {
        return Ok(state.pages.file(&format!("review/{id}"), &headers).await);
    }
    state.access.check(&visitor, Permit::Booth)?;
    Ok(state.pages.of_folder("review", &headers).await)
}

/// Browsers ask for it unbidden, for the documents among other things.
pub(crate) async fn icon(State(state): State<AppState>, headers: HeaderMap) -> Response {
    state.pages.file("shared/icon.svg", &headers).await
}

/// Chart and score for the charters' page.
pub(crate) async fn chart_wasm(State(state): State<AppState>, headers: HeaderMap) -> Response {
    tagged(state.extras.chart_wasm, "application/wasm", &headers)
}

/// A made-up match as a chart file, the same for the same seed.
pub(crate) async fn made_up_match(
    State(state): State<AppState>,
    Path(seed): Path<u64>,
) -> Result<Response, Rejection> {
    let lines = (state.extras.made_up)(seed).map_err(Rejection::internal)?;
    let content_type = [(header::CONTENT_TYPE, "application/jsonl; charset=utf-8")];
    Ok((content_type, lines.join("\n") + "\n").into_response())
}

/// Everything that is no address of its own: a file of the pages.
pub(crate) async fn other_file(
    State(state): State<AppState>,
    uri: Uri,
    headers: HeaderMap,
) -> Response {
    let path = uri.path().trim_start_matches('/');
    state.pages.file(path, &headers).await
}
