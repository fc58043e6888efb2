//! `GET /courts/{court}/feed`: a viewer gets the state, then what changes.
//!
//! Nothing is queued for a viewer: it reads from the court's ring at its own
//! pace, and one that cannot keep up is sent the state of the moment instead of
//! what it missed. What a viewer sends is not looked at, but for `beat`.

use std::sync::Arc;

use axum::extract::ws::{Message, WebSocket, close_code};
use rallytide_court::{LiveCourt, Role, Start};
use serde::Deserialize;
use tokio::sync::watch;
use tokio::time::{Instant, interval};

use crate::access::{KEY_REPLACED, Permit, Session};
use crate::protocol::{self, FromClient, MESSAGE_LIMIT, ToClient};
use crate::websocket::{self, Gone, PING_EVERY, SILENCE_LIMIT};

/// What a viewer asks for in the link.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct FeedQuery {
    /// The position it has seen everything up to.
    after: Option<u64>,
    /// The match that position belongs to.
    #[serde(rename = "match")]
    match_id: Option<String>,
    #[serde(default)]
    role: RoleQuery,
}

impl FeedQuery {
    /// What somebody on another machine must be permitted.
    pub(crate) fn permit(&self) -> Permit {
        match self.role {
            RoleQuery::Viewer => Permit::Viewer,
            RoleQuery::Booth => Permit::Booth,
        }
    }
}

/// The role a viewer asks for.
#[derive(Debug, Clone, Copy, Default, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(crate) enum RoleQuery {
    #[default]
    Viewer,
    Booth,
}

impl From<RoleQuery> for Role {
    fn from(role: RoleQuery) -> Self {
        match role {
            RoleQuery::Viewer => Self::Viewer,
            RoleQuery::Booth => Self::Booth,
        }
    }
}

/// Serves one viewer until it goes or the host stops.
pub(crate) async fn run(
    mut socket: WebSocket,
    court: Arc<LiveCourt>,
    query: FeedQuery,
    session: Session,
    stop: watch::Receiver<bool>,
) {
    match serve(&mut socket, &court, query, session, stop).await {
        Ok((code, reason)) => websocket::close(socket, code, reason).await,
        Err(Gone) => tracing::debug!(court = %court.name(), "a viewer is gone"),
    }
}

async fn serve(
    socket: &mut WebSocket,
    court: &LiveCourt,
    query: FeedQuery,
    mut session: Session,
    mut stop: watch::Receiver<bool>,
) -> Result<(u16, &'static str), Gone> {
    let role = query.role.into();
    let (start, mut viewer) = court.watch(role, query.after, query.match_id.as_deref());
    if let Start::Snapshot(snapshot) = start {
        websocket::send_text(socket, &*snapshot).await?;
    }
    let mut pings = interval(PING_EVERY);
    let mut heard = Instant::now();
    loop {
        tokio::select! {
            next = viewer.next(court) => match next {
                Some(text) => websocket::send_text(socket, &*text).await?,
                None => return Ok((close_code::AWAY, "the court is closed")),
            },
            message = socket.recv() => {
                heard = Instant::now();
                match message {
                    None | Some(Ok(Message::Close(_))) => return Err(Gone),
                    Some(Err(error)) => return Ok(websocket::code_of(&error)),
                    Some(Ok(Message::Text(text))) if is_beat(text.as_str()) => {
                        websocket::send_text(socket, ToClient::Beat.encode()).await?;
                    }
                    Some(Ok(_)) => {}
                }
            }
            _ = pings.tick() => {
                if heard.elapsed() > SILENCE_LIMIT {
                    return Ok((close_code::AWAY, "nothing was heard for too long"));
                }
                websocket::ping(socket).await?;
            }
            () = session.ended() => return Ok(KEY_REPLACED),
            () = websocket::stopped(&mut stop) => {
                return Ok((close_code::AWAY, "the host is stopping; come back"));
            }
        }
    }
}

fn is_beat(text: &str) -> bool {
    text.len() <= MESSAGE_LIMIT && matches!(protocol::read(text), Ok(FromClient::Beat(_)))
}
