//! Reading the rally: which number a shot has, how the ball was met, where a
//! shot of the other team must have been missed, which shot a cue is about,
//! whose shot and whose error it was.
//!
//! One [`RallyReader`] walks over the effective chart from the start.

use crate::corrections::Effective;
use crate::header::Discipline;
use crate::identity::EntryId;
use crate::play::{CueMark, Play, RallyEnd, Shot};
use crate::words::{Contact, Flag, How, Stroke, Team};

/// Walks over the effective chart and says what each entry is to its rally.
#[derive(Debug, Clone, Default)]
pub struct RallyReader {
    shots: Vec<ShotInRally>,
    served: bool,
}

/// What the score says about who strikes the next shots.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ByTheScore {
    /// One player a team, or two.
    pub discipline: Discipline,
    /// The team that serves.
    pub serving: Team,
    /// Which of its players serves.
    pub server: u32,
    /// Which player of the other team receives.
    pub receiver: u32,
}

/// A shot as its rally makes it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShotInRally {
    /// The entry that recorded it.
    pub entry: EntryId,
    /// Who struck it.
    pub team: Team,
    /// Which player: as recorded, else as it follows from the score; `None`
    /// where it is not known.
    pub player: Option<u32>,
    /// 1 for the first shot of the rally; assumed shots count.
    pub number: u32,
    /// As recorded, else as it follows from stroke and number; `None` for a
    /// serve and where it is not known.
    pub contact: Option<Contact>,
    /// Whether a shot of the other team is assumed right before it.
    pub missed_before: bool,
}

/// What one entry is to its rally.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct RallyStep {
    /// For a `shot`: itself. For a `cue` with a shot: the shot it is about.
    pub shot: Option<ShotInRally>,
    /// For a `rally_end` by `net`, `out` or `fault`: which player of the team
    /// that lost it erred, where that is known.
    pub erred: Option<u32>,
    /// What the charter should be told.
    pub flags: Vec<Flag>,
}

impl RallyReader {
    /// Takes the next entry of the effective chart, where no score is kept: a
    /// player is known only where one was recorded.
    pub fn step(&mut self, entry: &Effective) -> RallyStep {
        self.take(entry, None)
    }

    /// Takes the next entry of the effective chart, `score` being what the score
    /// says just before it.
    pub fn step_by_the_score(&mut self, entry: &Effective, score: ByTheScore) -> RallyStep {
        self.take(entry, Some(score))
    }

    fn take(&mut self, entry: &Effective, score: Option<ByTheScore>) -> RallyStep {
        match entry.play.as_ref() {
            Play::Shot(shot) => self.shot(entry, shot, score),
            Play::Cue(mark) => self.cue(mark),
            Play::RallyEnd(end) => {
                let erred = self.erred(end, score);
                self.forget();
                RallyStep {
                    erred,
                    ..RallyStep::default()
                }
            }
            Play::Replay => {
                self.forget();
                RallyStep::default()
            }
            _ => RallyStep::default(),
        }
    }

    fn forget(&mut self) {
        self.shots.clear();
        self.served = false;
    }

    /// Who erred, where the rally was lost by an error: as recorded, else whoever
    /// struck the last ball of the rally, if it was the losers'.
    fn erred(&self, end: &RallyEnd, score: Option<ByTheScore>) -> Option<u32> {
        if !matches!(end.how, Some(How::Net | How::Out | How::Fault)) {
            return None;
        }
        if score.is_some_and(|score| score.discipline == Discipline::Singles) {
            return Some(0);
        }
        let loser = end.winner.other();
        let last = self.shots.last().filter(|shot| shot.team == loser);
        end.player.or_else(|| last?.player)
    }

    fn shot(&mut self, entry: &Effective, shot: &Shot, score: Option<ByTheScore>) -> RallyStep {
        let mut flags = Vec::new();
        self.served |= shot.stroke == Stroke::Serve;
        if !self.served {
            flags.push(Flag::NoServe);
        }
        let before = self.shots.last();
        let missed_before = before.is_some_and(|before| before.team == shot.team);
        if missed_before {
            flags.push(Flag::MissedShot);
        }
        let number = before.map_or(0, |before| before.number) + 1 + u32::from(missed_before);
        let shot = ShotInRally {
            entry: entry.id.clone(),
            team: shot.team,
            player: shot.player.or_else(|| score?.striker(shot, number)),
            number,
            contact: contact(shot, number),
            missed_before,
        };
        self.shots.push(shot.clone());
        RallyStep {
            shot: Some(shot),
            erred: None,
            flags,
        }
    }

    fn cue(&self, mark: &CueMark) -> RallyStep {
        let shot = match &mark.shot {
            None => self.shots.last(),
            Some(id) => self.shots.iter().find(|shot| shot.entry == *id),
        };
        RallyStep {
            flags: match shot {
                Some(_) => Vec::new(),
                None => vec![Flag::NoShot],
            },
            shot: shot.cloned(),
            erred: None,
        }
    }
}

impl ByTheScore {
    /// Who strikes the shot, as far as the score tells: the server serves, and
    /// the receiver returns, whatever the first shot was.
    fn striker(self, shot: &Shot, number: u32) -> Option<u32> {
        let serves = shot.team == self.serving;
        match (self.discipline, number) {
            (Discipline::Singles, _) => Some(0),
            (Discipline::Doubles, 1) if serves && shot.stroke == Stroke::Serve => Some(self.server),
            (Discipline::Doubles, 2) if !serves => Some(self.receiver),
            (Discipline::Doubles, _) => None,
        }
    }
}

/// How the ball was met: as recorded, else as it follows. A serve has no contact.
fn contact(shot: &Shot, number: u32) -> Option<Contact> {
    match shot.stroke {
        Stroke::Serve => None,
        stroke => shot.contact.or_else(|| implied_contact(stroke, number)),
    }
}

/// How the ball was met where nobody recorded it, as far as the stroke and the
/// shot's number in its rally tell: from the stroke, else from the two-bounce rule
/// (the 2nd and 3rd shot of a rally are played off the bounce; USA Pickleball
/// rulebook 2026, 10.A). A serve has no contact.
#[must_use]
pub fn implied_contact(stroke: Stroke, number: u32) -> Option<Contact> {
    match stroke {
        Stroke::Serve => None,
        Stroke::Volley | Stroke::Block | Stroke::Overhead | Stroke::Erne => Some(Contact::Air),
        Stroke::Dink | Stroke::Drop | Stroke::Drive | Stroke::Atp => Some(Contact::Bounce),
        _ if number == 2 || number == 3 => Some(Contact::Bounce),
        _ => None,
    }
}
