//! How well the teams get out of pressure.
//!
//! Reads who holds the initiative and counts defense spells: the streak of
//! recovered pressure, its best, the share of escapes, and how often a team gets
//! out of the defense it is put on by the return. The rules are common practice
//! of the trade; there is no published standard. The modules hold the logic as
//! plain Rust: [`spells`] (when a spell begins and how it ends) and [`tally`]
//! (what is counted). This file only translates between them and the host.

pub mod spells;
pub mod tally;

use rallytide_plugin_kit::{
    Held, Manifest, Moment, Opening, PerTeam, Play, Plugin, Publisher, Reading, Severity, Share,
    Team, Value, about, log,
};

use crate::spells::Spells;
use crate::tally::{Part, Tally, TeamTally};

/// The indicator that the spells are made of.
const INITIATIVE: &str = "initiative";

/// The plugin: the current rally's spells, the counts, what was published last.
#[derive(Debug)]
pub struct Escape {
    held: Held,
    latest_shot: u32,
    spells: Spells,
    tally: Tally,
    published: PerTeam<TeamTally>,
}

impl Plugin for Escape {
    fn manifest() -> Manifest {
        Manifest::new(
            "escape",
            env!("CARGO_PKG_VERSION"),
            "Counts how the teams get out of pressure, and their streaks of doing so.",
        )
        .provides(&[
            "escape.streak",
            "escape.best",
            "escape.share",
            "approach.reached",
        ])
        .reads(&[INITIATIVE])
    }

    fn start(opening: &Opening, publish: &mut Publisher) -> Result<Self, String> {
        let mut escape = Self {
            held: Held::default(),
            latest_shot: 0,
            spells: Spells::default(),
            tally: Tally::default(),
            published: PerTeam::default(),
        };
        for reading in &opening.readings {
            escape.read(reading);
        }
        for team in Team::BOTH {
            publish_all(publish, team, &escape.published[team]);
        }
        Ok(escape)
    }

    fn step(&mut self, moment: &Moment, publish: &mut Publisher) {
        if moment.gone.iter().any(|key| key.indicator == INITIATIVE) {
            self.lose_the_initiative();
        }
        for reading in &moment.changed {
            self.read(reading);
        }
        self.take(moment);
        self.publish_changes(publish);
    }
}

impl Escape {
    /// Keeps the current reading of the initiative: it is handed over only when
    /// it has changed.
    fn read(&mut self, reading: &Reading) {
        if reading.key.indicator != INITIATIVE {
            return;
        }
        if let Some(held) = Held::of(reading) {
            self.held = held;
        } else {
            log(
                Severity::Error,
                "the reading `initiative` does not lean; nobody is taken to hold",
            );
            self.lose_the_initiative();
        }
    }

    /// Nobody says who holds any more: what is open has no known end.
    fn lose_the_initiative(&mut self) {
        self.held = Held::default();
        self.spells.break_off();
    }

    fn take(&mut self, moment: &Moment) {
        let ended = match &moment.entry.play {
            Play::RallyEnd(end) => self.spells.rally_won_by(end.winner),
            Play::Replay => {
                self.spells.break_off();
                self.tally.take_rally_back();
                None
            }
            // The match is over in the middle of the rally.
            _ if moment.score.winner.is_some() => {
                self.spells.break_off();
                None
            }
            play => {
                if let Play::Shot(shot) = play {
                    self.latest_shot = shot.number;
                }
                self.spells.entry(self.held, self.latest_shot)
            }
        };
        if let Some(spell) = ended {
            self.tally.count(spell);
        }
        if let Play::RallyEnd(_) | Play::Replay = moment.entry.play {
            self.latest_shot = 0;
            self.tally.keep_rally();
        }
    }

    fn publish_changes(&mut self, publish: &mut Publisher) {
        let now = self.tally.now();
        if now == self.published {
            return;
        }
        for team in Team::BOTH {
            let (before, now) = (self.published[team], now[team]);
            for ((indicator, value), (_, old)) in readings(&now).into_iter().zip(readings(&before))
            {
                if value != old {
                    publish.set(about(indicator, team), value);
                }
            }
        }
        self.published = now;
    }
}

fn publish_all(publish: &mut Publisher, team: Team, tally: &TeamTally) {
    for (indicator, value) in readings(tally) {
        publish.set(about(indicator, team), value);
    }
}

/// A team's counts as readings, always in this order.
fn readings(tally: &TeamTally) -> [(&'static str, Value); 4] {
    [
        ("escape.streak", Value::Count(tally.streak)),
        ("escape.best", Value::Count(tally.best)),
        ("escape.share", share(tally.escaped)),
        ("approach.reached", share(tally.reached)),
    ]
}

fn share(Part { part, whole }: Part) -> Value {
    Value::Share(Share { part, whole })
}

rallytide_plugin_kit::export_plugin!(Escape);
