//! How WebSockets are set up here, for the intake and the feed alike.

use std::time::Duration;

use axum::extract::ws::{CloseFrame, Message, Utf8Bytes, WebSocket, WebSocketUpgrade, close_code};
use tokio::sync::watch;

/// Read and write buffers of a connection. With the library's default of
/// 128 KiB each viewer costs twenty times the memory and twice the time, as the
/// read buffer is zero-filled at every poll.
const BUFFER: usize = 4 * 1024;

/// The longest message that is read at all. Between what a message may have and
/// this one a client gets a refusal in words; above, the connection is closed.
const READ_LIMIT: usize = 1024 * 1024;

/// How long a message may take to leave. A client that does not read for so
/// long is gone or broken; it comes back by itself.
const SEND_LIMIT: Duration = Duration::from_secs(10);

/// How often a connection is pinged, to find dead ones and to keep routers from
/// forgetting it.
pub(crate) const PING_EVERY: Duration = Duration::from_secs(10);

/// After how long without anything from the other side a connection is dead:
/// three pings.
pub(crate) const SILENCE_LIMIT: Duration = Duration::from_secs(30);

/// A connection that cannot be written to any more.
#[derive(Debug)]
pub(crate) struct Gone;

pub(crate) fn set_up(upgrade: WebSocketUpgrade) -> WebSocketUpgrade {
    upgrade
        .read_buffer_size(BUFFER)
        .write_buffer_size(BUFFER)
        .max_message_size(READ_LIMIT)
        .max_frame_size(READ_LIMIT)
}

pub(crate) async fn send(socket: &mut WebSocket, message: Message) -> Result<(), Gone> {
    match tokio::time::timeout(SEND_LIMIT, socket.send(message)).await {
        Ok(Ok(())) => Ok(()),
        Ok(Err(_)) | Err(_) => Err(Gone),
    }
}

pub(crate) async fn send_text(
    socket: &mut WebSocket,
    text: impl Into<Utf8Bytes>,
) -> Result<(), Gone> {
    send(socket, Message::Text(text.into())).await
}

/// Comes true when the host stops, or is gone.
pub(crate) async fn stopped(stop: &mut watch::Receiver<bool>) {
    let _gone = stop.wait_for(|stop| *stop).await;
}

pub(crate) async fn ping(socket: &mut WebSocket) -> Result<(), Gone> {
    send(socket, Message::Ping(axum::body::Bytes::new())).await
}

/// Says why and closes. A client that is gone already need not hear it.
pub(crate) async fn close(mut socket: WebSocket, code: u16, reason: &'static str) {
    let frame = CloseFrame {
        code,
        reason: reason.into(),
    };
    let _gone_already = send(&mut socket, Message::Close(Some(frame))).await;
}

/// The close code for a read that failed: too long a message is told apart from
/// a broken one.
pub(crate) fn code_of(error: &axum::Error) -> (u16, &'static str) {
    let text = error.to_string();
    if text.contains("too long") || text.contains("too large") || text.contains("too big") {
        (close_code::SIZE, "a message is at most 64 KiB")
    } else if text.contains("UTF-8") || text.contains("utf-8") {
        (close_code::INVALID, "text has to be UTF-8")
    } else {
        (close_code::PROTOCOL, "the connection broke the protocol")
    }
}
