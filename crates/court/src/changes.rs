//! Says that something has changed, not what: for whoever writes the state of
//! the courts elsewhere and looks at it again then.

use std::num::NonZeroUsize;
use std::sync::Arc;

use rallytide_bus::{Hub, Next, Subscribed, Subscription};

/// One message is enough: they all say the same.
const RING: NonZeroUsize = NonZeroUsize::new(1).expect("1 is not zero");

/// Word of changes, shared by all courts of a host.
#[derive(Debug, Clone)]
pub struct ChangeSignal {
    hub: Arc<Hub<()>>,
}

impl Default for ChangeSignal {
    fn default() -> Self {
        Self {
            hub: Arc::new(Hub::new(0, RING)),
        }
    }
}

/// Somebody who waits for changes.
pub struct ChangeListener {
    subscription: Subscription<()>,
}

impl ChangeSignal {
    /// Something has changed. Waits for nothing.
    pub(crate) fn signal(&self) {
        self.hub.publish(0, ());
    }

    /// Hears of every change from now on; several may be heard as one.
    #[must_use]
    pub fn listen(&self) -> ChangeListener {
        let (Subscribed::Resumed(subscription) | Subscribed::Behind(subscription)) =
            self.hub.subscribe(None);
        ChangeListener { subscription }
    }
}

impl ChangeListener {
    /// Waits until something has changed since the last call; `false` when
    /// nothing ever will again.
    pub async fn changed(&mut self) -> bool {
        let next = self.subscription.next().await;
        self.subscription.skip_to_newest();
        !matches!(next, Next::Closed)
    }
}
