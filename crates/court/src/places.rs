//! A team that is not known yet: the winner or the loser of another match.
//!
//! Such a place stands in the header of the match that waits for it, in the team's
//! `from`: `{"winner_of":"qf-2","called":"QF 2"}`. The team's name is then the
//! words of the place, until the other match has ended. Pure.

use rallytide_chart::{Header, Team, TeamSheet};
use serde_json::{Map, Value};

/// Whom a place is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outcome {
    /// Who wins the other match.
    Winner,
    /// Who loses it.
    Loser,
}

/// The place of a team in a match, to be filled by another match.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// Whom it is for.
    pub outcome: Outcome,
    /// The id of the other match.
    pub of: String,
    /// What people call the other match, like `QF 2`.
    pub called: String,
}

/// A place of a match, and what the other match says about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlaceNow {
    /// Whose place it is.
    pub team: Team,
    /// The place.
    pub place: Place,
    /// Who has it by the other match; `None` while that is not decided.
    pub sheet: Option<TeamSheet>,
    /// Whether this match was begun with another team than that.
    pub differs: bool,
}

impl Outcome {
    const ALL: [Self; 2] = [Self::Winner, Self::Loser];

    /// The outcome as it is written.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Winner => "winner",
            Self::Loser => "loser",
        }
    }

    fn field(self) -> &'static str {
        match self {
            Self::Winner => "winner_of",
            Self::Loser => "loser_of",
        }
    }

    /// The team with this outcome.
    pub(crate) fn team(self, winner: Team) -> Team {
        match self {
            Self::Winner => winner,
            Self::Loser => winner.other(),
        }
    }
}

/// What a cell of a sheet, or the field for a team's name, says where it names a
/// place: `winner of QF 2`, `Loser of SF 1`. What follows is the round, the title
/// or the id of the other match.
#[must_use]
pub fn place_in_cell(text: &str) -> Option<(Outcome, String)> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let (first, of, called) = (words.first()?, words.get(1)?, words.get(2..)?);
    let outcome = Outcome::ALL
        .into_iter()
        .find(|outcome| first.eq_ignore_ascii_case(outcome.word()))?;
    (of.eq_ignore_ascii_case("of") && !called.is_empty()).then(|| (outcome, called.join(" ")))
}

impl Place {
    /// The place of a team, where the header has one for it.
    #[must_use]
    pub fn of_team(header: &Header, team: Team) -> Option<Self> {
        let from = header.to_json()["teams"][team.word()].get("from")?;
        Outcome::ALL.into_iter().find_map(|outcome| {
            let of = from.get(outcome.field())?.as_str()?.to_owned();
            let called = from.get("called").and_then(Value::as_str).unwrap_or(&of);
            Some(Self {
                outcome,
                called: called.to_owned(),
                of,
            })
        })
    }

    /// The place in words, as the team's name until it is filled.
    #[must_use]
    pub fn words(&self) -> String {
        match self.outcome {
            Outcome::Winner => format!("Winner of {}", self.called),
            Outcome::Loser => format!("Loser of {}", self.called),
        }
    }

    fn as_from(&self) -> Value {
        let mut from = Map::new();
        from.insert(self.outcome.field().into(), self.of.clone().into());
        from.insert("called".into(), self.called.clone().into());
        from.into()
    }
}

/// The header with another team, or nobody yet, in the place of one; the same where
/// the names do not fit the match, such as a pair's in a match of singles.
#[must_use]
pub(crate) fn filled(header: &Header, team: Team, place: &Place, by: Option<&TeamSheet>) -> Header {
    changed(header, team, |sheet| {
        sheet.shift_remove("players");
        let name = by.map_or_else(|| place.words(), |by| by.name.clone());
        sheet.insert("name".into(), name.into());
        if let Some(by) = by.filter(|by| !by.players.is_empty()) {
            sheet.insert("players".into(), by.players.clone().into());
        }
        sheet.insert("from".into(), place.as_from());
    })
}

/// The header without the place of a team: its name is what it says.
#[must_use]
pub(crate) fn named(header: &Header, team: Team) -> Header {
    changed(header, team, |sheet| {
        sheet.shift_remove("from");
    })
}

/// The header with the place of a team as another one of the same match has it.
#[must_use]
pub(crate) fn with_place(header: &Header, team: Team, place: &Place) -> Header {
    changed(header, team, |sheet| {
        sheet.insert("from".into(), place.as_from());
    })
}

fn changed(header: &Header, team: Team, change: impl FnOnce(&mut Map<String, Value>)) -> Header {
    let mut json = header.to_json().clone();
    let sheet = json
        .get_mut("teams")
        .and_then(|teams| teams.get_mut(team.word()));
    let Some(Value::Object(sheet)) = sheet else {
        return header.clone();
    };
    change(sheet);
    if header.title == versus(header) {
        // A title that only says who plays goes with them.
        let name = |team: Team| json["teams"][team.word()]["name"].as_str().unwrap_or("");
        let title = format!("{} v {}", name(Team::A), name(Team::B));
        json.insert("title".into(), title.into());
    }
    Header::from_json(json).unwrap_or_else(|refusal| {
        tracing::warn!(id = %header.id, %refusal, "a place of a match stays as it is");
        header.clone()
    })
}

/// Who plays, as a match without another title is called.
pub(crate) fn versus(header: &Header) -> String {
    format!("{} v {}", header.teams.a.name, header.teams.b.name)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn header(a: &str, title: &str) -> Header {
        Header::from_text(
            &format!(
                r#"{{"kind":"match","chart":1,"id":"sf","title":"{title}",
            "teams":{{"a":{{"name":"{a}","color":"\#0072B2"}},"b":{{"name":"B"}}}},
            "format":{{"discipline":"doubles","scoring":"rally","points":11,"win_by":2,"games":1}},
            "first_serve":"a"}}"#
            )
            .replace("\\#", "#"),
        )
        .unwrap()
    }

    fn place() -> Place {
        Place {
            outcome: Outcome::Winner,
            of: "qf-2".into(),
            called: "QF 2".into(),
        }
    }

    #[test]
    fn a_cell_says_a_place_in_three_words_and_any_other_is_a_name() {
        let said = |text| place_in_cell(text);
        let qf = |outcome| Some((outcome, "QF 2".to_owned()));
        assert_eq!(said("winner of QF 2"), qf(Outcome::Winner));
        assert_eq!(said("  LOSER  Of QF\t2 "), qf(Outcome::Loser));
        for name in [
            "Winner of",
            "winner QF 2",
            "Winners of May",
            "Of Winner",
            "",
        ] {
            assert_eq!(said(name), None, "{name}");
        }
    }

    #[test]
    fn a_place_is_filled_and_given_back_as_it_was() {
        let waiting = filled(&header("x", "Semi"), Team::A, &place(), None);
        assert_eq!(waiting.teams.a.name, "Winner of QF 2");
        assert_eq!(Place::of_team(&waiting, Team::A), Some(place()));
        assert_eq!(Place::of_team(&waiting, Team::B), None);
        let sheet = TeamSheet {
            name: "Reed / Lund".into(),
            players: vec!["Bo Reed".into(), "Ada Lund".into()],
        };
        let full = filled(&waiting, Team::A, &place(), Some(&sheet));
        assert_eq!(full.teams.a, sheet);
        assert_eq!(full.to_json()["teams"]["a"]["color"], "#0072B2");
        assert_eq!(full.fixed_difference(&waiting), None);
        assert_eq!(filled(&full, Team::A, &place(), None), waiting);
        assert_eq!(Place::of_team(&named(&full, Team::A), Team::A), None);
    }

    #[test]
    fn a_title_that_says_who_plays_goes_with_them_and_another_stays() {
        let by = TeamSheet {
            name: "Reed".into(),
            players: Vec::new(),
        };
        let title = |title: &str| {
            let waiting = filled(&header("x", title), Team::A, &place(), None);
            filled(&waiting, Team::A, &place(), Some(&by)).title
        };
        assert_eq!(title("x v B"), "Reed v B");
        assert_eq!(title("Semi"), "Semi");
    }

    #[test]
    fn names_that_do_not_fit_the_match_fill_nothing() {
        let waiting = filled(&header("x", "Semi"), Team::A, &place(), None);
        let one = TeamSheet {
            name: "Reed".into(),
            players: vec!["Bo Reed".into()],
        };
        assert_eq!(filled(&waiting, Team::A, &place(), Some(&one)), waiting);
    }
}
