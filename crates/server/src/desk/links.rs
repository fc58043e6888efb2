//! The links that other machines need, and the keys in them.

use std::sync::Arc;

use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Json;
use serde::Deserialize;
use serde_json::{Map, Value, json};

use crate::body::Body;
use crate::keys::Permit;
use crate::routes::{Refused, Site};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct NewKey {
    role: Permit,
}

pub(crate) async fn show(State(site): State<Site>) -> Json<Value> {
    Json(links(&site))
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
            let mut links = links(&site);
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

fn links(site: &Site) -> Value {
    let addresses = (site.access.addresses)();
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
    if addresses.is_empty() {
        links["hint"] =
            "To let other machines in, start Rallytide with --listen 0.0.0.0:7447 in a \
                         network you trust."
                .into();
    }
    links
}
