//! Letting other machines in while the host runs: a host that only this machine
//! reaches listens on the machine's other addresses, too, once the desk says so.
//!
//! Whether it should is in the house log, so it outlives the host. The addresses
//! are looked up again and again, as a machine may join a network late. What
//! others may do is not decided here: they need their keys either way.

use std::collections::BTreeMap;
use std::net::SocketAddr;
use std::sync::Arc;
use std::time::Duration;

use rallytide_court::Courts;
use tokio::sync::{Mutex, watch};
use tokio::task::JoinHandle;

use crate::gate::Address;
use crate::routes::{Site, router};
use crate::serve::{bind, serve};
use crate::socket;

/// How long a network that was joined may have to wait for its door.
const LOOKED_UP: Duration = Duration::from_secs(5);

/// What the host may listen on besides where it was started.
#[derive(Clone)]
pub(crate) struct Doors {
    open: Arc<Mutex<BTreeMap<SocketAddr, Door>>>,
}

struct Door {
    close: watch::Sender<bool>,
    serving: JoinHandle<()>,
}

impl Doors {
    pub(crate) fn closed() -> Self {
        Self {
            open: Arc::default(),
        }
    }

    /// Brings the doors in line with what the desk said last, and says how other
    /// machines reach the host then. Without a door (the port of an address may be
    /// taken) a word about it is logged and left out.
    pub(crate) async fn tend(&self, site: &Site) -> Vec<Address> {
        let mut open = self.open.lock().await;
        let wished = if site.courts.lets_others_in() {
            (site.access.beyond)()
        } else {
            Vec::new()
        };
        let is_wished = |at: &SocketAddr| wished.iter().any(|one| one.socket == *at);
        open.retain(|at, door| {
            let stays = is_wished(at) && !door.serving.is_finished();
            if !stays {
                door.close.send_replace(true);
            }
            stays
        });
        for address in &wished {
            if open.contains_key(&address.socket) {
                continue;
            }
            match bind(&address.socket.to_string()).await {
                Ok((listener, at)) => {
                    tracing::info!(%at, "other machines are let in");
                    let (close, closed) = watch::channel(false);
                    let routes = router(site.clone());
                    let serving = tokio::spawn(async move {
                        if let Err(error) = serve(listener, routes, closed).await {
                            tracing::warn!(%error, %at, "a door for other machines broke off");
                        }
                    });
                    open.insert(at, Door { close, serving });
                }
                Err(error) => {
                    tracing::warn!(%error, hint = error.hint(), "no door for other machines here");
                }
            }
        }
        let has_door = |one: &Address| open.contains_key(&one.socket);
        wished.into_iter().filter(has_door).collect()
    }
}

/// Tends the doors of a site until `stop` becomes true; then they are closed and
/// what is open has ended.
pub async fn tend_doors(site: Site, mut stop: watch::Receiver<bool>) {
    let courts: Arc<Courts> = Arc::clone(&site.courts);
    let mut changes = courts.changes().listen();
    loop {
        site.doors.tend(&site).await;
        let next = async {
            let _looked_up = tokio::time::timeout(LOOKED_UP, changes.changed()).await;
        };
        tokio::select! {
            () = socket::stopped(&mut stop) => break,
            () = next => {}
        }
    }
    let doors = std::mem::take(&mut *site.doors.open.lock().await);
    for door in doors.values() {
        door.close.send_replace(true);
    }
    for door in doors.into_values() {
        if let Err(error) = door.serving.await {
            tracing::warn!(%error, "a door for other machines broke off");
        }
    }
}
