//! What a team is called aloud: short enough that a line with both names can be
//! said in one breath.
//!
//! Invariants: a name has one to [`NAME_WORDS`] words and at most
//! `NAME_CHARACTERS` characters, and the two teams' names differ.

use rallytide_plugin_kit::{MatchHeader, PerTeam, Team, TeamSheet};

use crate::language::Language;

/// Words of a spoken name at most: two surnames and what joins them.
pub const NAME_WORDS: usize = 3;
/// Characters of a spoken name at most.
const NAME_CHARACTERS: usize = 48;

/// What the teams are called: the team's name if it is short enough, else its
/// players' surnames, else what the language calls a team without a name.
#[must_use]
pub fn spoken(header: &MatchHeader, language: &Language) -> PerTeam<String> {
    let a = of_sheet(&header.team_a, language);
    let b = of_sheet(&header.team_b, language);
    match (a, b) {
        (Some(a), Some(b)) if a == b => nameless(language),
        (a, b) => {
            let fallback = nameless(language);
            PerTeam {
                a: a.unwrap_or(fallback.a),
                b: b.unwrap_or(fallback.b),
            }
        }
    }
}

fn nameless(language: &Language) -> PerTeam<String> {
    PerTeam {
        a: (language.nameless)(Team::A).to_owned(),
        b: (language.nameless)(Team::B).to_owned(),
    }
}

fn of_sheet(sheet: &TeamSheet, language: &Language) -> Option<String> {
    let named = joined(sheet.name.split('/'), language);
    let surnames = sheet.players.iter().filter_map(|player| {
        // The last word, which is what a player is called by in a match.
        player.split_whitespace().next_back()
    });
    [named, joined(surnames, language)]
        .into_iter()
        .find(|name| is_short(name))
}

/// The parts as one would say them, blanks made single.
fn joined<'a>(parts: impl Iterator<Item = &'a str>, language: &Language) -> String {
    let spoken = parts.map(|part| part.split_whitespace().collect::<Vec<_>>().join(" "));
    let spoken: Vec<String> = spoken.filter(|part| !part.is_empty()).collect();
    spoken.join(&format!(" {} ", language.and))
}

fn is_short(name: &str) -> bool {
    let words = name.split_whitespace().count();
    (1..=NAME_WORDS).contains(&words) && name.chars().count() <= NAME_CHARACTERS
}
