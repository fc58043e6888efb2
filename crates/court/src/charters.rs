//! Who charts on a court: the connected clients, and who has the seat.
//!
//! Anybody who says hello may chart until somebody *takes over*: from then on
//! only that client's entries are taken, whatever connection they come through,
//! and everybody else is told. So two never write the same court unnoticed.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use rallytide_chart::{Refusal, RefusalCode};

use crate::clocks::ClientClock;

/// The charters of one court.
#[derive(Debug, Default)]
pub struct Charters {
    connections: Mutex<Connections>,
}

#[derive(Debug, Default)]
struct Connections {
    connected: BTreeMap<u64, Arc<str>>,
    seat: Option<Arc<str>>,
    /// Where each connection comes from.
    addresses: BTreeMap<u64, Arc<str>>,
    /// The match that each connection said hello for.
    matches: BTreeMap<u64, Arc<str>>,
    /// The clocks of the clients that are connected.
    clocks: BTreeMap<Arc<str>, ClientClock>,
}

/// A charter's client that is connected, for the desk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ConnectedCharter {
    /// Its name.
    pub client: Arc<str>,
    /// Whether it has the seat.
    pub seat: bool,
    /// The address it comes from, of its latest connection.
    pub address: Option<Arc<str>>,
    /// How late its entries come, in milliseconds, if that is known.
    pub late_ms: Option<i64>,
    /// The match it charts; none where it came before there was one, and charts
    /// whatever is on.
    pub match_id: Option<Arc<str>>,
    /// Its clock minus the host's, in milliseconds, if that is known.
    pub clock_ms: Option<i64>,
}

/// How a client says hello.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Arrival {
    /// It charts beside whoever else does.
    Beside,
    /// It takes the court over.
    TakesOver,
}

impl Charters {
    /// Notes that `client` has said hello on `connection` at `now`, in
    /// milliseconds since 1970 UTC. The others that are connected come back,
    /// sorted, each once.
    pub fn arrive(
        &self,
        connection: u64,
        client: &str,
        arrival: Arrival,
        now: i64,
    ) -> Vec<Arc<str>> {
        let mut connections = self.locked();
        let name: Arc<str> = client.into();
        connections.connected.insert(connection, Arc::clone(&name));
        connections.clocks.entry(name).or_default().hello(now);
        if arrival == Arrival::TakesOver {
            connections.seat = Some(client.into());
        }
        let mut others: Vec<Arc<str>> = connections.connected.values().cloned().collect();
        others.retain(|other| **other != *client);
        others.sort();
        others.dedup();
        others
    }

    /// Notes that a connection has ended.
    pub fn leave(&self, connection: u64) {
        let mut connections = self.locked();
        connections.addresses.remove(&connection);
        connections.matches.remove(&connection);
        let Some(client) = connections.connected.remove(&connection) else {
            return;
        };
        if !connections.connected.values().any(|other| *other == client) {
            connections.clocks.remove(&client);
        }
    }

    /// Notes where a connection comes from.
    pub fn came_from(&self, connection: u64, address: &str) {
        self.locked().addresses.insert(connection, address.into());
    }

    /// Notes which match a connection charts from now on.
    pub fn charts(&self, connection: u64, match_id: Option<&str>) {
        let mut connections = self.locked();
        match match_id {
            Some(id) => connections.matches.insert(connection, id.into()),
            None => connections.matches.remove(&connection),
        };
    }

    /// Notes that a beat with the client's time `at` came at `now`, both in
    /// milliseconds since 1970 UTC.
    pub fn beat(&self, connection: u64, at: i64, now: i64) {
        let mut connections = self.locked();
        if let Some(client) = connections.connected.get(&connection).cloned() {
            connections.clocks.entry(client).or_default().beat(at, now);
        }
    }

    /// Notes when an entry of a client was recorded and received.
    pub(crate) fn recorded(&self, client: &str, at: i64, received: i64) {
        let mut connections = self.locked();
        if let Some(client) = connections.connected.values().find(|one| ***one == *client) {
            let client = Arc::clone(client);
            connections
                .clocks
                .entry(client)
                .or_default()
                .entry(at, received);
        }
    }

    /// The clients that are connected, sorted, each once, with what is known of
    /// them at `now`.
    #[must_use]
    pub fn connected_charters(&self, now: i64) -> Vec<ConnectedCharter> {
        let connections = self.locked();
        let mut seen: BTreeMap<Arc<str>, ConnectedCharter> = BTreeMap::new();
        for (connection, client) in &connections.connected {
            let clock = connections.clocks.get(client);
            let view = ConnectedCharter {
                client: Arc::clone(client),
                seat: connections.seat.as_ref() == Some(client),
                address: connections.addresses.get(connection).cloned(),
                match_id: connections.matches.get(connection).cloned(),
                late_ms: clock.and_then(|clock| clock.late_ms(now)),
                clock_ms: clock.and_then(|clock| clock.clock_ms(now)),
            };
            seen.insert(Arc::clone(client), view);
        }
        seen.into_values().collect()
    }

    /// The clients that are connected, sorted, each once.
    #[must_use]
    pub fn connected(&self) -> Vec<Arc<str>> {
        let mut clients: Vec<Arc<str>> = self.locked().connected.values().cloned().collect();
        clients.sort();
        clients.dedup();
        clients
    }

    /// The client that has taken the court over, if one has.
    #[must_use]
    pub fn seat(&self) -> Option<Arc<str>> {
        self.locked().seat.clone()
    }

    /// Gives the seat up, with a new match.
    pub(crate) fn free_seat(&self) {
        self.locked().seat = None;
    }

    /// Whether `client` may chart.
    ///
    /// # Errors
    /// `taken_over` where another client has the seat.
    pub fn may_chart(&self, client: &str) -> Result<(), Refusal> {
        match &self.locked().seat {
            Some(holder) if **holder != *client => Err(Refusal::new(
                RefusalCode::TakenOver,
                format!(
                    "`{holder}` has taken this court over; keep the entry, or take the court \
                     back with `hello` and `\"take_over\":true`"
                ),
            )),
            _ => Ok(()),
        }
    }

    fn locked(&self) -> MutexGuard<'_, Connections> {
        // Each change is one insertion or one assignment: nothing is half done.
        self.connections
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_may_chart_side_by_side_and_know_of_each_other() {
        let charters = Charters::default();
        assert!(charters.arrive(1, "left", Arrival::Beside, 0).is_empty());
        let others = charters.arrive(2, "right", Arrival::Beside, 0);
        assert_eq!(others, [Arc::from("left")]);
        assert!(charters.may_chart("left").is_ok() && charters.may_chart("right").is_ok());
    }

    #[test]
    fn whoever_takes_over_is_the_only_one_who_charts() {
        let charters = Charters::default();
        charters.arrive(1, "left", Arrival::Beside, 0);
        charters.arrive(2, "right", Arrival::TakesOver, 0);
        assert!(charters.may_chart("right").is_ok());
        let refused = charters.may_chart("left").unwrap_err();
        assert_eq!(refused.code, RefusalCode::TakenOver);
        charters.arrive(1, "left", Arrival::TakesOver, 0);
        assert!(charters.may_chart("left").is_ok());
        assert!(charters.may_chart("right").is_err());
    }

    #[test]
    fn the_address_is_that_of_the_latest_connection_and_goes_with_it() {
        let charters = Charters::default();
        for (connection, address) in [(1, "192.168.1.31"), (2, "192.168.1.44")] {
            charters.came_from(connection, address);
            charters.arrive(connection, "left", Arrival::Beside, 0);
        }
        let seen = || charters.connected_charters(0).remove(0).address.unwrap();
        assert_eq!(&*seen(), "192.168.1.44");
        charters.leave(2);
        assert_eq!(&*seen(), "192.168.1.31");
    }

    #[test]
    fn the_seat_stays_with_a_client_that_has_lost_its_connection() {
        let charters = Charters::default();
        charters.arrive(1, "left", Arrival::TakesOver, 0);
        charters.leave(1);
        charters.arrive(2, "right", Arrival::Beside, 0);
        assert!(charters.may_chart("right").is_err());
        assert_eq!(charters.connected(), [Arc::from("right")]);
    }
}
