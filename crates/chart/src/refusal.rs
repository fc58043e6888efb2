//! Why an entry or a header is refused: a code for programs, a sentence for
//! people. Nothing of a refused entry is stored.

use serde::Serialize;

/// The code of a refusal, as it goes over the wire.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum RefusalCode {
    /// Not JSON, or not a JSON object.
    Malformed,
    /// A field that has to be there is missing.
    MissingField,
    /// A field of the wrong type or with a value that is not allowed.
    BadField,
    /// A `kind` that the format does not list.
    UnknownKind,
    /// A `stroke` that the format does not list.
    UnknownStroke,
    /// A `cue` that the format does not list.
    UnknownCue,
    /// A text over its limit.
    TooLong,
    /// An id seen before with other content.
    IdConflict,
    /// A `shot` that no earlier entry has as its id.
    UnknownShot,
    /// A correction that the format does not allow: its `target` or `after` does
    /// not exist or must not be named there, or it would bring another correction.
    BadCorrection,
    /// `won_by` against `how` and `by`.
    Contradiction,
    /// The match is over: only corrections and notes are taken.
    MatchOver,
    /// Some entries carry a `seq`, others do not, or one is there twice.
    BadOrder,
    /// There is no match on the court.
    NoMatch,
    /// Another match is being played on the court.
    CourtBusy,
    /// The court has another match than the one the sender said hello for.
    OtherMatch,
    /// Another client has taken the court over.
    TakenOver,
    /// The seat that the sender sits on does not send this.
    NotThisSeat,
    /// The host has as many courts as it opens.
    TooManyCourts,
    /// The first message has to be `hello`.
    HelloFirst,
    /// A message over its limit.
    TooLarge,
    /// The log did not take it: the sender has to keep it.
    NotStored,
}

impl RefusalCode {
    /// The code as it is written on the wire.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Malformed => "malformed",
            Self::MissingField => "missing_field",
            Self::BadField => "bad_field",
            Self::UnknownKind => "unknown_kind",
            Self::UnknownStroke => "unknown_stroke",
            Self::UnknownCue => "unknown_cue",
            Self::TooLong => "too_long",
            Self::IdConflict => "id_conflict",
            Self::UnknownShot => "unknown_shot",
            Self::BadCorrection => "bad_correction",
            Self::Contradiction => "contradiction",
            Self::MatchOver => "match_over",
            Self::BadOrder => "bad_order",
            Self::NoMatch => "no_match",
            Self::CourtBusy => "court_busy",
            Self::OtherMatch => "other_match",
            Self::TakenOver => "taken_over",
            Self::NotThisSeat => "not_this_seat",
            Self::TooManyCourts => "too_many_courts",
            Self::HelloFirst => "hello_first",
            Self::TooLarge => "too_large",
            Self::NotStored => "not_stored",
        }
    }
}

/// A refusal: what was found, where, and what is allowed instead.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct Refusal {
    /// For programs.
    pub code: RefusalCode,
    /// One sentence for people.
    pub message: String,
}

impl Refusal {
    /// A refusal with its sentence.
    pub fn new(code: RefusalCode, message: impl Into<String>) -> Self {
        Self {
            code,
            message: message.into(),
        }
    }
}
