//! Who charts on a court: the connected clients, and who has which seat.
//!
//! Anybody who says hello for a seat may chart from it until somebody *takes it
//! over*: from then on only that client's entries are taken from that seat,
//! whatever connection they come through, and everybody else on it is told. So
//! two never write from one seat unnoticed. What happens on one seat changes
//! nothing on the other.

use std::collections::BTreeMap;
use std::sync::Arc;

use parking_lot::{Mutex, MutexGuard};

use crate::cannot_do::CannotDo;
use crate::clocks::ClientClock;
use crate::seat::{Recorder, Seat};

/// The charters of one court.
#[derive(Debug, Default)]
pub struct Charters {
    connections: Mutex<Connections>,
}

#[derive(Debug, Default)]
struct Connections {
    connected: BTreeMap<u64, Member>,
    /// Which client has taken a seat over.
    holders: BTreeMap<Seat, Arc<str>>,
    /// Where each connection comes from.
    addresses: BTreeMap<u64, Arc<str>>,
    /// The match that each connection said hello for.
    matches: BTreeMap<u64, Arc<str>>,
    /// The clocks of the clients that are connected.
    clocks: BTreeMap<Member, ClientClock>,
}

/// A client on a seat.
type Member = (Seat, Arc<str>);

/// A charter's client that is connected, for the desk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ConnectedCharter {
    /// Its name.
    pub client: Arc<str>,
    /// The seat it sits on.
    pub seat: Seat,
    /// Whether it has taken that seat over.
    pub holds: bool,
    /// The address it comes from, of its latest connection.
    pub address: Option<Arc<str>>,
    /// How late its entries come, in milliseconds, if that is known. Never of the
    /// seat `cues`: what is seen there waits for the shot it is about.
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
    /// It charts beside whoever else sits on its seat.
    Beside,
    /// It takes its seat over.
    TakesOver,
}

impl Charters {
    /// Notes that `client` has said hello for `seat` on `connection` at `now`, in
    /// milliseconds since 1970 UTC. The others on that seat come back, sorted,
    /// each once.
    pub fn arrive(
        &self,
        connection: u64,
        seat: Seat,
        client: &str,
        arrival: Arrival,
        now: i64,
    ) -> Vec<Arc<str>> {
        let mut connections = self.locked();
        let member: Member = (seat, client.into());
        connections.connected.insert(connection, member.clone());
        connections.clocks.entry(member).or_default().hello(now);
        if arrival == Arrival::TakesOver {
            connections.holders.insert(seat, client.into());
        }
        let mut others = connections.clients(Some(seat));
        others.retain(|other| **other != *client);
        others
    }

    /// Notes that a connection has ended.
    pub fn leave(&self, connection: u64) {
        let mut connections = self.locked();
        connections.addresses.remove(&connection);
        connections.matches.remove(&connection);
        let Some(member) = connections.connected.remove(&connection) else {
            return;
        };
        if !connections.connected.values().any(|other| *other == member) {
            connections.clocks.remove(&member);
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
        if let Some(member) = connections.connected.get(&connection).cloned() {
            connections.clocks.entry(member).or_default().beat(at, now);
        }
    }

    /// Notes when an entry of a client was recorded and received.
    pub(crate) fn recorded(&self, by: &Recorder, at: i64, received: i64) {
        if by.seat != Some(Seat::Chart) {
            return;
        }
        let member: Member = (Seat::Chart, Arc::clone(&by.client));
        if let Some(clock) = self.locked().clocks.get_mut(&member) {
            clock.entry(at, received);
        }
    }

    /// The clients that are connected, by seat and sorted, each once on a seat,
    /// with what is known of them at `now`.
    #[must_use]
    pub fn connected_charters(&self, now: i64) -> Vec<ConnectedCharter> {
        let connections = self.locked();
        let mut seen: BTreeMap<Member, ConnectedCharter> = BTreeMap::new();
        for (connection, member) in &connections.connected {
            let (seat, client) = member;
            let clock = connections.clocks.get(member);
            let view = ConnectedCharter {
                client: Arc::clone(client),
                seat: *seat,
                holds: connections.holders.get(seat) == Some(client),
                address: connections.addresses.get(connection).cloned(),
                match_id: connections.matches.get(connection).cloned(),
                late_ms: clock.and_then(|clock| clock.late_ms(now)),
                clock_ms: clock.and_then(|clock| clock.clock_ms(now)),
            };
            seen.insert(member.clone(), view);
        }
        seen.into_values().collect()
    }

    /// The clients that are connected, whatever their seat, sorted, each once.
    #[must_use]
    pub fn connected(&self) -> Vec<Arc<str>> {
        self.locked().clients(None)
    }

    /// How many clients are connected on a seat.
    #[must_use]
    pub fn count_on(&self, seat: Seat) -> usize {
        self.locked().clients(Some(seat)).len()
    }

    /// The client that has taken a seat over, if one has.
    #[must_use]
    pub fn holder(&self, seat: Seat) -> Option<Arc<str>> {
        self.locked().holders.get(&seat).cloned()
    }

    /// Gives the seats up, with a new match.
    pub(crate) fn free_seats(&self) {
        self.locked().holders.clear();
    }

    /// Whether `client` may chart from `seat`.
    ///
    /// # Errors
    /// [`CannotDo::TakenOver`] where another client has the seat.
    pub fn may_chart(&self, seat: Seat, client: &str) -> Result<(), CannotDo> {
        match self.locked().holders.get(&seat) {
            Some(holder) if **holder != *client => Err(CannotDo::TakenOver {
                seat,
                holder: holder.to_string(),
            }),
            _ => Ok(()),
        }
    }

    fn locked(&self) -> MutexGuard<'_, Connections> {
        self.connections.lock()
    }
}

impl Connections {
    /// The clients on a seat, or on any, sorted, each once.
    fn clients(&self, on: Option<Seat>) -> Vec<Arc<str>> {
        let members = self.connected.values();
        let mut clients: Vec<Arc<str>> = members
            .filter(|(seat, _)| on.is_none_or(|on| on == *seat))
            .map(|(_, client)| Arc::clone(client))
            .collect();
        clients.sort();
        clients.dedup();
        clients
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_may_chart_side_by_side_and_know_of_each_other() {
        let charters = Charters::default();
        assert!(
            charters
                .arrive(1, Seat::Chart, "left", Arrival::Beside, 0)
                .is_empty()
        );
        let others = charters.arrive(2, Seat::Chart, "right", Arrival::Beside, 0);
        assert_eq!(others, [Arc::from("left")]);
        assert!(
            charters.may_chart(Seat::Chart, "left").is_ok()
                && charters.may_chart(Seat::Chart, "right").is_ok()
        );
    }

    #[test]
    fn whoever_takes_over_is_the_only_one_who_charts() {
        let charters = Charters::default();
        charters.arrive(1, Seat::Chart, "left", Arrival::Beside, 0);
        charters.arrive(2, Seat::Chart, "right", Arrival::TakesOver, 0);
        assert!(charters.may_chart(Seat::Chart, "right").is_ok());
        let refused = charters.may_chart(Seat::Chart, "left").unwrap_err();
        assert!(matches!(refused, CannotDo::TakenOver { holder, .. } if holder == "right"));
        charters.arrive(1, Seat::Chart, "left", Arrival::TakesOver, 0);
        assert!(charters.may_chart(Seat::Chart, "left").is_ok());
        assert!(charters.may_chart(Seat::Chart, "right").is_err());
    }

    #[test]
    fn the_address_is_that_of_the_latest_connection_and_goes_with_it() {
        let charters = Charters::default();
        for (connection, address) in [(1, "192.168.1.31"), (2, "192.168.1.44")] {
            charters.came_from(connection, address);
            charters.arrive(connection, Seat::Chart, "left", Arrival::Beside, 0);
        }
        let seen = || charters.connected_charters(0).remove(0).address.unwrap();
        assert_eq!(&*seen(), "192.168.1.44");
        charters.leave(2);
        assert_eq!(&*seen(), "192.168.1.31");
    }

    #[test]
    fn the_seat_stays_with_a_client_that_has_lost_its_connection() {
        let charters = Charters::default();
        charters.arrive(1, Seat::Chart, "left", Arrival::TakesOver, 0);
        charters.leave(1);
        charters.arrive(2, Seat::Chart, "right", Arrival::Beside, 0);
        assert!(charters.may_chart(Seat::Chart, "right").is_err());
        assert_eq!(charters.connected(), [Arc::from("right")]);
    }

    #[test]
    fn each_seat_is_taken_over_for_itself() {
        let charters = Charters::default();
        charters.arrive(1, Seat::Chart, "laptop", Arrival::TakesOver, 0);
        let others = charters.arrive(2, Seat::Cues, "phone", Arrival::TakesOver, 0);
        assert!(others.is_empty(), "nobody else sits on that seat");
        assert!(charters.may_chart(Seat::Chart, "laptop").is_ok());
        assert!(charters.may_chart(Seat::Cues, "phone").is_ok());
        assert!(charters.may_chart(Seat::Chart, "phone").is_err());
        assert!(charters.may_chart(Seat::Cues, "laptop").is_err());
        charters.arrive(3, Seat::Cues, "tablet", Arrival::TakesOver, 0);
        assert!(charters.may_chart(Seat::Cues, "phone").is_err());
        assert!(charters.may_chart(Seat::Chart, "laptop").is_ok());
        let seen: Vec<_> = charters
            .connected_charters(0)
            .into_iter()
            .map(|one| (one.seat, one.client.to_string(), one.holds))
            .collect();
        assert_eq!(
            seen,
            [
                (Seat::Chart, "laptop".into(), true),
                (Seat::Cues, "phone".into(), false),
                (Seat::Cues, "tablet".into(), true),
            ]
        );
    }

    #[test]
    fn one_client_on_both_seats_is_told_apart() {
        let charters = Charters::default();
        charters.arrive(1, Seat::Chart, "both", Arrival::TakesOver, 0);
        charters.arrive(2, Seat::Cues, "both", Arrival::Beside, 0);
        assert_eq!(charters.connected_charters(0).len(), 2);
        assert_eq!(charters.connected(), [Arc::from("both")]);
        charters.leave(1);
        assert_eq!(charters.count_on(Seat::Chart), 0);
        assert_eq!(charters.count_on(Seat::Cues), 1);
        assert_eq!(charters.holder(Seat::Chart), Some(Arc::from("both")));
        assert_eq!(charters.holder(Seat::Cues), None);
    }
}
