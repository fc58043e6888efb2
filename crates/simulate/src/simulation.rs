//! The match from the first call to the last: rally, pause, rally, until the
//! scoring says that it is over.
//!
//! The scoring decides who serves and when the match ends; it sees what really
//! happened, which is what the effective chart says in the end, whatever the
//! charter got wrong in between.

use std::collections::VecDeque;

use rallytide_chart::{Discipline, PairOf, Play, RallyEnd};
use rallytide_scoring::ScoreKeeper;

use crate::charter::SimulatedCharter;
use crate::dice::{Dice, Stream};
use crate::interlude::{JustPlayed, MatchSoFar};
use crate::names;
use crate::plan::{Plan, PlanError};
use crate::rally::{PlayedRally, RallyOpening, play_rally};
use crate::sides::{Side, renew_form, two_sides};

/// All lines of the chart of a made-up match, the header first, without line
/// ends.
///
/// # Errors
/// [`PlanError`] where the plan makes no valid header, for example a format with
/// four games.
pub fn simulate(plan: &Plan) -> Result<Vec<String>, PlanError> {
    Ok(Simulation::new(plan)?.collect())
}

/// A match being played and charted, line by line: the header, then the entries
/// in the order in which a charter records them.
#[derive(Debug, Clone)]
pub struct Simulation {
    plan: Plan,
    discipline: Discipline,
    scoring: ScoreKeeper,
    sides: PairOf<Side>,
    play_dice: Dice,
    interlude_dice: Dice,
    memory: MatchSoFar,
    charter: SimulatedCharter,
    /// Now, in milliseconds since 1970.
    clock: i64,
    /// The scoring before the last counted rally, and who won it.
    last_rally: Option<(ScoreKeeper, RallyEnd)>,
    ready: VecDeque<String>,
}

impl Simulation {
    /// The match that `plan` describes.
    ///
    /// # Errors
    /// As [`simulate`].
    pub fn new(plan: &Plan) -> Result<Self, PlanError> {
        let mut billing_dice = Dice::new(plan.seed, Stream::Billing);
        let (json, header) = names::header(plan, &mut billing_dice)?;
        let discipline = header.format.discipline;
        let mut sides = two_sides(&mut billing_dice);
        let mut play_dice = Dice::new(plan.seed, Stream::Play);
        renew_form(&mut sides, &mut play_dice);
        Ok(Self {
            plan: plan.clone(),
            discipline,
            scoring: ScoreKeeper::new(&header),
            sides,
            play_dice,
            interlude_dice: Dice::new(plan.seed, Stream::Interlude),
            memory: MatchSoFar::new(plan.incidents, discipline == Discipline::Doubles),
            charter: SimulatedCharter::new(plan, discipline),
            clock: plan.start.milliseconds(),
            last_rally: None,
            ready: VecDeque::from([serde_json::Value::Object(json).to_string()]),
        })
    }

    fn go_on(&mut self) {
        self.between_rallies();
        if !self.scoring.score().is_over() {
            self.rally();
        }
        self.ready.extend(self.charter.take_lines());
    }

    fn between_rallies(&mut self) {
        let played = self.last_rally.take();
        let just_played = played.as_ref().map(|(before, end)| JustPlayed {
            before,
            winner: end.winner,
        });
        if just_played
            .as_ref()
            .is_some_and(|played| played.before.score().game != self.scoring.score().game)
        {
            renew_form(&mut self.sides, &mut self.play_dice);
        }
        let interlude = self.memory.interlude(
            &self.scoring,
            just_played.as_ref(),
            &mut self.interlude_dice,
        );
        for (wait, play) in interlude.events {
            self.clock += self.plan.tempo.of_pauses(wait);
            self.scoring.step(&play);
            self.charter.records(self.clock, &play);
        }
        self.clock += self.plan.tempo.of_pauses(interlude.until_serve);
    }

    fn rally(&mut self) {
        let score = self.scoring.score();
        let opening = RallyOpening {
            discipline: self.discipline,
            serving: score.serving,
            server: score.server_player,
            receiver: score.receiver_player,
        };
        let mut rally = play_rally(&opening, &self.sides, &mut self.play_dice);
        let started = self.clock;
        if self.memory.is_broken_off(&mut self.interlude_dice) {
            let shots = self.break_off(&mut rally);
            self.charter.records_broken_off(started, &rally);
            self.clock += shots + self.plan.tempo.of_pauses(2_000);
            self.scoring.step(&Play::Replay);
            return;
        }
        self.clock += self.plan.tempo.of_shots(rally.duration());
        let before = self.scoring.clone();
        let end = RallyEnd {
            winner: rally.ending.winner(),
            how: Some(rally.ending.how),
            by: Some(rally.ending.by),
            player: Some(rally.ending.player),
            fault: rally.ending.fault,
        };
        let decides = before.score().match_point.is_some();
        self.scoring.step(&Play::RallyEnd(end));
        self.charter.records_rally(started, &rally, decides);
        self.last_rally = Some((before, end));
    }

    /// Cuts the rally after some of its shots; gives how long it lasted.
    fn break_off(&mut self, rally: &mut PlayedRally) -> i64 {
        let share = self.interlude_dice.around(0.5, 0.5);
        let kept = (rally.shots.len() as f64 * share) as usize;
        rally.shots.truncate(kept.max(1));
        rally.dead_after = 600;
        self.plan.tempo.of_shots(rally.duration())
    }
}

impl Iterator for Simulation {
    type Item = String;

    fn next(&mut self) -> Option<String> {
        while self.ready.is_empty() && !self.scoring.score().is_over() {
            self.go_on();
        }
        self.ready.pop_front()
    }
}
