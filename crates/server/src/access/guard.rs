//! The guards before the routes: one for the name a request is sent to, one for
//! the permit that a group of routes asks for.

use std::net::IpAddr;

use axum::extract::{Request, State};
use axum::http::uri::Authority;
use axum::http::{HeaderMap, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::Response;

use super::keys::Permit;
use super::origin;
use super::reach::{Access, Visitor};
use crate::rejection::Rejection;

/// What a group of routes asks for.
#[derive(Clone)]
pub(crate) struct Gate {
    pub(crate) access: Access,
    pub(crate) needed: Permit,
}

/// Lets in who may, for the routes of one permit.
pub(crate) async fn guard(
    State(gate): State<Gate>,
    request: Request,
    next: Next,
) -> Result<Response, Rejection> {
    let (parts, body) = request.into_parts();
    gate.access
        .check(&Visitor::from_parts(&parts), gate.needed)?;
    let reads = [Method::GET, Method::HEAD].contains(&parts.method);
    if !reads && !origin::is_own_page(&parts.headers) {
        return Err(Rejection::forbidden(
            "this is changed from this host's own pages and by programs, not from pages of \
             other sites",
        ));
    }
    Ok(next.run(Request::from_parts(parts, body)).await)
}

/// Turns away what was sent to a name that is not this machine's.
pub(crate) async fn guard_host(
    State(access): State<Access>,
    request: Request,
    next: Next,
) -> Result<Response, Rejection> {
    if request.headers().get_all(header::HOST).iter().count() > 1 {
        // RFC 9112, section 3.2: which of them is meant cannot be known.
        let sentence = "the request has more than one `Host`";
        return Err(Rejection::new(StatusCode::BAD_REQUEST, sentence));
    }
    match host_name(request.headers()) {
        Some(name) if !is_own_name(&name, &access.names) => Err(Rejection::forbidden(format!(
            "this host does not answer to the name `{name}`; use its address, like \
             `http://192.168.1.20:7447`, or `localhost`"
        ))),
        _ => Ok(next.run(request).await),
    }
}

/// The name a request was sent to, without the port; empty where it is none.
fn host_name(headers: &HeaderMap) -> Option<String> {
    let host = headers.get(header::HOST)?;
    let authority = Authority::try_from(host.as_bytes());
    Some(authority.map_or_else(|_| String::new(), |one| one.host().to_ascii_lowercase()))
}

fn is_own_name(name: &str, own: &[String]) -> bool {
    let bracketed = name
        .strip_prefix('[')
        .and_then(|rest| rest.strip_suffix(']'));
    let name = bracketed.unwrap_or(name).trim_end_matches('.');
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

    fn host(value: &'static str) -> String {
        let mut headers = HeaderMap::new();
        headers.insert(header::HOST, value.parse().unwrap());
        host_name(&headers).unwrap()
    }

    #[test]
    fn addresses_and_this_machines_names_are_answered_to() {
        // An address of version 6 stands in brackets (RFC 3986, section 3.2.2);
        // `localhost` is this machine (RFC 6761, section 6.3); `.local` is mDNS
        // (RFC 6762, section 3).
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
            assert!(is_own_name(&host(value), &own), "{value}");
        }
    }

    #[test]
    fn a_name_that_was_made_to_lead_here_is_not() {
        // The attack is DNS rebinding; to look at `Host` is common practice against
        // it.
        let own = ["courtside".to_owned()];
        for value in [
            "elsewhere.example:7447",
            "localhost.example",
            "",
            "127.0.0.1.example",
        ] {
            assert!(!is_own_name(&host(value), &own), "{value}");
        }
    }
}
