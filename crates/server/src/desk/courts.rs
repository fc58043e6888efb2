//! What is on a court: put on, taken off, paused, declared over.

use std::sync::Arc;

use axum::extract::{Path, State};
use axum::http::StatusCode;
use rallytide_court::{CannotDo, Replace};
use serde::Deserialize;

use super::{aside, entries};
use crate::body::Body;
use crate::routes::{Refused, Site, court, court_name, known_court};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct PutMatch {
    #[serde(rename = "match")]
    id: String,
    #[serde(default)]
    replace: bool,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Pause {
    paused: bool,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Finish {
    finished: bool,
    retired: Option<String>,
}

pub(crate) async fn put_match(
    State(site): State<Site>,
    Path(name): Path<String>,
    Body(put): Body<PutMatch>,
) -> Result<StatusCode, Refused> {
    let court = court(&site, &name)?;
    let replace = if put.replace {
        Replace::Any
    } else {
        Replace::OnlyFinished
    };
    aside(move || site.courts.put_match(&court, &put.id, replace)).await?;
    Ok(StatusCode::NO_CONTENT)
}

pub(crate) async fn take_off(
    State(site): State<Site>,
    Path(name): Path<String>,
) -> Result<StatusCode, Refused> {
    let court = known_court(&site, &name)?;
    aside(move || site.courts.take_off(&court)).await?;
    Ok(StatusCode::NO_CONTENT)
}

pub(crate) async fn pause(
    State(site): State<Site>,
    Path(name): Path<String>,
    Body(pause): Body<Pause>,
) -> Result<StatusCode, Refused> {
    let court = known_court(&site, &name)?;
    aside(move || site.courts.pause(&court, pause.paused)).await?;
    Ok(StatusCode::NO_CONTENT)
}

/// Declares the match over, or lets it go on. A retirement is an entry; taking
/// it back retracts it. What the rallies have decided only a correction undoes.
pub(crate) async fn finish(
    State(site): State<Site>,
    Path(name): Path<String>,
    Body(finish): Body<Finish>,
) -> Result<StatusCode, Refused> {
    let court = known_court(&site, &name)?;
    let Some(on) = court.on_court() else {
        return Err(Refused(
            StatusCode::CONFLICT,
            format!("there is no match on court `{name}`"),
        ));
    };
    if let (true, Some(team)) = (finish.finished, &finish.retired) {
        if team != "a" && team != "b" {
            return Err(Refused(
                StatusCode::UNPROCESSABLE_ENTITY,
                format!("field `retired` is `{team}`; it takes `a` or `b`"),
            ));
        }
        return entries::retire(&court, team).await;
    }
    if !finish.finished && on.is_over {
        entries::take_back_retirement(&court).await?;
    }
    let courts = Arc::clone(&site.courts);
    aside(move || courts.declare_over(&court, finish.finished)).await?;
    Ok(StatusCode::NO_CONTENT)
}

pub(crate) async fn close(
    State(site): State<Site>,
    Path(name): Path<String>,
) -> Result<StatusCode, Refused> {
    let name = court_name(&name)?;
    aside(move || -> Result<(), CannotDo> { site.courts.close(&name) }).await?;
    Ok(StatusCode::NO_CONTENT)
}
