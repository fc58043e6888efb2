//! `GET /plugins`, and switching and setting them.

use std::sync::Arc;

use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::Json;
use serde_json::{Map, Value};

use crate::answers::plugins::Switch;
use crate::blocking::run_blocking;
use crate::json_body::JsonBody;
use crate::plugin_desk::PluginReport;
use crate::rejection::Rejection;
use crate::state::AppState;

pub(crate) async fn report(State(state): State<AppState>) -> Json<PluginReport> {
    Json(state.plugins.report())
}

pub(crate) async fn switch(
    State(state): State<AppState>,
    Path(plugin): Path<String>,
    JsonBody(switch): JsonBody<Switch>,
) -> Result<StatusCode, Rejection> {
    let desk = Arc::clone(&state.plugins);
    run_blocking(move || desk.switch(&plugin, switch.on)).await?;
    Ok(StatusCode::NO_CONTENT)
}

pub(crate) async fn set(
    State(state): State<AppState>,
    Path(plugin): Path<String>,
    JsonBody(chosen): JsonBody<Map<String, Value>>,
) -> Result<StatusCode, Rejection> {
    let desk = Arc::clone(&state.plugins);
    run_blocking(move || desk.set(&plugin, chosen)).await?;
    Ok(StatusCode::NO_CONTENT)
}
