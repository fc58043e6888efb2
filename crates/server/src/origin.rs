//! Who may write: a page of another site must not, though a browser would let
//! it open a WebSocket to this host.

use axum::http::{HeaderMap, header};

/// Whether a request comes from a page of this host, or from no page at all.
///
/// Browsers always say where a page comes from when it opens a WebSocket; other
/// clients need not. Looked at is whether that place is the one the request was
/// sent to.
pub(crate) fn is_own(headers: &HeaderMap) -> bool {
    let text = |name| headers.get(name).and_then(|value| value.to_str().ok());
    match (headers.contains_key(header::ORIGIN), text(header::ORIGIN)) {
        (false, _) => true,
        (true, Some(origin)) => {
            let place = origin.split_once("://").map(|(_, place)| place);
            place.is_some() && place == text(header::HOST)
        }
        (true, None) => false,
    }
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
        assert_eq!(is_own(&headers), expected, "{origin:?}");
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
        check(Some("http://court.local"), false);
        check(Some("https://elsewhere.example"), false);
        check(Some("null"), false);
    }
}
