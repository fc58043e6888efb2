//! The rally book: the current rally shot by shot, with who held the
//! initiative at each, and the last few before it. What the ribbon is drawn from.
//!
//! Who holds the initiative is taken from the readings; nothing is judged here.

use std::collections::VecDeque;

use rallytide_chart::{
    Contact, Cue, Effective, EntryId, How, Play, RallyEnd, Shot, ShotInRally, Stroke, Team,
};
use rallytide_plugin_host::{Reading, Reason, Value};
use rallytide_scoring::{Place, Turn};
use serde::Serialize;

/// How many rallies before the current one are kept for viewers that come late.
const EARLIER_RALLIES: usize = 5;

/// The indicator that says who holds the initiative.
const INITIATIVE: &str = "initiative";

/// A shot with who held the initiative after it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct ShotView {
    /// Its number in the rally, from 1; assumed shots count.
    pub n: u32,
    /// The entry that recorded it; `None` for an assumed one.
    pub entry: Option<EntryId>,
    /// Who struck it.
    pub team: Team,
    /// How; `None` for an assumed one.
    pub stroke: Option<Stroke>,
    /// How the ball was met, where known.
    pub contact: Option<Contact>,
    /// The cues seen about it.
    pub cues: Vec<Cue>,
    /// Nobody recorded it: it must have been there.
    pub assumed: bool,
    /// Who held the initiative, by the latest entry about this moment.
    pub toward: Option<Team>,
    /// How strongly, 0 to 1.
    pub strength: f64,
    /// Why.
    pub why: Vec<Reason>,
    /// What else was said of it.
    pub flags: Vec<String>,
}

/// How a rally ended.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct RallyEndView {
    /// The entry that recorded the end.
    pub entry: EntryId,
    /// Who won it; `None` if it is replayed or cut off.
    pub won_by: Option<Team>,
    /// How it ended: a word of `rally_end`, `replay` or `cut_off`.
    pub how: Option<&'static str>,
    /// Whose shot or fault ended it.
    pub by: Option<Team>,
}

/// A rally as viewers get it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename = "EarlierRally"))]
pub struct RallyView {
    /// Counted from 1 over the match, replayed ones included.
    pub number: u32,
    /// Its shots so far.
    pub shots: Vec<ShotView>,
    /// How it ended, once it has.
    pub end: Option<RallyEndView>,
}

/// What an entry changed in the current rally.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS))]
pub struct RallyPatch {
    /// The rally; a higher number than before begins a new one.
    pub number: u32,
    /// The shots that are new or different, to be put in by `n`.
    pub shots: Vec<ShotView>,
    /// How the rally ended, if it ended with this entry.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "ts", ts(optional))]
    pub end: Option<RallyEndView>,
}

/// The current (else last) rally and the ones before it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct RallyBook {
    current: Option<RallyView>,
    earlier: VecDeque<RallyView>,
}

/// The book as a snapshot shows it.
#[derive(Debug, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(rename = "RallyView"))]
pub struct RallyBookView<'a> {
    /// The current, else the last rally.
    #[serde(flatten)]
    pub current: &'a RallyView,
    /// The ones before it, the latest first.
    pub earlier: Vec<&'a RallyView>,
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
        if turn.place == Place::AfterMatch {
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
            Play::RallyEnd(end) => return Some(self.end(ended(entry, end))),
            Play::Replay => return Some(self.end(stopped(entry, "replay"))),
            _ if turn.place == Place::CutsOff && self.running().is_some() => {
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
    pub fn view(&self) -> Option<RallyBookView<'_>> {
        Some(RallyBookView {
            current: self.current.as_ref()?,
            earlier: self.earlier.iter().collect(),
        })
    }

    /// The rally that is being played.
    fn running(&mut self) -> Option<&mut RallyView> {
        self.current.as_mut().filter(|rally| rally.end.is_none())
    }

    /// The rally that is being played; a new one if the last has ended.
    fn begun(&mut self) -> &mut RallyView {
        let ended = self
            .current
            .as_ref()
            .is_none_or(|rally| rally.end.is_some());
        if ended {
            let number = self.current.as_ref().map_or(1, |rally| rally.number + 1);
            let next = RallyView {
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
                .push(blank(in_rally.number - 1, shot.team.other()));
        }
        rally.shots.push(ShotView {
            entry: Some(in_rally.entry.clone()),
            stroke: Some(shot.stroke),
            contact: in_rally.contact,
            cues: shot.cues.iter().collect(),
            assumed: false,
            ..blank(in_rally.number, shot.team)
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

    fn end(&mut self, end: RallyEndView) -> RallyPatch {
        let rally = self.begun();
        rally.end = Some(end.clone());
        RallyPatch {
            number: rally.number,
            shots: Vec::new(),
            end: Some(end),
        }
    }
}

fn blank(n: u32, team: Team) -> ShotView {
    ShotView {
        n,
        entry: None,
        team,
        stroke: None,
        contact: None,
        cues: Vec::new(),
        assumed: true,
        toward: None,
        strength: 0.0,
        why: Vec::new(),
        flags: Vec::new(),
    }
}

fn lean(shot: &mut ShotView, initiative: Option<&Reading>) {
    let Some(reading) = initiative.filter(|reading| reading.indicator() == INITIATIVE) else {
        return;
    };
    if let Value::Lean { toward, strength } = reading.value {
        shot.toward = toward;
        shot.strength = strength;
        shot.why.clone_from(&reading.why);
        shot.flags.clone_from(&reading.flags);
    }
}

fn ended(entry: &Effective, end: &RallyEnd) -> RallyEndView {
    RallyEndView {
        entry: entry.id.clone(),
        won_by: Some(end.winner),
        how: end.how.map(How::word),
        by: end.by,
    }
}

fn stopped(entry: &Effective, how: &'static str) -> RallyEndView {
    RallyEndView {
        entry: entry.id.clone(),
        won_by: None,
        how: Some(how),
        by: None,
    }
}
