//! Letting other machines in while the host runs: a host that only this machine
//! reaches listens on the machine's other addresses, too, once the desk says so.
//!
//! Whether it should is in the house log, so it outlives the host. The addresses
//! are looked up again and again, as a machine may join a network late. What
//! others may do is not decided here: they need their keys either way.

use std::collections::{BTreeMap, BTreeSet};
use std::net::SocketAddr;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use tokio::sync::watch;
use tokio::task::JoinHandle;

use crate::gate::Address;
use crate::routes::{Site, router};
use crate::serve::{bind_at, serve};
use crate::socket;

/// How long a network that was joined may have to wait for its door.
const LOOKED_UP: Duration = Duration::from_secs(5);

/// What the host listens on besides where it was started.
#[derive(Clone, Default)]
pub(crate) struct Doors(Arc<Mutex<State>>);

#[derive(Default)]
struct State {
    open: BTreeMap<SocketAddr, Door>,
    /// Doors that were closed, with somebody still inside.
    closing: Vec<JoinHandle<()>>,
    /// Addresses without a door, of which word was given.
    stuck: BTreeSet<SocketAddr>,
    /// The host stops: nothing is opened any more.
    is_over: bool,
}

struct Door {
    address: Address,
    close: watch::Sender<bool>,
    serving: JoinHandle<()>,
}

/// How other machines get in.
pub(crate) struct WaysIn {
    /// The addresses, the most likely first.
    pub(crate) addresses: Vec<Address>,
    /// There is an address that the host could not listen on.
    pub(crate) is_stuck: bool,
}

impl Doors {
    /// Brings the doors in line with what the desk said last. A host that was
    /// started for others needs none.
    pub(crate) async fn tend(&self, site: &Site) -> WaysIn {
        let looked_up = looked_up(site).await;
        if !site.access.is_alone {
            return WaysIn {
                addresses: looked_up.unwrap_or_default(),
                is_stuck: false,
            };
        }
        let mut state = self.state();
        let wished = if !state.is_over && site.courts.lets_others_in() {
            // An address that could not be looked up is no address that is gone.
            let known = || state.open.values().map(|door| door.address.clone());
            looked_up.unwrap_or_else(|| known().collect())
        } else {
            Vec::new()
        };
        state.close_all_but(&wished);
        for address in &wished {
            if !state.open.contains_key(&address.socket) {
                state.open_door(address, site);
            }
        }
        let has_door = |one: &Address| state.open.contains_key(&one.socket);
        WaysIn {
            addresses: wished.into_iter().filter(has_door).collect(),
            is_stuck: !state.stuck.is_empty(),
        }
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// How other machines reach the host, or would; none if that cannot be looked up.
async fn looked_up(site: &Site) -> Option<Vec<Address>> {
    let look_up = Arc::clone(&site.access.addresses);
    let answer = tokio::task::spawn_blocking(move || look_up()).await;
    answer.unwrap_or_else(|error| {
        tracing::error!(%error, "looking up this machine's addresses broke off");
        None
    })
}

impl State {
    fn close_all_but(&mut self, wished: &[Address]) {
        let is_wished = |at: &SocketAddr| wished.iter().any(|one| one.socket == *at);
        let open = std::mem::take(&mut self.open);
        for (at, door) in open {
            if is_wished(&at) && !door.serving.is_finished() {
                self.open.insert(at, door);
            } else {
                door.close.send_replace(true);
                self.closing.push(door.serving);
            }
        }
        self.closing.retain(|serving| !serving.is_finished());
        self.stuck.retain(is_wished);
    }

    fn open_door(&mut self, address: &Address, site: &Site) {
        let at = address.socket;
        match bind_at(at) {
            Ok(listener) => {
                tracing::info!(%at, "other machines are let in");
                self.stuck.remove(&at);
                let (close, closed) = watch::channel(false);
                let routes = router(site.clone());
                let serving = tokio::spawn(async move {
                    if let Err(error) = serve(listener, routes, closed).await {
                        tracing::warn!(%error, %at, "a door for other machines broke off");
                    }
                });
                let door = Door {
                    address: address.clone(),
                    close,
                    serving,
                };
                self.open.insert(at, door);
            }
            // It is tried again all the same, without a word each time.
            Err(error) if self.stuck.insert(at) => {
                tracing::warn!(%error, hint = error.hint(), "other machines are not let in here");
            }
            Err(_) => {}
        }
    }
}

/// Tends the doors of a site until `stop` becomes true; then they are closed, and
/// whoever was inside has left. A host that was started for others has none.
pub async fn tend_doors(site: Site, mut stop: watch::Receiver<bool>) {
    if !site.access.is_alone {
        return;
    }
    loop {
        site.doors.tend(&site).await;
        tokio::select! {
            () = socket::stopped(&mut stop) => break,
            () = tokio::time::sleep(LOOKED_UP) => {}
        }
    }
    let closing = {
        let mut state = site.doors.state();
        state.is_over = true;
        state.close_all_but(&[]);
        std::mem::take(&mut state.closing)
    };
    for serving in closing {
        if let Err(error) = serving.await {
            tracing::warn!(%error, "a door for other machines broke off");
        }
    }
}
