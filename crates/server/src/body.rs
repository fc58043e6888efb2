//! Reading a JSON body with a sentence of our own where it does not fit.

use axum::body::Bytes;
use axum::extract::{FromRequest, Request};
use axum::http::StatusCode;
use serde::de::DeserializeOwned;

use crate::routes::Refused;

/// The body of a request, read from JSON whatever its content type says.
pub(crate) struct Body<T>(pub(crate) T);

impl<S: Send + Sync, T: DeserializeOwned> FromRequest<S> for Body<T> {
    type Rejection = Refused;

    async fn from_request(request: Request, state: &S) -> Result<Self, Refused> {
        let bytes = Bytes::from_request(request, state)
            .await
            .map_err(|rejection| Refused(rejection.status(), rejection.body_text()))?;
        serde_json::from_slice(&bytes).map(Self).map_err(|error| {
            Refused(
                StatusCode::UNPROCESSABLE_ENTITY,
                format!("the body of the request is not what is asked for: {error}"),
            )
        })
    }
}
