//! `GET /desk/state`: everything the desk shows, asked for each second.

use axum::extract::State;
use axum::http::{HeaderMap, HeaderValue, header};
use axum::response::Response;
use rallytide_bus::Timestamp;
use rallytide_court::{CharterView, Courts, KnownMatch, LiveCourt, OnCourt};
use serde_json::{Value, json};

use super::aside;
use crate::now;
use crate::routes::{Refused, Site};

pub(crate) async fn show(
    State(site): State<Site>,
    headers: HeaderMap,
) -> Result<Response, Refused> {
    let time = Timestamp::now();
    let courts = site.courts.clone();
    let problem = site.text_files.problem();
    let state = aside(move || {
        let matches = courts.matches()?;
        let on: Vec<Value> = (courts.all().iter())
            .map(|court| court_state(&courts, court, time.as_millisecond()))
            .collect();
        Ok(json!({
            "version": env!("CARGO_PKG_VERSION"),
            "courts": on,
            "matches": matches.iter().map(match_state).collect::<Vec<_>>(),
            "text_files": {"folder": courts.text_files(), "problem": problem},
        }))
    })
    .await?;
    // The time alone makes no new state: it goes into the answer, not its tag.
    let mut response = now::tagged(state.to_string().as_bytes(), "application/json", &headers);
    if response.status().is_success() {
        let tag = response.headers().get(header::ETAG).cloned();
        let mut state = state;
        if let Some(fields) = state.as_object_mut() {
            fields.shift_insert(0, "now".into(), format!("{time:.3}").into());
        }
        *response.body_mut() = state.to_string().into();
        response.headers_mut().remove(header::CONTENT_LENGTH);
        response.headers_mut().insert(
            header::ETAG,
            tag.unwrap_or(HeaderValue::from_static("\"\"")),
        );
    }
    Ok(response)
}

fn court_state(courts: &Courts, court: &LiveCourt, now: i64) -> Value {
    let on = court.on_court();
    let viewers = court.viewers();
    let charters: Vec<Value> = court.charters().view(now).iter().map(charter).collect();
    json!({
        "court": court.name().as_str(),
        "state": state_word(courts, on.as_ref()),
        "match": on.as_ref().map(|on| on.header.id.as_str()),
        "score": on.as_ref().map(|on| &on.score),
        "entries": on.as_ref().map_or(0, |on| on.entries),
        "last_entry": on.as_ref().and_then(|on| on.last_entry.as_ref()).map(|last| json!({
            "id": last.id, "kind": last.kind, "at": last.at, "received": last.received,
        })),
        "charters": charters,
        "viewers": {"viewer": viewers.viewer, "booth": viewers.booth},
    })
}

fn state_word(courts: &Courts, on: Option<&OnCourt>) -> &'static str {
    match on {
        None => "empty",
        Some(on) if on.is_over || courts.is_declared_over(on.header.id.as_str()) => "finished",
        Some(on) if on.is_paused => "paused",
        Some(on) if on.entries == 0 => "ready",
        Some(_) => "playing",
    }
}

fn charter(charter: &CharterView) -> Value {
    json!({
        "client": charter.client, "seat": charter.seat, "address": charter.address,
        "late_ms": charter.late_ms, "clock_ms": charter.clock_ms,
    })
}

fn match_state(one: &KnownMatch) -> Value {
    let planned = match one.header.court.as_str() {
        "" => None,
        court => Some(court),
    };
    json!({
        "id": one.header.id.as_str(),
        "header": one.header.to_json(),
        "state": one.state.word(),
        "court": one.court.as_ref().map(rallytide_court::CourtName::as_str).or(planned),
        "entries": one.entries,
        "winner": one.winner,
    })
}
