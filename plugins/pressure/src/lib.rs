//! What came of offense, defense and neutral play.
//!
//! Built on the readings `initiative` and `depth`; it judges nothing again. The
//! rules are common practice of the trade; there is no published standard. The
//! modules hold the logic as plain Rust: [`sight`] (what the upstream readings
//! say), [`rally`] (what one rally contributes), [`tallies`] (what the rallies add
//! up to) and [`players`] (the same for single players). This file only translates between them and the host.

pub mod players;
pub mod rally;
pub mod sight;
pub mod tallies;

use rallytide_plugin_kit::{
    Discipline, Manifest, Moment, Opening, PerTeam, Play, Plugin, Readings, Severity, Team, about,
    log,
};

use crate::players::{PLAYERS, PlayerCounts};
use crate::rally::RallyContribution;
use crate::sight::{DEPTH, INITIATIVE, Sight};
use crate::tallies::{TeamTallies, count};

/// The plugin: how things stand, the current rally, and the counts.
#[derive(Debug)]
pub struct Pressure {
    /// None where an upstream reading is missing.
    sight: Option<Sight>,
    /// None until its first shot.
    rally: Option<RallyContribution>,
    tallies: PerTeam<TeamTallies>,
    /// None in singles: there is nobody to tell apart.
    players: Option<PlayerCounts>,
}

impl Plugin for Pressure {
    fn manifest() -> Manifest {
        Manifest::new(
            "pressure",
            env!("CARGO_PKG_VERSION"),
            "Counts what came of offense, defense and neutral play, and each player's part in it.",
        )
        .provides(&[
            "offense.finished",
            "neutral.first",
            "defense.bounced",
            "gift.share",
            "pressed.won",
            "unpressed.won",
            "player.shots",
            "player.pressed",
            "player.errors",
        ])
        .reads(&[INITIATIVE, DEPTH])
    }

    fn start(opening: &Opening) -> Result<Self, String> {
        let doubles = opening.header.discipline == Discipline::Doubles;
        Ok(Self {
            sight: Sight::of(&opening.upstream),
            rally: None,
            tallies: PerTeam::default(),
            players: doubles.then(PlayerCounts::default),
        })
    }

    fn step(&mut self, moment: &Moment) {
        let after = Sight::of(&moment.upstream);
        let before = std::mem::replace(&mut self.sight, after);
        match &moment.entry.play {
            Play::RallyEnd(end) => {
                let rally = self.rally.take().unwrap_or_default();
                match before {
                    Some(before) if rally.was_in_sight() => {
                        count(&mut self.tallies, &rally, end, before.holder);
                        if let Some(players) = &mut self.players {
                            players.count(&rally, end);
                        }
                    }
                    _ => log(
                        Severity::Warn,
                        "the initiative or a depth was missing in this rally; it is not counted",
                    ),
                }
            }
            Play::Replay => self.rally = None,
            play => {
                if let Play::Shot(_) = play {
                    self.rally.get_or_insert_default();
                }
                if let Some(rally) = &mut self.rally {
                    match (before, after) {
                        (Some(before), Some(after)) => follow(rally, play, before, after),
                        _ => rally.lose_sight(),
                    }
                }
            }
        }
    }

    fn readings(&self, readings: &mut Readings) {
        for team in Team::BOTH {
            let tallies = &self.tallies[team];
            for (indicator, tally) in [
                ("offense.finished", tallies.finished),
                ("neutral.first", tallies.first),
                ("defense.bounced", tallies.bounced),
                ("gift.share", tallies.gifts),
                ("pressed.won", tallies.pressed_won),
                ("unpressed.won", tallies.unpressed_won),
            ] {
                readings.set(about(indicator, team), tally.value());
            }
            if let Some(players) = &self.players {
                for player in PLAYERS {
                    for (indicator, value) in players.readings(team, player) {
                        readings.set(about(indicator, team).player(player), value);
                    }
                }
            }
        }
    }
}

/// Only these entries can change how things stand.
fn follow(rally: &mut RallyContribution, play: &Play, before: Sight, after: Sight) {
    match play {
        Play::Shot(shot) => {
            rally.shot(shot, before);
            rally.look(after);
        }
        Play::Cue(_) | Play::Depth(_) => rally.look(after),
        _ => {}
    }
}

rallytide_plugin_kit::export_plugin!(Pressure);
