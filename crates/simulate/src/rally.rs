//! One rally, as it is really played: who strikes what, how the ball is met,
//! where the teams stand, how long it takes, how it ends.
//!
//! A model of the game as the trade tells it. The returning team stands at the
//! kitchen line while the serving team still has to get there; a soft ball that
//! is allowed to bounce lets a team come forward, a firm one keeps it away; at
//! the line soft exchanges go on until a ball sits up or somebody loses
//! patience; then hands decide. All probabilities are ours, tuned until rally
//! lengths and tempo lie near the published figures (`timing.rs`); no source
//! gives them.
//!
//! Invariants: the teams strike in turn; every rally ends; strokes and contacts
//! fit each other and the two-bounce rule. Knows nothing of charts, scores or
//! charters.

mod choice;
mod ending;
mod execution;
mod situation;
mod timing;
mod under_way;

use rallytide_chart::{Contact, Cue, CueSet, Depth, PairOf, Stroke, Team};

pub(crate) use ending::Ending;
pub(crate) use under_way::{PlayedShot, RallyOpening};

use crate::dice::Dice;
use crate::sides::Side;
use execution::ShotOutcome;
use situation::{Ball, Situation};
use under_way::RallyInPlay;

/// A rally that was played to its end.
#[derive(Debug, Clone)]
pub(crate) struct PlayedRally {
    /// At least the serve.
    pub(crate) shots: Vec<PlayedShot>,
    pub(crate) ending: Ending,
    /// From the last shot until the ball was dead, in milliseconds.
    pub(crate) dead_after: i64,
}

/// Plays a rally.
pub(crate) fn play_rally(
    opening: &RallyOpening,
    sides: &PairOf<Side>,
    dice: &mut Dice,
) -> PlayedRally {
    let mut rally = RallyInPlay {
        opening,
        sides,
        dice,
        depths: PairOf {
            a: Depth::Back,
            b: Depth::Back,
        },
        shots: Vec::new(),
    };
    let mut striker = opening.serving;
    let mut ball = None;
    loop {
        let outcome = rally.strike(striker, ball.as_ref());
        match outcome {
            ShotOutcome::InPlay(sent) => ball = Some(sent),
            ShotOutcome::Over(ending) => {
                let dead_after = rally.dead_after(ending);
                return PlayedRally {
                    shots: rally.shots,
                    ending,
                    dead_after,
                };
            }
        }
        striker = striker.other();
    }
}

impl RallyInPlay<'_> {
    /// `striker` plays the ball that comes, `None` before the serve.
    fn strike(&mut self, striker: Team, coming: Option<&Ball>) -> ShotOutcome {
        let number = self.shots.len() + 1;
        let situation = Situation::new(number, coming, *self.depths.of(striker));
        let contact = self.meet(situation, coming);
        self.move_as_met(striker, coming, contact);
        let stroke = self.choose(striker, situation, contact, coming);
        let since_last = self.flight(coming, contact);
        self.move_with(striker, stroke);
        let pressure = self.pressure(striker, situation, contact, coming);
        let mut shot = PlayedShot {
            team: striker,
            player: self.player(striker, number),
            stroke,
            contact,
            cues: self.body_cues(number, pressure),
            since_last,
            depths: self.depths,
        };
        let outcome = self.execute(&shot, situation, pressure);
        if let ShotOutcome::InPlay(sent) = &outcome {
            if sent.sits_up {
                shot.cues = shot.cues.with(Cue::Attackable);
            }
            if sent.touched_net {
                shot.cues = shot.cues.with(Cue::NetCord);
            }
        }
        self.shots.push(shot);
        outcome
    }

    /// The serve and the return are the business of two known players; after
    /// that the ball goes back to whoever covers the court it came to.
    fn player(&mut self, striker: Team, number: usize) -> u32 {
        match number {
            _ if self.is_singles() => 0,
            1 => self.opening.server,
            2 => self.opening.receiver,
            _ => {
                let last = self.shots.iter().rev().find(|shot| shot.team == striker);
                let last = last.map_or(0, |shot| shot.player);
                let other = self.dice.chance(0.45);
                if other { 1 - last } else { last }
            }
        }
    }

    /// Where teams move until the ball is met.
    fn move_as_met(&mut self, striker: Team, coming: Option<&Ball>, contact: Option<Contact>) {
        let Some(ball) = coming else { return };
        let bounced = contact != Some(Contact::Air);
        let senders = striker.other();
        match ball.stroke {
            Stroke::Drop | Stroke::Reset if *self.depths.of(senders) != Depth::Line => {
                let reached = bounced && !ball.sits_up;
                *self.depths.of_mut(senders) = if reached {
                    Depth::Line
                } else {
                    Depth::Transition
                };
            }
            Stroke::Lob if bounced => {
                *self.depths.of_mut(striker) = Depth::Back;
                *self.depths.of_mut(senders) = Depth::Line;
            }
            Stroke::Lob if !ball.sits_up => *self.depths.of_mut(striker) = Depth::Transition,
            Stroke::Drive if *self.depths.of(senders) == Depth::Back && self.dice.chance(0.75) => {
                *self.depths.of_mut(senders) = Depth::Transition;
            }
            _ => {}
        }
    }

    /// Where the striker moves with the shot.
    fn move_with(&mut self, striker: Team, stroke: Stroke) {
        let depth = *self.depths.of(striker);
        let forward = match stroke {
            Stroke::Return | Stroke::Dink => true,
            Stroke::Volley | Stroke::Block | Stroke::Overhead => {
                depth == Depth::Transition && self.dice.chance(0.3)
            }
            _ => false,
        };
        if forward {
            *self.depths.of_mut(striker) = Depth::Line;
        }
    }

    /// What the ball does to the body that has to reach it.
    fn body_cues(&mut self, number: usize, pressure: f64) -> CueSet {
        let mut cues = CueSet::default();
        if number > 1 && self.dice.chance(0.52 * pressure) {
            cues = cues.with(Cue::OffBalance);
        } else if number > 1 && self.dice.chance(0.38 * pressure) {
            cues = cues.with(Cue::Awkward);
        }
        cues
    }
}

impl PlayedRally {
    /// From the serve until the ball is dead, in milliseconds.
    pub(crate) fn duration(&self) -> i64 {
        let shots: i64 = self.shots.iter().map(|shot| shot.since_last).sum();
        shots + self.dead_after
    }
}
