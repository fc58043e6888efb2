//! How many look at a court, by role.

use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use crate::role::Role;

/// Counts those who look.
#[derive(Debug, Default)]
pub(super) struct Audience {
    viewers: AtomicUsize,
    booths: AtomicUsize,
}

/// How many look at a court.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Viewers {
    /// As the public.
    pub viewer: usize,
    /// As the commentator.
    pub booth: usize,
}

/// One who looks, for as long as this is kept.
pub(super) struct Seated {
    audience: Arc<Audience>,
    role: Role,
}

impl Audience {
    pub(super) fn seat(self: &Arc<Self>, role: Role) -> Seated {
        self.counter(role).fetch_add(1, Ordering::Relaxed);
        Seated {
            audience: Arc::clone(self),
            role,
        }
    }

    pub(super) fn count(&self) -> Viewers {
        Viewers {
            viewer: self.viewers.load(Ordering::Relaxed),
            booth: self.booths.load(Ordering::Relaxed),
        }
    }

    fn counter(&self, role: Role) -> &AtomicUsize {
        match role {
            Role::Viewer => &self.viewers,
            Role::Booth => &self.booths,
        }
    }
}

impl Drop for Seated {
    fn drop(&mut self) {
        self.audience
            .counter(self.role)
            .fetch_sub(1, Ordering::Relaxed);
    }
}
