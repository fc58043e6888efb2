//! How a game has gone so far, by its score alone: who was ahead or behind by how
//! much, who scored in a row, who reached and who saved game points.
//!
//! Invariant: of what was before the referee set the score nothing is told, and no
//! run goes through a score that was not made by a rally.

use rallytide_plugin_kit::{Pair, PerTeam, Score, Team};

use crate::lines::OfTeam;

/// The course of one game.
#[derive(Debug, Clone, Default)]
pub struct GameCourse {
    of: PerTeam<OfOneTeam>,
    /// The points at which the teams were level last.
    level: u32,
    was_caught: bool,
    is_unknown: bool,
}

#[derive(Debug, Clone, Copy, Default)]
struct OfOneTeam {
    points: u32,
    /// The latest score at the deepest deficit, the team's own points first.
    low: (u32, u32),
    /// The score at the greatest lead since the teams were level.
    high: (u32, u32),
    /// The score at the greatest lead that the others have made up.
    slipped: (u32, u32),
    /// The score at which the team's points in a row began.
    run_from: (u32, u32),
    /// The points that the team had when something else than a rally changed the
    /// score.
    floor: u32,
    reached: u32,
    saved: u32,
    /// Of the whole match.
    match_points_saved: u32,
}

impl OfOneTeam {
    fn moves(&mut self, own: u32, others: u32, others_before: u32) {
        let deficit = others.saturating_sub(own);
        if deficit > 0 && deficit >= self.low.1 - self.low.0 {
            self.low = (own, others);
        }
        let lead = own.saturating_sub(others);
        if lead > 0 && lead >= self.high.0 - self.high.1 {
            self.high = (own, others);
        }
        if others != others_before || own < self.points {
            self.run_from = (own, others);
        }
        self.points = own;
    }

    fn is_caught(&mut self) {
        if self.high.0 - self.high.1 >= self.slipped.0 - self.slipped.1 {
            self.slipped = self.high;
        }
        self.high = (0, 0);
    }

    /// What was before this score tells nothing of how it came about.
    fn begins_anew(&mut self, own: u32, others: u32) {
        self.run_from = (own, others);
        self.floor = own;
    }
}

impl GameCourse {
    /// The points of the game after an entry.
    pub fn points(&mut self, points: Pair) {
        let before = Pair {
            a: self.of.a.points,
            b: self.of.b.points,
        };
        for team in Team::BOTH {
            let others = team.other();
            self.of[team].moves(points.of(team), points.of(others), before.of(others));
        }
        if points.a == points.b {
            self.level = points.a;
            self.was_caught |= points != before;
            self.of.a.is_caught();
            self.of.b.is_caught();
        }
    }

    /// The points after an entry that is no rally's end: no run goes through it.
    pub fn points_given(&mut self, points: Pair) {
        self.points(points);
        for team in Team::BOTH {
            self.of[team].begins_anew(points.of(team), points.of(team.other()));
        }
    }

    /// The referee has set the score: leads and deficits count from here.
    pub fn lose(&mut self, points: Pair) {
        self.is_unknown = true;
        for team in Team::BOTH {
            let course = &mut self.of[team];
            course.low = (0, 0);
            course.high = (0, 0);
            course.slipped = (0, 0);
        }
        self.points_given(points);
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

    /// The score at the greatest lead that a team has let slip, its own points
    /// first; 0–0 where there was none.
    #[must_use]
    pub fn slipped(&self, team: Team) -> (u32, u32) {
        self.of[team].slipped
    }

    /// The score at which the team's latest points in a row began, its own first.
    #[must_use]
    pub fn run_from(&self, team: Team) -> (u32, u32) {
        self.of[team].run_from
    }

    /// Whether all points of a run are seen in the score of this game.
    #[must_use]
    pub fn shows_run(&self, team: Team, run: u32, own: u32) -> bool {
        self.of[team].floor + run <= own
    }

    /// The points at which the teams were level last.
    #[must_use]
    pub fn level(&self) -> u32 {
        self.level
    }

    /// Whether the teams have been level since the start, at 0–0 again, too.
    #[must_use]
    pub fn was_caught(&self) -> bool {
        self.was_caught
    }
}

/// Whether a game, or the match, has ended between two scores.
#[must_use]
pub fn has_ended(before: &Score, after: &Score) -> bool {
    after.finished.len() > before.finished.len()
        || (after.winner.is_some() && before.winner.is_none())
}
