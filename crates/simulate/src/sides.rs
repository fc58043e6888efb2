//! How good a team is at what, and what it likes to play.
//!
//! The differences are small and drawn from the seed: two teams that meet in a
//! match are of slightly different strength, and each has good and bad games.

use rallytide_chart::{PairOf, Stroke, Team};

use crate::dice::Dice;

/// A team: its skills around 0 (better is greater, 1 is outstanding) and its
/// tastes around 1 (how much more often than usual it plays something).
#[derive(Debug, Clone, Copy)]
pub(crate) struct Side {
    serve: f64,
    soft: f64,
    hands: f64,
    attack: f64,
    /// The shape of the day, renewed each game.
    form: f64,
    /// Likes to drive the third shot.
    pub(crate) drives: f64,
    /// Likes to lob.
    pub(crate) lobs: f64,
    /// Likes to speed up balls that do not sit up.
    pub(crate) speedups: f64,
}

/// Two sides, one of them slightly stronger.
pub(crate) fn two_sides(dice: &mut Dice) -> PairOf<Side> {
    let difference = dice.around(0.0, 0.5);
    let mut side = |strength: f64| Side {
        serve: dice.around(strength, 0.5),
        soft: dice.around(strength, 0.5),
        hands: dice.around(strength, 0.5),
        attack: dice.around(strength, 0.5),
        form: 0.0,
        drives: dice.around(1.0, 0.6),
        lobs: dice.around(1.0, 0.8),
        speedups: dice.around(1.0, 0.6),
    };
    PairOf {
        a: side(difference),
        b: side(-difference),
    }
}

/// A new game, a new form.
pub(crate) fn renew_form(sides: &mut PairOf<Side>, dice: &mut Dice) {
    for team in Team::ALL {
        sides.of_mut(*team).form = dice.around(0.0, 0.6);
    }
}

impl Side {
    /// How well the team plays `stroke` today; around 0.
    pub(crate) fn skill(&self, stroke: Stroke) -> f64 {
        let own = match stroke {
            Stroke::Serve | Stroke::Return => self.serve,
            Stroke::Drop | Stroke::Dink | Stroke::Reset | Stroke::Lob => self.soft,
            Stroke::Volley | Stroke::Block | Stroke::Speedup => self.hands,
            Stroke::Drive | Stroke::Overhead | Stroke::Erne | Stroke::Atp | Stroke::Other => {
                self.attack
            }
        };
        own + self.form
    }
}
