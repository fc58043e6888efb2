//! `GET /courts/{court}/feed`: a viewer gets the state, then what changes.
//!
//! Nothing is queued for a viewer: it reads from the court's ring at its own
//! pace, and one that cannot keep up is sent the state of the moment instead of
//! what it missed. What a viewer sends is not looked at, but for `beat`.

use std::sync::Arc;

use axum::extract::ws::{Message, WebSocket, close_code};
use rallytide_court::{
    ChangeListener, CourtName, Courts, LiveCourt, Role, Viewer, ViewerStart, empty_court,
};
use serde::Deserialize;
use tokio::sync::watch;
use tokio::time::{Instant, interval};

use crate::access::{KEY_REPLACED, Permit, Session};
use crate::protocol::{self, FromClient, MESSAGE_LIMIT, ToClient};
use crate::websocket::{self, Gone, PING_EVERY, SILENCE_LIMIT, TOO_MUCH_CHATTER, UnaskedMessages};

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
    courts: Arc<Courts>,
    court: CourtName,
    query: FeedQuery,
    session: Session,
    stop: watch::Receiver<bool>,
) {
    let sight = Sight::open(courts, court, &query);
    match serve(&mut socket, sight, session, stop).await {
        Ok(FeedEnd::ByUs(code, reason)) => websocket::close(socket, code, reason).await,
        Ok(FeedEnd::ByViewer) => websocket::answer_close(socket).await,
        Err(Gone) => tracing::debug!("a viewer is gone"),
    }
}

/// How a connection ended in good order.
enum FeedEnd {
    ByUs(u16, &'static str),
    ByViewer,
}

async fn serve(
    socket: &mut WebSocket,
    (first, mut sight): (Option<Arc<str>>, Sight),
    mut session: Session,
    mut stop: watch::Receiver<bool>,
) -> Result<FeedEnd, Gone> {
    if let Some(first) = first {
        websocket::send_text(socket, &*first).await?;
    }
    let mut pings = interval(PING_EVERY);
    let mut heard = Instant::now();
    let mut chatter = UnaskedMessages::default();
    loop {
        tokio::select! {
            next = sight.next() => match next {
                Some(text) => websocket::send_text(socket, &*text).await?,
                None => return Ok(FeedEnd::ByUs(close_code::AWAY, "the court is closed")),
            },
            message = socket.recv() => {
                heard = Instant::now();
                match message {
                    None => return Err(Gone),
                    Some(Ok(Message::Close(_))) => return Ok(FeedEnd::ByViewer),
                    Some(Err(error)) => {
                        let (code, reason) = websocket::code_of(error);
                        return Ok(FeedEnd::ByUs(code, reason));
                    }
                    Some(Ok(_)) if chatter.is_too_much() => {
                        let (code, reason) = TOO_MUCH_CHATTER;
                        return Ok(FeedEnd::ByUs(code, reason));
                    }
                    Some(Ok(Message::Text(text))) if is_beat(text.as_str()) => {
                        websocket::send_text(socket, ToClient::Beat.encode()).await?;
                    }
                    Some(Ok(_)) => {}
                }
            }
            _ = pings.tick() => {
                chatter.forget();
                if heard.elapsed() > SILENCE_LIMIT {
                    let reason = "nothing was heard for too long";
                    return Ok(FeedEnd::ByUs(close_code::AWAY, reason));
                }
                websocket::ping(socket).await?;
            }
            () = session.ended() => {
                let (code, reason) = KEY_REPLACED;
                return Ok(FeedEnd::ByUs(code, reason));
            }
            () = websocket::stopped(&mut stop) => {
                let reason = "the host is stopping; come back";
                return Ok(FeedEnd::ByUs(close_code::AWAY, reason));
            }
        }
    }
}

/// What a viewer looks at.
enum Sight {
    /// A court.
    Court(Arc<LiveCourt>, Viewer),
    /// One that is not there yet. Looking never makes one: whoever could read a
    /// link could fill the host with them.
    Nothing {
        courts: Arc<Courts>,
        name: CourtName,
        role: Role,
        changes: ChangeListener,
    },
}

impl Sight {
    /// What a viewer sees from now on, with what it is sent first, if anything.
    fn open(courts: Arc<Courts>, name: CourtName, query: &FeedQuery) -> (Option<Arc<str>>, Self) {
        let role = query.role.into();
        // Before the look, so that no court is made unnoticed in between.
        let changes = courts.changes().listen();
        match courts.find(&name) {
            Some(court) => {
                let (start, viewer) = court.watch(role, query.after, query.match_id.as_deref());
                let first = match start {
                    ViewerStart::Snapshot(snapshot) => Some(snapshot),
                    ViewerStart::Resumed => None,
                };
                (first, Self::Court(court, viewer))
            }
            None => {
                let nothing = Self::Nothing {
                    courts,
                    name,
                    role,
                    changes,
                };
                (Some(empty_court(role)), nothing)
            }
        }
    }

    /// Waits for what comes next; `None` when the host stops.
    async fn next(&mut self) -> Option<Arc<str>> {
        loop {
            match self {
                Self::Court(court, viewer) => return viewer.next(court).await,
                Self::Nothing {
                    courts,
                    name,
                    role,
                    changes,
                } => {
                    if let Some(court) = courts.find(name) {
                        let (start, viewer) = court.watch(*role, None, None);
                        let shown = empty_court(*role);
                        *self = Self::Court(court, viewer);
                        match start {
                            ViewerStart::Snapshot(snapshot) if snapshot != shown => {
                                return Some(snapshot);
                            }
                            _ => {}
                        }
                    } else if !changes.changed().await {
                        return None;
                    }
                }
            }
        }
    }
}

fn is_beat(text: &str) -> bool {
    text.len() <= MESSAGE_LIMIT && matches!(protocol::read(text), Ok(FromClient::Beat(_)))
}
