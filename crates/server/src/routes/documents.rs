//! The documents that describe the host to programs: OpenAPI for what goes over
//! HTTP, AsyncAPI for the messages of the WebSockets.

use axum::http::HeaderMap;
use axum::response::Response;

use crate::etag::tagged;

/// The document for HTTP.
pub(crate) const OPENAPI: &str = include_str!("../../api/openapi.json");
/// The document for the messages.
pub(crate) const ASYNCAPI: &str = include_str!("../../api/asyncapi.json");

pub(crate) async fn openapi(headers: HeaderMap) -> Response {
    tagged(OPENAPI, "application/json", &headers)
}

pub(crate) async fn asyncapi(headers: HeaderMap) -> Response {
    tagged(ASYNCAPI, "application/json", &headers)
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::Value;

    fn read(document: &str) -> Value {
        serde_json::from_str(document).unwrap()
    }

    #[test]
    fn every_route_stands_in_the_document_for_http() {
        let routes = [include_str!("../routes.rs"), include_str!("desk.rs")].concat();
        let document = read(OPENAPI);
        let mut found = 0;
        for part in routes.split(".route(").skip(1) {
            let path = part.split('"').nth(1).unwrap();
            assert!(document["paths"][path].is_object(), "`{path}` is missing");
            found += 1;
        }
        assert_eq!(found, document["paths"].as_object().unwrap().len());
    }

    #[test]
    fn references_lead_somewhere() {
        for document in [OPENAPI, ASYNCAPI] {
            let root = read(document);
            let mut waiting = vec![&root];
            let mut followed = 0;
            while let Some(value) = waiting.pop() {
                if let Some(reference) = value.get("$ref").and_then(Value::as_str) {
                    let place = reference.trim_start_matches('#');
                    assert!(root.pointer(place).is_some(), "{reference}");
                    followed += 1;
                }
                match value {
                    Value::Object(object) => waiting.extend(object.values()),
                    Value::Array(array) => waiting.extend(array),
                    _ => {}
                }
            }
            assert!(followed > 0);
        }
    }
}
