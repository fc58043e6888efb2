//! The edge: which status an error of the rooms below is answered with. No other
//! file of this crate chooses a status for an error of the core.

use axum::http::StatusCode;
use rallytide_court::CannotDo;

use crate::access::KeysError;
use crate::plugin_desk::PluginRefusal;
use crate::rejection::Rejection;

impl From<CannotDo> for Rejection {
    fn from(error: CannotDo) -> Self {
        let status = match error {
            CannotDo::Unknown(_) => StatusCode::NOT_FOUND,
            CannotDo::Conflict(_) => StatusCode::CONFLICT,
            CannotDo::Unfit(_) => StatusCode::UNPROCESSABLE_ENTITY,
            CannotDo::NotStored(_) => StatusCode::SERVICE_UNAVAILABLE,
        };
        Self::new(status, error.to_string())
    }
}

impl From<PluginRefusal> for Rejection {
    fn from(refusal: PluginRefusal) -> Self {
        match refusal {
            PluginRefusal::Unknown(sentence) => Self::not_found(sentence),
            PluginRefusal::Unfit(sentence) => Self::unfit(sentence),
        }
    }
}

impl From<KeysError> for Rejection {
    fn from(error: KeysError) -> Self {
        tracing::error!(
            error = &error as &dyn std::error::Error,
            "a key was not renewed"
        );
        Self::unavailable("the new key could not be stored; the old one still works")
    }
}
