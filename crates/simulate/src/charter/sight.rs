//! What a charter sees of a rally and when it is typed, without slips.
//!
//! Reaction times are ours. A key follows its shot by about a quarter of a
//! second, a cue by about two thirds: in a fast exchange the next shots are typed
//! by then, so the cue names the shot it is about.

use rallytide_chart::{Cue, CueSet, Depth, Discipline, PairOf, Shot, Team, implied_contact};

use super::SimulatedCharter;
use super::drafts::{Draft, DraftContent};
use crate::plan::Mistakes;
use crate::rally::{PlayedRally, PlayedShot};

/// The shots before the end that a charter of ends and cues looks back at.
const LAST_EXCHANGE: usize = 4;

impl SimulatedCharter {
    /// Every shot of the rally with cues and depths.
    pub(super) fn sees_every_shot(&mut self, started: i64, rally: &PlayedRally) -> Vec<Draft> {
        let mut drafts = Vec::new();
        let mut struck = started;
        let mut told = PairOf::<Option<(Depth, Option<u32>)>>::default();
        for (place, played) in rally.shots.iter().enumerate() {
            struck += self.tempo.of_shots(played.since_last);
            let inline = self.dice.chance(0.2);
            let cues = self.seen_cues(played);
            let shot =
                self.shot_as_seen(place, played, if inline { cues } else { CueSet::default() });
            let typed = struck + self.reaction(240.0, 90.0);
            drafts.push(Draft {
                at: typed,
                what: DraftContent::Shot { place, shot },
            });
            if !inline {
                for cue in cues.iter() {
                    let at = typed + self.reaction(430.0, 250.0);
                    let what = DraftContent::Cue { place, cue };
                    drafts.push(Draft { at, what });
                }
            }
            self.sees_depths(typed, played, &mut told, &mut drafts);
        }
        drafts
    }

    /// The shots of the last exchange that earned a cue, and the last shot.
    pub(super) fn sees_last_exchange(&mut self, started: i64, rally: &PlayedRally) -> Vec<Draft> {
        let last = rally.shots.len() - 1;
        let from = rally.shots.len().saturating_sub(LAST_EXCHANGE);
        let mut struck = started;
        let mut drafts = Vec::new();
        for (place, played) in rally.shots.iter().enumerate() {
            struck += self.tempo.of_shots(played.since_last);
            let cues = self.seen_cues(played);
            let worth_it = place == last || (place >= from && cues != CueSet::default());
            if worth_it && last > 0 {
                let shot = self.shot_as_seen(place, played, cues);
                let at = struck + self.reaction(500.0, 250.0);
                let what = DraftContent::Shot { place, shot };
                drafts.push(Draft { at, what });
            }
        }
        drafts
    }

    /// A time for thinking and typing during play.
    pub(super) fn reaction(&mut self, mean: f64, spread: f64) -> i64 {
        let delay = self.dice.milliseconds(mean, spread);
        self.tempo.of_shots(delay)
    }

    fn seen_cues(&mut self, played: &PlayedShot) -> CueSet {
        let never_errs = self.mistakes == Mistakes::None;
        let cues: Vec<Cue> = played.cues.iter().collect();
        let seen = cues
            .into_iter()
            .filter(|_| self.dice.chance(0.93) || never_errs);
        seen.collect()
    }

    /// The shot as it is typed: the contact only where it does not go without
    /// saying, the player as often as the plan says.
    fn shot_as_seen(&mut self, place: usize, played: &PlayedShot, cues: CueSet) -> Shot {
        let number = u32::try_from(place + 1).unwrap_or(u32::MAX);
        let noticed = self.dice.chance(0.9) || self.mistakes == Mistakes::None;
        let implied = implied_contact(played.stroke, number);
        let named = self.names_player(0.08);
        Shot {
            team: played.team,
            stroke: played.stroke,
            contact: played
                .contact
                .filter(|contact| noticed && implied != Some(*contact)),
            player: (named && place > 1).then_some(played.player),
            cues,
        }
    }

    /// Now and then a charter says where a team stands that is caught on the way;
    /// once said, it is mostly kept up to date.
    fn sees_depths(
        &mut self,
        typed: i64,
        shot: &PlayedShot,
        told: &mut PairOf<Option<(Depth, Option<u32>)>>,
        drafts: &mut Vec<Draft>,
    ) {
        for team in Team::ALL {
            let depth = *shot.depths.of(*team);
            let (now, player) = if let Some((last, player)) = *told.of(*team) {
                (last != depth && self.dice.chance(0.85), player)
            } else {
                let caught = depth == Depth::Transition && self.dice.chance(0.16);
                (caught, self.one_left_behind())
            };
            if now {
                // At the line they are together again; said of one player only,
                // the partner would be taken for left behind.
                let player = player.filter(|_| depth != Depth::Line);
                *told.of_mut(*team) = Some((depth, player));
                let at = typed + self.reaction(350.0, 200.0);
                let team = *team;
                let what = DraftContent::Depth {
                    team,
                    depth,
                    player,
                };
                drafts.push(Draft { at, what });
            }
        }
    }

    fn one_left_behind(&mut self) -> Option<u32> {
        let one = self.dice.chance(0.12);
        let player = self.dice.one_of(&[0, 1]);
        (one && self.discipline == Discipline::Doubles).then_some(player)
    }
}
