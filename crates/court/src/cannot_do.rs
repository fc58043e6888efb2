//! Why a court, or the courts together, do not do what a charter or the desk
//! asks. Nothing has changed then. Which code and status it is answered with is
//! for the server to say.

use rallytide_bus::BusError;
use rallytide_chart::{EntryId, FieldPath, MatchId, Refusal};

use crate::live::CourtName;
use crate::seat::{Seat, SeatRule};

/// Why something was not done. As text it says what, to which match or court,
/// and what can be done instead; [`CannotDo::sentence`] adds the cause.
#[derive(Debug, Clone, thiserror::Error)]
pub enum CannotDo {
    /// The header or the entry is refused.
    #[error(transparent)]
    Refused(#[from] Refusal),
    /// The host keeps this id for itself.
    #[error("match header: field `id` must not be `{id}`; choose another")]
    ReservedId {
        /// The id.
        id: String,
    },
    /// A header could not be read back from the host log.
    #[error(
        "match header: a field nests lists or objects too deeply to be stored; leave that field \
         out"
    )]
    TooDeep,
    /// An entry came for a court without a match.
    #[error("there is no match on court `{court}`; say `hello` with a match header first")]
    NoMatch {
        /// The court.
        court: CourtName,
    },
    /// The court has no match to do this with.
    #[error("there is no match on court `{court}`")]
    EmptyCourt {
        /// The court.
        court: CourtName,
    },
    /// No match has this id.
    #[error("there is no match `{id}`")]
    UnknownMatch {
        /// The id.
        id: String,
    },
    /// No court has this name.
    #[error("there is no court `{court}`")]
    UnknownCourt {
        /// The name.
        court: CourtName,
    },
    /// The court has another match than the sender means.
    #[error("match `{on}` is on court `{court}` now, not `{meant}`; say `hello` again")]
    OtherMatch {
        /// The court.
        court: CourtName,
        /// The match that is on it.
        on: MatchId,
        /// The match that is meant.
        meant: MatchId,
    },
    /// The desk has removed the match that a charter brings.
    #[error(
        "the desk has taken match `{id}` off its court; ask the desk to put it on again, or say \
         `\"replace\":true`"
    )]
    RemovedByDesk {
        /// The match.
        id: MatchId,
    },
    /// The desk has started another match there.
    #[error(
        "the desk has started {match_on} on court `{court}`; chart that match, or ask the desk \
         for another one"
    )]
    StartedByDesk {
        /// The court.
        court: CourtName,
        /// Who plays the match that is on.
        match_on: String,
    },
    /// The desk has planned another match there.
    #[error(
        "the desk has planned {planned} on court `{court}`; wait until the desk starts it, or ask \
         the desk for another match"
    )]
    PlannedByDesk {
        /// The court.
        court: CourtName,
        /// Who plays the planned match.
        planned: String,
    },
    /// The court's match is still being played.
    #[error(
        "match `{on}` is being played on court `{court}`; finish it or take it off first, or say \
         `\"replace\":true`"
    )]
    BeingPlayed {
        /// The court.
        court: CourtName,
        /// The match that is on it.
        on: MatchId,
    },
    /// A match without entries has just been started there.
    #[error(
        "match `{on}` has been set up on court `{court}`; chart that one, ask the desk to put \
         match `{brought}` on again, or say `\"replace\":true` to take it off"
    )]
    SetUp {
        /// The court.
        court: CourtName,
        /// The match that is on it.
        on: MatchId,
        /// The match that was brought.
        brought: MatchId,
    },
    /// The match is on a court.
    #[error("match `{id}` is on court `{court}`; take it off there first")]
    OnCourt {
        /// The match.
        id: String,
        /// The court it is on.
        court: CourtName,
    },
    /// A match with this id and another header exists.
    #[error(
        "match header: a match `{id}` with another header exists; give this one an id of its own"
    )]
    OtherHeader {
        /// The id.
        id: MatchId,
    },
    /// The desk has planned a match with this id and another header.
    #[error(
        "match header: the desk has planned a match `{id}` with another header; take that one, or \
         give this one an id of its own"
    )]
    PlannedOtherwise {
        /// The id.
        id: MatchId,
    },
    /// A match that is planned has the id of another.
    #[error("there is a match `{id}` already; give this one an id of its own, or leave the id out")]
    IdTaken {
        /// The id.
        id: MatchId,
    },
    /// No match is called as a place says.
    #[error(
        "`{place}`: no match is called `{called}`; write its round, its title or its id as it \
         stands in the schedule, and plan that match before or together with this one"
    )]
    NoSuchFeeder {
        /// The place as it was written.
        place: String,
        /// What the match is called in it.
        called: String,
    },
    /// Several matches are called as a place says.
    #[error(
        "`{place}`: {count} matches are called `{called}`; give each a round or a title of its \
         own, or write the id of the one that is meant"
    )]
    UnclearFeeder {
        /// The place as it was written.
        place: String,
        /// What the matches are called in it.
        called: String,
        /// How many.
        count: usize,
    },
    /// A field of a match that has been begun cannot change any more.
    #[error(
        "match `{id}` has been begun, so its `{field}` stays as it is; title, court, round, \
         time, names, players and colors can still be changed"
    )]
    FieldFixed {
        /// The match.
        id: MatchId,
        /// The field.
        field: FieldPath,
    },
    /// A match that has been begun is not removed.
    #[error("match `{id}` has been begun; what was charted is never thrown away")]
    Begun {
        /// The match.
        id: String,
    },
    /// Pages are connected to the court.
    #[error("{pages} page(s) are connected to court `{court}`; close them first")]
    CourtInUse {
        /// The court.
        court: CourtName,
        /// How many.
        pages: usize,
    },
    /// Another client has taken the seat over.
    #[error(
        "`{holder}` has taken {} over; keep the entry, or take it back with `hello` and \
         `\"take_over\":true`",
        of_this_court(*.seat)
    )]
    TakenOver {
        /// The seat.
        seat: Seat,
        /// The client that has it.
        holder: String,
    },
    /// The seat that the sender sits on does not send this.
    #[error("entry `{entry}`, seat `cues`: {rule}")]
    NotThisSeat {
        /// The entry.
        entry: EntryId,
        /// What it breaks.
        rule: SeatRule,
    },
    /// The host opens no more courts.
    #[error("this host has {limit} courts already; use one of them")]
    TooManyCourts {
        /// How many it opens.
        limit: usize,
    },
    /// The log of a match does not begin with a header.
    #[error("the log of match `{id}` is damaged")]
    DamagedLog {
        /// The match.
        id: String,
        /// What is wrong with its first line.
        source: Box<Refusal>,
    },
    /// The logs did not do their part.
    #[error("{attempt}")]
    Log {
        /// What was attempted.
        attempt: LogAttempt,
        /// What the log says.
        source: BusError,
    },
}

/// What was attempted with the logs, and failed.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LogAttempt {
    /// To write an entry.
    #[error("the entry was not stored")]
    StoreEntry,
    /// To make the log of a new match.
    #[error("match `{id}` could not be stored")]
    StoreMatch {
        /// The match.
        id: MatchId,
    },
    /// To note in the host log what was done.
    #[error("what was done could not be noted in the host log, so it does not count")]
    StoreHostRecord,
    /// To look which matches have logs.
    #[error("the matches of this host could not be listed")]
    List,
    /// To read a match.
    #[error("the log of match `{id}` could not be read")]
    Read {
        /// The match.
        id: String,
    },
}

impl CannotDo {
    /// What was not done, the cause and what can be done about it.
    #[must_use]
    pub fn sentence(&self) -> String {
        match self {
            Self::DamagedLog { source, .. } => format!("{self}: {source}"),
            Self::Log { attempt, source } => {
                let otherwise = match attempt {
                    LogAttempt::StoreEntry => Some("keep the entry and send it again"),
                    _ => None,
                };
                match source.hint().or(otherwise) {
                    Some(hint) => format!("{self}: {source}; {hint}"),
                    None => format!("{self}: {source}"),
                }
            }
            _ => self.to_string(),
        }
    }
}

impl LogAttempt {
    /// The failure of this attempt, for `map_err`.
    pub(crate) fn failed(self) -> impl FnOnce(BusError) -> CannotDo {
        move |source| CannotDo::Log {
            attempt: self,
            source,
        }
    }
}

fn of_this_court(seat: Seat) -> &'static str {
    match seat {
        Seat::Chart => "this court",
        Seat::Cues => "the cues of this court",
    }
}
