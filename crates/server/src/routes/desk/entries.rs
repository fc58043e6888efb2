//! The entries of the match on a court, and the referee's word on them: tried
//! first, then recorded as the client `desk`.

use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use axum::extract::{Path, Query, State};
use axum::http::HeaderMap;
use axum::response::{Json, Response};
use rallytide_chart::{Entry, Kind, MatchId, Seq};
use rallytide_court::{Accepted, CannotDo, DESK, EntryFate, LiveCourt, LogAttempt};
use serde::Deserialize;
use serde_json::{Map, Value, json};

use crate::answers::entries::{
    AcceptedEntry, EntriesOfDesk, EntryList, ListedEntry, Preview, RallyChange, ReadingChange,
    Refusal, ScoreChange, Taken,
};
use crate::blocking::run_blocking;
use crate::error_status::court_code;
use crate::etag::tagged;
use crate::json_body::{JsonBody, to_json};
use crate::rejection::Rejection;
use crate::state::AppState;

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

pub(crate) async fn list(
    State(state): State<AppState>,
    Path(name): Path<String>,
    Query(page): Query<Page>,
    headers: HeaderMap,
) -> Result<Response, Rejection> {
    let court = state.known_court(&name)?;
    let limit = page.limit.unwrap_or(PAGE).min(PAGE_LIMIT);
    let before = page.before.map(Seq);
    let told =
        tokio::task::block_in_place(|| court.with_match(|charted| charted.listed(before, limit)))
            .ok_or_else(|| no_match(&court))?;
    let listed = told.into_iter().map(|one| ListedEntry {
        seq: one.seq,
        entry: one.entry,
        state: one.fate,
        correction: one.correction,
        seat: one.by.as_ref().and_then(|by| by.seat),
        client: one.by.map(|by| by.client.to_string()),
        score: one.score,
        rally: one.rally,
    });
    let entries = listed.collect();
    let body = to_json(&EntryList { entries })?;
    Ok(tagged(body, "application/json", &headers))
}

pub(crate) async fn preview(
    State(state): State<AppState>,
    Path(name): Path<String>,
    JsonBody(sent): JsonBody<EntriesOfDesk>,
) -> Result<Json<Preview>, Rejection> {
    let court = state.known_court(&name)?;
    let entries = within_limit(sent)?;
    let tried = Arc::clone(&court);
    let tried = run_blocking(move || -> Result<_, Rejection> { Ok(tried.preview(entries)) });
    let seen = tried.await?.ok_or_else(|| no_match(&court))?;
    let rallies = seen.rallies.into_iter().map(|one| RallyChange {
        number: one.number,
        before: one.before,
        after: one.after,
    });
    let refusals = seen.refused.into_iter();
    Ok(Json(Preview {
        score: ScoreChange {
            before: seen.score_before,
            after: seen.score_after,
        },
        rallies: rallies.collect(),
        readings: ReadingChange {
            changed: seen.readings_changed,
        },
        refused: refusals
            .map(|(id, refusal)| refused(id, &refusal.into()))
            .collect(),
        flags: seen.flags,
    }))
}

pub(crate) async fn record(
    State(state): State<AppState>,
    Path(name): Path<String>,
    JsonBody(sent): JsonBody<EntriesOfDesk>,
) -> Result<Json<Taken>, Rejection> {
    let court = state.known_court(&name)?;
    let entries = within_limit(sent)?;
    let match_id = court.match_id().ok_or_else(|| no_match(&court))?;
    let mut taken = Taken::default();
    for entry in entries {
        let id = entry.get("id").and_then(Value::as_str).map(str::to_owned);
        match take(&court, &match_id, entry).await {
            Ok(one) => taken.accepted.push(AcceptedEntry {
                id: one.id,
                seq: one.seq,
                flags: one.flags,
            }),
            Err(error) => taken.refused.push(refused(id, &error)),
        }
    }
    Ok(Json(taken))
}

/// Writes that a team stops.
pub(super) async fn retire(court: &Arc<LiveCourt>, team: &str) -> Result<(), Rejection> {
    record_own(court, json!({"kind": "retire", "team": team})).await
}

/// Takes a retirement back that the desk recorded.
pub(super) async fn take_back_retirement(court: &Arc<LiveCourt>) -> Result<(), Rejection> {
    let retirement = court.with_match(|charted| {
        let told = charted.listed(None, PAGE_LIMIT);
        let of_desk = told.into_iter().find(|one| {
            one.fate != EntryFate::Retracted
                && Entry::kind_said(&one.entry) == Some(Kind::Retire)
                && one.by.as_ref().is_some_and(|by| *by.client == *DESK)
        });
        of_desk.and_then(|one| Some(one.entry.get("id")?.clone()))
    });
    let Some(Some(target)) = retirement else {
        return Err(Rejection::conflict(format!(
            "the match on court `{}` is over by what was charted; correct that instead",
            court.name()
        )));
    };
    record_own(court, json!({"kind": "retract", "target": target})).await
}

/// Records an entry that the host itself makes for the desk. It is written as the
/// chart format has it and read like a charter's, so that it is checked the same.
async fn record_own(court: &Arc<LiveCourt>, content: Value) -> Result<(), Rejection> {
    static COUNTER: AtomicU64 = AtomicU64::new(0);
    let now = rallytide_bus::now();
    let number = COUNTER.fetch_add(1, Ordering::Relaxed);
    let mut entry = Map::new();
    entry.insert(
        "id".into(),
        format!("desk-{}-{number}", now.as_microsecond()).into(),
    );
    entry.insert("at".into(), format!("{now:.3}").into());
    if let Value::Object(content) = content {
        entry.extend(content);
    }
    let match_id = court.match_id().ok_or_else(|| no_match(court))?;
    take(court, &match_id, Value::Object(entry)).await?;
    Ok(())
}

/// Takes one entry in and waits until it is durable.
async fn take(
    court: &Arc<LiveCourt>,
    match_id: &MatchId,
    entry: Value,
) -> Result<Accepted, CannotDo> {
    let source = Entry::fields_of(entry)?;
    let receipt = tokio::task::block_in_place(|| court.submit_by_desk(match_id, source))?;
    receipt.durable().await.map_err(|source| {
        tracing::error!(error = %source, "an entry of the desk is not durable");
        CannotDo::Log {
            attempt: LogAttempt::StoreEntry,
            source,
        }
    })
}

fn refused(id: Option<String>, error: &CannotDo) -> Refusal {
    Refusal {
        id,
        code: court_code(error),
        message: error.sentence(),
    }
}

fn within_limit(sent: EntriesOfDesk) -> Result<Vec<Value>, Rejection> {
    if sent.entries.len() > ENTRIES_LIMIT {
        return Err(Rejection::unfit(format!(
            "{} entries at once; at most {ENTRIES_LIMIT} are taken",
            sent.entries.len()
        )));
    }
    Ok(sent.entries)
}

fn no_match(court: &LiveCourt) -> Rejection {
    Rejection::conflict(format!("there is no match on court `{}`", court.name()))
}
