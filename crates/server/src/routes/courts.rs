//! The courts over plain HTTP: which there are, `now` and `now/score.txt` for
//! programs that poll, `chart.jsonl` for whoever charts on.

use axum::extract::{Path, State};
use axum::http::HeaderMap;
use axum::response::{Json, Response};
use rallytide_court::{ChartedMatch, Role};
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

/// The chart of the match that is on, header first, each entry with its `seq`.
pub(crate) async fn chart(
    State(state): State<AppState>,
    Path(name): Path<String>,
    headers: HeaderMap,
) -> Result<Response, Rejection> {
    let text = of_match(&state, &name, chart_file)?;
    Ok(tagged(text, "application/jsonl; charset=utf-8", &headers))
}

fn of_match(
    state: &AppState,
    name: &str,
    look: fn(&ChartedMatch) -> String,
) -> Result<String, Rejection> {
    let text = state.known_court(name)?.with_match(look);
    text.ok_or_else(|| Rejection::not_found(format!("there is no match on court `{name}` yet")))
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
