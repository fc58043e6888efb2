//! Letting other machines in while the host runs: a host that only this machine
//! reaches listens on the machine's other addresses, too, once the desk says so.
//!
//! Whether it should is in the host log, so it outlives the host. The addresses
//! are looked up again and again, as a machine may join a network late. What
//! others may do is not decided here: they need their keys either way.

use std::collections::{BTreeMap, BTreeSet};
use std::net::SocketAddr;
use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use parking_lot::Mutex;
use rallytide_court::Courts;
use tokio::sync::watch;
use tokio::task::JoinHandle;

use crate::access::{Access, Address};
use crate::limits::ConnectionLimits;
use crate::serve::{bind_at, serve};
use crate::websocket;

/// How long a network that was joined may have to wait for its listener.
const LOOKED_UP: Duration = Duration::from_secs(5);

/// What the host listens on besides where it was started.
#[derive(Clone)]
pub struct Listeners {
    access: Access,
    courts: Arc<Courts>,
    limits: ConnectionLimits,
    inner: Arc<Mutex<Inner>>,
}

#[derive(Default)]
struct Inner {
    /// What is served; `None` before the host serves, and when it stops.
    routes: Option<Router>,
    open: BTreeMap<SocketAddr, Listener>,
    /// Listeners that were closed, with connections still open.
    closing: Vec<JoinHandle<()>>,
    /// Addresses that the host could not listen on, once that was reported.
    failed: BTreeSet<SocketAddr>,
}

struct Listener {
    address: Address,
    close: watch::Sender<bool>,
    serving: JoinHandle<()>,
}

/// How other machines reach the host.
pub(crate) struct Reach {
    /// The addresses, the most likely first.
    pub(crate) addresses: Vec<Address>,
    /// There is an address that the host could not listen on.
    pub(crate) has_failed: bool,
}

impl Listeners {
    pub(crate) fn new(access: Access, courts: Arc<Courts>, limits: ConnectionLimits) -> Self {
        Self {
            access,
            courts,
            limits,
            inner: Arc::default(),
        }
    }

    /// Brings the listeners in line with what the desk said last. A host that
    /// was started for others needs none.
    pub(crate) async fn update(&self) -> Reach {
        let looked_up = self.look_up().await;
        if !self.access.is_local_only {
            return Reach {
                addresses: looked_up.unwrap_or_default(),
                has_failed: false,
            };
        }
        let mut inner = self.inner.lock();
        let wanted = if self.courts.lets_others_in() {
            // An address that could not be looked up is not an address that is gone.
            let known = || inner.open.values().map(|one| one.address.clone());
            looked_up.unwrap_or_else(|| known().collect())
        } else {
            Vec::new()
        };
        inner.close_all_but(&wanted);
        for address in &wanted {
            inner.listen(address, &self.limits);
        }
        let is_open = |one: &Address| inner.open.contains_key(&one.socket);
        Reach {
            addresses: wanted.into_iter().filter(is_open).collect(),
            has_failed: !inner.failed.is_empty(),
        }
    }

    /// How other machines reach the host, or would; none if that cannot be
    /// looked up.
    async fn look_up(&self) -> Option<Vec<Address>> {
        let look_up = Arc::clone(&self.access.addresses);
        let answer = tokio::task::spawn_blocking(move || look_up()).await;
        answer.unwrap_or_else(|error| {
            tracing::error!(%error, "this machine's addresses could not be looked up");
            None
        })
    }

    /// Serves `routes` wherever the desk wants it until `stop` becomes true; then
    /// everything is closed, and every connection has ended. A host that was
    /// started for others has nothing to do here.
    pub async fn run(self, routes: Router, mut stop: watch::Receiver<bool>) {
        if !self.access.is_local_only {
            return;
        }
        self.inner.lock().routes = Some(routes);
        loop {
            self.update().await;
            tokio::select! {
                () = websocket::stopped(&mut stop) => break,
                () = tokio::time::sleep(LOOKED_UP) => {}
            }
        }
        let closing = {
            let mut inner = self.inner.lock();
            inner.routes = None;
            inner.close_all_but(&[]);
            std::mem::take(&mut inner.closing)
        };
        for serving in closing {
            if let Err(error) = serving.await {
                tracing::warn!(%error, "a listener for other machines failed");
            }
        }
    }
}

impl Inner {
    fn close_all_but(&mut self, wanted: &[Address]) {
        let is_wanted = |at: &SocketAddr| wanted.iter().any(|one| one.socket == *at);
        let open = std::mem::take(&mut self.open);
        for (at, listener) in open {
            if is_wanted(&at) && !listener.serving.is_finished() {
                self.open.insert(at, listener);
            } else {
                listener.close.send_replace(true);
                self.closing.push(listener.serving);
            }
        }
        self.closing.retain(|serving| !serving.is_finished());
        self.failed.retain(is_wanted);
    }

    fn listen(&mut self, address: &Address, limits: &ConnectionLimits) {
        let at = address.socket;
        let Some(routes) = self.routes.clone() else {
            return;
        };
        if self.open.contains_key(&at) {
            return;
        }
        match bind_at(at) {
            Ok(listener) => {
                tracing::info!(%at, "other machines are let in");
                self.failed.remove(&at);
                let (close, closed) = watch::channel(false);
                let serving = tokio::spawn(serve(listener, routes, limits.clone(), closed));
                let listener = Listener {
                    address: address.clone(),
                    close,
                    serving,
                };
                self.open.insert(at, listener);
            }
            // It is tried again all the same, without a log line each time.
            Err(error) if self.failed.insert(at) => {
                tracing::warn!(%error, hint = error.hint(), "other machines are not let in here");
            }
            Err(_) => {}
        }
    }
}
