//! Whether a team's best streak of recovered pressure means something.
//!
//! Reads the best streak and the share of escapes, and publishes the probability
//! that a streak at least as long would have come by chance in so many pressed
//! spells, at the team's own rate. The logic is in [`runs`]; this file only hands
//! over and publishes.

pub mod runs;

use rallytide_plugin_kit::{
    Key, Manifest, Moment, Opening, PerTeam, Plugin, Publisher, Reading, Severity, Share, Team,
    Value, about, log,
};

/// What is published.
const UNLIKELY: &str = "escape.unlikely";
/// The longest streak of the match, of each team.
const BEST: &str = "escape.best";
/// Escapes of all ended pressed spells, of each team.
const SHARE: &str = "escape.share";
/// The flag of a sequence that is longer than is looked at.
const CAPPED: &str = "capped";

/// The plugin: what is known of each team's spells, and what was published.
#[derive(Debug)]
pub struct Streaks {
    spells: PerTeam<Spells>,
    published: PerTeam<Option<Spells>>,
}

/// A team's pressed spells, as they were counted upstream; `None` where nobody
/// counts them any more.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Spells {
    best: Option<u32>,
    share: Option<(u32, u32)>,
}

impl Plugin for Streaks {
    fn manifest() -> Manifest {
        Manifest::new(
            "streaks",
            env!("CARGO_PKG_VERSION"),
            "Says how likely a team's best streak of recovered pressure is to be chance.",
        )
        .provides(&[UNLIKELY])
        .reads(&[BEST, SHARE])
        .called_for(&[])
    }

    fn start(opening: &Opening, publish: &mut Publisher) -> Result<Self, String> {
        let nothing = Spells {
            best: Some(0),
            share: Some((0, 0)),
        };
        let mut streaks = Self {
            spells: PerTeam {
                a: nothing,
                b: nothing,
            },
            published: PerTeam::default(),
        };
        for reading in &opening.readings {
            streaks.read(reading);
        }
        streaks.publish_changes(publish);
        Ok(streaks)
    }

    fn step(&mut self, moment: &Moment, publish: &mut Publisher) {
        for key in &moment.gone {
            self.forget(key);
        }
        for reading in &moment.changed {
            self.read(reading);
        }
        self.publish_changes(publish);
    }
}

impl Streaks {
    /// Keeps a reading: it is handed over only when it has changed.
    fn read(&mut self, reading: &Reading) {
        let Some(team) = reading.key.team else {
            return;
        };
        let spells = &mut self.spells[team];
        match (reading.key.indicator.as_str(), &reading.value) {
            (BEST, Value::Count(best)) => spells.best = Some(*best),
            (SHARE, Value::Share(Share { part, whole })) => spells.share = Some((*part, *whole)),
            (BEST | SHARE, _) => {
                let text = format!(
                    "the reading `{}` is of another form; nothing is said about its team",
                    reading.key.indicator
                );
                log(Severity::Error, &text);
                self.forget(&reading.key);
            }
            _ => {}
        }
    }

    /// A reading is no more.
    fn forget(&mut self, key: &Key) {
        let Some(team) = key.team else { return };
        match key.indicator.as_str() {
            BEST => self.spells[team].best = None,
            SHARE => self.spells[team].share = None,
            _ => {}
        }
    }

    /// Publishes what is new. Without its sources there is nothing to say, and
    /// the reading is taken back.
    fn publish_changes(&mut self, publish: &mut Publisher) {
        for team in Team::BOTH {
            let now = self.spells[team];
            let before = self.published[team].replace(now);
            if before == Some(now) {
                continue;
            }
            match now {
                Spells {
                    best: Some(best),
                    share: Some((part, whole)),
                } => {
                    let (chance, flags) = by_chance(best, part, whole);
                    let value = Value::Chance(chance);
                    publish.explain(about(UNLIKELY, team), value, Vec::new(), flags);
                }
                _ if before.is_some_and(|before| before.best.and(before.share).is_some()) => {
                    publish.gone(about(UNLIKELY, team));
                }
                _ => {}
            }
        }
    }
}

/// How likely a streak of `best` or more is among `whole` spells at the rate of
/// `part` of `whole`, with what is to be said about it. Without a spell or a
/// streak there is nothing unlikely.
fn by_chance(best: u32, part: u32, whole: u32) -> (f64, Vec<String>) {
    if best == 0 || whole == 0 {
        return (1.0, Vec::new());
    }
    let rate = f64::from(part.min(whole)) / f64::from(whole);
    let capped = whole > runs::LONGEST_SEQUENCE;
    let flags = capped.then(|| CAPPED.to_owned()).into_iter().collect();
    (runs::at_least_once(best, whole, rate), flags)
}

rallytide_plugin_kit::export_plugin!(Streaks);
