//! The rally book: the current rally shot by shot, with who held the
//! initiative at each, and the last few before it. What the ribbon is drawn from.
//!
//! Who holds the initiative is taken from the readings; nothing is judged here.

use std::collections::VecDeque;

use rallytide_chart::{Cue, Effective, How, Play, RallyEnd, Shot, ShotInRally};
use rallytide_match_record::{ShownRallyEnd, ShownShot};
use rallytide_readings::{KnownIndicator, Reading, Value};
use rallytide_scoring::{Phase, Turn};
use serde::Serialize;

/// How many rallies before the current one are kept for viewers that come late.
const EARLIER_RALLIES: usize = 5;

/// A rally as viewers get it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(
    feature = "ts",
    derive(ts_rs::TS, schemars::JsonSchema),
    ts(rename = "EarlierRally"),
    schemars(rename = "EarlierRally")
)]
pub struct ShownRally {
    /// Counted from 1 over the match, replayed ones included.
    pub number: u32,
    /// Its shots so far.
    pub shots: Vec<ShownShot>,
    /// How it ended, once it has.
    pub end: Option<ShownRallyEnd>,
}

/// What an entry changed in the current rally.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct RallyPatch {
    /// The rally; a higher number than before begins a new one.
    pub number: u32,
    /// The shots that are new or different, to be put in by `n`.
    pub shots: Vec<ShownShot>,
    /// How the rally ended, if it ended with this entry.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "ts", ts(optional))]
    pub end: Option<ShownRallyEnd>,
}

/// The current (else last) rally and the ones before it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct RallyBook {
    current: Option<ShownRally>,
    earlier: VecDeque<ShownRally>,
}

/// The book as a snapshot shows it.
#[derive(Debug, Serialize)]
#[cfg_attr(
    feature = "ts",
    derive(ts_rs::TS, schemars::JsonSchema),
    ts(rename = "RallyView"),
    schemars(rename = "RallyView")
)]
pub struct ShownRallyBook<'a> {
    /// The current, else the last rally.
    #[serde(flatten)]
    pub current: &'a ShownRally,
    /// The ones before it, the latest first.
    pub earlier: Vec<&'a ShownRally>,
}

impl RallyBook {
    /// Writes down what `entry` did. `initiative` is the reading after it, or
    /// `None` where there is none.
    pub fn write(
        &mut self,
        entry: &Effective,
        turn: &Turn,
        initiative: Option<&Reading>,
    ) -> Option<RallyPatch> {
        if turn.phase == Phase::AfterMatch {
            return None;
        }
        let mut touched = Vec::new();
        match entry.play.as_ref() {
            Play::Shot(shot) => {
                let in_rally = turn.rally.shot.as_ref()?;
                touched = self.shot(shot, in_rally);
            }
            Play::Cue(mark) => {
                let about = turn.rally.shot.as_ref()?;
                touched.push(self.cue(mark.cue, about.number)?);
            }
            Play::Depth(_) => {}
            Play::RallyEnd(end) => {
                let player = turn
                    .rally
                    .erred
                    .or(end.player)
                    .or_else(|| self.finisher(end));
                return Some(self.end(ended(entry, end, player)));
            }
            Play::Replay => return Some(self.end(stopped(entry, "replay"))),
            _ if turn.phase == Phase::CutsOff && self.running().is_some() => {
                return Some(self.end(stopped(entry, "cut_off")));
            }
            _ => return None,
        }
        let rally = self.running()?;
        let latest = rally.shots.len().checked_sub(1)?;
        lean(&mut rally.shots[latest], initiative);
        touched.push(latest);
        touched.sort_unstable();
        touched.dedup();
        Some(RallyPatch {
            number: rally.number,
            shots: touched
                .into_iter()
                .map(|place| rally.shots[place].clone())
                .collect(),
            end: None,
        })
    }

    /// The book as a snapshot shows it; `None` before the first rally.
    pub fn shown(&self) -> Option<ShownRallyBook<'_>> {
        Some(ShownRallyBook {
            current: self.current.as_ref()?,
            earlier: self.earlier.iter().collect(),
        })
    }

    /// The rally that is being played.
    fn running(&mut self) -> Option<&mut ShownRally> {
        self.current.as_mut().filter(|rally| rally.end.is_none())
    }

    /// The rally that is being played; a new one if the last has ended.
    fn begun(&mut self) -> &mut ShownRally {
        let ended = self
            .current
            .as_ref()
            .is_none_or(|rally| rally.end.is_some());
        if ended {
            let number = self.current.as_ref().map_or(1, |rally| rally.number + 1);
            let next = ShownRally {
                number,
                shots: Vec::new(),
                end: None,
            };
            if let Some(last) = self.current.replace(next) {
                self.earlier.push_front(last);
                self.earlier.truncate(EARLIER_RALLIES);
            }
        }
        self.current
            .as_mut()
            .expect("a rally was begun above where there was none")
    }

    fn shot(&mut self, shot: &Shot, in_rally: &ShotInRally) -> Vec<usize> {
        let rally = self.begun();
        let before = rally.shots.len();
        if in_rally.missed_before {
            rally
                .shots
                .push(ShownShot::assumed(in_rally.number - 1, shot.team.other()));
        }
        rally.shots.push(ShownShot {
            entry: Some(in_rally.entry.clone()),
            player: in_rally.player,
            stroke: Some(shot.stroke),
            contact: in_rally.contact,
            cues: shot.cues.iter().collect(),
            assumed: false,
            ..ShownShot::assumed(in_rally.number, shot.team)
        });
        (before..rally.shots.len()).collect()
    }

    fn cue(&mut self, cue: Cue, number: u32) -> Option<usize> {
        let rally = self.running()?;
        let place = rally.shots.iter().position(|shot| shot.n == number)?;
        let cues = &mut rally.shots[place].cues;
        if !cues.contains(&cue) {
            cues.push(cue);
        }
        Some(place)
    }

    /// The player whose last ball won the rally.
    fn finisher(&mut self, end: &RallyEnd) -> Option<u32> {
        if !matches!(end.how, Some(How::Winner | How::Ace)) {
            return None;
        }
        let last = self.running()?.shots.last()?;
        last.player.filter(|_| end.by == Some(last.team))
    }

    fn end(&mut self, end: ShownRallyEnd) -> RallyPatch {
        let rally = self.begun();
        rally.end = Some(end.clone());
        RallyPatch {
            number: rally.number,
            shots: Vec::new(),
            end: Some(end),
        }
    }
}

fn lean(shot: &mut ShownShot, initiative: Option<&Reading>) {
    let Some(reading) = initiative.filter(|reading| KnownIndicator::Initiative.names(&reading.key))
    else {
        return;
    };
    if let Value::Lean { toward, strength } = reading.value {
        shot.toward = toward;
        shot.strength = strength;
        shot.why.clone_from(&reading.why);
        shot.flags.clone_from(&reading.flags);
    }
}

fn ended(entry: &Effective, end: &RallyEnd, player: Option<u32>) -> ShownRallyEnd {
    ShownRallyEnd {
        entry: entry.id.clone(),
        won_by: Some(end.winner),
        how: end.how.map(How::word),
        by: end.by,
        player: player.filter(|_| end.by.is_some()),
    }
}

fn stopped(entry: &Effective, how: &'static str) -> ShownRallyEnd {
    ShownRallyEnd {
        entry: entry.id.clone(),
        won_by: None,
        how: Some(how),
        by: None,
        player: None,
    }
}
