//! An entry: one line of a chart after the header, with its identity and its
//! body, either something that happened or a correction.

use std::sync::Arc;

use serde_json::{Map, Value};

use crate::fields::{Fields, object, object_from_text};
use crate::header::Format;
use crate::identity::{At, EntryId, ID_RULE, Seq};
use crate::play::{Play, read_id};
use crate::refusal::{Refusal, RefusalReason, Subject};
use crate::words::Kind;

/// Fields that the host adds to a stored entry. They are no part of what was
/// recorded: they are left out when contents are compared and when an entry is
/// taken in.
pub const HOST_FIELDS: &[&str] = &["client", "seat", "seq", "received", "crc"];

/// One recorded entry.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Made by the client that recorded it.
    pub id: EntryId,
    /// The recorder's clock.
    pub at: At,
    /// What it says.
    pub body: Body,
    source: Map<String, Value>,
}

/// What an entry says.
#[derive(Debug, Clone, PartialEq)]
pub enum Body {
    /// Something that happened.
    Play(Arc<Play>),
    /// A correction of what was recorded before.
    Correction(Correction),
}

/// A correction of an earlier entry, or the addition of a missed one.
#[derive(Debug, Clone, PartialEq)]
pub enum Correction {
    /// `target` never happened.
    Retract {
        /// The entry that is taken back.
        target: EntryId,
    },
    /// `target` was really this.
    Amend {
        /// The entry that is put right.
        target: EntryId,
        /// What it really was.
        with: Arc<Play>,
    },
    /// This was missed.
    Insert {
        /// The entry it stands after; `None`: before the first entry.
        after: Option<EntryId>,
        /// What was missed.
        play: Arc<Play>,
    },
}

impl Entry {
    /// Reads an entry from a JSON object. Fields that only the host may add are
    /// left out.
    ///
    /// # Errors
    /// A [`Refusal`] that names the field, what was found and what is allowed.
    pub fn from_json(mut source: Map<String, Value>, format: &Format) -> Result<Self, Refusal> {
        for name in HOST_FIELDS {
            source.shift_remove(*name);
        }
        let id = {
            let fields = Fields::new(&source, Subject::Entry(None));
            read_id(&fields, "id")?.ok_or_else(|| fields.missing("id", ID_RULE))?
        };
        let fields = Fields::new(&source, Subject::from(&id));
        let at = read_at(&fields)?;
        let kind = fields.required_word("kind")?;
        let body = match Play::read(kind, &fields, format)? {
            Some(play) => Body::Play(Arc::new(play)),
            None => Body::Correction(read_correction(kind, &fields, format)?),
        };
        Ok(Self {
            id,
            at,
            body,
            source,
        })
    }

    /// The fields of an entry that came as any JSON value.
    ///
    /// # Errors
    /// `malformed` where it is no object.
    pub fn fields_of(value: Value) -> Result<Map<String, Value>, Refusal> {
        object(value, &Subject::Entry(None))
    }

    /// The kind that the fields of an entry say, before anything else is looked
    /// at; `None` where they say none that is known.
    #[must_use]
    pub fn kind_said(fields: &Map<String, Value>) -> Option<Kind> {
        fields.get("kind")?.as_str().and_then(Kind::from_word)
    }

    /// Reads an entry from text.
    ///
    /// # Errors
    /// As [`Entry::from_json`]; `malformed` where the text is no JSON object.
    pub fn from_text(text: &str, format: &Format) -> Result<Self, Refusal> {
        Self::from_json(object_from_text(text, &Subject::Entry(None))?, format)
    }

    /// The entry as it was recorded, unknown fields included, without what the
    /// host adds.
    #[must_use]
    pub fn to_json(&self) -> &Map<String, Value> {
        &self.source
    }

    /// Whether this is one of the kinds that correct others.
    #[must_use]
    pub fn is_correction(&self) -> bool {
        matches!(self.body, Body::Correction(_))
    }

    /// The entry's own time as it was written.
    pub(crate) fn at_as_written(&self) -> &str {
        self.source
            .get("at")
            .and_then(Value::as_str)
            .unwrap_or_default()
    }

    /// The fields of the play this entry brings: its own, or those of `with` or
    /// `entry`. Empty for a retraction.
    pub(crate) fn play_fields(&self) -> Option<&Map<String, Value>> {
        let inner = match &self.body {
            Body::Play(_) => return Some(&self.source),
            Body::Correction(Correction::Amend { .. }) => "with",
            Body::Correction(Correction::Insert { .. }) => "entry",
            Body::Correction(Correction::Retract { .. }) => return None,
        };
        self.source.get(inner).and_then(Value::as_object)
    }
}

/// The highest position: 2^53 - 1, the last whole number that every reader of
/// JSON keeps apart from its neighbours (RFC 8259, section 6).
const SEQ_LIMIT: u64 = (1 << 53) - 1;

/// Takes the position that the host wrote into a stored entry, if there is one.
pub(crate) fn read_seq(source: &Map<String, Value>) -> Result<Option<Seq>, Refusal> {
    let fields = Fields::new(source, Subject::Entry(None));
    match fields.get("seq") {
        None => Ok(None),
        Some(value) => match value.as_u64() {
            Some(seq) if (1..=SEQ_LIMIT).contains(&seq) => Ok(Some(Seq(seq))),
            _ => Err(fields.bad("seq", format!("a whole number from 1 to {SEQ_LIMIT}"))),
        },
    }
}

fn read_at(fields: &Fields<'_>) -> Result<At, Refusal> {
    let allowed = "an RFC 3339 time in UTC with milliseconds, like `2026-05-02T10:00:00.000Z`";
    match fields.get("at") {
        None => Err(fields.missing("at", allowed)),
        Some(value) => value
            .as_str()
            .and_then(At::parse)
            .ok_or_else(|| fields.bad("at", allowed)),
    }
}

fn read_correction(
    kind: Kind,
    fields: &Fields<'_>,
    format: &Format,
) -> Result<Correction, Refusal> {
    let target = || {
        read_id(fields, "target")?
            .ok_or_else(|| fields.missing("target", "the id of the entry that is corrected"))
    };
    match kind {
        Kind::Retract => Ok(Correction::Retract { target: target()? }),
        Kind::Amend => Ok(Correction::Amend {
            target: target()?,
            with: read_inner(fields, "with", format)?,
        }),
        _ => {
            if !fields.is_written("after") {
                return Err(fields.missing("after", "an entry's id, or null for before the first"));
            }
            Ok(Correction::Insert {
                after: read_id(fields, "after")?,
                play: read_inner(fields, "entry", format)?,
            })
        }
    }
}

/// Reads what an `amend` or `insert` brings: an entry without `id` and `at`.
fn read_inner(fields: &Fields<'_>, name: &str, format: &Format) -> Result<Arc<Play>, Refusal> {
    let inner = fields.required_object(name)?;
    for own in ["id", "at"] {
        if inner.has(own) {
            return Err(inner.refused(RefusalReason::OwnIdentity {
                field: inner.path(own),
                instead: match name {
                    "with" => "an amended entry keeps its own",
                    _ => "an inserted entry takes the inserting one's",
                },
            }));
        }
    }
    let kind = inner.required_word("kind")?;
    Play::read(kind, &inner, format)?
        .map(Arc::new)
        .ok_or_else(|| {
            inner.refused(RefusalReason::NestedCorrection {
                field: inner.path("kind"),
                kind,
            })
        })
}
