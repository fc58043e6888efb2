//! The edge: which status and which code an error of the crates below is answered
//! with. No other file of this crate chooses either for an error of the core.

use axum::http::StatusCode;
use rallytide_chart::RefusalCode;
use rallytide_court::CannotDo;

use crate::access::KeysError;
use crate::intake_refusal::IntakeRefusal;
use crate::plugin_desk::PluginRefusal;
use crate::rejection::Rejection;

/// The code of a refusal on the intake.
pub(crate) fn intake_code(refusal: &IntakeRefusal) -> &'static str {
    match refusal {
        IntakeRefusal::TooLarge { .. } => "too_large",
        IntakeRefusal::NotAnObject { .. } | IntakeRefusal::UnknownSeat { .. } => {
            RefusalCode::Malformed.word()
        }
        IntakeRefusal::UnknownType | IntakeRefusal::Bad { .. } => RefusalCode::BadField.word(),
        IntakeRefusal::Missing { .. } => RefusalCode::MissingField.word(),
        IntakeRefusal::SeatBringsNoMatch => "not_this_seat",
        IntakeRefusal::NoMatchYet { .. } => "no_match",
        IntakeRefusal::HelloFirst => "hello_first",
        IntakeRefusal::NotDurable { .. } => "not_stored",
        IntakeRefusal::Court(error) => court_code(error),
    }
}

/// The code of what a court does not do.
pub(crate) fn court_code(error: &CannotDo) -> &'static str {
    match error {
        CannotDo::Refused(refusal) => refusal.code().word(),
        CannotDo::DamagedLog { source, .. } => source.code().word(),
        CannotDo::ReservedId { .. }
        | CannotDo::TooDeep
        | CannotDo::NoSuchFeeder { .. }
        | CannotDo::UnclearFeeder { .. } => RefusalCode::BadField.word(),
        CannotDo::NoMatch { .. }
        | CannotDo::EmptyCourt { .. }
        | CannotDo::UnknownMatch { .. }
        | CannotDo::UnknownCourt { .. } => "no_match",
        CannotDo::OtherMatch { .. } | CannotDo::RemovedByDesk { .. } => "other_match",
        CannotDo::StartedByDesk { .. }
        | CannotDo::PlannedByDesk { .. }
        | CannotDo::BeingPlayed { .. }
        | CannotDo::SetUp { .. }
        | CannotDo::OnCourt { .. }
        | CannotDo::CourtInUse { .. } => "court_busy",
        CannotDo::OtherHeader { .. }
        | CannotDo::PlannedOtherwise { .. }
        | CannotDo::IdTaken { .. }
        | CannotDo::FieldFixed { .. }
        | CannotDo::Begun { .. } => RefusalCode::IdConflict.word(),
        CannotDo::TakenOver { .. } => "taken_over",
        CannotDo::NotThisSeat { .. } => "not_this_seat",
        CannotDo::TooManyCourts { .. } => "too_many_courts",
        CannotDo::Log { .. } => "not_stored",
    }
}

fn court_status(error: &CannotDo) -> StatusCode {
    match error {
        CannotDo::NoMatch { .. }
        | CannotDo::UnknownMatch { .. }
        | CannotDo::UnknownCourt { .. } => StatusCode::NOT_FOUND,
        CannotDo::Refused(refusal) if refusal.code() == RefusalCode::IdConflict => {
            StatusCode::CONFLICT
        }
        CannotDo::Refused(_)
        | CannotDo::ReservedId { .. }
        | CannotDo::TooDeep
        | CannotDo::NoSuchFeeder { .. }
        | CannotDo::UnclearFeeder { .. }
        | CannotDo::DamagedLog { .. }
        | CannotDo::TakenOver { .. }
        | CannotDo::NotThisSeat { .. } => StatusCode::UNPROCESSABLE_ENTITY,
        CannotDo::TooManyCourts { .. } | CannotDo::Log { .. } => StatusCode::SERVICE_UNAVAILABLE,
        CannotDo::EmptyCourt { .. }
        | CannotDo::OtherMatch { .. }
        | CannotDo::RemovedByDesk { .. }
        | CannotDo::StartedByDesk { .. }
        | CannotDo::PlannedByDesk { .. }
        | CannotDo::BeingPlayed { .. }
        | CannotDo::SetUp { .. }
        | CannotDo::OnCourt { .. }
        | CannotDo::CourtInUse { .. }
        | CannotDo::OtherHeader { .. }
        | CannotDo::PlannedOtherwise { .. }
        | CannotDo::IdTaken { .. }
        | CannotDo::FieldFixed { .. }
        | CannotDo::Begun { .. } => StatusCode::CONFLICT,
    }
}

impl From<CannotDo> for Rejection {
    fn from(error: CannotDo) -> Self {
        let sentence = match &error {
            // The one conflict that a program may answer by itself, with `replace`.
            CannotDo::BeingPlayed { .. } => format!("{}: {error}", court_code(&error)),
            _ => error.sentence(),
        };
        Self::new(court_status(&error), sentence)
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
