//! The two WebSockets: the intake and the feed.

use axum::extract::ws::WebSocketUpgrade;
use axum::extract::{Path, Query, State};
use axum::http::HeaderMap;
use axum::response::Response;

use crate::access::{Permit, Visitor, is_own_page};
use crate::feed::{self, FeedQuery};
use crate::intake::{self, Peer};
use crate::rejection::Rejection;
use crate::state::{AppState, court_name};
use crate::websocket::{self, CHARTER_READ_LIMIT, VIEWER_READ_LIMIT};

pub(crate) async fn open_intake(
    State(state): State<AppState>,
    Path(name): Path<String>,
    visitor: Visitor,
    headers: HeaderMap,
    upgrade: WebSocketUpgrade,
) -> Result<Response, Rejection> {
    if !is_own_page(&headers) {
        return Err(Rejection::forbidden(
            "the intake takes entries from this host's own pages and from programs, not from \
             pages of other sites",
        ));
    }
    let court = state.court(&name)?;
    let peer = Peer {
        address: visitor.address,
        session: state.access.session(&visitor, Permit::Charter),
    };
    let upgrade = websocket::set_up(upgrade, CHARTER_READ_LIMIT);
    Ok(upgrade.on_upgrade(move |socket| {
        let AppState {
            courts,
            refusals,
            stop,
            ..
        } = state;
        intake::run(socket, courts, court, peer, refusals, stop)
    }))
}

/// The feed asks for more than the other routes for viewers where its role is
/// the booth's.
pub(crate) async fn open_feed(
    State(state): State<AppState>,
    Path(name): Path<String>,
    Query(query): Query<FeedQuery>,
    visitor: Visitor,
    headers: HeaderMap,
    upgrade: WebSocketUpgrade,
) -> Result<Response, Rejection> {
    let needed = query.permit();
    state.access.check(&visitor, needed)?;
    if needed != Permit::Viewer && !is_own_page(&headers) {
        return Err(Rejection::forbidden(
            "the booth's feed is for this host's own pages and for programs, not for pages of \
             other sites",
        ));
    }
    let court = court_name(&name)?;
    let place = if needed == Permit::Viewer {
        let full = || Rejection::unavailable("as many look at this host as it can show to");
        Some(state.limits.viewer().ok_or_else(full)?)
    } else {
        None
    };
    let session = state.access.session(&visitor, needed);
    let upgrade = websocket::set_up(upgrade, VIEWER_READ_LIMIT);
    Ok(upgrade.on_upgrade(async move |socket| {
        feed::run(socket, state.courts, court, query, session, state.stop).await;
        drop(place);
    }))
}
