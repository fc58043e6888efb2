//! Listening, and stopping in good order.

use std::io;
use std::net::SocketAddr;
use std::pin::Pin;
use std::task::{Context, Poll};
use std::time::Duration;

use axum::Router;
use axum::body::Body;
use axum::extract::ConnectInfo;
use axum::http::Request;
use hyper::body::Incoming;
use hyper::server::conn::http1;
use hyper::service::service_fn;
use hyper_util::rt::{TokioIo, TokioTimer};
use tokio::io::{AsyncRead, AsyncWrite, ReadBuf};
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::{mpsc, watch};
use tokio::task::JoinSet;
use tower::ServiceExt;

use crate::limits::{ConnectionLimits, Slot};
use crate::websocket;

/// Why the host could not listen.
#[derive(Debug, thiserror::Error)]
pub enum ServeError {
    /// The address is not to be had.
    #[error("could not listen on `{address}`")]
    Listen {
        /// The address asked for.
        address: String,
        /// What the system said.
        source: io::Error,
    },
}

impl ServeError {
    /// Whether what was asked for is no address at all.
    #[must_use]
    pub fn is_no_address(&self) -> bool {
        matches!(self, Self::Listen { source, .. } if source.kind() == io::ErrorKind::InvalidInput)
    }

    /// What the person at the host can do about it.
    #[must_use]
    pub fn hint(&self) -> Option<&'static str> {
        match self {
            Self::Listen { source, .. } => match source.kind() {
                io::ErrorKind::AddrInUse => Some(
                    "another program (perhaps another host) has that port: stop it, or choose \
                     another one with `--listen 127.0.0.1:PORT`",
                ),
                io::ErrorKind::PermissionDenied => {
                    Some("ports below 1024 need special rights: choose a higher one")
                }
                io::ErrorKind::AddrNotAvailable => {
                    Some("this machine does not have that address: `127.0.0.1` is always there")
                }
                _ => None,
            },
        }
    }
}

/// Takes the address. Port 0 takes a free one; the answer says which.
///
/// # Errors
/// If the address is not to be had.
pub async fn bind(address: &str) -> Result<(TcpListener, SocketAddr), ServeError> {
    let failed = |source| ServeError::Listen {
        address: address.to_owned(),
        source,
    };
    let listener = TcpListener::bind(address).await.map_err(failed)?;
    let bound = listener.local_addr().map_err(failed)?;
    Ok((listener, bound))
}

/// Takes an address at once: nothing about it has to be looked up.
///
/// # Errors
/// If the address is not to be had.
pub(crate) fn bind_at(at: SocketAddr) -> Result<TcpListener, ServeError> {
    let bound = || {
        let listener = std::net::TcpListener::bind(at)?;
        listener.set_nonblocking(true)?;
        TcpListener::from_std(listener)
    };
    bound().map_err(|source| ServeError::Listen {
        address: at.to_string(),
        source,
    })
}

/// How long a request's head, from its first byte to its last, may take: a
/// client that sends half of one holds a connection until then.
const HEAD_LIMIT: Duration = Duration::from_secs(5);

/// How long connections may take to end in good order when the host stops.
const FAREWELL: Duration = Duration::from_secs(3);

/// How long to wait after a connection could not be taken, which is mostly for
/// want of open files.
const ACCEPT_AGAIN: Duration = Duration::from_millis(100);

/// Serves until `stop` becomes true and the last connection has ended, or has
/// been cut off.
pub async fn serve(
    listener: TcpListener,
    routes: Router,
    limits: ConnectionLimits,
    mut stop: watch::Receiver<bool>,
) {
    // Every connection holds the sender, WebSockets too: it is gone with them.
    let (open, mut all_closed) = mpsc::channel::<()>(1);
    let mut serving = JoinSet::new();
    loop {
        tokio::select! {
            () = websocket::stopped(&mut stop) => break,
            Some(_ended) = serving.join_next() => {}
            accepted = listener.accept() => match accepted {
                Ok((stream, peer)) => {
                    // One more than there is room for is closed without a word:
                    // an answer would hold it open.
                    let Some(slot) = limits.admit(peer.ip()) else { continue };
                    let stream = Admitted { stream, _held: (slot, open.clone()) };
                    let routes = routes.clone();
                    serving.spawn(connection(stream, peer, routes, stop.clone()));
                }
                Err(error) => {
                    tracing::warn!(%error, "could not take a connection");
                    tokio::time::sleep(ACCEPT_AGAIN).await;
                }
            }
        }
    }
    drop((listener, open));
    if tokio::time::timeout(FAREWELL, all_closed.recv())
        .await
        .is_err()
    {
        tracing::info!("connections that did not end are cut off");
    }
    serving.shutdown().await;
}

async fn connection(
    stream: Admitted,
    peer: SocketAddr,
    routes: Router,
    mut stop: watch::Receiver<bool>,
) {
    // Small messages must not wait for each other.
    if let Err(error) = stream.stream.set_nodelay(true) {
        tracing::debug!(%error, "a connection keeps its delay");
    }
    let answer = service_fn(move |mut request: Request<Incoming>| {
        request.extensions_mut().insert(ConnectInfo(peer));
        routes.clone().oneshot(request.map(Body::new))
    });
    let connection = http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(HEAD_LIMIT)
        .serve_connection(TokioIo::new(stream), answer)
        .with_upgrades();
    tokio::pin!(connection);
    let ended = tokio::select! {
        ended = &mut connection => ended,
        () = websocket::stopped(&mut stop) => {
            connection.as_mut().graceful_shutdown();
            connection.await
        }
    };
    if let Err(error) = ended {
        tracing::debug!(%error, %peer, "a connection ended early");
    }
}

/// A connection that was let in, with what it holds until it is closed.
struct Admitted {
    stream: TcpStream,
    _held: (Slot, mpsc::Sender<()>),
}

impl AsyncRead for Admitted {
    fn poll_read(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        buffer: &mut ReadBuf<'_>,
    ) -> Poll<io::Result<()>> {
        Pin::new(&mut self.stream).poll_read(context, buffer)
    }
}

impl AsyncWrite for Admitted {
    fn poll_write(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        bytes: &[u8],
    ) -> Poll<io::Result<usize>> {
        Pin::new(&mut self.stream).poll_write(context, bytes)
    }

    fn poll_flush(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.stream).poll_flush(context)
    }

    fn poll_shutdown(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.stream).poll_shutdown(context)
    }

    fn poll_write_vectored(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        slices: &[io::IoSlice<'_>],
    ) -> Poll<io::Result<usize>> {
        Pin::new(&mut self.stream).poll_write_vectored(context, slices)
    }

    fn is_write_vectored(&self) -> bool {
        self.stream.is_write_vectored()
    }
}
