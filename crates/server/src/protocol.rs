//! The messages of the intake, in both directions.

use std::sync::Arc;

use rallytide_chart::{At, EntryId, Flag, Seq};
use rallytide_court::{Accepted, Arrival, Seat, Welcome};
use serde::Serialize;
use serde_json::{Map, Value};

use crate::answers::desk::CourtPhase;
use crate::error_status::intake_code;
use crate::intake_refusal::IntakeRefusal;

/// The longest message a client may send, in bytes of text.
pub(crate) const MESSAGE_LIMIT: usize = 64 * 1024;

/// What a client says.
#[derive(Debug)]
pub(crate) enum FromClient {
    /// Who it is, and which match it charts.
    Hello(Hello),
    /// Entries it has recorded.
    Entries(Vec<Value>),
    /// Asks for a sign of life: browsers can neither send nor see pings. May say
    /// what the client's clock shows.
    Beat(Option<At>),
}

#[derive(Debug)]
pub(crate) struct Hello {
    pub(crate) client: String,
    pub(crate) seat: Seat,
    /// Never from the seat `cues`.
    pub(crate) chart: Option<Map<String, Value>>,
    pub(crate) after: Seq,
    pub(crate) replace: bool,
    pub(crate) arrival: Arrival,
}

/// What a client says, as it is written. It is read by hand ([`read`]), so that
/// what does not fit is refused with a code and the allowed values.
#[cfg(feature = "schema")]
#[derive(serde::Deserialize, schemars::JsonSchema)]
#[serde(tag = "type", rename_all = "snake_case")]
#[expect(dead_code, reason = "it is only described, never read")]
pub(crate) enum ClientMessage {
    /// Who it is, and which match it charts.
    Hello {
        /// 1 to 64 characters.
        client: String,
        /// What it sits on the court for: `chart` where this is left out.
        seat: Option<Seat>,
        /// The match header, to bring a match onto the court. Not from the seat
        /// `cues`.
        chart: Option<Map<String, Value>>,
        /// What it knows already: `welcome` lists only its entries after this.
        after: Option<u64>,
        /// Take a match off the court that is still being played.
        replace: Option<bool>,
        /// Only this client's entries are taken from its seat from now on.
        take_over: Option<bool>,
    },
    /// Entries it has recorded.
    Entries { entries: Vec<Map<String, Value>> },
    /// A sign of life, asked for and given.
    Beat {
        /// What the client's clock shows.
        at: Option<String>,
    },
}

/// What the host says to a client.
#[derive(Debug, Serialize)]
#[serde(tag = "type", rename_all = "snake_case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(crate) enum ToClient<'a> {
    Welcome {
        court: &'a str,
        #[serde(rename = "match")]
        header: Option<&'a Map<String, Value>>,
        last_seq: u64,
        #[cfg_attr(
            feature = "schema",
            schemars(with = "Option<rallytide_scoring::Score>")
        )]
        score: Option<&'a Value>,
        ids: &'a [EntryId],
        /// The other clients that are connected on the same seat.
        charters: &'a [Arc<str>],
        /// The client that has taken that seat over, if one has.
        seat: Option<&'a str>,
    },
    Accepted {
        id: &'a EntryId,
        seq: Seq,
        flags: &'a [Flag],
    },
    Refused {
        id: Option<&'a str>,
        code: &'a str,
        message: &'a str,
    },
    Notice {
        code: &'a str,
        message: &'a str,
        /// How the court is now, where that is what the notice is about.
        #[serde(flatten)]
        court: Option<CourtNow<'a>>,
    },
    Beat,
}

/// A court as its charters are told of it when it has changed.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(crate) struct CourtNow<'a> {
    /// The header of the match that is on, in the words in use.
    #[serde(rename = "match")]
    pub(crate) header: Option<&'a Map<String, Value>>,
    pub(crate) last_seq: u64,
    /// As the desk's page has it.
    pub(crate) state: CourtPhase,
    /// The court that the charter's own match is on now, where that is another.
    pub(crate) moved_to: Option<&'a str>,
}

impl ToClient<'_> {
    pub(crate) fn encode(&self) -> String {
        serde_json::to_string(self).expect("messages hold only text, numbers and text-keyed maps")
    }
}

pub(crate) fn welcome(welcome: &Welcome, others: &[Arc<str>], seat: Option<&str>) -> String {
    ToClient::Welcome {
        court: welcome.court.as_str(),
        header: welcome.header.as_ref(),
        last_seq: welcome.last_seq,
        score: welcome.score.as_ref(),
        ids: &welcome.ids,
        charters: others,
        seat,
    }
    .encode()
}

pub(crate) fn accepted(accepted: &Accepted) -> String {
    ToClient::Accepted {
        id: &accepted.id,
        seq: accepted.seq,
        flags: &accepted.flags,
    }
    .encode()
}

pub(crate) fn refused(id: Option<&str>, refusal: &IntakeRefusal) -> String {
    ToClient::Refused {
        id,
        code: intake_code(refusal),
        message: &refusal.to_string(),
    }
    .encode()
}

/// Reads what a client says.
///
/// # Errors
/// A refusal where it is not understood. A `type` that is not known is one as
/// well, with the known ones named.
pub(crate) fn read(text: &str) -> Result<FromClient, IntakeRefusal> {
    let message: Map<String, Value> =
        serde_json::from_str(text).map_err(|error| IntakeRefusal::NotAnObject {
            problem: error.to_string(),
        })?;
    match message.get("type").and_then(Value::as_str) {
        Some("hello") => read_hello(message).map(FromClient::Hello),
        Some("entries") => match message.get("entries") {
            Some(Value::Array(entries)) => Ok(FromClient::Entries(entries.clone())),
            _ => Err(IntakeRefusal::Missing {
                message: "entries",
                field: "entries",
                allowed: "a list of entries",
            }),
        },
        Some("beat") => {
            let at = message.get("at").and_then(Value::as_str);
            Ok(FromClient::Beat(at.and_then(At::parse)))
        }
        _ => Err(IntakeRefusal::UnknownType),
    }
}

fn read_hello(mut message: Map<String, Value>) -> Result<Hello, IntakeRefusal> {
    const CLIENT_LIMIT: usize = 64;
    let bad = |field, allowed| IntakeRefusal::Bad {
        message: "hello",
        field,
        allowed,
    };
    let client = match message.get("client").and_then(Value::as_str) {
        Some(client) if (1..=CLIENT_LIMIT).contains(&client.chars().count()) => client.to_owned(),
        _ => {
            return Err(IntakeRefusal::Missing {
                message: "hello",
                field: "client",
                allowed: "a name of 1 to 64 characters",
            });
        }
    };
    let after = match message.get("after") {
        None | Some(Value::Null) => 0,
        Some(after) => after
            .as_u64()
            .ok_or_else(|| bad("after", "a whole number from 0 up"))?,
    };
    let seat = read_seat(&message)?;
    let chart = match message.remove("chart") {
        None | Some(Value::Null) => None,
        Some(_) if seat == Seat::Cues => return Err(IntakeRefusal::SeatBringsNoMatch),
        Some(Value::Object(chart)) => Some(chart),
        Some(_) => return Err(bad("chart", "a match header")),
    };
    Ok(Hello {
        client,
        seat,
        chart,
        after: Seq(after),
        replace: message.get("replace") == Some(&Value::Bool(true)),
        arrival: if message.get("take_over") == Some(&Value::Bool(true)) {
            Arrival::TakesOver
        } else {
            Arrival::Beside
        },
    })
}

fn read_seat(message: &Map<String, Value>) -> Result<Seat, IntakeRefusal> {
    let seat = match message.get("seat") {
        None | Some(Value::Null) => Some(Seat::default()),
        Some(seat) => seat.as_str().and_then(Seat::from_word),
    };
    seat.ok_or_else(|| IntakeRefusal::UnknownSeat {
        seats: Seat::ALL.map(|seat| format!("`{}`", seat.word())).join(" "),
    })
}
