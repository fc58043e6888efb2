//! The two WebSockets: the intake and the feed.

use axum::extract::ws::WebSocketUpgrade;
use axum::extract::{Path, Query, State};
use axum::http::HeaderMap;
use axum::response::Response;

use crate::access::{Permit, Visitor, is_own_page};
use crate::feed::{self, FeedQuery};
use crate::intake::{self, Peer};
use crate::rejection::Rejection;
use crate::state::AppState;
use crate::websocket;

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
    Ok(websocket::set_up(upgrade)
        .on_upgrade(move |socket| intake::run(socket, state.courts, court, peer, state.stop)))
}

/// The feed asks for more than the other routes for viewers where its role is
/// the booth's.
pub(crate) async fn open_feed(
    State(state): State<AppState>,
    Path(name): Path<String>,
    Query(query): Query<FeedQuery>,
    visitor: Visitor,
    upgrade: WebSocketUpgrade,
) -> Result<Response, Rejection> {
    let needed = query.permit();
    state.access.check(&visitor, needed)?;
    let court = state.court(&name)?;
    let session = state.access.session(&visitor, needed);
    Ok(websocket::set_up(upgrade)
        .on_upgrade(move |socket| feed::run(socket, court, query, session, state.stop)))
}
