//! The shots of the current rally with their cues, for plugins that look back
//! over a rally when it has ended.

use crate::{Contact, Cue, Cues, Play, Shot, Stroke, Team};

/// The shots of one rally, in order.
///
/// Hand it every entry's play; clear it when the rally has ended.
#[derive(Debug, Clone, Default)]
pub struct RallyShots {
    shots: Vec<Struck>,
}

/// A recorded shot with the cues known about it by now.
#[derive(Debug, Clone, PartialEq)]
pub struct Struck {
    /// The place of the entry that recorded it.
    pub entry: u32,
    /// Who struck it.
    pub team: Team,
    /// How.
    pub stroke: Stroke,
    /// Its number in the rally; assumed shots count.
    pub number: u32,
    /// How the ball was met, where known.
    pub contact: Option<Contact>,
    /// Whether a shot of the other team is assumed right before it.
    pub missed_before: bool,
    /// Whether it was marked attackable.
    pub attackable: bool,
}

impl RallyShots {
    /// Takes the entry at this place of the chart: a shot is put in, a cue marks its shot, anything else
    /// changes nothing.
    pub fn take(&mut self, entry: u32, play: &Play) {
        match play {
            Play::Shot(shot) => self.shots.push(Struck::new(entry, shot)),
            Play::Cue(mark) if mark.cue == Cue::Attackable => {
                let mut shots = self.shots.iter_mut();
                let about = shots.find(|shot| Some(shot.entry) == mark.shot);
                if let Some(shot) = about {
                    shot.attackable = true;
                }
            }
            _ => {}
        }
    }

    /// The shots so far.
    #[must_use]
    pub fn all(&self) -> &[Struck] {
        &self.shots
    }

    /// The recorded shot right before the one at `place`; `None` for the first
    /// and where one is assumed between.
    #[must_use]
    pub fn before(&self, place: usize) -> Option<&Struck> {
        let shot = self.shots.get(place)?;
        let before = self.shots.get(place.checked_sub(1)?)?;
        (!shot.missed_before).then_some(before)
    }

    /// Forgets the rally.
    pub fn clear(&mut self) {
        self.shots.clear();
    }
}

impl Struck {
    fn new(entry: u32, shot: &Shot) -> Self {
        Self {
            entry,
            team: shot.team,
            stroke: shot.stroke,
            number: shot.number,
            contact: shot.contact,
            missed_before: shot.missed_before,
            attackable: shot.cues.contains(Cues::ATTACKABLE),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::Script;

    #[test]
    fn a_cue_marks_the_shot_it_is_about_also_later() {
        let mut rally = RallyShots::default();
        for entry in Script::default().read("a serve | b return | a drop | +attackable @2") {
            rally.take(entry.place, &entry.play);
        }
        let marked: Vec<bool> = rally.all().iter().map(|shot| shot.attackable).collect();
        assert_eq!(marked, [false, true, false]);
    }

    #[test]
    fn the_shot_before_is_unknown_where_one_is_assumed_between() {
        let mut rally = RallyShots::default();
        for entry in Script::default().read("a serve | b return | b volley") {
            rally.take(entry.place, &entry.play);
        }
        assert_eq!(rally.before(1).map(|shot| shot.number), Some(1));
        assert_eq!(rally.before(2), None);
        assert_eq!(rally.before(0), None);
    }
}
