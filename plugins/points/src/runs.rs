//! Points in a row, told from the score before and after an entry.
//!
//! Invariant: at most one team has a run. What a run is made of is decided by
//! the caller, who says which entries can score; this file only sees gains, so a
//! point taken off changes nothing.

use rallytide_plugin_kit::{Pair, PerTeam, Score, Team};

/// What tells, from a score, the points gained since.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scored {
    points: Pair,
    games_over: usize,
}

impl Scored {
    /// Taken from this score.
    #[must_use]
    pub fn of(score: &Score) -> Self {
        Self {
            points: score.points,
            games_over: score.finished.len(),
        }
    }

    /// The points that `team` has gained from here to `after`, also where the
    /// game ended in between: its final points then stand with the games that
    /// are over, and the score is that of the next game or, after the match, the
    /// same.
    #[must_use]
    pub fn gained(self, after: &Score, team: Team) -> u32 {
        let over = after.finished.get(self.games_over);
        let points = over.copied().unwrap_or(after.points);
        points_of(points, team).saturating_sub(points_of(self.points, team))
    }
}

/// The current runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Runs(PerTeam<u32>);

impl Runs {
    /// The run of `team`.
    #[must_use]
    pub fn of(&self, team: Team) -> u32 {
        self.0[team]
    }

    /// `team` scores, which ends the run of the other.
    pub fn score(&mut self, team: Team, points: u32) {
        self.0[team] += points;
        self.0[team.other()] = 0;
    }
}

fn points_of(pair: Pair, team: Team) -> u32 {
    match team {
        Team::A => pair.a,
        Team::B => pair.b,
    }
}
