//! Who holds the initiative, and where the teams stand.
//!
//! The rules are common practice of the trade; there is no published standard.
//! The README says them in words, with an example. The modules hold the logic as
//! plain Rust: [`depths`] (where the teams stand), [`rows`] (what speaks against
//! whom), [`standing`] (who holds by it), [`rally`] (one rally on its way). This
//! file only translates between them and the host.

pub mod depths;
pub mod rally;
pub mod rows;
pub mod standing;

use rallytide_plugin_kit::{
    Discipline, Manifest, Moment, Opening, Play, Plugin, Readings, Team, Value, about, key,
};

use crate::rally::RallyJudge;

/// The plugin: the current rally.
#[derive(Debug)]
pub struct Initiative {
    discipline: Discipline,
    rally: RallyJudge,
}

impl Plugin for Initiative {
    fn manifest() -> Manifest {
        Manifest::new(
            "initiative",
            env!("CARGO_PKG_VERSION"),
            "Says who holds the initiative and why, and where the teams stand.",
        )
        .provides(&["initiative", "depth"])
    }

    fn start(opening: &Opening) -> Result<Self, String> {
        let discipline = opening.header.discipline;
        Ok(Self {
            discipline,
            rally: RallyJudge::to_come(discipline),
        })
    }

    fn step(&mut self, moment: &Moment) {
        let entry = moment.entry.place;
        match &moment.entry.play {
            Play::Shot(shot) => self.rally.shot(entry, shot),
            Play::Cue(mark) => self.rally.cue(entry, mark),
            Play::Depth(mark) => self.rally.depth(mark),
            Play::RallyEnd(_) | Play::Replay => self.rally = RallyJudge::to_come(self.discipline),
            // A match that ends otherwise cuts the rally off: it is as over.
            _ if moment.score.winner.is_some() => self.rally = RallyJudge::to_come(self.discipline),
            _ => {}
        }
    }

    fn readings(&self, readings: &mut Readings) {
        let standing = self.rally.standing();
        readings.explain(
            key("initiative"),
            standing.value(),
            standing.reasons(),
            standing.flags(),
        );
        let depths = self.rally.depths();
        for team in Team::BOTH {
            let mut flags = Vec::new();
            if !depths.is_explicit(team) {
                flags.push("inferred".to_owned());
            }
            let value = Value::Text(depths.of(team).word().into());
            readings.explain(about("depth", team), value, Vec::new(), flags);
        }
    }
}

rallytide_plugin_kit::export_plugin!(Initiative);
