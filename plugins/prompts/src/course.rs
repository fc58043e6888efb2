//! How a game has gone so far, by its score alone: who was behind by how much,
//! who reached and who saved game points.
//!
//! Invariant: where the referee has set the score, the game's course is not known
//! and nothing is told of it.

use rallytide_plugin_kit::{Pair, PerTeam, Score, Team};

use crate::lines::OfTeam;

/// The course of one game.
#[derive(Debug, Clone, Default)]
pub struct Course {
    of: PerTeam<OfOneTeam>,
    is_unknown: bool,
}

#[derive(Debug, Clone, Copy, Default)]
struct OfOneTeam {
    /// The score at the deepest deficit, the team's own points first.
    low: (u32, u32),
    lead: u32,
    reached: u32,
    saved: u32,
    /// Of the whole match.
    match_points_saved: u32,
}

impl Course {
    /// The points of the game after an entry.
    pub fn points(&mut self, points: Pair) {
        for team in Team::BOTH {
            let (own, others) = (points.of(team), points.of(team.other()));
            let course = &mut self.of[team];
            let deficit = course.low.1 - course.low.0;
            if others.saturating_sub(own) > deficit {
                course.low = (own, others);
            }
            course.lead = course.lead.max(own.saturating_sub(others));
        }
    }

    /// The referee has set the score.
    pub fn lose(&mut self) {
        self.is_unknown = true;
    }

    /// Whether it can be told.
    #[must_use]
    pub fn is_known(&self) -> bool {
        !self.is_unknown
    }

    /// A team has come to game point.
    pub fn reaches(&mut self, team: Team) {
        self.of[team].reached += 1;
    }

    /// A team has saved a game point.
    pub fn saves(&mut self, team: Team) {
        self.of[team].saved += 1;
    }

    /// The game point was a match point.
    pub fn saves_match_point(&mut self, team: Team) {
        self.of[team].match_points_saved += 1;
    }

    /// The course of the next game, which has only begun.
    #[must_use]
    pub fn next_game(&self) -> Self {
        let mut next = Self::default();
        for team in Team::BOTH {
            next.of[team].match_points_saved = self.of[team].match_points_saved;
        }
        next
    }

    /// How often a team has come to game point.
    #[must_use]
    pub fn reached(&self, team: Team) -> u32 {
        self.of[team].reached
    }

    /// How many game points a team has saved.
    #[must_use]
    pub fn saved(&self, team: Team) -> u32 {
        self.of[team].saved
    }

    /// How many match points a team has saved, in all games.
    #[must_use]
    pub fn match_points_saved(&self, team: Team) -> u32 {
        self.of[team].match_points_saved
    }

    /// The score at a team's deepest deficit, its own points first; 0–0 where it
    /// was never behind.
    #[must_use]
    pub fn low(&self, team: Team) -> (u32, u32) {
        self.of[team].low
    }

    /// By how much a team was ahead at most.
    #[must_use]
    pub fn lead(&self, team: Team) -> u32 {
        self.of[team].lead
    }
}

/// Whether a game, or the match, has ended between two scores.
#[must_use]
pub fn has_ended(before: &Score, after: &Score) -> bool {
    after.finished.len() > before.finished.len()
        || (after.winner.is_some() && before.winner.is_none())
}
