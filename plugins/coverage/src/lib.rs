//! How much of the match was charted shot by shot: rallies that begin with a
//! serve and hold no assumed shot, of all that have ended. A caution beside
//! every other number.

use rallytide_plugin_kit::{
    Manifest, Moment, Opening, Play, Plugin, Publisher, RallyShots, Stroke, Tally, key,
};

const INDICATOR: &str = "charting.coverage";

/// The plugin: the current rally and the tally.
#[derive(Debug, Default)]
pub struct Coverage {
    rally: RallyShots,
    tally: Tally,
}

impl Plugin for Coverage {
    fn manifest() -> Manifest {
        Manifest::new(
            "coverage",
            env!("CARGO_PKG_VERSION"),
            "Counts the rallies that were charted without a gap.",
        )
        .provides(&[INDICATOR])
    }

    fn start(_: &Opening, publish: &mut Publisher) -> Result<Self, String> {
        publish.set(key(INDICATOR), Tally::default().value());
        Ok(Self::default())
    }

    fn step(&mut self, moment: &Moment, publish: &mut Publisher) {
        let entry = &moment.entry;
        match &entry.play {
            Play::RallyEnd(_) => {
                self.tally.count(is_whole(&self.rally));
                publish.set(key(INDICATOR), self.tally.value());
                self.rally.clear();
            }
            Play::Replay => self.rally.clear(),
            play => self.rally.take(&entry.id, play),
        }
    }
}

/// Whether a rally begins with a serve and no shot of it is assumed.
fn is_whole(rally: &RallyShots) -> bool {
    let shots = rally.all();
    let served = shots
        .first()
        .is_some_and(|shot| shot.stroke == Stroke::Serve);
    served && shots.iter().all(|shot| !shot.missed_before)
}

rallytide_plugin_kit::export_plugin!(Coverage);
