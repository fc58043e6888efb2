//! The courts over plain HTTP: which there are, `now` and `now/score.txt` for
//! programs that poll, `chart.jsonl` for whoever charts on.

use axum::extract::{Path, Query, State};
use axum::http::HeaderMap;
use axum::response::{Json, Response};
use rallytide_chart::Seq;
use rallytide_court::{ChartedMatch, Role};
use serde::Deserialize;
use serde_json::Value;

use crate::answers::courts::{CourtList, ListedCourt, ListedMatch};
use crate::etag::tagged;
use crate::rejection::Rejection;
use crate::score_text::score_lines;
use crate::state::AppState;

pub(crate) async fn list(State(state): State<AppState>) -> Json<CourtList> {
    let listed = state.courts.all().into_iter().map(|court| {
        let on = court.match_on();
        ListedCourt {
            court: court.name().to_string(),
            on: on.map(|(id, title)| ListedMatch { id, title }),
        }
    });
    let courts = listed.collect();
    Json(CourtList { courts })
}

/// The snapshot as JSON.
pub(crate) async fn now(
    State(state): State<AppState>,
    Path(name): Path<String>,
    headers: HeaderMap,
) -> Result<Response, Rejection> {
    let text = state.known_court(&name)?.now(Role::Viewer);
    let bytes = text.as_bytes().to_vec();
    Ok(tagged(bytes, "application/json", &headers))
}

/// The call and the names, a line each.
pub(crate) async fn score(
    State(state): State<AppState>,
    Path(name): Path<String>,
    headers: HeaderMap,
) -> Result<Response, Rejection> {
    let text = of_match(&state, &name, score_lines)?;
    Ok(tagged(text, "text/plain; charset=utf-8", &headers))
}

/// How much of a chart is asked for.
#[derive(Debug, Deserialize)]
pub(crate) struct ChartPart {
    /// Only what stands after this position, behind the header.
    after: Option<u64>,
    /// Whether each entry says which seat it was recorded from.
    #[serde(default)]
    seats: bool,
}

/// The chart of the match that is on, header first, each entry with its `seq`.
pub(crate) async fn chart(
    State(state): State<AppState>,
    Path(name): Path<String>,
    Query(part): Query<ChartPart>,
    headers: HeaderMap,
) -> Result<Response, Rejection> {
    let text = of_match(&state, &name, |charted| chart_file(charted, &part))?;
    Ok(tagged(text, "application/jsonl; charset=utf-8", &headers))
}

fn of_match(
    state: &AppState,
    name: &str,
    look: impl FnOnce(&ChartedMatch) -> String,
) -> Result<String, Rejection> {
    let text = state.known_court(name)?.with_match(look);
    text.ok_or_else(|| Rejection::not_found(format!("there is no match on court `{name}` yet")))
}

fn chart_file(charted: &ChartedMatch, part: &ChartPart) -> String {
    let header = Value::Object(charted.chart().header().to_json().clone());
    let mut text = format!("{header}\n");
    let after = Seq(part.after.unwrap_or(0));
    let entries = charted.chart().entries();
    for (seq, entry) in entries.iter().filter(|(seq, _)| *seq > after) {
        let mut fields = entry.to_json().clone();
        let by = charted.recorder(&entry.id).filter(|_| part.seats);
        if let Some(seat) = by.and_then(|by| by.seat) {
            fields.insert("seat".to_owned(), Value::from(seat.word()));
        }
        fields.insert("seq".to_owned(), Value::from(seq.0));
        text.push_str(&Value::Object(fields).to_string());
        text.push('\n');
    }
    text
}
