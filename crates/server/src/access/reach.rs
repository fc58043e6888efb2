//! How the host is reached, by whom, and what a visitor may do.
//!
//! From this machine no key is needed. Two things protect that: the `Host` of a
//! request has to be an address, `localhost` or this machine's own name, so that
//! a site cannot have its name resolved to this machine and then speak as its
//! own page; and what changes something has to come from a page of this host, or
//! from no page.

use std::convert::Infallible;
use std::net::{IpAddr, SocketAddr};
use std::sync::Arc;

use axum::extract::{ConnectInfo, FromRequestParts};
use axum::http::HeaderMap;
use axum::http::request::Parts;
use axum_extra::headers::authorization::Bearer;
use axum_extra::headers::{Authorization, HeaderMapExt};

use super::keys::{Keys, Permit};
use super::sessions::Session;
use crate::rejection::Rejection;

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
    pub is_local_only: bool,
    /// How other machines reach the host, or would if it let them in, the most
    /// likely way first; none if this machine does not say its addresses.
    pub addresses: Arc<dyn Fn() -> Option<Vec<Address>> + Send + Sync>,
}

/// What proxies add to a request: RFC 7239, RFC 9110 section 7.6.3, and two
/// that are common practice.
const FORWARDED: [&str; 4] = ["forwarded", "via", "x-forwarded-for", "x-real-ip"];

/// Who sent a request: from where, and with which key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Visitor {
    /// As the host sees it, which is the router's where there is one between.
    pub(crate) address: IpAddr,
    /// A proxy stands between, so the address says nothing about who asks.
    is_forwarded: bool,
    key: Option<String>,
}

impl Visitor {
    pub(crate) fn new(address: IpAddr, headers: &HeaderMap, query: Option<&str>) -> Self {
        Self {
            address: address.to_canonical(),
            is_forwarded: FORWARDED.iter().any(|name| headers.contains_key(*name)),
            key: key_in(headers, query),
        }
    }

    pub(crate) fn from_parts(parts: &Parts) -> Self {
        // Every connection has an address; without one, nobody is this machine.
        let peer = parts.extensions.get::<ConnectInfo<SocketAddr>>();
        let address = peer.map_or(IpAddr::from([0, 0, 0, 0]), |peer| peer.0.ip());
        Self::new(address, &parts.headers, parts.uri.query())
    }

    fn is_this_machine(&self) -> bool {
        self.address.is_loopback() && !self.is_forwarded
    }
}

impl<S: Sync> FromRequestParts<S> for Visitor {
    type Rejection = Infallible;

    async fn from_request_parts(parts: &mut Parts, _state: &S) -> Result<Self, Infallible> {
        Ok(Self::from_parts(parts))
    }
}

impl Access {
    /// Lets a visitor do what asks for `needed`.
    ///
    /// # Errors
    /// A sentence for whoever has no key that fits.
    pub(crate) fn check(&self, visitor: &Visitor, needed: Permit) -> Result<(), Rejection> {
        let key = visitor.key.as_deref();
        let permit = key.and_then(|key| self.keys.permit(key));
        if visitor.is_this_machine() || permit.is_some_and(|permit| permit.allows(needed)) {
            return Ok(());
        }
        let what = match key {
            None => "this link has no key",
            Some(_) => "the key of this link does not fit here (any more)",
        };
        Err(Rejection::forbidden(format!(
            "{what}: from another machine the link has to come from the desk page"
        )))
    }

    /// The session of a visitor who was let in to what asks for `needed`.
    pub(crate) fn session(&self, visitor: &Visitor, needed: Permit) -> Session {
        match &visitor.key {
            Some(key) if !visitor.is_this_machine() => self.keys.session(key, needed),
            _ => Session::without_key(),
        }
    }
}

/// The key of a request: `authorization: Bearer …`, else `?key=…`.
fn key_in(headers: &HeaderMap, query: Option<&str>) -> Option<String> {
    if let Some(Authorization(bearer)) = headers.typed_get::<Authorization<Bearer>>() {
        return Some(bearer.token().trim().to_owned());
    }
    let mut fields = url::form_urlencoded::parse(query?.as_bytes());
    fields.find_map(|(name, value)| (name == "key").then(|| value.into_owned()))
}

#[cfg(test)]
mod tests {
    use axum::http::{HeaderValue, header};

    use super::*;

    fn access() -> (tempfile::TempDir, Access) {
        let folder = tempfile::tempdir().unwrap();
        let access = Access {
            keys: Arc::new(Keys::open(folder.path()).unwrap()),
            names: Arc::new([]),
            is_local_only: false,
            addresses: Arc::new(|| None),
        };
        (folder, access)
    }

    #[test]
    fn a_key_is_found_in_the_link_or_the_header_and_the_header_counts_more() {
        // RFC 6750, section 2.1; the word `Bearer` in any case (RFC 9110, section
        // 11.1).
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
        let (_folder, access) = access();
        let viewer = access.keys.key(Permit::Viewer);
        let check = |peer: &str, key: Option<&str>, needed| {
            let query = key.map(|key| format!("key={key}"));
            let peer = peer.parse().unwrap();
            let visitor = Visitor::new(peer, &HeaderMap::new(), query.as_deref());
            access.check(&visitor, needed).is_ok()
        };
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

    #[test]
    fn a_session_from_this_machine_outlives_every_key() {
        let (_folder, access) = access();
        let key = access.keys.key(Permit::Charter);
        let visit = |peer: [u8; 4]| {
            let query = format!("key={key}");
            let visitor = Visitor::new(peer.into(), &HeaderMap::new(), Some(&query));
            access.session(&visitor, Permit::Charter)
        };
        let _own = visit([127, 0, 0, 1]);
        let _other = visit([192, 168, 1, 31]);
        assert_eq!(access.keys.renew(Permit::Charter).unwrap(), 1);
    }
}
