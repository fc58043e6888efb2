//! Counting defense spells, and taking a replayed rally's back.

use rallytide_plugin_kit::{PerTeam, Tally};

use crate::spells::EndedSpell;

/// What is published about one team.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct TeamCounts {
    /// Escapes in a row, the latest pressed spell included.
    pub streak: u32,
    /// The longest such streak of the match.
    pub best: u32,
    /// Escapes of all ended pressed spells.
    pub escaped: Tally,
    /// Of the spells that began while the 2nd shot was the latest, pressed or
    /// not, those that did not end in a lost rally.
    pub reached: Tally,
}

impl TeamCounts {
    fn count(&mut self, spell: EndedSpell) {
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
pub struct SpellCounts {
    now: PerTeam<TeamCounts>,
    before_rally: PerTeam<TeamCounts>,
}

impl SpellCounts {
    /// The counts as they stand.
    #[must_use]
    pub fn now(&self) -> PerTeam<TeamCounts> {
        self.now
    }

    /// A spell has ended: it counts at once.
    pub fn count(&mut self, spell: EndedSpell) {
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
