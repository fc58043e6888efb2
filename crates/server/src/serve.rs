//! Listening, and stopping in good order.

use std::io;
use std::net::SocketAddr;

use axum::Router;
use axum::serve::ListenerExt;
use tokio::net::TcpListener;
use tokio::sync::watch;

use crate::websocket;

/// Why the host could not listen or serve.
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
    /// Serving broke off.
    #[error("serving broke off")]
    Serve(#[source] io::Error),
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
            Self::Serve(_) => None,
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

/// Serves until `stop` becomes true and the last connection has ended.
///
/// # Errors
/// If the listener breaks.
pub async fn serve(
    listener: TcpListener,
    router: Router,
    mut stop: watch::Receiver<bool>,
) -> Result<(), ServeError> {
    let listener = listener.tap_io(|stream| {
        // Small messages must not wait for each other.
        if let Err(error) = stream.set_nodelay(true) {
            tracing::debug!(%error, "a connection keeps its delay");
        }
    });
    let stopped = async move { websocket::stopped(&mut stop).await };
    axum::serve(
        listener,
        router.into_make_service_with_connect_info::<SocketAddr>(),
    )
    .with_graceful_shutdown(stopped)
    .await
    .map_err(ServeError::Serve)
}
