//! The state over plain HTTP, for programs that poll: `now` and `now/score.txt`.

use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use rallytide_court::{ChartedMatch, LiveCourt, Role};

/// The snapshot as JSON, with an `ETag`.
pub(crate) fn now(court: &LiveCourt, role: Role, request: &HeaderMap) -> Response {
    let text = court.now(role);
    tagged(text.as_bytes(), "application/json", request)
}

/// The call and the names, a line each.
pub(crate) fn score_text(court: &LiveCourt, request: &HeaderMap) -> Response {
    match court.with_match(score_lines) {
        Some(text) => tagged(text.as_bytes(), "text/plain; charset=utf-8", request),
        None => (
            StatusCode::NOT_FOUND,
            format!("there is no match on court `{}` yet\n", court.name()),
        )
            .into_response(),
    }
}

/// Line 1: the call, or `final` and the games after the match. Lines 2 and 3:
/// the teams in the order of the header, the serving one first named as such.
fn score_lines(charted: &ChartedMatch) -> String {
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
