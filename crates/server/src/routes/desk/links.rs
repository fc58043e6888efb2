//! The links that other machines need, and the keys in them.

use std::sync::Arc;

use axum::extract::State;
use axum::response::Json;

use crate::answers::links::{Links, NewKey, OtherMachines};
use crate::blocking::run_blocking;
use crate::json_body::JsonBody;
use crate::listeners::Reach;
use crate::rejection::Rejection;
use crate::state::AppState;

pub(crate) async fn show(State(state): State<AppState>) -> Json<Links> {
    Json(links(&state).await)
}

/// Lets other machines in, or no more: who is in then stays until they leave.
pub(crate) async fn let_others_in(
    State(state): State<AppState>,
    JsonBody(others): JsonBody<OtherMachines>,
) -> Result<Json<Links>, Rejection> {
    if !state.access.is_local_only {
        return Err(Rejection::conflict(
            "this host was started for other machines, too: they are let in anyway",
        ));
    }
    let courts = Arc::clone(&state.courts);
    run_blocking(move || courts.let_others_in(others.let_in)).await?;
    Ok(Json(links(&state).await))
}

/// Makes a new key for a role; links with the old one stop working, and what is
/// open with it is cut off: `ended` says how many connections.
pub(crate) async fn renew(
    State(state): State<AppState>,
    JsonBody(new): JsonBody<NewKey>,
) -> Result<Json<Links>, Rejection> {
    let keys = Arc::clone(&state.access.keys);
    let ended = run_blocking(move || keys.renew(new.role)).await?;
    tracing::info!(role = ?new.role, ended, "a new key was made");
    let mut links = links(&state).await;
    links.ended = Some(ended);
    Ok(Json(links))
}

async fn links(state: &AppState) -> Links {
    let Reach {
        addresses,
        has_failed,
    } = state.listeners.update().await;
    let lets_in = !state.access.is_local_only || state.courts.lets_others_in();
    let hint = if has_failed {
        "Another program has this port on the addresses of this machine that others could \
         come to. Stop it, or start Rallytide with another port."
    } else if lets_in {
        "This machine is in no network that others could come from. Join one; they are let \
         in as soon as it is there."
    } else {
        "Let other machines in, if you trust who is in this network."
    };
    Links {
        networks: (addresses.iter())
            .filter_map(|one| Some((one.url.clone(), one.network.clone()?)))
            .collect(),
        reachable: !addresses.is_empty(),
        keys: state.access.keys.all(),
        let_in: state.access.is_local_only.then_some(lets_in),
        hint: addresses.is_empty().then_some(hint),
        ended: None,
        addresses: addresses.into_iter().map(|one| one.url).collect(),
    }
}
