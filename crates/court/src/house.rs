//! What the house log says: which match is on which court, which matches are
//! planned and in which words, what the desk has paused or declared over.
//!
//! [`House`] is a pure fold of the log's records, so what is in memory is always
//! what a restart would find. Records of a kind that is not known are left out:
//! an older host can read a newer one's log.

use std::collections::{BTreeMap, BTreeSet};

use rallytide_chart::Header;
use serde_json::{Value, json};

use crate::live::CourtName;

/// One word of the desk, or of a charter who brought a match.
#[derive(Debug, Clone)]
pub(crate) enum Word {
    /// A match was put on a court.
    OnCourt {
        court: CourtName,
        id: String,
        by: By,
    },
    /// The desk took a match off.
    OffCourt { court: CourtName, id: String },
    /// A match as it is planned, or the words that are used for it from now on.
    Header(Box<Header>),
    /// A planned match was given up.
    Unplanned { id: String },
    /// Play is paused on a court, or goes on.
    Paused { court: CourtName, paused: bool },
    /// The desk declared a match over, or took that back.
    DeclaredOver { id: String, over: bool },
    /// A court is no more on the list.
    Closed { court: CourtName },
    /// Where text files for streaming programs are written.
    TextFiles { folder: Option<String> },
    /// Whether other machines are let in where the host was started for this
    /// machine alone.
    Others { let_in: bool },
}

/// Who put a match on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum By {
    Charter,
    Desk,
}

/// Everything the house log says.
#[derive(Debug, Clone, Default)]
pub(crate) struct House {
    pub(crate) on: BTreeMap<CourtName, String>,
    /// What the desk itself put on a court last.
    pub(crate) by_desk: BTreeMap<CourtName, String>,
    pub(crate) matches: BTreeMap<String, Said>,
    pub(crate) paused: BTreeSet<CourtName>,
    pub(crate) text_files: Option<String>,
    pub(crate) lets_others_in: bool,
}

/// What is said of one match.
#[derive(Debug, Clone, Default)]
pub(crate) struct Said {
    /// Every header it was given by the desk, the one in use last.
    pub(crate) headers: Vec<Header>,
    /// The desk declared it over.
    pub(crate) over: bool,
    /// The desk took it off its court: a charter's client that comes back does
    /// not put it on again by itself.
    pub(crate) taken_off: bool,
}

impl House {
    /// Takes the next record.
    pub(crate) fn take(&mut self, word: Word) {
        match word {
            Word::OnCourt { court, id, by } => {
                self.paused.remove(&court);
                let said = self.matches.entry(id.clone()).or_default();
                said.taken_off = false;
                if by == By::Desk {
                    self.by_desk.insert(court.clone(), id.clone());
                }
                let before = self.on.insert(court, id.clone());
                if let Some(before) = before.filter(|before| by == By::Desk && *before != id) {
                    self.matches.entry(before).or_default().taken_off = true;
                }
            }
            Word::OffCourt { court, id } => {
                self.paused.remove(&court);
                self.on.remove(&court);
                self.matches.entry(id).or_default().taken_off = true;
            }
            Word::Header(header) => {
                let said = self.matches.entry(header.id.to_string()).or_default();
                said.headers.push(*header);
            }
            Word::Unplanned { id } => {
                self.matches.remove(&id);
            }
            Word::Paused {
                court,
                paused: true,
            } => {
                self.paused.insert(court);
            }
            Word::Paused {
                court,
                paused: false,
            } => {
                self.paused.remove(&court);
            }
            Word::DeclaredOver { id, over } => {
                self.matches.entry(id).or_default().over = over;
            }
            Word::Closed { court } => {
                self.on.remove(&court);
                self.paused.remove(&court);
            }
            Word::TextFiles { folder } => self.text_files = folder,
            Word::Others { let_in } => self.lets_others_in = let_in,
        }
    }

    /// What is said of a match.
    pub(crate) fn said(&self, id: &str) -> Option<&Said> {
        self.matches.get(id)
    }

    /// The header that is in use for a match, if the desk gave one.
    pub(crate) fn header(&self, id: &str) -> Option<&Header> {
        self.said(id)?.headers.last()
    }

    /// Whether the desk ever gave the match this header.
    pub(crate) fn knows(&self, header: &Header) -> bool {
        self.said(header.id.as_str())
            .is_some_and(|said| said.headers.contains(header))
    }
}

impl Word {
    /// The record as the log takes it.
    pub(crate) fn to_json(&self) -> Value {
        match self {
            Self::OnCourt { court, id, by } => {
                let mut record = json!({"kind": "on_court", "court": court.as_str(), "match": id});
                if *by == By::Desk {
                    record["by"] = "desk".into();
                }
                record
            }
            Self::OffCourt { court, id } => {
                json!({"kind": "off_court", "court": court.as_str(), "off": id})
            }
            Self::Header(header) => json!({"kind": "header", "header": header.to_json()}),
            Self::Unplanned { id } => json!({"kind": "unplanned", "planned": id}),
            Self::Paused { court, paused } => {
                json!({"kind": "paused", "court": court.as_str(), "paused": paused})
            }
            Self::DeclaredOver { id, over } => {
                json!({"kind": "declared_over", "declared": id, "over": over})
            }
            Self::Closed { court } => json!({"kind": "closed", "court": court.as_str()}),
            Self::TextFiles { folder } => json!({"kind": "text_files", "folder": folder}),
            Self::Others { let_in } => json!({"kind": "others", "let_in": let_in}),
        }
    }

    /// Reads a record; `None` where it is none of ours.
    pub(crate) fn from_text(text: &str) -> Option<Self> {
        let Ok(Value::Object(record)) = serde_json::from_str(text) else {
            return None;
        };
        let text = |name: &str| record.get(name).and_then(Value::as_str);
        let owned = |name: &str| text(name).map(str::to_owned);
        let flag = |name: &str| record.get(name).and_then(Value::as_bool);
        let court = || text("court").and_then(CourtName::new);
        Some(match text("kind")? {
            "on_court" => Self::OnCourt {
                court: court()?,
                id: owned("match")?,
                by: match text("by") {
                    Some("desk") => By::Desk,
                    _ => By::Charter,
                },
            },
            "off_court" => Self::OffCourt {
                court: court()?,
                id: owned("off")?,
            },
            "header" => {
                let header = record.get("header")?.as_object()?.clone();
                Self::Header(Box::new(Header::from_json(header).ok()?))
            }
            "unplanned" => Self::Unplanned {
                id: owned("planned")?,
            },
            "paused" => Self::Paused {
                court: court()?,
                paused: flag("paused")?,
            },
            "declared_over" => Self::DeclaredOver {
                id: owned("declared")?,
                over: flag("over")?,
            },
            "closed" => Self::Closed { court: court()? },
            "text_files" => Self::TextFiles {
                folder: owned("folder"),
            },
            "others" => Self::Others {
                let_in: flag("let_in")?,
            },
            _ => return None,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn court(name: &str) -> CourtName {
        CourtName::new(name).unwrap()
    }

    fn header(title: &str) -> Header {
        Header::from_text(&format!(
            r##"{{"kind":"match","chart":1,"id":"m1","title":"{title}",
            "teams":{{"a":{{"name":"A","colour":"#0072B2"}},"b":{{"name":"B"}}}},
            "format":{{"discipline":"doubles","scoring":"rally","points":11,"win_by":2,"games":1}},
            "first_serve":"a"}}"##
        ))
        .unwrap()
    }

    /// Folds the words twice: as they are, and as the log gives them back.
    fn folded(words: &[Word]) -> House {
        let (mut one, mut other) = (House::default(), House::default());
        for word in words {
            one.take(word.clone());
            other.take(Word::from_text(&word.to_json().to_string()).unwrap());
        }
        assert_eq!(format!("{one:?}"), format!("{other:?}"));
        one
    }

    #[test]
    fn every_word_comes_back_from_the_log_as_it_was() {
        let house = folded(&[
            Word::Header(Box::new(header("first"))),
            Word::Header(Box::new(header("second"))),
            Word::OnCourt {
                court: court("1"),
                id: "m1".into(),
                by: By::Desk,
            },
            Word::Paused {
                court: court("1"),
                paused: true,
            },
            Word::DeclaredOver {
                id: "m1".into(),
                over: true,
            },
            Word::TextFiles {
                folder: Some("/tmp/x".into()),
            },
            Word::Others { let_in: true },
        ]);
        assert!(house.lets_others_in);
        assert_eq!(house.header("m1").unwrap().title, "second");
        assert!(house.knows(&header("first")) && !house.knows(&header("third")));
        assert!(house.paused.contains(&court("1")) && house.matches["m1"].over);
        assert_eq!(house.text_files.as_deref(), Some("/tmp/x"));
    }

    #[test]
    fn a_match_that_gives_way_to_the_desk_is_taken_off_and_one_that_gives_way_to_a_charter_is_not()
    {
        let on = |id: &str, by| Word::OnCourt {
            court: court("1"),
            id: id.into(),
            by,
        };
        let house = folded(&[on("m1", By::Charter), on("m2", By::Charter)]);
        assert!(!house.matches["m1"].taken_off);
        let house = folded(&[on("m1", By::Charter), on("m2", By::Desk)]);
        assert!(house.matches["m1"].taken_off && !house.matches["m2"].taken_off);
    }

    #[test]
    fn a_pause_ends_with_its_match() {
        let pause = Word::Paused {
            court: court("1"),
            paused: true,
        };
        let off = Word::OffCourt {
            court: court("1"),
            id: "m1".into(),
        };
        assert!(folded(&[pause, off]).paused.is_empty());
    }

    #[test]
    fn a_record_of_an_unknown_kind_is_none_of_ours() {
        assert!(Word::from_text(r#"{"kind":"weather","court":"1"}"#).is_none());
    }
}
