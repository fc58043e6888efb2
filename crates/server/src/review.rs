//! A match to go through afterwards: its page, what the page shows, and which
//! matches there are.

use std::net::SocketAddr;
use std::sync::Arc;

use axum::extract::{ConnectInfo, Path, State};
use axum::http::{HeaderMap, Uri};
use axum::response::{Json, Response};
use rallytide_court::{CannotDo, Chronicle, Courts, MatchState, Review};
use serde_json::{Value, json};

use crate::desk::aside;
use crate::keys::Permit;
use crate::routes::{Refused, Site, folder_page, page};
use crate::{gate, now};

/// The page. Its files stand at the same place and hold nothing of a match, so
/// only the page itself asks for a key; a match has no full stop in its id.
pub(crate) async fn review_page(
    State(site): State<Site>,
    Path(id): Path<String>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    uri: Uri,
    headers: HeaderMap,
) -> Result<Response, Refused> {
    if id.contains('.') {
        return Ok(page(&site, &format!("review/{id}"), &headers).await);
    }
    let key = gate::key_in(&headers, uri.query());
    if !gate::may(&site.access.keys, peer.ip(), key.as_deref(), Permit::Booth) {
        return Err(gate::no_key(key.as_deref()));
    }
    Ok(folder_page(&site, "review", &headers).await)
}

/// The match, told rally by rally.
pub(crate) async fn show(
    State(site): State<Site>,
    Path(id): Path<String>,
    headers: HeaderMap,
) -> Result<Response, Refused> {
    let courts = Arc::clone(&site.courts);
    let told = site.runs.run(move || {
        let chart = courts.chart_of(&id).map_err(|error| match error {
            CannotDo::Unknown(sentence) => CannotDo::Unknown(with_known(&courts, &sentence)),
            other => other,
        })?;
        let chronicle = Chronicle::new(&chart, &courts.plugin_set());
        serde_json::to_vec(&Review::new(&chronicle)).map_err(|error| {
            tracing::error!(%error, "a match could not be written for the review page");
            CannotDo::NotStored("this match could not be written; the host's log says why".into())
        })
    });
    Ok(now::tagged(&told.await?, "application/json", &headers))
}

/// The matches that have been begun, by id.
pub(crate) async fn list(State(site): State<Site>) -> Result<Json<Value>, Refused> {
    let matches = aside(move || site.courts.matches()).await?;
    let begun = matches
        .iter()
        .filter(|known| known.state != MatchState::Planned);
    let listed: Vec<Value> = begun
        .map(|known| {
            json!({
                "id": known.header.id.as_str(),
                "state": known.state.word(),
                "header": known.header.to_json(),
            })
        })
        .collect();
    Ok(Json(json!({ "matches": listed })))
}

/// The sentence with the matches there are, so that a misspelt one is found.
fn with_known(courts: &Courts, sentence: &str) -> String {
    const MOST: usize = 20;
    let Ok(matches) = courts.matches() else {
        return format!("{sentence}; which there are could not be read");
    };
    let ids: Vec<String> = matches
        .iter()
        .take(MOST)
        .map(|known| format!("`{}`", known.header.id))
        .collect();
    match (ids.len(), matches.len() - ids.len()) {
        (0, _) => format!("{sentence}; none has been planned or charted yet"),
        (_, 0) => format!("{sentence}; there are {}", ids.join(", ")),
        (_, more) => format!("{sentence}; there are {} and {more} more", ids.join(", ")),
    }
}
