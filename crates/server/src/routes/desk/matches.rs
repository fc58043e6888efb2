//! Planned matches, and the names and titles of those that have been begun.

use std::sync::Arc;

use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::Json;
use rallytide_chart::Header;
use serde_json::{Map, Value};

use super::plan;
use crate::answers::matches::PlannedMatch;
use crate::blocking::run_blocking;
use crate::json_body::JsonBody;
use crate::rejection::Rejection;
use crate::state::AppState;

pub(crate) async fn plan(
    State(state): State<AppState>,
    JsonBody(source): JsonBody<Map<String, Value>>,
) -> Result<(StatusCode, Json<PlannedMatch>), Rejection> {
    let courts = Arc::clone(&state.courts);
    let header = run_blocking(move || -> Result<_, Rejection> {
        let header = plan::read(source, &|id| courts.is_taken(id))?;
        Ok(courts.plan(vec![header])?.remove(0))
    })
    .await?;
    Ok((StatusCode::CREATED, answer(&header)))
}

pub(crate) async fn give_header(
    State(state): State<AppState>,
    Path(id): Path<String>,
    JsonBody(mut source): JsonBody<Map<String, Value>>,
) -> Result<Json<PlannedMatch>, Rejection> {
    let courts = Arc::clone(&state.courts);
    let header = run_blocking(move || {
        let own = source.entry("id").or_insert_with(|| id.clone().into());
        if own.as_str() != Some(&id) {
            return Err(Rejection::conflict(format!(
                "a match keeps its id: this one is `{id}`, the header says {own}"
            )));
        }
        let header = plan::read(source, &|_| Ok(false))?;
        Ok(courts.give_header(&header)?)
    })
    .await?;
    Ok(answer(&header))
}

pub(crate) async fn give_up(
    State(state): State<AppState>,
    Path(id): Path<String>,
) -> Result<StatusCode, Rejection> {
    run_blocking(move || state.courts.remove_planned(&id)).await?;
    Ok(StatusCode::NO_CONTENT)
}

fn answer(header: &Header) -> Json<PlannedMatch> {
    Json(PlannedMatch {
        id: header.id.to_string(),
        header: header.to_json().clone(),
    })
}
