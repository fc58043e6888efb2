//! The links that other machines need, and the keys in them.

use std::sync::Arc;

use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Json;
use serde::Deserialize;
use serde_json::{Map, Value, json};

use super::aside;
use crate::body::Body;
use crate::doors::WaysIn;
use crate::keys::Permit;
use crate::routes::{Refused, Site};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct NewKey {
    role: Permit,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Others {
    let_in: bool,
}

pub(crate) async fn show(State(site): State<Site>) -> Json<Value> {
    Json(links(&site).await)
}

/// Lets other machines in, or no more: who is in then stays until they leave.
pub(crate) async fn let_others_in(
    State(site): State<Site>,
    Body(others): Body<Others>,
) -> Result<Json<Value>, Refused> {
    if !site.access.is_alone {
        return Err(Refused(
            StatusCode::CONFLICT,
            "this host was started for other machines, too: they are let in anyway".into(),
        ));
    }
    let courts = Arc::clone(&site.courts);
    aside(move || courts.let_others_in(others.let_in)).await?;
    Ok(Json(links(&site).await))
}

/// Makes a new key for a role; links with the old one stop working, and what is
/// open with it is cut off: `ended` says how many connections.
pub(crate) async fn renew(
    State(site): State<Site>,
    Body(new): Body<NewKey>,
) -> Result<Json<Value>, Refused> {
    let keys = Arc::clone(&site.access.keys);
    let renewed = tokio::task::spawn_blocking(move || keys.renew(new.role)).await;
    match renewed {
        Ok(Ok(ended)) => {
            tracing::info!(role = ?new.role, ended, "a new key was made");
            let mut links = links(&site).await;
            links["ended"] = ended.into();
            Ok(Json(links))
        }
        failed => {
            tracing::error!(?failed, "a key was not renewed");
            Err(Refused(
                StatusCode::SERVICE_UNAVAILABLE,
                "the new key could not be stored; the old one still works".into(),
            ))
        }
    }
}

async fn links(site: &Site) -> Value {
    let WaysIn {
        addresses,
        is_stuck,
    } = site.doors.tend(site).await;
    let urls: Vec<&str> = addresses.iter().map(|one| one.url.as_str()).collect();
    let networks: Map<String, Value> = (addresses.iter())
        .filter_map(|one| Some((one.url.clone(), one.network.as_deref()?.into())))
        .collect();
    let mut links = json!({
        "addresses": urls,
        "networks": networks,
        "reachable": !addresses.is_empty(),
        "keys": site.access.keys.all(),
    });
    let lets_in = !site.access.is_alone || site.courts.lets_others_in();
    if site.access.is_alone {
        links["let_in"] = lets_in.into();
    }
    if addresses.is_empty() {
        links["hint"] = if is_stuck {
            "Another program has this port on the addresses of this machine that others could \
             come to. Stop it, or start Rallytide with another port."
        } else if lets_in {
            "This machine is in no network that others could come from. Join one; they are let \
             in as soon as it is there."
        } else {
            "Let other machines in, if you trust who is in this network."
        }
        .into();
    }
    links
}
