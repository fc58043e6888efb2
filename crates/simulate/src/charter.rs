//! The volunteer: sees a rally, types it with a delay, errs and mends it.
//!
//! Invariants: ids are unique; times never go back; a reference names an entry
//! recorded before; whatever is typed wrong about who won a rally is put right
//! before the next serve, so that the effective chart tells the true score; all
//! else may stay wrong, as it does with people.

mod drafts;
mod entries;
mod sight;
mod slips;
mod typing;

use rallytide_chart::{At, Discipline, Play};
use serde_json::{Map, Value};

use crate::dice::{Dice, Stream};
use crate::plan::{Detail, Mistakes, NamedPlayers, Plan, Tempo};

/// A charter at work.
#[derive(Debug, Clone)]
pub(super) struct SimulatedCharter {
    dice: Dice,
    discipline: Discipline,
    detail: Detail,
    mistakes: Mistakes,
    players: NamedPlayers,
    tempo: Tempo,
    /// The number of the rally in the ids of its entries, replayed ones counted.
    rally: u32,
    /// How many ids of each kind were given in this rally, or between two.
    given: Vec<(char, u32)>,
    /// The last time written, in milliseconds since 1970.
    last_at: i64,
    lines: Vec<String>,
}

impl SimulatedCharter {
    pub(super) fn new(plan: &Plan, discipline: Discipline) -> Self {
        Self {
            dice: Dice::new(plan.seed, Stream::Charter),
            discipline,
            detail: plan.detail,
            mistakes: plan.mistakes,
            players: plan.players,
            tempo: plan.tempo,
            rally: 0,
            given: Vec::new(),
            last_at: plan.start.milliseconds(),
            lines: Vec::new(),
        }
    }

    /// Whether the player of a shot or an end is named, `share` of them where only
    /// some are. Chance is asked in any case, so that all else stays the same.
    fn names_player(&mut self, share: f64) -> bool {
        let some = self.dice.chance(share);
        self.discipline == Discipline::Doubles
            && match self.players {
                NamedPlayers::All => true,
                NamedPlayers::Some => some,
                NamedPlayers::None => false,
            }
    }

    /// The lines recorded since this was last called.
    pub(super) fn take_lines(&mut self) -> Vec<String> {
        std::mem::take(&mut self.lines)
    }

    /// Records something that happened between rallies.
    pub(super) fn records(&mut self, happened: i64, play: &Play) {
        let delay = self.dice.milliseconds(1_200.0, 600.0);
        let id = self.between_id(play);
        let at = self.unhurried(happened + self.tempo.of_pauses(delay));
        self.write(&id, at, entries::play_fields(play));
    }

    /// Ids between rallies say what they are: `time-out-after-12`.
    fn between_id(&mut self, play: &Play) -> String {
        let word = play.kind().word().replace('_', "-");
        let rally = self.rally;
        let count = self.count(word.chars().next().unwrap_or('x').to_ascii_uppercase());
        match count {
            1 => format!("{word}-after-{rally}"),
            _ => format!("{word}-after-{rally}-{count}"),
        }
    }

    /// Begins a new rally: ids count from 1 again.
    fn new_rally(&mut self) {
        self.rally += 1;
        self.given.clear();
    }

    /// The next id of this rally for a kind of entry: `r12s3`.
    fn rally_id(&mut self, kind: char) -> String {
        let count = self.count(kind);
        format!("r{}{kind}{count}", self.rally)
    }

    fn count(&mut self, kind: char) -> u32 {
        if let Some((_, count)) = self.given.iter_mut().find(|(known, _)| *known == kind) {
            *count += 1;
            return *count;
        }
        self.given.push((kind, 1));
        1
    }

    /// `at`, or later if the last entry has just been typed: between rallies
    /// nobody types two things at once.
    fn unhurried(&self, at: i64) -> i64 {
        at.max(self.last_at + self.tempo.of_pauses(700))
    }

    /// Writes an entry; a time not after the last one is moved behind it.
    fn write(&mut self, id: &str, at: i64, fields: Map<String, Value>) {
        self.last_at = at.max(self.last_at + 1);
        let at = At::from_milliseconds(self.last_at);
        self.lines.push(entries::line(id, at, fields));
    }
}
