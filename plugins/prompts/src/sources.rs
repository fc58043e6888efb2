//! What the other plugins say: the latest figure of each indicator that prompts
//! are made of, with the entry that shows it.

use rallytide_plugin_kit::{Key, Reading, Share, Team, Value};

/// Names with a place in a list each, so that figures are found without comparing
/// text: a rally's end asks for hundreds.
macro_rules! names {
    ($(#[$of:meta])* $kind:ident in $list:ident, $(#[$doc:meta] $constant:ident = $name:literal;)+) => {
        $(#[$of])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub struct $kind(usize);

        impl $kind {
            /// All of them.
            pub fn all() -> impl Iterator<Item = Self> {
                (0..$list.len()).map(Self)
            }

            /// As it is written in a reading.
            #[must_use]
            pub const fn name(self) -> &'static str {
                $list[self.0]
            }

            fn of_name(name: &str) -> Option<Self> {
                $list.iter().position(|one| *one == name).map(Self)
            }
        }

        /// Their names.
        pub const $list: &[&str] = &[$($name,)+];

        names!(@count $kind, 0, $(#[$doc] $constant;)+);
    };
    (@count $kind:ident, $place:expr, #[$doc:meta] $constant:ident; $($rest:tt)*) => {
        #[$doc]
        pub const $constant: $kind = $kind($place);
        names!(@count $kind, $place + 1, $($rest)*);
    };
    (@count $kind:ident, $place:expr,) => {};
}

names! {
    /// An indicator that prompts are made of: whatever is added here is read.
    Indicator in FIGURES,
    /// A team's longest streak of escapes.
    BEST = "escape.best";
    /// Rallies charted without a gap.
    COVERAGE = "charting.coverage";
    /// Escapes of all pressed spells.
    ESCAPES = "escape.share";
    /// Rallies in which a team attacked first.
    FIRST = "neutral.first";
    /// Lost rallies that were given away.
    GIFT = "gift.share";
    /// The longest rally.
    LONGEST = "rally.longest";
    /// Rallies won in which the team was pressed.
    PRESSED = "pressed.won";
    /// Points in a row.
    RUN = "score.run";
    /// Rallies won on serve.
    SERVE = "serve.won";
    /// Rallies with a ball that the opponents left sitting up.
    SITTER = "sitter.punished";
    /// Escapes in a row.
    STREAK = "escape.streak";
    /// Rallies by the third shot.
    THIRD = "third.won";
    /// How likely the best streak is to be chance.
    UNLIKELY = "escape.unlikely";
}

names! {
    /// A slot that is told apart.
    Slot in SLOTS,
    /// A third shot.
    DRIVE = "drive";
    /// A third shot.
    DROP = "drop";
}

/// Names a figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cite {
    /// What it counts.
    pub indicator: Indicator,
    /// The team it is about; none: the match.
    pub team: Option<Team>,
    /// Which of them.
    pub slot: Option<Slot>,
}

impl Cite {
    /// A figure about a team.
    #[must_use]
    pub const fn team(indicator: Indicator, team: Team) -> Self {
        Self {
            indicator,
            team: Some(team),
            slot: None,
        }
    }

    /// A figure about the match.
    #[must_use]
    pub const fn of_match(indicator: Indicator) -> Self {
        Self {
            indicator,
            team: None,
            slot: None,
        }
    }

    /// The same with a slot.
    #[must_use]
    pub const fn slot(self, slot: Slot) -> Self {
        Self {
            slot: Some(slot),
            ..self
        }
    }

    /// The indicator, with the slot behind a slash where there is one.
    #[must_use]
    pub fn name(self) -> String {
        match self.slot {
            None => self.indicator.name().to_owned(),
            Some(slot) => format!("{}/{}", self.indicator.name(), slot.name()),
        }
    }

    /// The figure that a key names; none if no prompt is made of it.
    fn of_key(key: &Key) -> Option<Self> {
        let slot = match key.slot.as_deref() {
            None => None,
            Some(slot) => Some(Slot::of_name(slot)?),
        };
        (key.player.is_none()).then_some(())?;
        Some(Self {
            indicator: Indicator::of_name(&key.indicator)?,
            team: key.team,
            slot,
        })
    }

    /// Its place among all figures that can be named.
    fn place(self) -> usize {
        let team = match self.team {
            None => 0,
            Some(Team::A) => 1,
            Some(Team::B) => 2,
        };
        let slot = self.slot.map_or(0, |slot| slot.0 + 1);
        (self.indicator.0 * TEAMS + team) * SLOTS_OR_NONE + slot
    }
}

/// One of the teams, or the match.
const TEAMS: usize = 3;
const SLOTS_OR_NONE: usize = SLOTS.len() + 1;

/// A figure as it can be said: whole numbers only.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Figure {
    /// A number of things.
    Count(u32),
    /// A part of a whole, both counted.
    Share {
        /// The cases that count.
        part: u32,
        /// All cases.
        whole: u32,
    },
    /// A chance, rounded to whole percents.
    Percent(u32),
}

impl Figure {
    fn of(value: &Value) -> Option<Self> {
        match value {
            Value::Count(count) => Some(Self::Count(*count)),
            Value::Share(Share { part, whole }) => Some(Self::Share {
                part: *part,
                whole: *whole,
            }),
            Value::Chance(chance) => Some(Self::Percent((chance * 100.0).round() as u32)),
            _ => None,
        }
    }
}

#[derive(Debug, Clone)]
struct Known {
    figure: Figure,
    entry: Option<u32>,
    rally: u32,
}

/// The latest figures, each at its place.
#[derive(Debug)]
pub struct Sources {
    known: Vec<Option<Known>>,
}

impl Default for Sources {
    fn default() -> Self {
        Self {
            known: vec![None; FIGURES.len() * TEAMS * SLOTS_OR_NONE],
        }
    }
}

impl Sources {
    /// Takes a reading that has changed in this rally, as `entry` shows. A reading
    /// that is no figure, or of another form, is none.
    pub fn take(&mut self, reading: &Reading, entry: Option<u32>, rally: u32) {
        let Some(cite) = Cite::of_key(&reading.key) else {
            return;
        };
        let known = &mut self.known[cite.place()];
        match (Figure::of(&reading.value), known) {
            (None, known) => *known = None,
            (Some(figure), Some(known)) if known.figure == figure => {}
            (Some(figure), Some(known)) => {
                known.figure = figure;
                known.entry = entry;
                known.rally = rally;
            }
            (Some(figure), known @ None) => {
                *known = Some(Known {
                    figure,
                    entry,
                    rally,
                });
            }
        }
    }

    /// A reading is no more.
    pub fn forget(&mut self, key: &Key) {
        if let Some(cite) = Cite::of_key(key) {
            self.known[cite.place()] = None;
        }
    }

    /// The latest figure.
    #[must_use]
    pub fn figure(&self, cite: Cite) -> Option<Figure> {
        self.find(cite).map(|known| known.figure)
    }

    /// The latest count; 0 where there is none.
    #[must_use]
    pub fn count(&self, cite: Cite) -> u32 {
        match self.figure(cite) {
            Some(Figure::Count(count)) => count,
            _ => 0,
        }
    }

    /// The latest share; 0 of 0 where there is none.
    #[must_use]
    pub fn share(&self, cite: Cite) -> (u32, u32) {
        match self.figure(cite) {
            Some(Figure::Share { part, whole }) => (part, whole),
            _ => (0, 0),
        }
    }

    /// The latest chance in percents.
    #[must_use]
    pub fn percent(&self, cite: Cite) -> Option<u32> {
        match self.figure(cite)? {
            Figure::Percent(percent) => Some(percent),
            _ => None,
        }
    }

    /// The entry that shows it; none where it never changed in the match.
    #[must_use]
    pub fn entry(&self, cite: Cite) -> Option<u32> {
        self.find(cite)?.entry
    }

    /// Whether it changed in this rally.
    #[must_use]
    pub fn is_fresh(&self, cite: Cite, rally: u32) -> bool {
        self.find(cite).is_some_and(|known| known.rally == rally)
    }

    fn find(&self, cite: Cite) -> Option<&Known> {
        self.known[cite.place()].as_ref()
    }
}
