//! What came of offense, defense and neutral play.
//!
//! Built on the readings `initiative` and `depth`; it judges nothing again.
//! [`rally`] follows one rally as plain Rust and says what it contributed; this
//! file only hands it what the host hands over, and counts.

pub mod rally;

use rallytide_plugin_kit::{
    Manifest, Moment, Opening, Play, Plugin, Publisher, Reading, Shares, Team, Value,
};

use crate::rally::{Rally, Standing};

/// The plugin: the current rally, the upstream readings, and the tallies.
#[derive(Debug)]
pub struct Pressure {
    rally: Rally,
    standing: Standing,
    finished: Shares,
    first: Shares,
    bounced: Shares,
    gifts: Shares,
}

impl Plugin for Pressure {
    fn manifest() -> Manifest {
        Manifest::new(
            "pressure",
            env!("CARGO_PKG_VERSION"),
            "Counts what came of offense, defense and neutral play.",
        )
        .provides(&[
            "offense.finished",
            "neutral.first",
            "defense.bounced",
            "gift.share",
        ])
        .reads(&["initiative", "depth"])
    }

    fn start(opening: &Opening, publish: &mut Publisher) -> Result<Self, String> {
        let mut standing = Standing::default();
        for reading in &opening.readings {
            take(&mut standing, reading);
        }
        Ok(Self {
            rally: Rally::default(),
            standing,
            finished: Shares::by_team("offense.finished", publish),
            first: Shares::by_team("neutral.first", publish),
            bounced: Shares::by_team("defense.bounced", publish),
            gifts: Shares::by_team("gift.share", publish),
        })
    }

    fn step(&mut self, moment: &Moment, publish: &mut Publisher) {
        let before = self.standing.holder;
        for reading in &moment.changed {
            take(&mut self.standing, reading);
        }
        for key in &moment.gone {
            self.standing.forget(&key.indicator, key.team);
        }
        match &moment.entry.play {
            Play::Shot(shot) => {
                self.rally.shot(shot, before);
                self.rally.look(&self.standing);
            }
            Play::Cue(_) | Play::Depth(_) => self.rally.look(&self.standing),
            Play::RallyEnd(end) => {
                let ended = std::mem::take(&mut self.rally);
                self.count(&ended, end.winner, publish);
                let loser = end.winner.other();
                let gift = rally::is_gift(end, before);
                self.gifts.count(loser, gift, publish);
            }
            Play::Replay => self.rally = Rally::default(),
            _ => {}
        }
    }
}

impl Pressure {
    fn count(&mut self, rally: &Rally, winner: Team, publish: &mut Publisher) {
        for spell in rally.offense_spells() {
            let finished = spell.open && spell.team == winner;
            self.finished.count(spell.team, finished, publish);
        }
        if let Some(first) = rally.first_out_of_neutral() {
            for team in Team::BOTH {
                self.first.count(team, team == first, publish);
            }
        }
        for answer in rally.answers() {
            self.bounced.count(answer.team, answer.bounced, publish);
        }
    }
}

/// Takes an upstream reading.
fn take(standing: &mut Standing, reading: &Reading) {
    match (
        reading.key.indicator.as_str(),
        reading.key.team,
        &reading.value,
    ) {
        ("initiative", None, Value::Lean(lean)) => {
            standing.holder = lean.toward;
            let rows = reading.why.iter().filter(|reason| reason.code != "depth");
            standing.rows_against = rows.filter_map(|reason| reason.team).collect();
        }
        ("depth", Some(team), Value::Text(depth)) => standing.at_line[team] = depth == "line",
        _ => {}
    }
}

rallytide_plugin_kit::export_plugin!(Pressure);
