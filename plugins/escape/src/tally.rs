//! Counting defense spells, and taking a replayed rally's back.

use rallytide_plugin_kit::PerTeam;

use crate::spells::Ended;

/// So many of so many.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Part {
    /// Those that did.
    pub part: u32,
    /// All of them.
    pub whole: u32,
}

impl Part {
    fn count(&mut self, did: bool) {
        self.part += u32::from(did);
        self.whole += 1;
    }
}

/// What is published about one team.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct TeamTally {
    /// Escapes in a row, the latest pressed spell included.
    pub streak: u32,
    /// The longest such streak of the match.
    pub best: u32,
    /// Escapes of all ended pressed spells.
    pub escaped: Part,
    /// Of the spells that began while the 2nd shot was the latest, pressed or
    /// not, those that did not end in a lost rally.
    pub reached: Part,
}

impl TeamTally {
    fn count(&mut self, spell: Ended) {
        let escape = spell.outcome.is_escape();
        if spell.from_second_shot {
            self.reached.count(escape);
        }
        if spell.pressed {
            self.escaped.count(escape);
            self.streak = if escape { self.streak + 1 } else { 0 };
            self.best = self.best.max(self.streak);
        }
    }
}

/// Both teams' counts, as they stand and as they stood before this rally.
#[derive(Debug, Default)]
pub struct Tally {
    now: PerTeam<TeamTally>,
    before_rally: PerTeam<TeamTally>,
}

impl Tally {
    /// The counts as they stand.
    #[must_use]
    pub fn now(&self) -> PerTeam<TeamTally> {
        self.now
    }

    /// A spell has ended: it counts at once.
    pub fn count(&mut self, spell: Ended) {
        self.now[spell.team].count(spell);
    }

    /// The rally counts.
    pub fn keep_rally(&mut self) {
        self.before_rally = self.now;
    }

    /// The rally does not count: as if it had not been played.
    pub fn take_rally_back(&mut self) {
        self.now = self.before_rally;
    }
}
