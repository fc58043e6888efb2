//! What an open connection came in with. A key that is replaced ends not only
//! the links that hold it but also the connections that were made with it.

use std::collections::BTreeMap;
use std::net::IpAddr;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use axum::extract::ws::close_code;
use tokio::sync::watch;

use crate::keys::{Keys, Permit};

/// How a connection is closed whose key was replaced: code and reason.
pub(crate) const ENDED: (u16, &str) = (
    close_code::POLICY,
    "this link was replaced by a new one; ask for it at the desk",
);

/// The connections that are open with a key.
#[derive(Default)]
pub(crate) struct Passes {
    open: Mutex<Open>,
    /// Tells every pass that keys have changed.
    changed: watch::Sender<()>,
}

#[derive(Default)]
struct Open {
    next: u64,
    keys: BTreeMap<u64, String>,
}

impl Passes {
    /// Tells all that keys have changed. How many are open with `old` comes back.
    pub(crate) fn end(&self, old: &str) -> usize {
        let open = self.locked();
        let ended = open.keys.values().filter(|key| *key == old).count();
        drop(open);
        self.changed.send_replace(());
        ended
    }

    fn locked(&self) -> MutexGuard<'_, Open> {
        // One insertion or removal at a time: nothing is half done.
        self.open.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// The right of one connection to be open.
pub(crate) struct Pass {
    keys: Arc<Keys>,
    needed: Permit,
    /// `None` for this machine, which needs no key.
    key: Option<(u64, String)>,
    changed: watch::Receiver<()>,
}

impl Pass {
    /// The pass of somebody at `peer` who was let in with `key` to what asks for
    /// `needed`.
    pub(crate) fn new(keys: &Arc<Keys>, peer: IpAddr, key: Option<String>, needed: Permit) -> Self {
        let key = key.filter(|_| !peer.to_canonical().is_loopback());
        let passes = keys.passes();
        let mut changed = passes.changed.subscribe();
        // The key may have been replaced since it was let in.
        changed.mark_changed();
        let key = key.map(|key| {
            let mut open = passes.locked();
            let number = open.next;
            open.next += 1;
            open.keys.insert(number, key.clone());
            (number, key)
        });
        Self {
            keys: Arc::clone(keys),
            needed,
            key,
            changed,
        }
    }

    /// Comes true when the key does not permit this any more.
    pub(crate) async fn ended(&mut self) {
        let Some((_, key)) = &self.key else {
            return std::future::pending().await;
        };
        while self.changed.changed().await.is_ok() {
            let permit = self.keys.permit(key);
            if !permit.is_some_and(|permit| permit.allows(self.needed)) {
                // Whoever asks again is told again.
                self.changed.mark_changed();
                return;
            }
        }
        std::future::pending::<()>().await;
    }
}

impl Drop for Pass {
    fn drop(&mut self) {
        if let Some((number, _)) = &self.key {
            self.keys.passes().locked().keys.remove(number);
        }
    }
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use super::*;

    const FAR: IpAddr = IpAddr::V4(std::net::Ipv4Addr::new(192, 168, 1, 31));
    const HERE: IpAddr = IpAddr::V4(std::net::Ipv4Addr::LOCALHOST);

    async fn has_ended(pass: &mut Pass) -> bool {
        // What is true at once wins over a time-out of nothing.
        tokio::time::timeout(Duration::ZERO, pass.ended())
            .await
            .is_ok()
    }

    #[tokio::test]
    async fn a_new_key_ends_the_passes_of_the_old_one_and_no_others() {
        let folder = tempfile::tempdir().unwrap();
        let keys = Arc::new(Keys::open(folder.path()).unwrap());
        let pass = |peer, permit| Pass::new(&keys, peer, Some(keys.key(permit)), permit);
        let mut charter = pass(FAR, Permit::Charter);
        let mut booth = pass(FAR, Permit::Booth);
        let mut here = pass(HERE, Permit::Charter);
        assert_eq!(keys.renew(Permit::Charter).unwrap(), 1);
        assert!(has_ended(&mut charter).await);
        assert!(!has_ended(&mut booth).await && !has_ended(&mut here).await);
        drop(charter);
        assert_eq!(keys.renew(Permit::Charter).unwrap(), 0);
    }
}
