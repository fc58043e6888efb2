//! The chances at one score, from those at the two scores that the next point
//! leads to.
//!
//! At a score the serve can go round without a point, so its states lead to each
//! other; the circle is closed in closed form. Plain arithmetic only (`+ − × ÷`),
//! so the numbers are the same on every machine.

use rallytide_plugin_kit::{PerTeam, Team};

use crate::format::{GameState, Service};

/// Two teams that both win less often than this when they serve would play for
/// ever: they are taken to win this often, both the same.
const SELDOM: f64 = 1e-9;

/// Team a's chances at one score: a serves first and second, b serves first and
/// second. Where a turn has one server the seconds are 0 and mean nothing.
pub(crate) type Cell = [f64; 4];

/// A game that a has won, or b.
pub(crate) const WON: Cell = [1.0; 4];
/// See [`WON`].
pub(crate) const LOST: Cell = [0.0; 4];

/// The place of a state in its [`Cell`].
pub(crate) fn place(state: GameState) -> usize {
    let team = match state.serving {
        Team::A => 0,
        Team::B => 2,
    };
    team + usize::from(state.second)
}

/// Which team's next point would win the game.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct OnePointShort {
    pub(crate) a: bool,
    pub(crate) b: bool,
}

/// Serving and scoring with the probabilities that the rallies have.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Serves {
    service: Service,
    /// How often each team wins a rally it serves, and loses it.
    win: PerTeam<f64>,
    lose: PerTeam<f64>,
    /// One over the probability that the serve does not go round one server a
    /// team, and two, without a point on the serve.
    one_ends: f64,
    two_end: f64,
}

impl Serves {
    pub(crate) fn new(service: Service, win: PerTeam<f64>) -> Self {
        let win = if win.a < SELDOM && win.b < SELDOM {
            PerTeam {
                a: SELDOM,
                b: SELDOM,
            }
        } else {
            win
        };
        let lose = PerTeam {
            a: 1.0 - win.a,
            b: 1.0 - win.b,
        };
        let round = lose.a * lose.b;
        // 1 − round, without the loss of digits.
        let ends = win.a + lose.a * win.b;
        Self {
            service,
            win,
            lose,
            one_ends: 1.0 / ends,
            two_end: 1.0 / (ends * (1.0 + round)),
        }
    }

    /// The chances at a score, given those where a has a point more (`up`) and
    /// where b has (`down`).
    #[inline]
    pub(crate) fn cell(&self, up: &Cell, down: &Cell, short: OnePointShort) -> Cell {
        let PerTeam { a: pa, b: pb } = self.win;
        let PerTeam { a: qa, b: qb } = self.lose;
        match self.service {
            Service::TwoServers => {
                let (a1, a2) = (pa * up[0], pa * up[1]);
                let (b1, b2) = (pb * down[2], pb * down[3]);
                let a1 = (a1 + qa * (a2 + qa * (b1 + qb * b2))) * self.two_end;
                let b2 = b2 + qb * a1;
                let b1 = b1 + qb * b2;
                [a1, a2 + qa * b1, b1, b2]
            }
            Service::OneServer => {
                let a = (pa * up[0] + qa * pb * down[2]) * self.one_ends;
                [a, 0.0, pb * down[2] + qb * a, 0.0]
            }
            Service::EveryRally => {
                let a = pa * up[0] + qa * down[2];
                [a, 0.0, pb * down[2] + qb * up[0], 0.0]
            }
            Service::ServedOut => {
                let (a, b) = (pa * up[0], pb * down[2]);
                let (a, b) = match (short.a, short.b) {
                    (false, false) => (a + qa * down[2], b + qb * up[0]),
                    (true, false) => {
                        let a = a + qa * down[2];
                        (a, b + qb * a)
                    }
                    (false, true) => {
                        let b = b + qb * up[0];
                        (a + qa * b, b)
                    }
                    (true, true) => {
                        let a = (a + qa * b) * self.one_ends;
                        (a, b + qb * a)
                    }
                };
                [a, 0.0, b, 0.0]
            }
        }
    }
}
