//! The chance to win a game from every state of it, by solving the chain.
//!
//! From the highest scores down, each score follows from the two above it
//! (the module `serve`). Where a lead of two is needed, the scores from one
//! short of the game on both sides repeat for ever: that circle is a system of
//! four linear equations. Nothing is simulated and nothing is cut off.

use rallytide_plugin_kit::{PerTeam, Team};

use crate::format::{GameFormat, GameState, Lead, Next};
use crate::serve::{Cell, LOST, OnePointShort, Serves, WON, place};

/// Team a's chance to win a game from each state.
#[derive(Debug, Clone)]
pub struct GameChances {
    format: GameFormat,
    serves: Serves,
    /// By team a's points, then team b's, each below the points of the game.
    cells: Vec<Cell>,
}

impl GameChances {
    /// Solves a game in which each team wins a rally it serves with the
    /// probability in `serve`, from 0 to 1.
    ///
    /// Two teams that never win on their serve have no chances: they are taken
    /// to win very seldom, both the same.
    #[must_use]
    pub fn solve(format: GameFormat, serve: PerTeam<f64>) -> Self {
        let serves = Serves::new(format.service, serve);
        let width = format.points as usize;
        let last = width - 1;
        let mut cells = vec![LOST; width * width];
        for a in (0..width).rev() {
            for b in (0..width).rev() {
                let place = a * width + b;
                let short = OnePointShort {
                    a: a == last,
                    b: b == last,
                };
                if short.a && short.b && format.lead == Lead::Two {
                    cells[place] = tie(&serves);
                    continue;
                }
                let up = if short.a { WON } else { cells[place + width] };
                let down = if short.b { LOST } else { cells[place + 1] };
                cells[place] = serves.cell(&up, &down, short);
            }
        }
        Self {
            format,
            serves,
            cells,
        }
    }

    /// Team a's chance from `state`, whatever its points: beyond those of the
    /// game only the difference matters.
    #[must_use]
    pub fn of(&self, state: GameState) -> f64 {
        let width = self.format.points;
        let cell = if state.a < width && state.b < width {
            self.cells[(state.a * width + state.b) as usize]
        } else if state.a >= state.b {
            self.ahead(Team::A, state.a - state.b)
        } else {
            self.ahead(Team::B, state.b - state.a)
        };
        cell[place(state)].clamp(0.0, 1.0)
    }

    /// Team a's chance after `next`.
    #[must_use]
    pub fn after(&self, next: Next) -> f64 {
        match next {
            Next::Won(Team::A) => 1.0,
            Next::Won(Team::B) => 0.0,
            Next::Goes(state) => self.of(state),
        }
    }

    /// The chances where `team` has the points of the game and is so far ahead
    /// without having won: by less than is needed, or because a penalty took
    /// points off the others, which ends nothing. Its next point wins; the others
    /// have to draw level.
    fn ahead(&self, team: Team, points: u32) -> Cell {
        let level = self.cells[self.cells.len() - 1];
        (0..points).fold(level, |behind, _| one_further(&self.serves, team, &behind))
    }
}

/// The chances where `team` would win by its next point, given those where the
/// others have one point more.
fn one_further(serves: &Serves, team: Team, behind: &Cell) -> Cell {
    match team {
        Team::A => serves.cell(&WON, behind, OnePointShort { a: true, b: false }),
        Team::B => serves.cell(behind, &LOST, OnePointShort { a: false, b: true }),
    }
}

/// The chances where both teams are one short of a game that needs a lead of
/// two.
///
/// With `level` for them and `f` for the step from two scores to the one before,
/// `level = f(a ahead, b ahead)`, and each of those leads back to `level` or ends
/// the game. All steps are linear: what `level` has of itself is found by
/// handing in one unit after the other.
fn tie(serves: &Serves) -> Cell {
    let from_ahead = |a: &Cell, b: &Cell| serves.cell(a, b, OnePointShort::default());
    let won_at_once = from_ahead(&one_further(serves, Team::A, &LOST), &LOST);
    let mut rows = [[0.0; 5]; 4];
    for column in 0..4 {
        let mut unit = LOST;
        unit[column] = 1.0;
        let a_short = OnePointShort { a: true, b: false };
        let back_from_a = serves.cell(&LOST, &unit, a_short);
        let back_from_b = one_further(serves, Team::B, &unit);
        let part = from_ahead(&back_from_a, &back_from_b);
        for row in 0..4 {
            rows[row][column] = unit[row] - part[row];
        }
    }
    for row in 0..4 {
        rows[row][4] = won_at_once[row];
    }
    solve(rows)
}

/// Solves four equations by elimination. No pivot is looked for: what is taken
/// off the diagonal are probabilities of coming back, and the rest of a row is
/// never larger than what stays.
fn solve(mut rows: [[f64; 5]; 4]) -> Cell {
    for column in 0..4 {
        let pivot = rows[column];
        for row in rows.iter_mut().skip(column + 1) {
            let factor = row[column] / pivot[column];
            for (value, above) in row.iter_mut().zip(pivot).skip(column) {
                *value -= factor * above;
            }
        }
    }
    let mut solution = LOST;
    for row in (0..4).rev() {
        let known: f64 = (row + 1..4)
            .map(|column| rows[row][column] * solution[column])
            .sum();
        solution[row] = (rows[row][4] - known) / rows[row][row];
    }
    solution
}
