//! One rally on its way: the latest shots, where the teams stand, who holds.
//!
//! Invariant: before the first shot nobody holds. It does not know when a rally
//! ends; the caller starts the next one.

use rallytide_plugin_kit::{CueMark, DepthMark, Discipline, Shot};

use crate::depths::Depths;
use crate::rows::{JudgedShot, rows};
use crate::standing::Standing;

/// What is known of the current rally.
#[derive(Debug)]
pub struct RallyJudge {
    depths: Depths,
    /// The shot before the latest; none where one is assumed to be missing.
    before: Option<JudgedShot>,
    latest: Option<JudgedShot>,
    standing: Standing,
}

impl RallyJudge {
    /// The rally that comes next.
    #[must_use]
    pub fn to_come(discipline: Discipline) -> Self {
        Self {
            depths: Depths::at_the_start(discipline),
            before: None,
            latest: None,
            standing: Standing::default(),
        }
    }

    /// Where the teams stand.
    #[must_use]
    pub fn depths(&self) -> &Depths {
        &self.depths
    }

    /// Who holds the initiative.
    #[must_use]
    pub fn standing(&self) -> &Standing {
        &self.standing
    }

    /// A shot is struck. Where the teams stand by it is settled before its cues
    /// are read.
    pub fn shot(&mut self, entry: u32, shot: &Shot) {
        self.depths.struck(shot);
        let before = self.latest.replace(JudgedShot::new(entry, shot));
        self.before = before.filter(|_| !shot.missed_before);
        self.judge();
    }

    /// Something is seen about a shot. The table looks at the latest two shots
    /// only, so a cue about an older one changes nothing.
    pub fn cue(&mut self, entry: u32, mark: &CueMark) {
        let mut shots = self.latest.iter_mut().chain(&mut self.before);
        let about = shots.find(|shot| Some(shot.entry) == mark.shot);
        if let Some(shot) = about {
            shot.mark(mark.cue.into(), entry);
        }
        self.judge();
    }

    /// The charter says where a team stands.
    pub fn depth(&mut self, mark: &DepthMark) {
        self.depths.given(mark);
        self.judge();
    }

    fn judge(&mut self) {
        let Some(latest) = &self.latest else { return };
        let rows = rows(latest, self.before.as_ref(), &self.depths);
        self.standing = Standing::judge(rows, latest, self.standing.toward);
    }
}
