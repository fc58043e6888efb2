//! A match to take away: the chart, the recording of its feed, its readings.

use crate::blocking::run_blocking;
use crate::rejection::Rejection;
use crate::state::AppState;
use axum::extract::{Path, State};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use rallytide_chart::chart_lines;
use rallytide_court::{CannotDo, feed_lines, reading_lines};

pub(crate) async fn chart(
    State(state): State<AppState>,
    Path(id): Path<String>,
) -> Result<Response, Rejection> {
    let name = format!("{id}.chart.jsonl");
    let lines = run_blocking(move || -> Result<_, CannotDo> {
        Ok(chart_lines(&state.courts.chart_of(&id)?).collect::<Vec<_>>())
    })
    .await?;
    Ok(lined(&name, &lines))
}

pub(crate) async fn feed(
    State(state): State<AppState>,
    Path(id): Path<String>,
) -> Result<Response, Rejection> {
    let name = format!("{id}.feed.jsonl");
    let courts = state.courts;
    let told = state.match_jobs.run(move || -> Result<_, CannotDo> {
        let plugin_set = courts.plugin_set();
        Ok(feed_lines(&courts.chart_of(&id)?, &plugin_set).collect())
    });
    let lines: Vec<String> = told.await?;
    Ok(lined(&name, &lines))
}

pub(crate) async fn readings(
    State(state): State<AppState>,
    Path(id): Path<String>,
) -> Result<Response, Rejection> {
    let name = format!("{id}.readings.jsonl");
    let courts = state.courts;
    let told = state.match_jobs.run(move || -> Result<_, CannotDo> {
        Ok(reading_lines(&courts.chart_of(&id)?, &courts.plugin_set()))
    });
    Ok(lined(&name, &told.await?))
}

fn lined(name: &str, lines: &[String]) -> Response {
    let mut text = lines.join("\n");
    text.push('\n');
    attached(name, "application/jsonl; charset=utf-8", text.into_bytes())
}

/// A file to be saved under `name`, which begins with the id of a match that was
/// found: 1 to 64 of `A-Z a-z 0-9 _ -`, safe in a header and in any folder.
pub(super) fn attached(name: &str, media_type: &'static str, bytes: Vec<u8>) -> Response {
    let headers = [
        (header::CONTENT_TYPE, media_type.to_owned()),
        (
            header::CONTENT_DISPOSITION,
            format!("attachment; filename=\"{name}\""),
        ),
        (header::CACHE_CONTROL, "no-cache".to_owned()),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff".to_owned()),
    ];
    (headers, bytes).into_response()
}
