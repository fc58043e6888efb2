//! What is on a court: put on, taken off, paused, declared over.

use std::sync::Arc;

use axum::extract::{Path, State};
use axum::http::StatusCode;
use rallytide_court::Replace;

use super::entries;
use crate::answers::courts::{Finish, Pause, PutMatch};
use crate::blocking::run_blocking;
use crate::json_body::JsonBody;
use crate::rejection::Rejection;
use crate::state::{AppState, court_name};

pub(crate) async fn put_match(
    State(state): State<AppState>,
    Path(name): Path<String>,
    JsonBody(put): JsonBody<PutMatch>,
) -> Result<StatusCode, Rejection> {
    let court = state.court(&name)?;
    let replace = if put.replace {
        Replace::Any
    } else {
        Replace::OnlyFinished
    };
    run_blocking(move || {
        if put.moves {
            state.courts.move_match(&court, &put.id, replace)
        } else {
            state.courts.start_by_desk(&court, &put.id, replace)
        }
    })
    .await?;
    Ok(StatusCode::NO_CONTENT)
}

pub(crate) async fn take_off(
    State(state): State<AppState>,
    Path(name): Path<String>,
) -> Result<StatusCode, Rejection> {
    let court = state.known_court(&name)?;
    run_blocking(move || state.courts.remove_match(&court)).await?;
    Ok(StatusCode::NO_CONTENT)
}

pub(crate) async fn pause(
    State(state): State<AppState>,
    Path(name): Path<String>,
    JsonBody(pause): JsonBody<Pause>,
) -> Result<StatusCode, Rejection> {
    let court = state.known_court(&name)?;
    run_blocking(move || state.courts.pause(&court, pause.paused)).await?;
    Ok(StatusCode::NO_CONTENT)
}

/// Declares the match over, or lets it go on. A retirement is an entry; taking
/// it back retracts it. What the rallies have decided only a correction undoes.
pub(crate) async fn finish(
    State(state): State<AppState>,
    Path(name): Path<String>,
    JsonBody(finish): JsonBody<Finish>,
) -> Result<StatusCode, Rejection> {
    let court = state.known_court(&name)?;
    let Some(on) = court.on_court() else {
        return Err(Rejection::conflict(format!(
            "there is no match on court `{name}`"
        )));
    };
    if let (true, Some(team)) = (finish.finished, &finish.retired) {
        if team != "a" && team != "b" {
            return Err(Rejection::unfit(format!(
                "field `retired` is `{team}`; it takes `a` or `b`"
            )));
        }
        entries::retire(&court, team).await?;
        return Ok(StatusCode::NO_CONTENT);
    }
    if !finish.finished && on.is_over {
        entries::take_back_retirement(&court).await?;
    }
    let courts = Arc::clone(&state.courts);
    run_blocking(move || courts.declare_over(&court, finish.finished)).await?;
    Ok(StatusCode::NO_CONTENT)
}

pub(crate) async fn close(
    State(state): State<AppState>,
    Path(name): Path<String>,
) -> Result<StatusCode, Rejection> {
    let name = court_name(&name)?;
    run_blocking(move || state.courts.close(&name)).await?;
    Ok(StatusCode::NO_CONTENT)
}
