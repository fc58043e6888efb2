//! Why an entry or a header is refused: of what, at which field, what was found
//! and what is allowed instead. Nothing of a refused entry is stored.

use std::borrow::Cow;
use std::str::Utf8Error;

use crate::identity::{EntryId, Seq};
use crate::words::{Kind, Team};

/// A refusal. As text it is one sentence for people.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{of}: {reason}")]
pub struct Refusal {
    /// What was being read or taken in.
    pub of: Subject,
    /// What is wrong with it.
    pub reason: RefusalReason,
}

/// What a refusal is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Subject {
    /// Line 1 of a chart.
    MatchHeader,
    /// An entry; `None` where its id could not be read.
    Entry(Option<EntryId>),
}

/// Where a field stands, from the outside in, like `teams.a.players`.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct FieldPath(String);

/// What is wrong with a header or an entry.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum RefusalReason {
    /// The bytes are no text.
    #[error("not valid UTF-8: {0}")]
    NotUtf8(Utf8Error),
    /// The text is no JSON.
    #[error("not valid JSON: {problem}")]
    NotJson {
        /// What the reader of JSON found.
        problem: String,
    },
    /// It is JSON, but no object.
    #[error("not a JSON object; write `{{\"kind\": …}}`")]
    NotAnObject,
    /// The file holds nothing.
    #[error("the file is empty; line 1 has to be the match header")]
    EmptyFile,
    /// A field that has to be there is not.
    #[error("field `{field}` is missing; it takes {allowed}")]
    Missing {
        /// The field.
        field: FieldPath,
        /// What it takes.
        allowed: Cow<'static, str>,
    },
    /// A field of the wrong type or with a value that is not allowed.
    #[error("field `{field}` is {found}; it takes {allowed}")]
    Bad {
        /// The field.
        field: FieldPath,
        /// Its value, shortened.
        found: String,
        /// What it takes.
        allowed: Cow<'static, str>,
    },
    /// A word that is not in one of the lists whose unknown words have codes of
    /// their own.
    #[error("field `{field}` is {found}; it takes {allowed}")]
    UnknownWord {
        /// The list.
        list: WordList,
        /// The field.
        field: FieldPath,
        /// Its value, shortened.
        found: String,
        /// The words of the list.
        allowed: Cow<'static, str>,
    },
    /// A text over its limit.
    #[error("field `{field}` has {length} characters; at most {limit} are allowed")]
    TooLong {
        /// The field.
        field: FieldPath,
        /// How long it is.
        length: usize,
        /// How long it may be.
        limit: usize,
    },
    /// The id is that of an earlier entry with other content.
    #[error(
        "this id stands at position {seq} with other content; every entry needs an id of its own"
    )]
    IdTaken {
        /// Where that entry stands.
        seq: Seq,
    },
    /// A cue about a shot that is not there.
    #[error("field `{field}` is `{id}`, but no earlier entry has that id")]
    UnknownShot {
        /// The field.
        field: FieldPath,
        /// The id it names.
        id: EntryId,
    },
    /// A correction of an entry that is not there.
    #[error("field `{field}` is `{id}`, but no earlier entry has that id")]
    UnknownTarget {
        /// `target` or `after`.
        field: FieldPath,
        /// The id it names.
        id: EntryId,
    },
    /// A correction that names another where it may not.
    #[error(
        "field `{field}` is `{id}`, which is itself a `retract` or `amend`; it takes the id of an \
         original or inserted entry (retract a correction to undo it)"
    )]
    TargetIsCorrection {
        /// `target` or `after`.
        field: FieldPath,
        /// The id it names.
        id: EntryId,
    },
    /// What an `amend` or `insert` brings has an `id` or `at` of its own.
    #[error("field `{field}` must not stand here: {instead}")]
    OwnIdentity {
        /// The field.
        field: FieldPath,
        /// Which one counts.
        instead: &'static str,
    },
    /// What an `amend` or `insert` brings is itself a correction.
    #[error("field `{field}` is `{kind}`, a correction; corrections cannot be nested")]
    NestedCorrection {
        /// The field.
        field: FieldPath,
        /// The kind that stands there.
        kind: Kind,
    },
    /// `won_by` against `how` and `by`.
    #[error(
        "field `{field}` is `{recorded}`, but `how` and `by` say `{derived}` won; leave one out or \
         make them agree"
    )]
    Contradiction {
        /// `won_by`.
        field: FieldPath,
        /// What it says.
        recorded: Team,
        /// What the others say.
        derived: Team,
    },
    /// The match is over.
    #[error(
        "the match is over; only corrections and notes are taken (record a late ruling of the \
         referee as an `amend` or an `insert`)"
    )]
    MatchOver,
    /// Some entries of a file say their position, this one does not.
    #[error(
        "field `seq` is missing, but {others} other entries of the file have it; either every \
         entry has one or none"
    )]
    SeqMissing {
        /// How many do.
        others: usize,
    },
    /// Two entries of a file say the same position.
    #[error(
        "field `seq` is `{seq}`, which an entry before it has; every entry has a position of its \
         own"
    )]
    SeqTaken {
        /// The position.
        seq: Seq,
    },
}

/// A list whose unknown words have a code of their own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WordList {
    /// The kinds of entries.
    Kinds,
    /// The strokes.
    Strokes,
    /// The cues.
    Cues,
}

/// The code of a refusal, as the chart format lists them: for programs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
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
}

impl Refusal {
    /// What kind of refusal it is, for programs.
    #[must_use]
    pub fn code(&self) -> RefusalCode {
        self.reason.code()
    }

    /// The field it is about, where it is about one.
    #[must_use]
    pub fn field(&self) -> Option<&FieldPath> {
        match &self.reason {
            RefusalReason::Missing { field, .. }
            | RefusalReason::Bad { field, .. }
            | RefusalReason::UnknownWord { field, .. }
            | RefusalReason::TooLong { field, .. }
            | RefusalReason::UnknownShot { field, .. }
            | RefusalReason::UnknownTarget { field, .. }
            | RefusalReason::TargetIsCorrection { field, .. }
            | RefusalReason::OwnIdentity { field, .. }
            | RefusalReason::NestedCorrection { field, .. }
            | RefusalReason::Contradiction { field, .. } => Some(field),
            RefusalReason::NotUtf8(_)
            | RefusalReason::NotJson { .. }
            | RefusalReason::NotAnObject
            | RefusalReason::EmptyFile
            | RefusalReason::IdTaken { .. }
            | RefusalReason::MatchOver
            | RefusalReason::SeqMissing { .. }
            | RefusalReason::SeqTaken { .. } => None,
        }
    }
}

impl RefusalReason {
    fn code(&self) -> RefusalCode {
        match self {
            Self::NotUtf8(_) | Self::NotJson { .. } | Self::NotAnObject => RefusalCode::Malformed,
            Self::Missing { .. } | Self::EmptyFile => RefusalCode::MissingField,
            Self::Bad { .. } => RefusalCode::BadField,
            Self::UnknownWord { list, .. } => match list {
                WordList::Kinds => RefusalCode::UnknownKind,
                WordList::Strokes => RefusalCode::UnknownStroke,
                WordList::Cues => RefusalCode::UnknownCue,
            },
            Self::TooLong { .. } => RefusalCode::TooLong,
            Self::IdTaken { .. } => RefusalCode::IdConflict,
            Self::UnknownShot { .. } => RefusalCode::UnknownShot,
            Self::UnknownTarget { .. }
            | Self::TargetIsCorrection { .. }
            | Self::OwnIdentity { .. }
            | Self::NestedCorrection { .. } => RefusalCode::BadCorrection,
            Self::Contradiction { .. } => RefusalCode::Contradiction,
            Self::MatchOver => RefusalCode::MatchOver,
            Self::SeqMissing { .. } | Self::SeqTaken { .. } => RefusalCode::BadOrder,
        }
    }
}

impl RefusalCode {
    /// The code as it is written.
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
        }
    }
}

impl Subject {
    /// The refusal of this for `reason`.
    #[must_use]
    pub fn refused(&self, reason: RefusalReason) -> Refusal {
        Refusal {
            of: self.clone(),
            reason,
        }
    }
}

impl From<&EntryId> for Subject {
    fn from(id: &EntryId) -> Self {
        Self::Entry(Some(id.clone()))
    }
}

impl std::fmt::Display for Subject {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::MatchHeader => f.write_str("match header"),
            Self::Entry(None) => f.write_str("entry"),
            Self::Entry(Some(id)) => write!(f, "entry `{id}`"),
        }
    }
}

impl FieldPath {
    /// The path of the field `name` inside the object at this path.
    #[must_use]
    pub fn inside(&self, name: &str) -> Self {
        if self.0.is_empty() {
            Self(name.to_owned())
        } else {
            Self(format!("{}.{name}", self.0))
        }
    }

    /// The path as text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl From<&str> for FieldPath {
    fn from(path: &str) -> Self {
        Self(path.to_owned())
    }
}

impl std::fmt::Display for FieldPath {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}
