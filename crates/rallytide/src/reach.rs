//! How this machine is reached: its names, and its addresses for others.

use std::net::{IpAddr, Ipv4Addr, SocketAddr, UdpSocket};

use rallytide_server::Address;

/// The names this machine answers to, besides `localhost` and addresses.
pub(crate) fn own_names() -> Vec<String> {
    let name = match hostname::get() {
        Ok(name) => name.to_string_lossy().into_owned(),
        Err(error) => {
            tracing::warn!(%error, "the name of this machine could not be read");
            String::new()
        }
    };
    let short = name.split('.').next().unwrap_or_default().to_owned();
    let mut names = vec![name, short];
    names.retain(|name| !name.is_empty());
    names.dedup();
    names
}

/// How other machines reach a host that listens on `bound`, the most likely way
/// first; where only this machine does, how they would if it let them in, at the
/// same port. None if this machine does not say its addresses. Looked up each
/// time, as a machine may join a network late.
pub(crate) fn addresses(bound: SocketAddr) -> Option<Vec<Address>> {
    let is_alone = bound.ip().is_loopback();
    let reached: Vec<(IpAddr, Option<String>)> = if is_alone || bound.ip().is_unspecified() {
        let interfaces = match if_addrs::get_if_addrs() {
            Ok(interfaces) => interfaces,
            Err(error) => {
                tracing::warn!(%error, "the addresses of this machine could not be read");
                return None;
            }
        };
        let outward = outward_address();
        let mut reached: Vec<_> = interfaces
            .into_iter()
            .map(|one| (one.ip(), one.name))
            .filter(|(address, _)| is_of_use(*address))
            .filter(|(address, _)| (bound.is_ipv6() && !is_alone) || address.is_ipv4())
            .collect();
        reached.sort_by_key(|(address, network)| {
            (
                Some(*address) != outward,
                is_for_programs(network),
                unlikely(*address),
                *address,
            )
        });
        let named = reached.into_iter();
        named
            .map(|(address, network)| (address, Some(network)))
            .collect()
    } else {
        vec![(bound.ip(), None)]
    };
    let links = reached.into_iter().map(|(address, network)| {
        let socket = SocketAddr::new(address, bound.port());
        Address {
            url: format!("http://{socket}"),
            network,
            socket,
        }
    });
    Some(links.collect())
}

/// Whether an address can stand in a link. A link-local one of IPv6 cannot: it
/// means something only together with an interface of the machine that asks.
fn is_of_use(address: IpAddr) -> bool {
    match address {
        IpAddr::V4(_) => !address.is_loopback() && !address.is_unspecified(),
        IpAddr::V6(v6) => !v6.is_loopback() && !v6.is_unspecified() && !v6.is_unicast_link_local(),
    }
}

/// Addresses that are hard to type, or that a machine gives itself where no
/// network gives it one, come later.
fn unlikely(address: IpAddr) -> u8 {
    match address {
        IpAddr::V4(v4) => u8::from(v4.is_link_local()),
        IpAddr::V6(_) => 2,
    }
}

/// Whether an interface belongs to programs of this machine and not to a network
/// that other people are in. The beginnings of these names are from memory.
fn is_for_programs(network: &str) -> bool {
    const BEGINNINGS: [&str; 9] = [
        "docker",
        "br-",
        "veth",
        "virbr",
        "vmnet",
        "vboxnet",
        "vEthernet",
        "podman",
        "lxc",
    ];
    BEGINNINGS.iter().any(|one| network.starts_with(one))
}

/// The address that this machine speaks from to others. Nothing is sent: a
/// datagram socket only looks the way up. The address is one kept for examples
/// (RFC 5737).
fn outward_address() -> Option<IpAddr> {
    let socket = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0)).ok()?;
    socket.connect((Ipv4Addr::new(192, 0, 2, 1), 9)).ok()?;
    Some(socket.local_addr().ok()?.ip())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn others_are_let_in_at_the_same_port_and_never_at_the_loopback_address() {
        for bound in ["127.0.0.1:7447", "[::1]:7447"] {
            for one in addresses(bound.parse().unwrap()).unwrap() {
                assert!(!one.socket.ip().is_loopback(), "{one:?}");
                assert!(one.socket.is_ipv4() && one.socket.port() == 7447, "{one:?}");
            }
        }
    }

    #[test]
    fn a_host_on_one_address_is_reached_there() {
        let reached = |bound: &str| -> Vec<String> {
            let addresses = addresses(bound.parse().unwrap()).unwrap();
            addresses.into_iter().map(|one| one.url).collect()
        };
        assert_eq!(reached("192.168.1.20:7447"), ["http://192.168.1.20:7447"]);
        assert_eq!(reached("[2001:db8::1]:7447"), ["http://[2001:db8::1]:7447"]);
    }

    #[test]
    fn what_can_stand_in_a_link_is_offered_and_nothing_else() {
        for (address, of_use) in [
            ("192.168.1.20", true),
            ("169.254.3.7", true),
            ("2001:db8::1", true),
            ("fe80::1", false),
            ("127.0.0.1", false),
            ("::1", false),
            ("0.0.0.0", false),
        ] {
            assert_eq!(is_of_use(address.parse().unwrap()), of_use, "{address}");
        }
        assert!(is_for_programs("docker0") && !is_for_programs("wlan0"));
    }
}
