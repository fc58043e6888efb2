//! What the other plugins say: the latest figure of each indicator that prompts
//! are made of, with the entry that shows it.
//!
//! Who holds the initiative is not a figure; [`crate::rally`] follows that.

use rallytide_plugin_kit::{Key, Reading, Share, Team, Value};

/// The figures that prompts are made of: whatever is added here is read.
pub const FIGURES: &[&str] = &[
    APPROACH, BEST, BOUNCED, COVERAGE, FINISHED, FIRST, GAME, GIFT, LONGEST, MATCH, RUN, SERVE,
    SHOTS, SITTER, SPEEDUP, STREAK, ESCAPES, SWING, THIRD, UNLIKELY,
];
/// Who holds the initiative.
pub const INITIATIVE: &str = "initiative";

/// Defense spells from the return on that were not lost.
pub const APPROACH: &str = "approach.reached";
/// A team's longest streak of escapes.
pub const BEST: &str = "escape.best";
/// Balls from defense that had to bounce.
pub const BOUNCED: &str = "defense.bounced";
/// Rallies charted without a gap.
pub const COVERAGE: &str = "charting.coverage";
/// Escapes of all pressed spells.
pub const ESCAPES: &str = "escape.share";
/// Attacks that were finished.
pub const FINISHED: &str = "offense.finished";
/// Rallies in which a team attacked first.
pub const FIRST: &str = "neutral.first";
/// The chance to win the game.
pub const GAME: &str = "win.game";
/// Lost rallies that were given away.
pub const GIFT: &str = "gift.share";
/// The longest rally.
pub const LONGEST: &str = "rally.longest";
/// The chance to win the match.
pub const MATCH: &str = "win.match";
/// Points in a row.
pub const RUN: &str = "score.run";
/// Rallies won on serve.
pub const SERVE: &str = "serve.won";
/// Shots of the current, else last rally.
pub const SHOTS: &str = "rally.shots";
/// Rallies with a ball that the opponents left sitting up.
pub const SITTER: &str = "sitter.punished";
/// Rallies with a speedup, by what it was struck off.
pub const SPEEDUP: &str = "speedup.won";
/// Escapes in a row.
pub const STREAK: &str = "escape.streak";
/// How much the next rally matters.
pub const SWING: &str = "win.swing";
/// Rallies by the third shot.
pub const THIRD: &str = "third.won";
/// How likely the best streak is to be chance.
pub const UNLIKELY: &str = "escape.unlikely";

/// The slots that are told apart.
pub const SLOTS: &[&str] = &[
    "drive", "drop", "dink", "lob", "reset", "volley", "block", "speedup", "overhead", "erne",
    "atp", OTHER, READY, FORCED,
];
/// A stroke without a name.
pub const OTHER: &str = "other";
/// A speedup off a ball that sat up.
pub const READY: &str = "ready";
/// A speedup off any other ball.
pub const FORCED: &str = "forced";

/// Names a figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cite {
    /// One of [`FIGURES`].
    pub indicator: &'static str,
    /// The team it is about; none: the match.
    pub team: Option<Team>,
    /// One of [`SLOTS`].
    pub slot: Option<&'static str>,
}

impl Cite {
    /// A figure about a team.
    #[must_use]
    pub const fn team(indicator: &'static str, team: Team) -> Self {
        Self {
            indicator,
            team: Some(team),
            slot: None,
        }
    }

    /// A figure about the match.
    #[must_use]
    pub const fn of_match(indicator: &'static str) -> Self {
        Self {
            indicator,
            team: None,
            slot: None,
        }
    }

    /// The same with a slot.
    #[must_use]
    pub const fn slot(self, slot: &'static str) -> Self {
        Self {
            slot: Some(slot),
            ..self
        }
    }

    /// The indicator, with the slot behind a slash where there is one.
    #[must_use]
    pub fn name(self) -> String {
        match self.slot {
            None => self.indicator.to_owned(),
            Some(slot) => format!("{}/{slot}", self.indicator),
        }
    }

    /// The figure that a key names; none if no prompt is made of it.
    fn of_key(key: &Key) -> Option<Self> {
        let known =
            |list: &[&'static str], name: &str| list.iter().copied().find(|one| *one == name);
        let slot = match key.slot.as_deref() {
            None => None,
            Some(slot) => Some(known(SLOTS, slot)?),
        };
        (key.player.is_none()).then_some(())?;
        Some(Self {
            indicator: known(FIGURES, &key.indicator)?,
            team: key.team,
            slot,
        })
    }
}

/// A figure as it can be said: whole numbers only.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Figure {
    /// So many.
    Count(u32),
    /// So many of so many.
    Share {
        /// Those.
        part: u32,
        /// Of these.
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

#[derive(Debug)]
struct Known {
    cite: Cite,
    figure: Figure,
    entry: String,
    rally: u32,
}

/// The latest figures.
#[derive(Debug, Default)]
pub struct Sources {
    known: Vec<Known>,
}

impl Sources {
    /// Takes a reading that has changed in this rally, as `entry` shows. A reading
    /// that is no figure, or of another form, is none.
    pub fn take(&mut self, reading: &Reading, entry: &str, rally: u32) {
        let Some(cite) = Cite::of_key(&reading.key) else {
            return;
        };
        let Some(figure) = Figure::of(&reading.value) else {
            self.forget(&reading.key);
            return;
        };
        match self.known.iter_mut().find(|known| known.cite == cite) {
            Some(known) if known.figure == figure => {}
            Some(known) => {
                known.figure = figure;
                entry.clone_into(&mut known.entry);
                known.rally = rally;
            }
            None => self.known.push(Known {
                cite,
                figure,
                entry: entry.to_owned(),
                rally,
            }),
        }
    }

    /// A reading is no more.
    pub fn forget(&mut self, key: &Key) {
        if let Some(cite) = Cite::of_key(key) {
            self.known.retain(|known| known.cite != cite);
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

    /// The entry that shows it; empty where it never changed in the match.
    #[must_use]
    pub fn entry(&self, cite: Cite) -> &str {
        self.find(cite).map_or("", |known| &known.entry)
    }

    /// Whether it changed in this rally.
    #[must_use]
    pub fn is_fresh(&self, cite: Cite, rally: u32) -> bool {
        self.find(cite).is_some_and(|known| known.rally == rally)
    }

    fn find(&self, cite: Cite) -> Option<&Known> {
        self.known.iter().find(|known| known.cite == cite)
    }
}
