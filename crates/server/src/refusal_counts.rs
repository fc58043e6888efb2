//! How often entries and messages were refused since the start, by code.

use std::collections::BTreeMap;
use std::sync::Arc;

use parking_lot::Mutex;

/// The counts of a host.
#[derive(Debug, Clone, Default)]
pub(crate) struct RefusalCounts(Arc<Mutex<BTreeMap<&'static str, u64>>>);

impl RefusalCounts {
    pub(crate) fn count(&self, code: &'static str) {
        *self.0.lock().entry(code).or_default() += 1;
    }

    /// The codes there were, each with its count.
    pub(crate) fn all(&self) -> BTreeMap<&'static str, u64> {
        self.0.lock().clone()
    }
}
