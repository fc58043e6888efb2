//! The page for everybody, and what it asks for every few seconds: courts,
//! schedule, results.

use axum::extract::State;
use axum::http::HeaderMap;
use axum::response::Response;
use rallytide_court::{CannotDo, KnownMatch, LiveCourt};

use crate::answers::desk::CourtPhase;
use crate::answers::event::{EventCourt, EventDay, EventMatch};
use crate::blocking::run_blocking;
use crate::etag::tagged;
use crate::json_body::to_json;
use crate::next_match::next_on;
use crate::rejection::Rejection;
use crate::state::AppState;

pub(crate) async fn page(State(state): State<AppState>, headers: HeaderMap) -> Response {
    state.pages.of_folder("event", &headers).await
}

pub(crate) async fn show(
    State(state): State<AppState>,
    headers: HeaderMap,
) -> Result<Response, Rejection> {
    let courts = state.courts.clone();
    let day = run_blocking(move || -> Result<_, CannotDo> {
        let matches = courts.matches()?;
        let on = (courts.all().iter())
            .map(|court| event_court(court, &matches, |on| CourtPhase::of(&courts, on)))
            .collect();
        Ok(EventDay {
            courts: on,
            matches: matches.iter().map(EventMatch::from).collect(),
        })
    })
    .await?;
    Ok(tagged(to_json(&day)?, "application/json", &headers))
}

fn event_court(
    court: &LiveCourt,
    matches: &[KnownMatch],
    phase: impl Fn(Option<&rallytide_court::OnCourt>) -> CourtPhase,
) -> EventCourt {
    let on = court.on_court();
    let name = court.name().as_str();
    let next = next_on(name, matches);
    EventCourt {
        court: name.to_owned(),
        state: phase(on.as_ref()),
        match_id: on.map(|on| on.header.id.to_string()),
        next: next.map(|next| next.header.id.to_string()),
    }
}
