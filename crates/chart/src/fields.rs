//! Reading the fields of a JSON object, with refusals that name the field,
//! what was found and what is allowed. A field that is `null` counts as left out.

use std::borrow::Cow;

use serde_json::{Map, Value};

use crate::refusal::{FieldPath, Refusal, RefusalReason, Subject, WordList};
use crate::words::{Cue, Kind, Stroke, Team};

/// The longest free text, in characters.
pub(crate) const TEXT_LIMIT: usize = 500;

/// A JSON object being read: the whole of a header or an entry, or one inside.
pub(crate) struct Fields<'a> {
    object: &'a Map<String, Value>,
    of: Subject,
    /// Where the object stands in it; empty for the whole.
    path: FieldPath,
}

/// A closed word list that a field can be read as.
pub(crate) trait Word: Copy + 'static {
    /// All members.
    const MEMBERS: &'static [Self];
    /// The list, if its unknown words are refused with a code of their own.
    const LIST: Option<WordList> = None;
    /// How the member is written.
    fn written(self) -> &'static str;
}

macro_rules! words {
    ($($name:ty $(, $list:ident)?;)+) => { $(
        impl Word for $name {
            const MEMBERS: &'static [Self] = Self::ALL;
            $(const LIST: Option<WordList> = Some(WordList::$list);)?
            fn written(self) -> &'static str { self.word() }
        }
    )+ };
}

words! {
    Team;
    Stroke, Strokes;
    Cue, Cues;
    crate::words::Contact;
    crate::words::Depth;
    crate::words::How;
    crate::words::FaultKind;
    Kind, Kinds;
}

impl<'a> Fields<'a> {
    pub(crate) fn new(object: &'a Map<String, Value>, of: Subject) -> Self {
        Self {
            object,
            of,
            path: FieldPath::default(),
        }
    }

    /// The value of `name`, unless it is left out or `null`.
    pub(crate) fn get(&self, name: &str) -> Option<&'a Value> {
        self.object.get(name).filter(|value| !value.is_null())
    }

    pub(crate) fn has(&self, name: &str) -> bool {
        self.get(name).is_some()
    }

    /// Whether `name` stands there at all, be it as `null`.
    pub(crate) fn is_written(&self, name: &str) -> bool {
        self.object.contains_key(name)
    }

    /// Where the field `name` stands.
    pub(crate) fn path(&self, name: &str) -> FieldPath {
        self.path.inside(name)
    }

    pub(crate) fn refused(&self, reason: RefusalReason) -> Refusal {
        self.of.refused(reason)
    }

    pub(crate) fn missing(&self, name: &str, allowed: impl Into<Cow<'static, str>>) -> Refusal {
        self.refused(RefusalReason::Missing {
            field: self.path(name),
            allowed: allowed.into(),
        })
    }

    pub(crate) fn bad(&self, name: &str, allowed: impl Into<Cow<'static, str>>) -> Refusal {
        self.refused(RefusalReason::Bad {
            field: self.path(name),
            found: self.found(name),
            allowed: allowed.into(),
        })
    }

    /// A word that is none of the list `W`.
    fn unknown<W: Word>(&self, name: &str, found: String, allowed: String) -> Refusal {
        let (field, allowed) = (self.path(name), allowed.into());
        self.refused(match W::LIST {
            Some(list) => RefusalReason::UnknownWord {
                list,
                field,
                found,
                allowed,
            },
            None => RefusalReason::Bad {
                field,
                found,
                allowed,
            },
        })
    }

    fn found(&self, name: &str) -> String {
        self.object.get(name).map_or("nothing".into(), shown)
    }

    /// A text of at most `limit` characters, if there is one.
    pub(crate) fn text_within(&self, name: &str, limit: usize) -> Result<Option<&'a str>, Refusal> {
        let Some(value) = self.get(name) else {
            return Ok(None);
        };
        let text = value.as_str().ok_or_else(|| self.bad(name, "a text"))?;
        let length = text.chars().count();
        if length > limit {
            return Err(self.refused(RefusalReason::TooLong {
                field: self.path(name),
                length,
                limit,
            }));
        }
        Ok(Some(text))
    }

    /// A whole number within `range` that has to be there.
    pub(crate) fn required_number(
        &self,
        name: &str,
        range: std::ops::RangeInclusive<u32>,
        allowed: &str,
    ) -> Result<u32, Refusal> {
        self.number(name, range, allowed)?
            .ok_or_else(|| self.missing(name, allowed.to_owned()))
    }

    /// A word of a list, if it is there.
    pub(crate) fn word<W: Word>(&self, name: &str) -> Result<Option<W>, Refusal> {
        let Some(value) = self.get(name) else {
            return Ok(None);
        };
        let Some(text) = value.as_str() else {
            return Err(self.bad(name, choice::<W>()));
        };
        match W::MEMBERS.iter().find(|word| word.written() == text) {
            Some(word) => Ok(Some(*word)),
            None => Err(self.unknown::<W>(name, self.found(name), choice::<W>())),
        }
    }

    /// A word of a list that has to be there.
    pub(crate) fn required_word<W: Word>(&self, name: &str) -> Result<W, Refusal> {
        self.word(name)?
            .ok_or_else(|| self.missing(name, choice::<W>()))
    }

    /// A list of words, empty if left out.
    pub(crate) fn word_list<W: Word>(&self, name: &str) -> Result<Vec<W>, Refusal> {
        let Some(value) = self.get(name) else {
            return Ok(Vec::new());
        };
        let allowed = format!("a list of {}", choice::<W>());
        let items = value
            .as_array()
            .ok_or_else(|| self.bad(name, allowed.clone()))?;
        let one = |item: &Value| {
            let found = format!("a list with {}", shown(item));
            let Some(text) = item.as_str() else {
                return Err(self.refused(RefusalReason::Bad {
                    field: self.path(name),
                    found,
                    allowed: allowed.clone().into(),
                }));
            };
            let word = W::MEMBERS.iter().find(|word| word.written() == text);
            word.copied()
                .ok_or_else(|| self.unknown::<W>(name, found, allowed.clone()))
        };
        items.iter().map(one).collect()
    }

    /// A whole number within `range`, if it is there; `allowed` says in a
    /// refusal what the range means.
    pub(crate) fn number(
        &self,
        name: &str,
        range: std::ops::RangeInclusive<u32>,
        allowed: &str,
    ) -> Result<Option<u32>, Refusal> {
        let Some(value) = self.get(name) else {
            return Ok(None);
        };
        value
            .as_u64()
            .and_then(|number| u32::try_from(number).ok())
            .filter(|number| range.contains(number))
            .map(Some)
            .ok_or_else(|| self.bad(name, allowed.to_owned()))
    }

    /// `true` or `false`, if it is there.
    pub(crate) fn truth(&self, name: &str) -> Result<Option<bool>, Refusal> {
        match self.get(name) {
            None => Ok(None),
            Some(Value::Bool(truth)) => Ok(Some(*truth)),
            Some(_) => Err(self.bad(name, "`true` or `false`")),
        }
    }

    /// An object inside this one, if it is there.
    pub(crate) fn object(&self, name: &str) -> Result<Option<Fields<'a>>, Refusal> {
        match self.get(name) {
            None => Ok(None),
            Some(Value::Object(object)) => Ok(Some(Fields {
                object,
                of: self.of.clone(),
                path: self.path(name),
            })),
            Some(_) => Err(self.bad(name, "an object")),
        }
    }

    /// An object inside this one that has to be there.
    pub(crate) fn required_object(&self, name: &str) -> Result<Fields<'a>, Refusal> {
        self.object(name)?
            .ok_or_else(|| self.missing(name, "an object"))
    }
}

/// Reads text that has to be one JSON object.
pub(crate) fn object_from_text(text: &str, of: &Subject) -> Result<Map<String, Value>, Refusal> {
    match serde_json::from_str(text) {
        Ok(value) => object(value, of),
        Err(error) => Err(of.refused(RefusalReason::NotJson {
            problem: error.to_string(),
        })),
    }
}

/// The fields of a value that has to be an object.
pub(crate) fn object(value: Value, of: &Subject) -> Result<Map<String, Value>, Refusal> {
    match value {
        Value::Object(object) => Ok(object),
        _ => Err(of.refused(RefusalReason::NotAnObject)),
    }
}

/// The members of a list as they are offered in a message.
fn choice<W: Word>() -> String {
    let members: Vec<String> = W::MEMBERS
        .iter()
        .map(|word| format!("`{}`", word.written()))
        .collect();
    format!("one of {}", members.join(" "))
}

/// A value as it is shown in a message: short, on one line.
fn shown(value: &Value) -> String {
    const SHOWN: usize = 40;
    let text = value.to_string();
    if text.chars().count() <= SHOWN {
        return format!("`{text}`");
    }
    let start: String = text.chars().take(SHOWN).collect();
    format!("`{start}…`")
}
