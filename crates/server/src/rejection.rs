//! A "no" over HTTP: a status and a sentence.

use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
/// An answer to somebody who asked for what cannot be had: a status, and one
/// sentence as plain text.
#[derive(Debug)]
pub(crate) struct Rejection {
    pub(crate) status: StatusCode,
    pub(crate) sentence: String,
}

impl Rejection {
    pub(crate) fn new(status: StatusCode, sentence: impl Into<String>) -> Self {
        Self {
            status,
            sentence: sentence.into(),
        }
    }

    pub(crate) fn not_found(sentence: impl Into<String>) -> Self {
        Self::new(StatusCode::NOT_FOUND, sentence)
    }

    pub(crate) fn forbidden(sentence: impl Into<String>) -> Self {
        Self::new(StatusCode::FORBIDDEN, sentence)
    }

    pub(crate) fn conflict(sentence: impl Into<String>) -> Self {
        Self::new(StatusCode::CONFLICT, sentence)
    }

    /// What was sent does not fit.
    pub(crate) fn unfit(sentence: impl Into<String>) -> Self {
        Self::new(StatusCode::UNPROCESSABLE_ENTITY, sentence)
    }

    /// It cannot be done now; it may be later.
    pub(crate) fn unavailable(sentence: impl Into<String>) -> Self {
        Self::new(StatusCode::SERVICE_UNAVAILABLE, sentence)
    }

    /// A fault of the host. What it was stands in the log, not in the answer.
    pub(crate) fn internal(sentence: impl Into<String>) -> Self {
        Self::new(StatusCode::INTERNAL_SERVER_ERROR, sentence)
    }
}

impl IntoResponse for Rejection {
    fn into_response(self) -> Response {
        let content_type = [(header::CONTENT_TYPE, "text/plain; charset=utf-8")];
        (self.status, content_type, format!("{}\n", self.sentence)).into_response()
    }
}
