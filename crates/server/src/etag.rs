//! Answers that a poller need not fetch again while they stay the same.

use axum::body::Bytes;
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum_extra::headers::{ETag, HeaderMapExt, IfNoneMatch};

/// The body with a tag made from it, or 304 where the poller has it already.
pub(crate) fn tagged(
    body: impl Into<Bytes>,
    content_type: &'static str,
    request: &HeaderMap,
) -> Response {
    let body = body.into();
    let tag = tag_of(&body);
    tagged_as(&tag, body, content_type, request)
}

/// The tag of a body.
pub(crate) fn tag_of(body: &[u8]) -> String {
    format!("\"{:08x}-{:x}\"", crc32fast::hash(body), body.len())
}

/// The same with a tag that is known already, quotes included.
pub(crate) fn tagged_as(
    tag: &str,
    body: impl Into<Bytes>,
    content_type: &str,
    request: &HeaderMap,
) -> Response {
    let etag: Option<ETag> = tag.parse().ok();
    let is_known = match (&etag, request.typed_get::<IfNoneMatch>()) {
        (Some(etag), Some(known)) => !known.precondition_passes(etag),
        _ => false,
    };
    let mut response = if is_known {
        StatusCode::NOT_MODIFIED.into_response()
    } else {
        let content_type = [(header::CONTENT_TYPE, content_type)];
        (content_type, body.into()).into_response()
    };
    let headers = response.headers_mut();
    headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-cache"));
    if let Some(etag) = etag {
        headers.typed_insert(etag);
    }
    response
}

#[cfg(test)]
mod tests {
    use super::*;

    fn status(known: Option<&str>) -> StatusCode {
        let mut headers = HeaderMap::new();
        if let Some(known) = known {
            headers.insert(header::IF_NONE_MATCH, known.parse().unwrap());
        }
        tagged_as("\"1\"", "body", "text/plain", &headers).status()
    }

    /// RFC 9110, section 13.1.2: a list, weak tags and `*`.
    #[test]
    fn what_the_poller_has_is_not_sent_again() {
        for known in ["\"1\"", "W/\"1\"", "\"0\", \"1\"", "*"] {
            assert_eq!(status(Some(known)), StatusCode::NOT_MODIFIED, "{known}");
        }
        for known in [None, Some("\"2\""), Some("1x")] {
            assert_eq!(status(known), StatusCode::OK, "{known:?}");
        }
    }
}
