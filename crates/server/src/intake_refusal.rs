//! Why something that a charter's client sent is refused.

use rallytide_bus::BusError;
use rallytide_chart::Refusal;
use rallytide_court::CannotDo;

/// Why a message, or an entry in it, is refused.
#[derive(Debug, Clone, thiserror::Error)]
pub(crate) enum IntakeRefusal {
    /// Over the limit of a message.
    #[error(
        "message: {length} bytes long; at most {limit} are allowed, send fewer entries at once"
    )]
    TooLarge { length: usize, limit: usize },
    /// No JSON object.
    #[error("message: not a JSON object: {problem}")]
    NotAnObject { problem: String },
    /// A message that is none of ours.
    #[error("message: field `type` has to be one of `hello` `entries` `beat`")]
    UnknownType,
    /// A field that has to be there is missing or is something else.
    #[error("message `{message}`: field `{field}` has to be {allowed}")]
    Missing {
        message: &'static str,
        field: &'static str,
        allowed: &'static str,
    },
    /// A field that is something else than what it may be.
    #[error("message `{message}`: field `{field}` has to be {allowed}")]
    Bad {
        message: &'static str,
        field: &'static str,
        allowed: &'static str,
    },
    /// A seat that a court does not have.
    #[error("message `hello`: field `seat` has to be one of {seats}, or left out")]
    UnknownSeat { seats: String },
    /// The seat for cues brings no match.
    #[error(
        "message `hello`: the seat `cues` brings no match; leave `chart` out and say hello once \
         the match is on the court"
    )]
    SeatBringsNoMatch,
    /// The seat for cues finds no match.
    #[error("there is no match on court `{court}`; wait until one has been started there")]
    NoMatchYet { court: String },
    /// Entries from nobody.
    #[error("message `entries`: say `hello` first, so that the host knows who records")]
    HelloFirst,
    /// The host could not keep an entry that it had taken.
    #[error("entry `{id}` was not stored: {problem}; keep it and send it again")]
    NotDurable { id: String, problem: BusError },
    /// The court does not take it.
    #[error("{}", .0.sentence())]
    Court(#[from] CannotDo),
}

impl From<Refusal> for IntakeRefusal {
    fn from(refusal: Refusal) -> Self {
        Self::Court(refusal.into())
    }
}
