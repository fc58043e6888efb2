//! One pass of an ensemble over one chart.
//!
//! Entries come in the order of the effective chart, each with what it is to
//! its rally and the score after it; the readings follow. Nothing else enters,
//! so a run over the same chart gives the same readings, byte for byte. After a
//! correction a fresh run is made.
//!
//! A plugin that is at fault is stopped for the rest of the run: its instance is
//! dropped and its readings are withdrawn, at the entry where it happened. Who
//! reads from it goes on, and is told that those readings are gone.

use std::collections::HashSet;

use rallytide_chart::{Effective, EntryId, Header, RallyStep, Seq};
use rallytide_scoring::Score;

use crate::answer::{Changes, Judge};
use crate::board::{Board, Delta};
use crate::ensemble::{Ensemble, Suspended, SwitchedOff};
use crate::fault::{Fault, Offence};
use crate::health::{PluginHealth, PluginState};
use crate::player::Player;
use crate::reading::{Reading, ReadingKey};
use crate::translate;
use crate::word::Word;

/// Plugins at work on one match.
pub struct Run {
    players: Vec<Player>,
    suspended: Vec<Suspended>,
    board: Board,
    handed: HashSet<EntryId>,
    faults: Vec<Fault>,
    over: bool,
}

/// What one entry changed.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct StepOutcome {
    /// The readings that are new or differ in anything, sorted.
    pub changed: Vec<Reading>,
    /// The readings that are no more, sorted.
    pub gone: Vec<ReadingKey>,
    /// The plugins that were stopped at this entry.
    pub faults: Vec<Fault>,
}

impl Run {
    pub(crate) fn start(
        ensemble: &Ensemble,
        header: &Header,
        score: &Score,
        off: &SwitchedOff,
    ) -> Self {
        let mut run = Self {
            players: Vec::with_capacity(ensemble.members().len()),
            suspended: ensemble.suspended().to_vec(),
            board: Board::default(),
            handed: HashSet::new(),
            faults: Vec::new(),
            over: score.is_over(),
        };
        let mut delta = Delta::default();
        for member in ensemble.members() {
            let manifest = member.code.manifest();
            let upstream = run.board.of(&manifest.reads);
            let opening = translate::opening(header, &member.settings, score, upstream);
            let owners = ensemble.owners().clone();
            let judge = Judge::new(manifest, owners, header.format.team_size());
            let code = member.code.clone();
            let mut player = match off.get(code.id()) {
                Some(why) => Player::switched_off(code, judge, why.clone()),
                None => Player::new(code, judge),
            };
            let answer = player.start(&opening);
            run.faults.extend(player.fault().cloned());
            run.players.push(player);
            if let Some(answer) = answer {
                let index = run.players.len() - 1;
                run.settle(index, answer, None, Seq(0), &mut delta);
            }
        }
        run
    }

    /// Hands the next entry of the effective chart to every plugin, each after
    /// those it reads from.
    ///
    /// `rally` is the rally reader's word on this entry, `score` the score after
    /// it. Entries after the one that ended the match change nothing.
    ///
    /// # Panics
    /// If `entry` is a shot and `rally` is not about it.
    pub fn step(&mut self, entry: &Effective, rally: &RallyStep, score: &Score) -> StepOutcome {
        if self.over {
            return StepOutcome::default();
        }
        self.over = score.is_over();
        self.handed.insert(entry.id.clone());
        let faults_before = self.faults.len();
        let mut moment = translate::moment(entry, rally, score);
        let mut delta = Delta::default();
        for index in 0..self.players.len() {
            let player = &mut self.players[index];
            if !player.runs() {
                continue;
            }
            (moment.changed, moment.gone) = delta.of(player.reads());
            if let Some(answer) = player.step(&moment, entry.seq, &self.handed) {
                self.settle(index, answer, Some(&entry.id), entry.seq, &mut delta);
            }
        }
        delta.sort();
        StepOutcome {
            changed: delta.changed,
            gone: delta.gone,
            faults: self.faults[faults_before..].to_vec(),
        }
    }

    /// All current readings, sorted.
    pub fn readings(&self) -> impl Iterator<Item = &Reading> {
        self.board.readings()
    }

    /// The current reading of `indicator` about the match.
    #[must_use]
    pub fn reading(&self, indicator: &str) -> Option<&Reading> {
        self.board.get(&ReadingKey {
            indicator: Word::from(indicator),
            team: None,
            player: None,
            slot: None,
        })
    }

    /// Every fault of the run, in order.
    #[must_use]
    pub fn faults(&self) -> &[Fault] {
        &self.faults
    }

    /// The plugins whose readings are not to be had, each with the reason in
    /// one sentence.
    pub fn unavailable(&self) -> impl Iterator<Item = (String, String)> {
        let ended = self.players.iter().filter_map(|player| {
            let why = player.why_ended()?;
            Some((player.id().to_string(), why))
        });
        let suspended = self.suspended.iter().map(|suspended| {
            let missing: Vec<String> = suspended.missing.iter().map(ToString::to_string).collect();
            let id = suspended.code.id();
            let why = format!("the plugin `{id}` waits for {}", missing.join(" and "));
            (id.to_string(), why)
        });
        ended.chain(suspended)
    }

    /// How each plugin is: first those that run or ran, in their order, then
    /// those that wait.
    #[must_use]
    pub fn health(&self) -> Vec<PluginHealth> {
        let suspended = self.suspended.iter().map(|suspended| PluginHealth {
            state: PluginState::Suspended {
                missing: suspended.missing.clone(),
            },
            ..PluginHealth::waiting(&suspended.code)
        });
        let players = self.players.iter().map(Player::health);
        players.chain(suspended).collect()
    }

    /// Puts up what a plugin answered, or ends it.
    fn settle(
        &mut self,
        index: usize,
        answer: Result<Changes, Offence>,
        entry: Option<&EntryId>,
        seq: Seq,
        delta: &mut Delta,
    ) {
        let player = &mut self.players[index];
        let within = answer.and_then(|changes| {
            player.grow(self.board.growth(&changes))?;
            Ok(changes)
        });
        match within {
            Ok(changes) => self.board.apply(player.id(), seq, changes, delta),
            Err(offence) => {
                self.board.withdraw(player.id(), delta);
                self.faults.push(player.end(offence, entry.cloned(), seq));
            }
        }
    }
}

impl std::fmt::Debug for Run {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Run")
            .field("plugins", &self.players.len())
            .field("faults", &self.faults)
            .finish_non_exhaustive()
    }
}
