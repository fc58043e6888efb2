//! The entries of the match on a court, and the referee's word on them: tried
//! first, then recorded as the client `desk`.

use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use axum::extract::{Path, Query, State};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{Json, Response};
use rallytide_bus::Timestamp;
use rallytide_chart::{MatchId, Refusal, RefusalCode, Seq};
use rallytide_court::{Accepted, DESK, Fate, LiveCourt};
use serde::Deserialize;
use serde_json::{Map, Value, json};

use crate::body::Body;
use crate::now;
use crate::routes::{Refused, Site, known_court};

/// Entries told at once, unless asked for otherwise.
const PAGE: usize = 50;
/// The most entries that are told at once.
const PAGE_LIMIT: usize = 500;
/// The most entries that are tried or recorded at once.
const ENTRIES_LIMIT: usize = 200;

#[derive(Debug, Deserialize)]
pub(crate) struct Page {
    before: Option<u64>,
    limit: Option<usize>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Entries {
    entries: Vec<Value>,
}

pub(crate) async fn list(
    State(site): State<Site>,
    Path(name): Path<String>,
    Query(page): Query<Page>,
    headers: HeaderMap,
) -> Result<Response, Refused> {
    let court = known_court(&site, &name)?;
    let limit = page.limit.unwrap_or(PAGE).min(PAGE_LIMIT);
    let before = page.before.map(Seq);
    let told =
        tokio::task::block_in_place(|| court.with_match(|charted| charted.told(before, limit)))
            .ok_or_else(|| no_match(&court))?;
    let entries: Vec<Value> = told
        .into_iter()
        .map(|one| {
            json!({
                "seq": one.seq, "entry": one.entry, "state": one.fate.word(),
                "correction": one.correction, "client": one.client,
                "score": one.score, "rally": one.rally,
            })
        })
        .collect();
    let body = json!({ "entries": entries }).to_string();
    Ok(now::tagged(body.as_bytes(), "application/json", &headers))
}

pub(crate) async fn preview(
    State(site): State<Site>,
    Path(name): Path<String>,
    Body(sent): Body<Entries>,
) -> Result<Json<Value>, Refused> {
    let court = known_court(&site, &name)?;
    let entries = within_limit(sent)?;
    let preview = super::aside({
        let court = Arc::clone(&court);
        move || Ok(court.preview(entries))
    })
    .await?
    .ok_or_else(|| no_match(&court))?;
    let rallies: Vec<Value> = preview
        .rallies
        .iter()
        .map(|one| json!({"number": one.number, "before": one.before, "after": one.after}))
        .collect();
    let refused: Vec<Value> = preview
        .refused
        .iter()
        .map(|(id, refusal)| refused(id.as_deref(), refusal))
        .collect();
    Ok(Json(json!({
        "score": {"before": preview.score_before, "after": preview.score_after},
        "rallies": rallies,
        "readings": {"changed": preview.readings_changed},
        "refused": refused,
        "flags": preview.flags,
    })))
}

pub(crate) async fn record(
    State(site): State<Site>,
    Path(name): Path<String>,
    Body(sent): Body<Entries>,
) -> Result<Json<Value>, Refused> {
    let court = known_court(&site, &name)?;
    let entries = within_limit(sent)?;
    let match_id = court.match_id().ok_or_else(|| no_match(&court))?;
    let (mut accepted, mut turned_down) = (Vec::new(), Vec::new());
    for entry in entries {
        let id = entry.get("id").and_then(Value::as_str).map(str::to_owned);
        match take(&court, &match_id, entry).await {
            Ok(one) => accepted.push(json!({"id": one.id, "seq": one.seq, "flags": one.flags})),
            Err(refusal) => turned_down.push(refused(id.as_deref(), &refusal)),
        }
    }
    Ok(Json(json!({"accepted": accepted, "refused": turned_down})))
}

/// Writes that a team stops.
pub(super) async fn retire(court: &Arc<LiveCourt>, team: &str) -> Result<StatusCode, Refused> {
    own_word(court, &json!({"kind": "retire", "team": team})).await
}

/// Takes a retirement back that the desk recorded.
pub(super) async fn take_back_retirement(court: &Arc<LiveCourt>) -> Result<(), Refused> {
    let retirement = court.with_match(|charted| {
        let told = charted.told(None, PAGE_LIMIT);
        let of_desk = told.into_iter().find(|one| {
            one.fate != Fate::Retracted
                && one.entry.get("kind").and_then(Value::as_str) == Some("retire")
                && one.client.as_deref() == Some(DESK)
        });
        of_desk.and_then(|one| Some(one.entry.get("id")?.clone()))
    });
    let Some(Some(target)) = retirement else {
        return Err(Refused(
            StatusCode::CONFLICT,
            format!(
                "the match on court `{}` is over by what was charted; correct that instead",
                court.name()
            ),
        ));
    };
    own_word(court, &json!({"kind": "retract", "target": target})).await?;
    Ok(())
}

/// Records an entry that the host itself makes for the desk.
async fn own_word(court: &Arc<LiveCourt>, content: &Value) -> Result<StatusCode, Refused> {
    static COUNTER: AtomicU64 = AtomicU64::new(0);
    let now = Timestamp::now();
    let number = COUNTER.fetch_add(1, Ordering::Relaxed);
    let mut entry = Map::new();
    entry.insert(
        "id".into(),
        format!("desk-{}-{number}", now.as_microsecond()).into(),
    );
    entry.insert("at".into(), format!("{now:.3}").into());
    entry.extend(content.as_object().cloned().unwrap_or_default());
    let match_id = court.match_id().ok_or_else(|| no_match(court))?;
    take(court, &match_id, Value::Object(entry))
        .await
        .map_err(|refusal| Refused::from(rallytide_court::CannotDo::from(refusal)))?;
    Ok(StatusCode::NO_CONTENT)
}

/// Takes one entry in and waits until it is durable.
async fn take(
    court: &Arc<LiveCourt>,
    match_id: &MatchId,
    entry: Value,
) -> Result<Accepted, Refusal> {
    let Value::Object(source) = entry else {
        return Err(Refusal::new(
            RefusalCode::Malformed,
            "entry: not a JSON object; write `{\"kind\": …}`",
        ));
    };
    let receipt = tokio::task::block_in_place(|| court.submit_by_desk(match_id, source))?;
    receipt.durable().await.map_err(|error| {
        tracing::error!(%error, "an entry of the desk is not durable");
        Refusal::new(
            RefusalCode::NotStored,
            format!("the entry was not stored: {error}; try again"),
        )
    })
}

fn within_limit(sent: Entries) -> Result<Vec<Value>, Refused> {
    if sent.entries.len() > ENTRIES_LIMIT {
        return Err(Refused(
            StatusCode::UNPROCESSABLE_ENTITY,
            format!(
                "{} entries at once; at most {ENTRIES_LIMIT} are taken",
                sent.entries.len()
            ),
        ));
    }
    Ok(sent.entries)
}

fn refused(id: Option<&str>, refusal: &Refusal) -> Value {
    json!({"id": id, "code": refusal.code.word(), "message": refusal.message})
}

fn no_match(court: &LiveCourt) -> Refused {
    Refused(
        StatusCode::CONFLICT,
        format!("there is no match on court `{}`", court.name()),
    )
}
