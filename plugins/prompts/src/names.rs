//! What teams and players are called aloud: short enough that a line with both
//! teams' names can be said in one go.
//!
//! Invariants: a name has one to [`NAME_WORDS`] words and at most
//! `NAME_CHARACTERS` characters, and no two teams or players are called the same.

use rallytide_plugin_kit::{Discipline, MatchHeader, PerTeam, Team, TeamSheet};

use crate::language::Language;

/// Words of a spoken name at most: two surnames and what joins them.
pub const NAME_WORDS: usize = 3;
/// Characters of a spoken name at most.
const NAME_CHARACTERS: usize = 48;

/// What teams and players are called.
#[derive(Debug, Clone)]
pub struct Names {
    /// The teams.
    pub teams: PerTeam<String>,
    players: PerTeam<Vec<Option<String>>>,
    is_singles: bool,
}

impl Names {
    /// What they are called in a match: a team by its name if that is short enough,
    /// else by its players' surnames, else by what the language calls a team without
    /// a name; a player by the full name.
    #[must_use]
    pub fn of(header: &MatchHeader, language: &Language) -> Self {
        Self {
            teams: teams(header, language),
            players: PerTeam {
                a: players(header, Team::A),
                b: players(header, Team::B),
            },
            is_singles: header.discipline == Discipline::Singles,
        }
    }

    /// A player's name, where it is known; in singles, the team's.
    #[must_use]
    pub fn player(&self, team: Team, player: u32) -> Option<&str> {
        if self.is_singles {
            return Some(&self.teams[team]);
        }
        self.players[team].get(player as usize)?.as_deref()
    }

    /// Who serves, said beside the name of this team: a player, or the other team
    /// where no player can be named; none where it goes without saying.
    #[must_use]
    pub fn server(&self, beside: Team, serving: Team, player: u32) -> Option<&str> {
        let named = (!self.is_singles).then(|| self.player(serving, player));
        match named.flatten() {
            None if serving == beside => None,
            None => Some(&self.teams[serving]),
            named => named,
        }
    }
}

fn teams(header: &MatchHeader, language: &Language) -> PerTeam<String> {
    let a = of_sheet(&header.team_a, language);
    let b = of_sheet(&header.team_b, language);
    let fallback = PerTeam {
        a: (language.nameless)(Team::A).to_owned(),
        b: (language.nameless)(Team::B).to_owned(),
    };
    match (a, b) {
        (Some(a), Some(b)) if a == b => fallback,
        (a, b) => PerTeam {
            a: a.unwrap_or(fallback.a),
            b: b.unwrap_or(fallback.b),
        },
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

/// Nobody is named whose name is too long, or is another player's too.
fn players(header: &MatchHeader, team: Team) -> Vec<Option<String>> {
    let everybody: Vec<String> = [&header.team_a, &header.team_b]
        .into_iter()
        .flat_map(|sheet| &sheet.players)
        .map(|player| tidied(player))
        .collect();
    let sheet = match team {
        Team::A => &header.team_a,
        Team::B => &header.team_b,
    };
    let names = sheet.players.iter().map(|player| tidied(player));
    names
        .map(|name| {
            let alike = everybody.iter().filter(|other| **other == name).count();
            (alike == 1 && is_short(&name)).then_some(name)
        })
        .collect()
}

/// The parts as one would say them.
fn joined<'a>(parts: impl Iterator<Item = &'a str>, language: &Language) -> String {
    let spoken: Vec<String> = parts.map(tidied).filter(|part| !part.is_empty()).collect();
    spoken.join(&format!(" {} ", language.and))
}

/// Blanks made single.
fn tidied(name: &str) -> String {
    name.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn is_short(name: &str) -> bool {
    let words = name.split_whitespace().count();
    (1..=NAME_WORDS).contains(&words) && name.chars().count() <= NAME_CHARACTERS
}
