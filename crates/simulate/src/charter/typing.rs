//! From drafts to entries: order, ids, and which entry names which.

use rallytide_chart::Shot;
use serde_json::{Map, Value, json};

use super::SimulatedCharter;
use super::drafts::{Draft, DraftContent, Mark};
use super::entries::{end_fields, fields, shot_fields};
use crate::plan::{Detail, Mistakes};
use crate::rally::{Ending, PlayedRally};

const REASONS: &[&str] = &[
    "ball from the next court",
    "ball broke",
    "player not ready",
    "light went out",
];

/// What was typed of one rally so far.
#[derive(Debug, Default)]
struct Typed {
    /// The latest id of each mark is the last with it.
    ids: Vec<(Mark, String)>,
    /// Which entry stood last when the shot at this place was typed.
    before: Vec<(usize, String)>,
    /// The latest entry that is no correction.
    last_play: Option<String>,
    /// The latest shot.
    last_shot: Option<usize>,
    /// The entry that stood last when the rally's end was typed.
    before_end: Option<String>,
}

impl SimulatedCharter {
    /// Records a rally that began at `started` and counted.
    pub(crate) fn records_rally(&mut self, started: i64, rally: &PlayedRally, decides: bool) {
        self.new_rally();
        let dead = started + self.tempo.of_shots(rally.duration());
        let ended = dead + self.reaction(900.0, 400.0);
        let mut drafts = match self.detail {
            Detail::ScoreOnly => Vec::new(),
            Detail::EndsAndCues => self.sees_last_exchange(started, rally),
            Detail::EveryShot => self.sees_every_shot(started, rally),
        };
        for draft in &mut drafts {
            draft.at = draft.at.min(ended - 1);
        }
        let named = self.names_player(0.35);
        let player = named.then_some(rally.ending.player);
        if self.mistakes == Mistakes::Lifelike {
            if self.detail == Detail::EveryShot {
                self.slip(ended, &mut drafts);
            }
            drafts.extend(self.slip_of_the_end(ended, rally.ending, player, decides));
        } else {
            let ending = rally.ending;
            let what = DraftContent::End { ending, player };
            drafts.push(Draft { at: ended, what });
        }
        self.type_out(drafts);
    }

    /// Records a rally that began at `started` and was broken off.
    pub(crate) fn records_broken_off(&mut self, started: i64, rally: &PlayedRally) {
        self.new_rally();
        let dead = started + self.tempo.of_shots(rally.duration());
        let mut drafts = match self.detail {
            Detail::EveryShot => self.sees_every_shot(started, rally),
            Detail::ScoreOnly | Detail::EndsAndCues => Vec::new(),
        };
        let at = dead + self.reaction(1_500.0, 500.0);
        for draft in &mut drafts {
            draft.at = draft.at.min(at - 1);
        }
        let reason = self.dice.one_of(REASONS);
        let what = DraftContent::Replay { reason };
        drafts.push(Draft { at, what });
        self.type_out(drafts);
    }

    fn type_out(&mut self, mut drafts: Vec<Draft>) {
        drafts.sort_by_key(|draft| draft.at);
        let mut typed = Typed::default();
        for draft in &drafts {
            self.type_one(draft, &mut typed);
        }
    }

    fn type_one(&mut self, draft: &Draft, typed: &mut Typed) {
        let at = match typed.before_end {
            Some(_) => self.unhurried(draft.at),
            None => draft.at,
        };
        match draft.what {
            DraftContent::Shot { place, shot } => {
                if let Some(last) = &typed.last_play {
                    typed.before.push((place, last.clone()));
                }
                let id = self.play('s', at, shot_fields(&shot), typed);
                typed.ids.push((Mark::Shot(place), id));
                typed.last_shot = Some(place);
            }
            DraftContent::Again { shot } => {
                let id = self.play('s', at, shot_fields(&shot), typed);
                typed.ids.push((Mark::Again, id));
            }
            DraftContent::Cue { place, cue } => {
                let mut cue_fields = fields(json!({"kind": "cue", "cue": cue}));
                if typed.last_shot != Some(place) {
                    let Some(shot) = typed.id(Mark::Shot(place)) else {
                        return;
                    };
                    cue_fields.insert("shot".into(), shot.into());
                }
                let id = self.play('c', at, cue_fields, typed);
                typed.ids.push((Mark::Cue(place, cue), id));
            }
            DraftContent::Depth {
                team,
                depth,
                player,
            } => {
                let mut depth_fields =
                    fields(json!({"kind": "depth", "team": team, "depth": depth}));
                if let Some(player) = player {
                    depth_fields.insert("player".into(), player.into());
                }
                self.play('d', at, depth_fields, typed);
            }
            DraftContent::End { ending, player } => {
                typed.before_end.clone_from(&typed.last_play);
                let id = self.play('e', at, self.end(ending, player), typed);
                typed.ids.push((Mark::End, id));
            }
            DraftContent::Replay { reason } => {
                let replay = fields(json!({"kind": "replay", "reason": reason}));
                self.play('e', at, replay, typed);
            }
            DraftContent::TakeBack(mark) => self.retract(at, mark, typed),
            DraftContent::Redo => self.retract(at, Mark::Retraction, typed),
            DraftContent::MendShot { place, shot } => {
                self.amend(at, Mark::Shot(place), &shot_fields(&shot), typed);
            }
            DraftContent::MendEnd { ending } => {
                self.amend(at, Mark::End, &self.end(ending, None), typed);
            }
            DraftContent::PutIn { place, shot } => self.insert(at, place, &shot, typed),
        }
    }

    /// The end of a rally, as much of it as this depth of charting records.
    fn end(&self, ending: Ending, player: Option<u32>) -> Map<String, Value> {
        if self.detail == Detail::ScoreOnly {
            return fields(json!({"kind": "rally_end", "won_by": ending.winner()}));
        }
        let mut end = end_fields(ending);
        if let Some(player) = player {
            end.insert("player".into(), player.into());
        }
        end
    }

    fn play(
        &mut self,
        kind: char,
        at: i64,
        fields: Map<String, Value>,
        typed: &mut Typed,
    ) -> String {
        let id = self.rally_id(kind);
        self.write(&id, at, fields);
        typed.last_play = Some(id.clone());
        id
    }

    fn retract(&mut self, at: i64, mark: Mark, typed: &mut Typed) {
        let Some(target) = typed.id(mark) else { return };
        let id = self.rally_id('u');
        self.write(
            &id,
            at,
            fields(json!({"kind": "retract", "target": target})),
        );
        typed.ids.push((Mark::Retraction, id));
    }

    fn amend(&mut self, at: i64, mark: Mark, with: &Map<String, Value>, typed: &Typed) {
        let Some(target) = typed.id(mark) else { return };
        let id = self.rally_id('m');
        let amend = json!({"kind": "amend", "target": target, "with": with});
        self.write(&id, at, fields(amend));
    }

    /// Puts a missed shot before the shot that was typed next, behind everything
    /// that was said until then.
    fn insert(&mut self, at: i64, place: usize, shot: &Shot, typed: &Typed) {
        let next = typed.before.iter().find(|(later, _)| *later > place);
        let after = next.map(|(_, id)| id).or(typed.before_end.as_ref());
        let Some(after) = after.cloned() else { return };
        let id = self.rally_id('i');
        let insert = json!({"kind": "insert", "after": after, "entry": shot_fields(shot)});
        self.write(&id, at, fields(insert));
    }
}

impl Typed {
    fn id(&self, mark: Mark) -> Option<&str> {
        let found = self.ids.iter().rev().find(|(known, _)| *known == mark);
        found.map(|(_, id)| id.as_str())
    }
}
