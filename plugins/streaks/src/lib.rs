//! Whether a team's best streak of recovered pressure means something.
//!
//! Reads the best streak and the share of escapes, and publishes the probability
//! that a streak at least as long would have come by chance in the team's pressed
//! spells, at its own rate. The logic is in [`runs`]; this file only hands
//! over and publishes.

pub mod runs;

use rallytide_plugin_kit::{
    Manifest, Moment, Opening, PerTeam, Plugin, Readings, Share, Team, Upstream, Value, about,
};

/// What is published.
const UNLIKELY: &str = "escape.unlikely";
/// The longest streak of the match, of each team.
const BEST: &str = "escape.best";
/// Escapes of all ended pressed spells, of each team.
const SHARE: &str = "escape.share";
/// The flag of a sequence that is longer than is looked at.
const CAPPED: &str = "capped";

/// The plugin: what is known of each team's spells.
#[derive(Debug)]
pub struct Streaks {
    spells: PerTeam<Option<PressedSpells>>,
}

/// A team's pressed spells, as they were counted upstream.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct PressedSpells {
    best: u32,
    escaped: u32,
    ended: u32,
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

    fn start(opening: &Opening) -> Result<Self, String> {
        Ok(Self {
            spells: spells(&opening.upstream),
        })
    }

    fn step(&mut self, moment: &Moment) {
        self.spells = spells(&moment.upstream);
    }

    /// Without its sources there is nothing to say.
    fn readings(&self, readings: &mut Readings) {
        for team in Team::BOTH {
            if let Some(PressedSpells {
                best,
                escaped,
                ended,
            }) = self.spells[team]
            {
                let (chance, flags) = by_chance(best, escaped, ended);
                let value = Value::Chance(chance);
                readings.explain(about(UNLIKELY, team), value, Vec::new(), flags);
            }
        }
    }
}

/// Each team's spells; none where nobody counts them any more.
fn spells(upstream: &Upstream) -> PerTeam<Option<PressedSpells>> {
    let of = |team| {
        let best = &upstream.of_team(BEST, team)?.value;
        let share = &upstream.of_team(SHARE, team)?.value;
        let (Value::Count(best), Value::Share(Share { part, whole })) = (best, share) else {
            return None;
        };
        Some(PressedSpells {
            best: *best,
            escaped: *part,
            ended: *whole,
        })
    };
    PerTeam {
        a: of(Team::A),
        b: of(Team::B),
    }
}

/// How likely a streak of `best` or more is among `whole` spells at the rate of
/// `part` of `whole`, with its flags. Without a spell or a
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
