//! How WebSockets are set up here, for the intake and the feed alike.

use std::time::Duration;

use axum::extract::ws::{CloseFrame, Message, Utf8Bytes, WebSocket, WebSocketUpgrade, close_code};
use futures_util::SinkExt;
use tokio::sync::watch;

/// Read and write buffers of a connection. With the library's default of
/// 128 KiB each viewer costs twenty times the memory and twice the time, as the
/// read buffer is zero-filled at every poll.
const BUFFER: usize = 4 * 1024;

/// What may wait in memory for a client that does not read. The longest message
/// we send, the state of a match, has to fit in.
const UNSENT_LIMIT: usize = 8 * 1024 * 1024;

/// The longest message that is read from a charter at all. Between what a message
/// may have and this one a client gets a refusal in words; above, the connection
/// is closed.
pub(crate) const CHARTER_READ_LIMIT: usize = 256 * 1024;

/// The longest message that is read from a viewer, who has nothing to say but a
/// beat.
pub(crate) const VIEWER_READ_LIMIT: usize = 4 * 1024;

/// How long a message may take to leave. A client that does not read for so
/// long is gone or broken; it comes back by itself.
const SEND_LIMIT: Duration = Duration::from_secs(10);

/// How often a connection is pinged, to find dead ones and to keep routers from
/// forgetting it.
pub(crate) const PING_EVERY: Duration = Duration::from_secs(10);

/// After how long without anything from the other side a connection is dead:
/// three pings.
pub(crate) const SILENCE_LIMIT: Duration = Duration::from_secs(30);

/// How long the last word to a client may take.
const FAREWELL_LIMIT: Duration = Duration::from_secs(1);

/// A connection that cannot be written to any more.
#[derive(Debug)]
pub(crate) struct Gone;

/// Sets a connection up that may send messages of at most `longest` bytes.
///
/// The library makes room for a message as soon as its length is announced, so
/// this is what a client costs that never sends the rest.
pub(crate) fn set_up(upgrade: WebSocketUpgrade, longest: usize) -> WebSocketUpgrade {
    upgrade
        .read_buffer_size(BUFFER)
        .write_buffer_size(BUFFER)
        .max_write_buffer_size(UNSENT_LIMIT)
        .max_message_size(longest)
        .max_frame_size(longest)
}

/// Counts what a client sends that nobody asked for, pings above all: each costs
/// an answer, which waits in memory where the client does not read.
#[derive(Debug, Default)]
pub(crate) struct UnaskedMessages(u32);

impl UnaskedMessages {
    /// How much of it there may be between two of our own pings.
    const LIMIT: u32 = 200;

    /// Counts one; says whether it is one too many.
    pub(crate) fn is_too_much(&mut self) -> bool {
        self.0 += 1;
        self.0 > Self::LIMIT
    }

    /// Begins anew, with each of our own pings.
    pub(crate) fn forget(&mut self) {
        self.0 = 0;
    }
}

/// How a client is closed that sends too much of it: code and reason.
pub(crate) const TOO_MUCH_CHATTER: (u16, &str) = (
    close_code::POLICY,
    "too many pings or messages for a moment",
);

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

/// Waits until the host stops, or is gone.
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

/// Sends what is still waiting, the answer to a close above all, to a client that
/// has closed.
pub(crate) async fn answer_close(mut socket: WebSocket) {
    let _gone_already = tokio::time::timeout(FAREWELL_LIMIT, socket.close()).await;
}

/// The close code for a read that failed: too long a message is told apart from
/// a broken one.
pub(crate) fn code_of(error: axum::Error) -> (u16, &'static str) {
    match error.into_inner().downcast_ref::<tungstenite::Error>() {
        Some(tungstenite::Error::Capacity(_)) => (close_code::SIZE, "a message is at most 64 KiB"),
        Some(tungstenite::Error::Utf8(_)) => (close_code::INVALID, "text has to be UTF-8"),
        _ => (close_code::PROTOCOL, "the connection broke the protocol"),
    }
}
