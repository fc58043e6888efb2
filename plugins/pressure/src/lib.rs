//! What came of offense, defense and neutral play.
//!
//! Built on the readings `initiative` and `depth`; it judges nothing again. The
//! rules are common practice of the trade; there is no published standard. The
//! modules hold the logic as plain Rust: [`standing`] (what the upstream readings
//! say), [`rally`] (what one rally contributes), [`tallies`] (what the rallies add
//! up to) and [`players`] (the same for single players). This file only translates between them and the host.

pub mod players;
pub mod rally;
pub mod standing;
pub mod tallies;

use rallytide_plugin_kit::{
    Discipline, Key, Manifest, Moment, Opening, PerTeam, Play, Plugin, Publisher, Severity, Team,
    Value, about, log,
};

use crate::players::{PLAYERS, Players};
use crate::rally::Rally;
use crate::standing::{DEPTH, INITIATIVE, Sight, Standing};
use crate::tallies::{TeamTallies, count};

/// The plugin: the current rally, the upstream readings, the counts, and what
/// was published last.
#[derive(Debug)]
pub struct Pressure {
    standing: Standing,
    /// None until its first shot.
    rally: Option<Rally>,
    tallies: PerTeam<TeamTallies>,
    published: PerTeam<TeamTallies>,
    /// None in singles: there is nobody to tell apart.
    players: Option<Players>,
    players_published: Players,
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

    fn start(opening: &Opening, publish: &mut Publisher) -> Result<Self, String> {
        let mut standing = Standing::default();
        for reading in &opening.readings {
            standing.take(reading);
        }
        for team in Team::BOTH {
            for (indicator, value) in readings(&TeamTallies::default()) {
                publish.set(about(indicator, team), value);
            }
        }
        let doubles = opening.header.discipline == Discipline::Doubles;
        let players = doubles.then(Players::default);
        if let Some(players) = &players {
            for (key, value) in player_readings(players) {
                publish.set(key, value);
            }
        }
        Ok(Self {
            standing,
            rally: None,
            tallies: PerTeam::default(),
            published: PerTeam::default(),
            players,
            players_published: Players::default(),
        })
    }

    fn step(&mut self, moment: &Moment, publish: &mut Publisher) {
        let before = self.standing.sight();
        self.read(moment);
        let after = self.standing.sight();
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
        self.publish_changes(publish);
        self.publish_players(publish);
    }
}

impl Pressure {
    fn read(&mut self, moment: &Moment) {
        for key in &moment.gone {
            self.standing.forget(key);
        }
        for reading in &moment.changed {
            self.standing.take(reading);
        }
    }

    /// Each reading at most once a call, however much one rally contributes.
    fn publish_changes(&mut self, publish: &mut Publisher) {
        if self.tallies == self.published {
            return;
        }
        for team in Team::BOTH {
            let (before, now) = (&self.published[team], &self.tallies[team]);
            for ((indicator, value), (_, old)) in readings(now).into_iter().zip(readings(before)) {
                if value != old {
                    publish.set(about(indicator, team), value);
                }
            }
        }
        self.published = self.tallies;
    }

    fn publish_players(&mut self, publish: &mut Publisher) {
        let Some(now) = self.players.filter(|now| *now != self.players_published) else {
            return;
        };
        let before = player_readings(&self.players_published);
        for ((key, value), (_, old)) in player_readings(&now).zip(before) {
            if value != old {
                publish.set(key, value);
            }
        }
        self.players_published = now;
    }
}

/// Only these entries can change how things stand.
fn follow(rally: &mut Rally, play: &Play, before: Sight, after: Sight) {
    match play {
        Play::Shot(shot) => {
            rally.shot(shot, before);
            rally.look(after);
        }
        Play::Cue(_) | Play::Depth(_) => rally.look(after),
        _ => {}
    }
}

/// All players' readings, always in this order.
fn player_readings(players: &Players) -> impl Iterator<Item = (Key, Value)> {
    Team::BOTH.into_iter().flat_map(move |team| {
        PLAYERS.into_iter().flat_map(move |player| {
            let key = move |indicator| Key {
                player: Some(player),
                ..about(indicator, team)
            };
            let readings = players.readings(team, player).into_iter();
            readings.map(move |(indicator, value)| (key(indicator), value))
        })
    })
}

/// A team's tallies as readings, always in this order.
fn readings(tallies: &TeamTallies) -> [(&'static str, Value); 6] {
    [
        ("offense.finished", tallies.finished.value()),
        ("neutral.first", tallies.first.value()),
        ("defense.bounced", tallies.bounced.value()),
        ("gift.share", tallies.gifts.value()),
        ("pressed.won", tallies.pressed_won.value()),
        ("unpressed.won", tallies.unpressed_won.value()),
    ]
}

rallytide_plugin_kit::export_plugin!(Pressure);
