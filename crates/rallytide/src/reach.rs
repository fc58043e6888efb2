//! How this machine is reached: its names, and its addresses for others.

use std::net::{IpAddr, SocketAddr};

/// The names this machine answers to, besides `localhost` and addresses.
pub(crate) fn own_names() -> Vec<String> {
    let name = match hostname::get() {
        Ok(name) => name.to_string_lossy().into_owned(),
        Err(error) => {
            tracing::warn!(%error, "this machine does not say its name");
            String::new()
        }
    };
    let short = name.split('.').next().unwrap_or_default().to_owned();
    let mut names = vec![name, short];
    names.retain(|name| !name.is_empty());
    names.dedup();
    names
}

/// How other machines reach a host that listens on `bound`: empty where only
/// this machine does. Looked up each time, as a machine may join a network late.
pub(crate) fn addresses(bound: SocketAddr) -> Vec<String> {
    let reached: Vec<IpAddr> = if bound.ip().is_loopback() {
        Vec::new()
    } else if bound.ip().is_unspecified() {
        let interfaces = if_addrs::get_if_addrs().unwrap_or_else(|error| {
            tracing::warn!(%error, "the addresses of this machine are not to be had");
            Vec::new()
        });
        let mut addresses: Vec<IpAddr> = interfaces
            .iter()
            .filter(|one| !one.is_loopback() && !one.is_link_local())
            .map(if_addrs::Interface::ip)
            .filter(|address| bound.is_ipv6() || address.is_ipv4())
            .collect();
        addresses.sort();
        addresses
    } else {
        vec![bound.ip()]
    };
    let links = reached.into_iter().map(|address| {
        let at = SocketAddr::new(address, bound.port());
        format!("http://{at}")
    });
    links.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_host_for_this_machine_alone_has_no_address_for_others() {
        for bound in ["127.0.0.1:7447", "[::1]:7447"] {
            assert!(addresses(bound.parse().unwrap()).is_empty(), "{bound}");
        }
    }

    #[test]
    fn a_host_on_one_address_is_reached_there() {
        let reached = |bound: &str| addresses(bound.parse().unwrap());
        assert_eq!(reached("192.168.1.20:7447"), ["http://192.168.1.20:7447"]);
        assert_eq!(reached("[2001:db8::1]:7447"), ["http://[2001:db8::1]:7447"]);
    }
}
