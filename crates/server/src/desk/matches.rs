//! Planned matches, and the words of those that have been begun.

use std::sync::Arc;

use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Json, Response};
use rallytide_chart::Header;
use rallytide_court::CannotDo;
use serde_json::{Map, Value, json};

use super::{aside, plan};
use crate::body::Body;
use crate::routes::{Refused, Site};

pub(crate) async fn plan(
    State(site): State<Site>,
    Body(source): Body<Map<String, Value>>,
) -> Result<Response, Refused> {
    let courts = Arc::clone(&site.courts);
    let header = aside(move || {
        let header = plan::read(source, &|id| courts.is_taken(id))?;
        courts.plan(vec![header.clone()])?;
        Ok(header)
    })
    .await?;
    Ok((StatusCode::CREATED, answer(&header)).into_response())
}

pub(crate) async fn give_header(
    State(site): State<Site>,
    Path(id): Path<String>,
    Body(mut source): Body<Map<String, Value>>,
) -> Result<Response, Refused> {
    let courts = Arc::clone(&site.courts);
    let header = aside(move || {
        let own = source.entry("id").or_insert_with(|| id.clone().into());
        if own.as_str() != Some(&id) {
            return Err(CannotDo::Conflict(format!(
                "a match keeps its id: this one is `{id}`, the header says {own}"
            )));
        }
        let header = plan::read(source, &|_| Ok(false))?;
        courts.give_header(&header)?;
        Ok(header)
    })
    .await?;
    Ok(answer(&header).into_response())
}

pub(crate) async fn give_up(
    State(site): State<Site>,
    Path(id): Path<String>,
) -> Result<StatusCode, Refused> {
    aside(move || site.courts.give_up(&id)).await?;
    Ok(StatusCode::NO_CONTENT)
}

fn answer(header: &Header) -> Json<Value> {
    Json(json!({"id": header.id.as_str(), "header": header.to_json()}))
}
