//! Connections that stay open, and the keys they were opened with. A key that is
//! replaced ends not only the links that hold it but also these.

use std::collections::BTreeMap;
use std::sync::Arc;

use axum::extract::ws::close_code;
use parking_lot::Mutex;
use tokio::sync::watch;

/// How a connection is closed whose key was replaced: code and reason.
pub(crate) const KEY_REPLACED: (u16, &str) = (
    close_code::POLICY,
    "this link was replaced by a new one; ask for it at the desk",
);

/// The sessions that are open with a key.
#[derive(Debug, Clone, Default)]
pub(super) struct Sessions(Arc<Mutex<Open>>);

#[derive(Debug, Default)]
struct Open {
    next: u64,
    by_number: BTreeMap<u64, Keyed>,
}

#[derive(Debug)]
struct Keyed {
    key: String,
    end: watch::Sender<bool>,
}

impl Sessions {
    /// A session that ends with `key`.
    pub(super) fn open(&self, key: &str) -> Session {
        let (end, ended) = watch::channel(false);
        let mut open = self.0.lock();
        let number = open.next;
        open.next += 1;
        let key = key.to_owned();
        open.by_number.insert(number, Keyed { key, end });
        Session {
            keyed: Some((number, self.clone(), ended)),
        }
    }

    /// Ends every session that is open with `key` and says how many there were.
    pub(super) fn end(&self, key: &str) -> usize {
        let open = self.0.lock();
        let mut ended = 0;
        for one in open.by_number.values().filter(|one| one.key == key) {
            one.end.send_replace(true);
            ended += 1;
        }
        ended
    }
}

/// One connection's right to stay open.
#[derive(Debug)]
pub(crate) struct Session {
    /// `None` for this machine, which needs no key.
    keyed: Option<(u64, Sessions, watch::Receiver<bool>)>,
}

impl Session {
    /// A session that no key ends.
    pub(super) fn without_key() -> Self {
        Self { keyed: None }
    }

    /// Waits until the key does not permit this any more.
    pub(crate) async fn ended(&mut self) {
        let Some((_, _, ended)) = &mut self.keyed else {
            return std::future::pending().await;
        };
        let _closed = ended.wait_for(|ended| *ended).await;
    }
}

impl Drop for Session {
    fn drop(&mut self) {
        if let Some((number, sessions, _)) = &self.keyed {
            sessions.0.lock().by_number.remove(number);
        }
    }
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use super::*;

    async fn has_ended(session: &mut Session) -> bool {
        // What is true at once wins over a time-out of nothing.
        tokio::time::timeout(Duration::ZERO, session.ended())
            .await
            .is_ok()
    }

    #[tokio::test]
    async fn a_key_ends_its_own_sessions_and_no_others() {
        let sessions = Sessions::default();
        let mut charter = sessions.open("charter");
        let mut booth = sessions.open("booth");
        let mut own = Session::without_key();
        assert_eq!(sessions.end("charter"), 1);
        assert!(has_ended(&mut charter).await);
        assert!(
            has_ended(&mut charter).await,
            "whoever asks again is told again"
        );
        assert!(!has_ended(&mut booth).await && !has_ended(&mut own).await);
        drop(charter);
        assert_eq!(sessions.end("charter"), 0);
    }
}
