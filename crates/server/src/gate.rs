//! Who comes in: the name a request is sent to, the page it comes from, and the
//! key that another machine has to bring.
//!
//! From this machine no key is needed. Two things protect that: the `Host` of a
//! request has to be an address, `localhost` or this machine's own name, so that
//! a site cannot have its name resolved to this machine and then speak as its
//! own page; and what changes something has to come from a page of this host, or
//! from no page.

use std::net::{IpAddr, SocketAddr};
use std::sync::Arc;

use axum::extract::{ConnectInfo, Request, State};
use axum::http::{HeaderMap, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::Response;

use crate::keys::{Keys, Permit};
use crate::origin;
use crate::routes::{Refused, Site};

/// A way to the host for other machines.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Address {
    /// Like `http://192.168.1.20:7447`.
    pub url: String,
    /// The system's name of the network interface, if it is known.
    pub network: Option<String>,
    /// Where the host listens for it, or would.
    pub socket: SocketAddr,
}

/// How the host is reached, and by whom.
#[derive(Clone)]
pub struct Access {
    /// What other machines have to bring.
    pub keys: Arc<Keys>,
    /// The names of this machine, besides `localhost` and its addresses.
    pub names: Arc<[String]>,
    /// The host was started for this machine alone: the desk may let others in.
    pub is_alone: bool,
    /// How other machines reach the host, or would if it let them in, the most
    /// likely way first; none if this machine does not say its addresses.
    pub addresses: Arc<dyn Fn() -> Option<Vec<Address>> + Send + Sync>,
}

/// What a route asks for.
#[derive(Clone)]
pub(crate) struct Gate {
    pub(crate) site: Site,
    pub(crate) needed: Permit,
}

/// Lets in who may, for the routes of one permit.
pub(crate) async fn guard(
    State(gate): State<Gate>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    request: Request,
    next: Next,
) -> Result<Response, Refused> {
    let key = key_of(&request);
    let keys = &gate.site.access.keys;
    if !may(keys, peer.ip(), key.as_deref(), gate.needed) {
        return Err(no_key(key.as_deref()));
    }
    let reads = [Method::GET, Method::HEAD].contains(request.method());
    if !reads && !origin::is_own(request.headers()) {
        return Err(Refused(
            StatusCode::FORBIDDEN,
            "this is changed from this host's own pages and by programs, not from pages of \
             other sites"
                .into(),
        ));
    }
    Ok(next.run(request).await)
}

/// Turns away what was sent to a name that is not this machine's.
pub(crate) async fn guard_name(
    State(site): State<Site>,
    request: Request,
    next: Next,
) -> Result<Response, Refused> {
    match named(request.headers()) {
        Some(name) if !is_own_name(&name, &site.access.names) => Err(Refused(
            StatusCode::FORBIDDEN,
            format!(
                "this host does not answer to the name `{name}`; use its address, like \
                 `http://192.168.1.20:7447`, or `localhost`"
            ),
        )),
        _ => Ok(next.run(request).await),
    }
}

/// Whether somebody at `peer` with `key` may do what asks for `needed`.
pub(crate) fn may(keys: &Keys, peer: IpAddr, key: Option<&str>, needed: Permit) -> bool {
    peer.to_canonical().is_loopback()
        || key
            .and_then(|key| keys.permit(key))
            .is_some_and(|permit| permit.allows(needed))
}

/// The sentence for who has no key that fits.
pub(crate) fn no_key(key: Option<&str>) -> Refused {
    let what = match key {
        None => "this link has no key",
        Some(_) => "the key of this link does not fit here (any more)",
    };
    Refused(
        StatusCode::FORBIDDEN,
        format!("{what}: from another machine the link has to come from the desk page"),
    )
}

/// The key of a request: `authorization: Bearer …`, else `?key=…`.
pub(crate) fn key_of(request: &Request) -> Option<String> {
    key_in(request.headers(), request.uri().query())
}

/// The same from its parts.
pub(crate) fn key_in(headers: &HeaderMap, query: Option<&str>) -> Option<String> {
    let header = headers.get(header::AUTHORIZATION);
    let bearer = header
        .and_then(|value| value.to_str().ok())
        .and_then(|value| value.split_once(' '))
        .filter(|(scheme, _)| scheme.eq_ignore_ascii_case("bearer"))
        .map(|(_, key)| key.trim().to_owned());
    // A key is base64url: nothing in it is ever escaped.
    bearer.or_else(|| {
        let mut parts = query?.split('&');
        parts.find_map(|part| part.strip_prefix("key=").map(str::to_owned))
    })
}

/// The name a request was sent to, without the port.
fn named(headers: &HeaderMap) -> Option<String> {
    let host = headers.get(header::HOST)?;
    let Ok(host) = host.to_str() else {
        return Some(String::new());
    };
    let name = match host.strip_prefix('[') {
        Some(rest) => rest.split(']').next().unwrap_or(rest),
        None => host.rsplit_once(':').map_or(host, |(name, _)| name),
    };
    Some(name.to_ascii_lowercase())
}

fn is_own_name(name: &str, own: &[String]) -> bool {
    let name = name.trim_end_matches('.');
    let bare = name.strip_suffix(".local").unwrap_or(name);
    name == "localhost"
        || name.parse::<IpAddr>().is_ok()
        || own
            .iter()
            .any(|own| own.eq_ignore_ascii_case(name) || own.eq_ignore_ascii_case(bare))
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::http::HeaderValue;

    fn host(value: &'static str) -> Option<String> {
        let mut headers = HeaderMap::new();
        headers.insert(header::HOST, HeaderValue::from_static(value));
        named(&headers)
    }

    #[test]
    fn addresses_and_this_machines_names_are_answered_to() {
        let own = ["courtside".to_owned()];
        for value in [
            "127.0.0.1:7447",
            "192.168.1.20",
            "[::1]:7447",
            "[fe80::1]",
            "localhost:7447",
            "LOCALHOST",
            "courtside:7447",
            "Courtside.local",
        ] {
            assert!(is_own_name(&host(value).unwrap(), &own), "{value}");
        }
    }

    #[test]
    fn a_name_that_was_made_to_lead_here_is_not() {
        let own = ["courtside".to_owned()];
        for value in [
            "elsewhere.example:7447",
            "localhost.example",
            "",
            "127.0.0.1.example",
        ] {
            assert!(!is_own_name(&host(value).unwrap(), &own), "{value}");
        }
    }

    #[test]
    fn a_key_is_found_in_the_link_or_the_header_and_the_header_counts_more() {
        let mut headers = HeaderMap::new();
        assert_eq!(key_in(&headers, Some("role=booth&key=abc")).unwrap(), "abc");
        assert_eq!(key_in(&headers, Some("monkey=abc")), None);
        assert_eq!(key_in(&headers, None), None);
        headers.insert(
            header::AUTHORIZATION,
            HeaderValue::from_static("bearer xyz"),
        );
        assert_eq!(key_in(&headers, Some("key=abc")).unwrap(), "xyz");
    }

    #[test]
    fn this_machine_needs_no_key_and_another_one_does() {
        let folder = tempfile::tempdir().unwrap();
        let keys = Keys::open(folder.path()).unwrap();
        let viewer = keys.key(Permit::Viewer);
        let check =
            |peer: &str, key: Option<&str>, needed| may(&keys, peer.parse().unwrap(), key, needed);
        for own in ["127.0.0.1", "127.8.8.8", "::1", "::ffff:127.0.0.1"] {
            assert!(check(own, None, Permit::Desk), "{own}");
        }
        for other in ["192.168.1.31", "::ffff:192.168.1.31", "fe80::1"] {
            assert!(!check(other, None, Permit::Viewer), "{other}");
            assert!(!check(other, Some("wrong"), Permit::Viewer), "{other}");
            assert!(check(other, Some(&viewer), Permit::Viewer), "{other}");
            assert!(!check(other, Some(&viewer), Permit::Charter), "{other}");
        }
    }
}
