//! JSON bodies: reading one with a sentence of our own where it does not fit, and
//! writing one.

use axum::body::Bytes;
use axum::extract::{FromRequest, Request};
use serde::Serialize;
use serde::de::DeserializeOwned;

use crate::rejection::Rejection;

/// The body of a request, read from JSON whatever its content type says.
pub(crate) struct JsonBody<T>(pub(crate) T);

impl<S: Send + Sync, T: DeserializeOwned> FromRequest<S> for JsonBody<T> {
    type Rejection = Rejection;

    async fn from_request(request: Request, state: &S) -> Result<Self, Rejection> {
        let bytes = Bytes::from_request(request, state)
            .await
            .map_err(|unread| Rejection::new(unread.status(), unread.body_text()))?;
        serde_json::from_slice(&bytes).map(Self).map_err(|error| {
            Rejection::unfit(format!(
                "the body of the request is not what is asked for: {error}"
            ))
        })
    }
}

/// An answer as JSON.
pub(crate) fn to_json(answer: &impl Serialize) -> Result<Vec<u8>, Rejection> {
    serde_json::to_vec(answer).map_err(|error| {
        tracing::error!(%error, "could not write an answer as JSON");
        Rejection::internal("the host could not write this answer; its log says why")
    })
}

/// Reads JSON that this host has written itself.
pub(crate) fn from_json<T: DeserializeOwned>(bytes: &[u8]) -> Result<T, Rejection> {
    serde_json::from_slice(bytes).map_err(|error| {
        tracing::error!(%error, "could not read what this host has written");
        Rejection::internal("the host could not write this answer; its log says why")
    })
}
