//! How many connections there may be, so that neither a crowd nor one machine
//! takes what the desk, the charters and the logs need.
//!
//! Every connection holds an open file, and the system allows a program only so
//! many. Of these some are kept for the logs; of the rest, some for this machine,
//! and some more for everybody but viewers.

use std::collections::BTreeMap;
use std::net::IpAddr;
use std::sync::Arc;

use parking_lot::Mutex;
use tokio::sync::{OwnedSemaphorePermit, Semaphore};

/// Open files that are no connections: logs, pages, plugins, the program's own.
const OTHER_FILES: u64 = 128;
/// The most connections, however many files the system allows.
const MOST: usize = 16 * 1024;
/// The fewest, however few files there are.
const FEWEST: usize = 32;
/// The most connections of one other machine. A laptop with the desk and every
/// page of eight courts open has fewer than a hundred.
const OF_ONE_MACHINE: usize = 256;

/// The connections there are, and how many there may be.
#[derive(Debug, Clone)]
pub struct ConnectionLimits {
    most: usize,
    kept: usize,
    open: Arc<Mutex<Open>>,
    viewers: Arc<Semaphore>,
}

#[derive(Debug, Default)]
struct Open {
    all: usize,
    by_machine: BTreeMap<IpAddr, usize>,
}

/// The place of one connection; it is free again when this is dropped.
#[derive(Debug)]
pub(crate) struct Slot {
    address: IpAddr,
    open: Arc<Mutex<Open>>,
}

impl ConnectionLimits {
    /// The limits of a program that may have `files` files open.
    #[must_use]
    pub fn for_files(files: u64) -> Self {
        let free = usize::try_from(files.saturating_sub(OTHER_FILES)).unwrap_or(MOST);
        let most = free.clamp(FEWEST, MOST);
        let kept = most / 8;
        Self {
            most,
            kept,
            open: Arc::default(),
            viewers: Arc::new(Semaphore::new(most - 2 * kept)),
        }
    }

    /// Lets a connection in, where there is room for it.
    pub(crate) fn admit(&self, address: IpAddr) -> Option<Slot> {
        let address = address.to_canonical();
        let mut open = self.open.lock();
        let of_machine = open.by_machine.get(&address).copied().unwrap_or(0);
        let has_room = if address.is_loopback() {
            open.all < self.most
        } else {
            let of_one = OF_ONE_MACHINE.min(self.most / 4);
            open.all < self.most - self.kept && of_machine < of_one
        };
        if !has_room {
            return None;
        }
        open.all += 1;
        open.by_machine.insert(address, of_machine + 1);
        drop(open);
        Some(Slot {
            address,
            open: Arc::clone(&self.open),
        })
    }

    /// A place among the viewers, where one is free.
    pub(crate) fn viewer(&self) -> Option<OwnedSemaphorePermit> {
        Arc::clone(&self.viewers).try_acquire_owned().ok()
    }

    /// How many connections are open.
    pub(crate) fn open(&self) -> usize {
        self.open.lock().all
    }

    /// How many there may be.
    pub(crate) fn most(&self) -> usize {
        self.most
    }
}

impl Drop for Slot {
    fn drop(&mut self) {
        let mut open = self.open.lock();
        open.all -= 1;
        if let Some(count) = open.by_machine.get_mut(&self.address) {
            *count -= 1;
            if *count == 0 {
                open.by_machine.remove(&self.address);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const HERE: IpAddr = IpAddr::V4(std::net::Ipv4Addr::LOCALHOST);

    fn other(machine: u8) -> IpAddr {
        IpAddr::from([192, 168, 1, machine])
    }

    #[test]
    fn one_machine_cannot_take_every_place() {
        let limits = ConnectionLimits::for_files(1024);
        let held: Vec<_> = std::iter::from_fn(|| limits.admit(other(1))).collect();
        assert_eq!(held.len(), (1024 - 128) / 4);
        assert!(limits.admit(other(2)).is_some());
        drop(held);
        assert!(limits.admit(other(1)).is_some());
    }

    #[test]
    fn other_machines_together_leave_room_for_this_one() {
        let limits = ConnectionLimits::for_files(256);
        let machines = (1..=200).filter_map(|machine| limits.admit(other(machine)));
        let held: Vec<_> = machines.collect();
        assert_eq!(held.len(), 128 - 16);
        assert!(limits.admit(HERE).is_some());
    }

    #[test]
    fn viewers_leave_room_for_everybody_else() {
        let limits = ConnectionLimits::for_files(256);
        let held: Vec<_> = std::iter::from_fn(|| limits.viewer()).collect();
        assert_eq!(held.len(), 128 - 32);
    }

    #[test]
    fn a_host_with_hardly_any_files_still_lets_somebody_in() {
        let limits = ConnectionLimits::for_files(20);
        assert!(limits.admit(HERE).is_some() && limits.admit(other(1)).is_some());
    }
}
