//! Reading the rally: which number a shot has, how the ball was met, where a
//! shot of the other team must have been missed, which shot a cue is about.
//!
//! One [`RallyReader`] walks over the effective chart from the start.

use crate::corrections::Effective;
use crate::identity::EntryId;
use crate::play::{CueMark, Play, Shot};
use crate::words::{Contact, Flag, Stroke, Team};

/// Walks over the effective chart and says what each entry is to its rally.
#[derive(Debug, Clone, Default)]
pub struct RallyReader {
    shots: Vec<ShotInRally>,
    served: bool,
}

/// A shot as its rally makes it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShotInRally {
    /// The entry that recorded it.
    pub entry: EntryId,
    /// Who struck it.
    pub team: Team,
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
    /// What the charter should be told.
    pub flags: Vec<Flag>,
}

impl RallyReader {
    /// Takes the next entry of the effective chart.
    pub fn step(&mut self, entry: &Effective) -> RallyStep {
        match entry.play.as_ref() {
            Play::Shot(shot) => self.shot(entry, shot),
            Play::Cue(mark) => self.cue(mark),
            Play::RallyEnd(_) | Play::Replay => {
                self.shots.clear();
                self.served = false;
                RallyStep::default()
            }
            _ => RallyStep::default(),
        }
    }

    fn shot(&mut self, entry: &Effective, shot: &Shot) -> RallyStep {
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
            number,
            contact: contact(shot, number),
            missed_before,
        };
        self.shots.push(shot.clone());
        RallyStep {
            shot: Some(shot),
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
        }
    }
}

/// How the ball was met: as recorded, else as it follows from the stroke, else
/// from the two-bounce rule (the 2nd and 3rd shot of a rally are played off the
/// bounce; USA Pickleball rulebook 2026, 10.A). A serve has no contact.
fn contact(shot: &Shot, number: u32) -> Option<Contact> {
    match (shot.stroke, shot.contact) {
        (Stroke::Serve, _) => None,
        (_, Some(recorded)) => Some(recorded),
        (Stroke::Volley | Stroke::Block | Stroke::Overhead | Stroke::Erne, None) => {
            Some(Contact::Air)
        }
        (Stroke::Dink | Stroke::Drop | Stroke::Drive | Stroke::Atp, None) => Some(Contact::Bounce),
        _ if number == 2 || number == 3 => Some(Contact::Bounce),
        _ => None,
    }
}
