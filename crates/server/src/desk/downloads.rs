//! A match to take away: the chart, the recording of its feed, its readings.

use std::sync::Arc;

use axum::extract::{Path, State};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use rallytide_court::{CannotDo, Courts, chart_lines, feed_lines, reading_lines};

use super::aside;
use crate::routes::{Refused, Site};

pub(crate) async fn chart(
    State(site): State<Site>,
    Path(id): Path<String>,
) -> Result<Response, Refused> {
    file(site.courts, id, "chart", |courts, id| {
        Ok(chart_lines(&courts.chart_of(id)?))
    })
    .await
}

pub(crate) async fn feed(
    State(site): State<Site>,
    Path(id): Path<String>,
) -> Result<Response, Refused> {
    file(site.courts, id, "feed", |courts, id| {
        let ensemble = courts.ensemble();
        Ok(feed_lines(&courts.chart_of(id)?, &ensemble).collect())
    })
    .await
}

pub(crate) async fn readings(
    State(site): State<Site>,
    Path(id): Path<String>,
) -> Result<Response, Refused> {
    file(site.courts, id, "readings", |courts, id| {
        Ok(reading_lines(&courts.chart_of(id)?, &courts.ensemble()))
    })
    .await
}

async fn file(
    courts: Arc<Courts>,
    id: String,
    what: &'static str,
    lines: impl FnOnce(&Courts, &str) -> Result<Vec<String>, CannotDo> + Send + 'static,
) -> Result<Response, Refused> {
    // A match that was found has a name that may stand in a header.
    let name = format!("attachment; filename=\"{id}.{what}.jsonl\"");
    let lines = aside(move || lines(&courts, &id)).await?;
    let headers = [
        (
            header::CONTENT_TYPE,
            "application/jsonl; charset=utf-8".to_owned(),
        ),
        (header::CONTENT_DISPOSITION, name),
        (header::CACHE_CONTROL, "no-cache".to_owned()),
    ];
    let mut text = lines.join("\n");
    text.push('\n');
    Ok((headers, text).into_response())
}
