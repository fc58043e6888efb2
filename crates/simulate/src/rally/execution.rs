//! What becomes of a shot: an error, a winner, or a ball the others have to
//! play, easy or hard.
//!
//! The odds of each stroke are ours, as in `choice.rs`.

use rallytide_chart::{Cue, Depth, Stroke};

use super::ending::Ending;
use super::situation::{Ball, Pace, Situation};
use super::under_way::{PlayedShot, RallyInPlay};

/// What a shot led to.
#[derive(Debug, Clone, Copy)]
pub(super) enum ShotOutcome {
    InPlay(Ball),
    Over(Ending),
}

/// How a stroke fares when it is played without pressure, by an average team,
/// against a team at the line.
struct Odds {
    error: f64,
    winner: f64,
    sits_up: f64,
    /// How hard the ball is to play.
    trouble: f64,
    pace: Pace,
}

const fn odds(stroke: Stroke) -> Odds {
    const fn row(error: f64, winner: f64, sits_up: f64, trouble: f64, pace: Pace) -> Odds {
        Odds {
            error,
            winner,
            sits_up,
            trouble,
            pace,
        }
    }
    match stroke {
        Stroke::Serve => row(0.032, 0.006, 0.0, 0.15, Pace::Firm),
        Stroke::Return => row(0.022, 0.002, 0.02, 0.2, Pace::Firm),
        Stroke::Drop => row(0.05, 0.004, 0.17, 0.14, Pace::Soft),
        Stroke::Drive => row(0.088, 0.026, 0.08, 0.4, Pace::Fast),
        Stroke::Dink => row(0.036, 0.005, 0.085, 0.19, Pace::Soft),
        Stroke::Lob => row(0.09, 0.06, 0.3, 0.45, Pace::Lofted),
        Stroke::Reset => row(0.07, 0.002, 0.19, 0.1, Pace::Soft),
        Stroke::Volley => row(0.078, 0.062, 0.08, 0.44, Pace::Fast),
        Stroke::Block => row(0.072, 0.015, 0.19, 0.15, Pace::Firm),
        Stroke::Speedup => row(0.09, 0.085, 0.1, 0.5, Pace::Fast),
        Stroke::Overhead => row(0.06, 0.3, 0.05, 0.65, Pace::Fast),
        Stroke::Erne => row(0.08, 0.5, 0.05, 0.7, Pace::Fast),
        Stroke::Atp => row(0.14, 0.6, 0.05, 0.7, Pace::Fast),
        Stroke::Other => row(0.15, 0.03, 0.2, 0.2, Pace::Firm),
    }
}

/// Legs tire: from this shot of a rally on errors become more likely.
const LONG_RALLY: usize = 30;

/// What bends the odds of one shot.
struct Effort {
    odds: Odds,
    skill: f64,
    pressure: f64,
    /// The ball sat up.
    easy: bool,
    /// Off balance or cramped.
    caught: bool,
}

impl Effort {
    /// Bends a probability of something that should not happen.
    fn mishap(&self, probability: f64) -> f64 {
        let clumsy = if self.caught { 1.7 } else { 1.0 };
        probability * (0.52 + 1.4 * self.pressure) * (1.0 - 0.3 * self.skill).max(0.4) * clumsy
    }
}

impl RallyInPlay<'_> {
    /// Plays out `shot`, which is not yet among the rally's shots.
    pub(super) fn execute(
        &mut self,
        shot: &PlayedShot,
        situation: Situation,
        pressure: f64,
    ) -> ShotOutcome {
        let effort = Effort {
            odds: odds(shot.stroke),
            skill: self.sides.of(shot.team).skill(shot.stroke),
            pressure,
            easy: situation == Situation::Sitter,
            caught: is_caught(shot),
        };
        let tired = 1.0 + self.shots.len().saturating_sub(LONG_RALLY) as f64 / 30.0;
        let forgiving = if effort.easy { 0.55 } else { 1.0 };
        let error =
            effort.mishap(effort.odds.error) * tired * forgiving * self.far_from_the_ball(shot);
        if self.dice.chance(error) {
            return ShotOutcome::Over(self.error(shot));
        }
        let winner = effort.odds.winner
            * self.open_court(shot)
            * (1.0 + 0.3 * effort.skill).max(0.4)
            * (1.0 - 0.6 * pressure)
            * if effort.easy { 2.2 } else { 1.0 };
        if self.dice.chance(winner) {
            return ShotOutcome::Over(self.winner(shot));
        }
        ShotOutcome::InPlay(self.send(shot, &effort))
    }

    /// How open the court is for a winner, 1 against a doubles team at the line.
    fn open_court(&self, shot: &PlayedShot) -> f64 {
        let soft = matches!(shot.stroke, Stroke::Drop | Stroke::Dink | Stroke::Reset);
        let stand = match (soft, self.depths.of(shot.team.other())) {
            (true, Depth::Back) => 6.0,
            (true, Depth::Transition) => 2.0,
            (false, Depth::Transition) => 1.3,
            _ => 1.0,
        };
        // Whoever has just lunged is not back yet.
        let scrambling = self.shots.last().is_some_and(is_caught);
        stand * self.alone_on_the_court(shot) * if scrambling { 1.8 } else { 1.0 }
    }

    /// In singles one player covers the whole width; a passing shot by somebody
    /// who stands at the line is the hardest to reach.
    fn alone_on_the_court(&self, shot: &PlayedShot) -> f64 {
        let passing =
            shot.stroke == Stroke::Drive && *self.depths.of(shot.team.other()) == Depth::Line;
        match (self.is_singles(), passing) {
            (true, true) => 7.0,
            (true, false) => 1.3,
            (false, _) => 1.0,
        }
    }

    /// In singles every ball has to be run for, the return of a wide serve most.
    fn far_from_the_ball(&self, shot: &PlayedShot) -> f64 {
        match (self.is_singles(), shot.stroke) {
            (true, Stroke::Return) => 4.5,
            (true, Stroke::Serve) | (false, _) => 1.0,
            (true, _) => 1.65,
        }
    }

    fn send(&mut self, shot: &PlayedShot, effort: &Effort) -> Ball {
        let Effort { odds, easy, .. } = effort;
        let soft = matches!(odds.pace, Pace::Soft | Pace::Firm);
        let sits_up = self.dice.chance(effort.mishap(odds.sits_up));
        let variety = self.dice.around(1.0, 0.9);
        let trouble = if sits_up {
            0.05
        } else {
            odds.trouble
                * variety
                * if *easy {
                    1.4
                } else {
                    1.0 - 0.4 * effort.pressure
                }
        };
        let wide = if self.is_singles() { 0.06 } else { 0.0 };
        Ball {
            stroke: shot.stroke,
            // A ball that sits up is slow enough to be attacked, whatever was
            // meant.
            pace: match odds.pace {
                Pace::Fast if sits_up => Pace::Firm,
                pace => pace,
            },
            sits_up,
            touched_net: self.dice.chance(if soft { 0.014 } else { 0.006 }),
            trouble: (trouble + wide).clamp(0.0, 1.0),
        }
    }
}

fn is_caught(shot: &PlayedShot) -> bool {
    shot.cues.contains(Cue::OffBalance) || shot.cues.contains(Cue::Awkward)
}
