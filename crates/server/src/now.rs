//! The state over plain HTTP: `now` and `now/score.txt` for programs that poll,
//! `chart.jsonl` for whoever charts on.

use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use rallytide_court::{ChartedMatch, LiveCourt, Role};
use serde_json::Value;

/// The snapshot as JSON, with an `ETag`.
pub(crate) fn now(court: &LiveCourt, role: Role, request: &HeaderMap) -> Response {
    let text = court.now(role);
    tagged(text.as_bytes(), "application/json", request)
}

/// The call and the names, a line each.
pub(crate) fn score_text(court: &LiveCourt, request: &HeaderMap) -> Response {
    match court.with_match(score_lines) {
        Some(text) => tagged(text.as_bytes(), "text/plain; charset=utf-8", request),
        None => no_match(court),
    }
}

/// The chart of the match that is on, header first, each entry with its `seq`.
pub(crate) fn chart_lines(court: &LiveCourt, request: &HeaderMap) -> Response {
    match court.with_match(chart_file) {
        Some(text) => tagged(text.as_bytes(), "application/jsonl; charset=utf-8", request),
        None => no_match(court),
    }
}

fn no_match(court: &LiveCourt) -> Response {
    (
        StatusCode::NOT_FOUND,
        format!("there is no match on court `{}` yet\n", court.name()),
    )
        .into_response()
}

fn chart_file(charted: &ChartedMatch) -> String {
    let header = Value::Object(charted.chart().header().to_json().clone());
    let mut text = format!("{header}\n");
    for (seq, entry) in charted.chart().entries() {
        let mut fields = entry.to_json().clone();
        fields.insert("seq".to_owned(), Value::from(seq.0));
        text.push_str(&Value::Object(fields).to_string());
        text.push('\n');
    }
    text
}

/// Line 1: the call, or `final` and the games after the match. Lines 2 and 3:
/// the teams in the order of the header, the serving one first named as such.
pub(crate) fn score_lines(charted: &ChartedMatch) -> String {
    let score = charted.score();
    let teams = &charted.chart().header().teams;
    let call = match &score.call {
        Some(call) => call.to_string(),
        None => format!("final {}-{}", score.games.a, score.games.b),
    };
    format!("{call}\n{}\n{}\n", teams.a.name, teams.b.name)
}

/// An answer that a poller need not fetch again while it stays the same.
pub(crate) fn tagged(body: &[u8], content_type: &'static str, request: &HeaderMap) -> Response {
    let tag = format!("\"{:08x}-{:x}\"", crc32fast::hash(body), body.len());
    let known = request
        .get_all(header::IF_NONE_MATCH)
        .iter()
        .filter_map(|value| value.to_str().ok())
        .flat_map(|value| value.split(','))
        .map(|known| known.trim().trim_start_matches("W/"))
        .any(|known| known == tag || known == "*");
    let mut response = if known {
        StatusCode::NOT_MODIFIED.into_response()
    } else {
        ([(header::CONTENT_TYPE, content_type)], body.to_vec()).into_response()
    };
    let headers = response.headers_mut();
    headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-cache"));
    if let Ok(tag) = HeaderValue::from_str(&tag) {
        headers.insert(header::ETAG, tag);
    }
    response
}
