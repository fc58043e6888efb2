//! `GET /desk/state`: everything the desk shows, asked for each second.

use axum::extract::State;
use axum::http::HeaderMap;
use axum::response::Response;
use rallytide_court::{CannotDo, ConnectedCharter, CourtName, Courts, KnownMatch, LiveCourt};

use crate::answers::desk::{
    Charter, CourtPhase, CourtState, HostState, LastEntry, MatchState, PlaceState, TaggedState,
    TextFilesState, ViewerCount,
};
use crate::blocking::run_blocking;
use crate::etag::{tag_of, tagged_as};
use crate::json_body::to_json;
use crate::rejection::Rejection;
use crate::state::AppState;

pub(crate) async fn show(
    State(state): State<AppState>,
    headers: HeaderMap,
) -> Result<Response, Rejection> {
    let time = rallytide_bus::now();
    let courts = state.courts.clone();
    let problem = state.text_files.problem();
    let tagged = run_blocking(move || -> Result<_, CannotDo> {
        let matches = courts.matches()?;
        let on = (courts.all().iter())
            .map(|court| court_state(&courts, court, time.as_millisecond()))
            .collect();
        Ok(TaggedState {
            version: env!("CARGO_PKG_VERSION"),
            courts: on,
            matches: matches.iter().map(match_state).collect(),
            text_files: TextFilesState {
                folder: courts.text_files(),
                problem,
            },
        })
    })
    .await?;
    // The time alone makes no new state: it goes into the answer, not its tag.
    let tag = tag_of(&to_json(&tagged)?);
    let now = format!("{time:.3}");
    let whole = to_json(&HostState { now, tagged })?;
    Ok(tagged_as(&tag, whole, "application/json", &headers))
}

fn court_state(courts: &Courts, court: &LiveCourt, now: i64) -> CourtState {
    let on = court.on_court();
    let viewers = court.viewers();
    let state = CourtPhase::of(courts, on.as_ref());
    let charters = court
        .charters()
        .connected_charters(now)
        .into_iter()
        .map(charter);
    let last = on.as_ref().and_then(|on| on.last_entry.clone());
    CourtState {
        court: court.name().to_string(),
        state,
        match_id: on.as_ref().map(|on| on.header.id.to_string()),
        entries: on.as_ref().map_or(0, |on| on.entries),
        last_entry: last.map(|last| LastEntry {
            id: last.id,
            kind: last.kind,
            at: last.at,
            received: last.received,
        }),
        charters: charters.collect(),
        viewers: ViewerCount {
            viewer: viewers.viewer,
            booth: viewers.booth,
        },
        score: on.map(|on| on.score),
    }
}

fn charter(charter: ConnectedCharter) -> Charter {
    Charter {
        client: charter.client,
        seat: charter.seat,
        holds: charter.holds,
        address: charter.address,
        match_id: charter.match_id,
        late_ms: charter.late_ms,
        clock_ms: charter.clock_ms,
    }
}

fn match_state(one: &KnownMatch) -> MatchState {
    let planned = Some(&one.header.court).filter(|court| !court.is_empty());
    let on = one.court.as_ref().map(CourtName::to_string);
    MatchState {
        id: one.header.id.to_string(),
        header: one.header.to_json().clone(),
        state: one.state,
        court: on.or_else(|| planned.cloned()),
        entries: one.entries,
        winner: one.winner,
        score: one.score.clone(),
        places: one.places.iter().map(PlaceState::from).collect(),
    }
}
