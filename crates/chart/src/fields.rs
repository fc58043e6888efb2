//! Reading the fields of a JSON object, with refusals that name the field,
//! what was found and what is allowed. A field that is `null` counts as left out.

use serde_json::{Map, Value};

use crate::refusal::{Refusal, RefusalCode};
use crate::words::{Cue, Kind, Stroke, Team};

/// The longest free text, in characters.
pub(crate) const TEXT_LIMIT: usize = 500;

/// A JSON object being read; `place` names it in messages ("entry `r1s1`").
pub(crate) struct Fields<'a> {
    object: &'a Map<String, Value>,
    place: String,
}

/// A closed word list that a field can be read as.
pub(crate) trait Word: Copy + 'static {
    /// All members.
    const MEMBERS: &'static [Self];
    /// The code an unknown word is refused with.
    const CODE: RefusalCode = RefusalCode::BadField;
    /// How the member is written.
    fn written(self) -> &'static str;
}

macro_rules! words {
    ($($name:ty $(, $code:ident)?;)+) => { $(
        impl Word for $name {
            const MEMBERS: &'static [Self] = Self::ALL;
            $(const CODE: RefusalCode = RefusalCode::$code;)?
            fn written(self) -> &'static str { self.word() }
        }
    )+ };
}

words! {
    Team;
    Stroke, UnknownStroke;
    Cue, UnknownCue;
    crate::words::Contact;
    crate::words::Depth;
    crate::words::How;
    crate::words::FaultKind;
    Kind, UnknownKind;
}

impl<'a> Fields<'a> {
    pub(crate) fn new(object: &'a Map<String, Value>, place: impl Into<String>) -> Self {
        Self {
            object,
            place: place.into(),
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

    pub(crate) fn missing(&self, name: &str, allowed: &str) -> Refusal {
        Refusal::new(
            RefusalCode::MissingField,
            format!(
                "{}: field `{name}` is missing; it takes {allowed}",
                self.place
            ),
        )
    }

    pub(crate) fn bad(&self, name: &str, allowed: &str) -> Refusal {
        self.refuse(RefusalCode::BadField, name, allowed)
    }

    fn refuse(&self, code: RefusalCode, name: &str, allowed: &str) -> Refusal {
        let found = self.object.get(name).map_or("nothing".into(), shown);
        self.refuse_found(code, name, &found, allowed)
    }

    fn refuse_found(&self, code: RefusalCode, name: &str, found: &str, allowed: &str) -> Refusal {
        Refusal::new(
            code,
            format!(
                "{}: field `{name}` is {found}; it takes {allowed}",
                self.place
            ),
        )
    }

    /// A sentence about the object as a whole.
    pub(crate) fn problem(&self, code: RefusalCode, sentence: &str) -> Refusal {
        Refusal::new(code, format!("{}: {sentence}", self.place))
    }

    /// A text of at most `limit` characters, if there is one.
    pub(crate) fn text_within(&self, name: &str, limit: usize) -> Result<Option<&'a str>, Refusal> {
        let Some(value) = self.get(name) else {
            return Ok(None);
        };
        let text = value.as_str().ok_or_else(|| self.bad(name, "a text"))?;
        let length = text.chars().count();
        if length > limit {
            return Err(Refusal::new(
                RefusalCode::TooLong,
                format!(
                    "{}: field `{name}` has {length} characters; at most {limit} are allowed",
                    self.place
                ),
            ));
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
            .ok_or_else(|| self.missing(name, allowed))
    }

    /// A word of a list, if it is there.
    pub(crate) fn word<W: Word>(&self, name: &str) -> Result<Option<W>, Refusal> {
        let Some(value) = self.get(name) else {
            return Ok(None);
        };
        let Some(text) = value.as_str() else {
            return Err(self.bad(name, &choice::<W>()));
        };
        match W::MEMBERS.iter().find(|word| word.written() == text) {
            Some(word) => Ok(Some(*word)),
            None => Err(self.refuse(W::CODE, name, &choice::<W>())),
        }
    }

    /// A word of a list that has to be there.
    pub(crate) fn required_word<W: Word>(&self, name: &str) -> Result<W, Refusal> {
        self.word(name)?
            .ok_or_else(|| self.missing(name, &choice::<W>()))
    }

    /// A list of words, empty if left out.
    pub(crate) fn word_list<W: Word>(&self, name: &str) -> Result<Vec<W>, Refusal> {
        let Some(value) = self.get(name) else {
            return Ok(Vec::new());
        };
        let allowed = format!("a list of {}", choice::<W>());
        let items = value.as_array().ok_or_else(|| self.bad(name, &allowed))?;
        let one = |item: &Value| {
            let (found, code) = match item.as_str() {
                Some(text) => (
                    W::MEMBERS.iter().find(|word| word.written() == text),
                    W::CODE,
                ),
                None => (None, RefusalCode::BadField),
            };
            found.copied().ok_or_else(|| {
                let found = format!("a list with {}", shown(item));
                self.refuse_found(code, name, &found, &allowed)
            })
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
            .ok_or_else(|| self.bad(name, allowed))
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
            Some(Value::Object(object)) => Ok(Some(Fields::new(
                object,
                format!("{}, `{name}`", self.place),
            ))),
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
pub(crate) fn object_from_text(text: &str, place: &str) -> Result<Map<String, Value>, Refusal> {
    match serde_json::from_str(text) {
        Ok(Value::Object(object)) => Ok(object),
        Ok(_) => Err(Refusal::new(
            RefusalCode::Malformed,
            format!("{place}: not a JSON object; write `{{\"kind\": …}}`"),
        )),
        Err(error) => Err(Refusal::new(
            RefusalCode::Malformed,
            format!("{place}: not valid JSON: {error}"),
        )),
    }
}

/// The members of a list as they are offered in a message.
pub(crate) fn choice<W: Word>() -> String {
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
