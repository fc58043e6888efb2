//! A match header as the desk sends it: `kind`, `chart` and `id` may be left
//! out, texts must fit on one line, colors are `#RRGGBB`.

use rallytide_chart::{FieldPath, Header, Refusal, Team};
use rallytide_court::CannotDo;
use serde_json::{Map, Value};

use crate::rejection::Rejection;

/// Why a header that the desk sent cannot be planned.
#[derive(Debug, thiserror::Error)]
pub(crate) enum CannotPlan {
    /// It is no match header.
    #[error(transparent)]
    Refused(#[from] Refusal),
    /// A text that is not one line.
    #[error(
        "match header: field `{field}` has a line break or another control character; write it on \
         one line"
    )]
    ControlCharacter { field: FieldPath },
    /// A color that is none.
    #[error("match header: field `{field}` is {found}; it takes `#RRGGBB`, like `#0072B2`")]
    NoColor { field: FieldPath, found: Value },
    /// No id can be made from what the match is called.
    #[error("there are too many matches called `{name}`; give this one an id")]
    NameUsedUp { name: String },
    /// Which ids are taken could not be found out.
    #[error("{}", .0.sentence())]
    Courts(#[from] CannotDo),
}

impl From<CannotPlan> for Rejection {
    fn from(error: CannotPlan) -> Self {
        match error {
            CannotPlan::Refused(refusal) => CannotDo::from(refusal).into(),
            CannotPlan::Courts(error) => error.into(),
            CannotPlan::ControlCharacter { .. } | CannotPlan::NoColor { .. } => {
                Self::unfit(error.to_string())
            }
            CannotPlan::NameUsedUp { .. } => Self::conflict(error.to_string()),
        }
    }
}

/// Reads a header; where it has no id, `taken` says which ones it cannot get.
pub(crate) fn read(
    mut source: Map<String, Value>,
    taken: &dyn Fn(&str) -> Result<bool, CannotDo>,
) -> Result<Header, CannotPlan> {
    let mut header = Map::new();
    header.insert("kind".into(), "match".into());
    header.insert("chart".into(), 1.into());
    let id = match source.shift_remove("id") {
        None | Some(Value::Null) => free_id(&source, taken)?.into(),
        Some(id) => id,
    };
    header.insert("id".into(), id);
    for (name, value) in source {
        header.insert(name, value);
    }
    let header = Header::from_json(header)?;
    check_texts(&header)?;
    Ok(header)
}

/// What a chart may hold but a line on a stream should not.
fn check_texts(header: &Header) -> Result<(), CannotPlan> {
    let top = FieldPath::default();
    let mut texts = vec![
        (top.inside("title"), &header.title),
        (top.inside("court"), &header.court),
    ];
    for team in Team::ALL {
        let (at, sheet) = (team_path(*team), header.teams.of(*team));
        texts.push((at.inside("name"), &sheet.name));
        let players = sheet.players.iter();
        texts.extend(players.map(|name| (at.inside("players"), name)));
    }
    for field in ["round", "time"] {
        if let Some(Value::String(text)) = header.to_json().get(field) {
            texts.push((top.inside(field), text));
        }
    }
    for (field, text) in texts {
        if text.chars().any(char::is_control) {
            return Err(CannotPlan::ControlCharacter { field });
        }
    }
    for team in Team::ALL {
        let color = &header.to_json()["teams"][team.word()]["color"];
        let fits = match color {
            Value::Null => true,
            Value::String(text) => is_color(text),
            _ => false,
        };
        if !fits {
            return Err(CannotPlan::NoColor {
                field: team_path(*team).inside("color"),
                found: color.clone(),
            });
        }
    }
    Ok(())
}

/// Where a team stands in a header.
fn team_path(team: Team) -> FieldPath {
    FieldPath::from("teams").inside(team.word())
}

fn is_color(text: &str) -> bool {
    text.strip_prefix('#').is_some_and(|digits| {
        digits.len() == 6 && digits.bytes().all(|byte| byte.is_ascii_hexdigit())
    })
}

/// An id made from the title, else from the teams' names, with a number where
/// that is taken.
fn free_id(
    source: &Map<String, Value>,
    taken: &dyn Fn(&str) -> Result<bool, CannotDo>,
) -> Result<String, CannotPlan> {
    /// Leaves room for a number within the 64 characters of an id.
    const LENGTH: usize = 56;
    let text = |value: Option<&Value>| value.and_then(Value::as_str).unwrap_or("").to_owned();
    let teams = source.get("teams");
    let name = |team: &str| text(teams.and_then(|teams| teams.get(team)?.get("name")));
    let candidates = [
        text(source.get("title")),
        format!("{} {}", name("a"), name("b")),
    ];
    let words = candidates.iter().map(|text| slug(text, LENGTH));
    let base = words
        .into_iter()
        .find(|slug| !slug.is_empty())
        .unwrap_or_else(|| "match".into());
    if !taken(&base)? {
        return Ok(base);
    }
    for number in 2..=9_999 {
        let id = format!("{base}-{number}");
        if !taken(&id)? {
            return Ok(id);
        }
    }
    Err(CannotPlan::NameUsedUp { name: base })
}

/// The letters and digits of a text that an id may have, words joined by `-`.
fn slug(text: &str, length: usize) -> String {
    let kept = text.to_lowercase();
    let words = kept.split(|c: char| !c.is_ascii_alphanumeric());
    let joined = words
        .filter(|word| !word.is_empty())
        .collect::<Vec<_>>()
        .join("-");
    joined
        .chars()
        .take(length)
        .collect::<String>()
        .trim_end_matches('-')
        .to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn plan(title: &str, a: &str) -> Value {
        json!({"title": title, "teams": {"a": {"name": a}, "b": {"name": "B"}},
            "format": {"discipline": "doubles", "scoring": "rally", "points": 11, "win_by": 2,
                       "games": 1}, "first_serve": "a"})
    }

    fn id_of(header: Value, taken: &[&str]) -> String {
        let Value::Object(header) = header else {
            unreachable!("plans are objects")
        };
        let taken = |id: &str| Ok(taken.contains(&id));
        read(header, &taken).unwrap().id.to_string()
    }

    fn refused(header: Value) -> String {
        let Value::Object(header) = header else {
            unreachable!("plans are objects")
        };
        read(header, &|_| Ok(false)).unwrap_err().to_string()
    }

    #[test]
    fn an_id_is_made_from_what_the_match_is_called() {
        assert_eq!(id_of(plan("Pier Cup, final", "A"), &[]), "pier-cup-final");
        assert_eq!(id_of(plan("", "Reed / Lund"), &[]), "reed-lund-b");
        assert_eq!(id_of(plan("Final", "A"), &["final", "final-2"]), "final-3");
    }

    #[test]
    fn names_without_a_letter_for_an_id_still_get_one() {
        assert_eq!(id_of(plan("🏓", "שלום"), &[]), "b");
        let mut nameless = plan("🏓", "א");
        nameless["teams"]["b"]["name"] = "ב".into();
        assert_eq!(id_of(nameless, &["match"]), "match-2");
        assert!(id_of(plan(&"long ".repeat(90), "A"), &[]).len() <= 56);
    }

    #[test]
    fn a_text_that_does_not_fit_on_a_line_is_refused() {
        assert!(refused(plan("two\nlines", "A")).contains("`title` has a line break"));
        assert!(refused(plan("T", "a\u{7}")).contains("`teams.a.name`"));
        let mut timed = plan("T", "A");
        timed["time"] = "9:30\n".into();
        assert!(refused(timed).contains("`time`"));
    }

    #[test]
    fn a_color_is_written_with_six_digits() {
        let mut colored = plan("T", "A");
        colored["teams"]["a"]["color"] = "#0072B2".into();
        assert_eq!(id_of(colored.clone(), &[]), "t");
        colored["teams"]["a"]["color"] = "blue".into();
        assert!(refused(colored).contains("#RRGGBB"));
    }
}
