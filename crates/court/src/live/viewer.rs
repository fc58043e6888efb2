//! Those who look at a court: where each begins to read, and the state it is
//! shown where it has missed something.

use std::sync::Arc;

use rallytide_bus::{Next, Subscription};
use rallytide_chart::MatchId;

use super::audience::Seated;
use super::{CurrentMatch, LiveCourt};
use crate::messages::{Encoded, Snapshot};
use crate::role::Role;

/// A viewer of a court.
pub struct Viewer {
    role: Role,
    /// The match it has last been shown.
    shown: Option<MatchId>,
    _seated: Seated,
    subscription: Subscription<Encoded>,
}

/// What a viewer is sent first.
pub enum ViewerStart {
    /// The state now; updates follow.
    Snapshot(Arc<str>),
    /// It has everything up to the position it asked for; updates follow.
    Resumed,
}

impl LiveCourt {
    /// Adds a viewer. `after` is the position it has seen everything up to, of
    /// the match `match_id` if it says so.
    #[must_use]
    pub fn watch(
        &self,
        role: Role,
        after: Option<u64>,
        match_id: Option<&str>,
    ) -> (ViewerStart, Viewer) {
        let mut state = self.locked();
        let on = state
            .current
            .as_ref()
            .map(|current| current.charted.chart());
        let other_match = match_id
            .is_some_and(|wanted| on.is_none_or(|chart| chart.header().id.as_str() != wanted));
        let after = after.filter(|_| !other_match);
        let (start, subscription) = match self.hub.subscribe(after) {
            rallytide_bus::Subscribed::Resumed(subscription) => {
                (ViewerStart::Resumed, subscription)
            }
            rallytide_bus::Subscribed::Behind(subscription) => {
                let snapshot = snapshot_of(&mut state.current);
                (
                    ViewerStart::Snapshot(Arc::clone(snapshot.text(role))),
                    subscription,
                )
            }
        };
        let viewer = Viewer {
            role,
            shown: state.match_id(),
            _seated: self.audience.seat(role),
            subscription,
        };
        (start, viewer)
    }

    /// The state now, as a snapshot.
    #[must_use]
    pub fn now(&self, role: Role) -> Arc<str> {
        let snapshot = snapshot_of(&mut self.locked().current);
        Arc::clone(snapshot.text(role))
    }
}

impl Viewer {
    /// Waits for what comes next; `None` when the host stops. A viewer that
    /// could not keep up is sent the state now instead of what it missed.
    pub async fn next(&mut self, court: &LiveCourt) -> Option<Arc<str>> {
        match self.subscription.next().await {
            Next::Message(message) => Some(Arc::clone(message.text(self.role))),
            Next::Lagged => {
                let mut state = court.locked();
                self.subscription.skip_to_newest();
                let on = state.match_id();
                let snapshot = match &state.current {
                    Some(current) if on != self.shown => current.charted.snapshot(Some("match")),
                    _ => snapshot_of(&mut state.current),
                };
                self.shown = on;
                Some(Arc::clone(snapshot.text(self.role)))
            }
            Next::Closed => None,
        }
    }
}

/// What is shown of a court that is not there yet: the same as of one without a
/// match.
#[must_use]
pub fn empty_court(role: Role) -> Arc<str> {
    Arc::clone(empty_snapshot().text(role))
}

fn snapshot_of(current: &mut Option<CurrentMatch>) -> Encoded {
    match current {
        None => empty_snapshot(),
        Some(current) => current
            .snapshot
            .get_or_insert_with(|| current.charted.snapshot(None))
            .clone(),
    }
}

fn empty_snapshot() -> Encoded {
    Snapshot {
        seq: 0,
        revision: 0,
        reason: None,
        header: None,
        score: None,
        readings: Vec::new(),
        rally: None,
        between: None,
        unavailable: &[],
        paused: false,
    }
    .encode()
}
