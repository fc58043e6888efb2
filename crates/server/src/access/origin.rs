//! Who may write: a page of another site must not, though a browser would let
//! it open a WebSocket to this host.

use axum::http::uri::Authority;
use axum::http::{HeaderMap, header};
use url::Url;

/// Whether a request comes from a page of this host, or from no page at all.
///
/// Browsers always say where a page comes from when it opens a WebSocket; other
/// clients need not. Looked at is whether that place is the one the request was
/// sent to.
pub(crate) fn is_own_page(headers: &HeaderMap) -> bool {
    let Some(origin) = headers.get(header::ORIGIN) else {
        return true;
    };
    let origin = origin.to_str().ok().and_then(|text| Url::parse(text).ok());
    let host = headers.get(header::HOST);
    let host = host.and_then(|host| Authority::try_from(host.as_bytes()).ok());
    let (Some(origin), Some(host)) = (origin, host) else {
        return false;
    };
    // A port that goes without saying is left out of an origin.
    let port = host.port_u16().or(match origin.scheme() {
        "http" => Some(80),
        "https" => Some(443),
        _ => None,
    });
    let is_same_name = origin
        .host_str()
        .is_some_and(|name| name.eq_ignore_ascii_case(host.host()));
    is_same_name && origin.port_or_known_default() == port
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::http::HeaderValue;

    fn check(origin: Option<&'static str>, expected: bool) {
        let mut headers = HeaderMap::new();
        headers.insert(header::HOST, HeaderValue::from_static("court.local:7447"));
        if let Some(origin) = origin {
            headers.insert(header::ORIGIN, HeaderValue::from_static(origin));
        }
        assert_eq!(is_own_page(&headers), expected, "{origin:?}");
    }

    #[test]
    fn a_page_of_this_host_may_write() {
        check(Some("http://court.local:7447"), true);
    }

    #[test]
    fn a_program_that_is_no_page_may_write() {
        check(None, true);
    }

    #[test]
    fn a_page_of_another_site_may_not_write() {
        // Browsers send `Origin` with such requests (RFC 6454, section 7).
        check(Some("http://court.local"), false);
        check(Some("https://elsewhere.example"), false);
        check(Some("null"), false);
    }
}
