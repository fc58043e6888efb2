//! A match charted through the plugins as the host runs them: each after those
//! that it reads, handed what has changed by the same entry.

use rallytide_escape::Escape;
use rallytide_initiative::Initiative;
use rallytide_plugin_kit::testing::{Script, Trial};
use rallytide_plugin_kit::{Change, Entry, Plugin, Reading, Share, Team, Value, about};
use rallytide_pressure::Pressure;

/// All that the plugin publishes about players.
pub(crate) const OF_PLAYERS: [&str; 3] = ["player.shots", "player.pressed", "player.errors"];

/// All that the plugin publishes about teams.
pub(crate) const INDICATORS: [&str; 6] = [
    "offense.finished",
    "neutral.first",
    "defense.bounced",
    "gift.share",
    "pressed.won",
    "unpressed.won",
];

/// The three plugins at work.
pub(crate) struct Charted {
    script: Script,
    pub(crate) initiative: Trial<Initiative>,
    pub(crate) escape: Trial<Escape>,
    pub(crate) pressure: Trial<Pressure>,
}

impl Charted {
    pub(crate) fn start() -> Self {
        let initiative = Trial::<Initiative>::start(Vec::new(), Vec::new()).unwrap();
        let upstream = initiative.readings();
        let held = of::<Escape>(&upstream);
        Self {
            script: Script::default(),
            escape: Trial::start(Vec::new(), held).unwrap(),
            pressure: Trial::start(Vec::new(), upstream).unwrap(),
            initiative,
        }
    }

    /// A match from its text.
    #[track_caller]
    pub(crate) fn read(text: &str) -> Self {
        let mut charted = Self::start();
        charted.chart(text);
        charted
    }

    /// Goes on with the text; the answer is what `pressure` published by its last
    /// entry.
    #[track_caller]
    pub(crate) fn chart(&mut self, text: &str) -> Vec<Change> {
        let mut changes = Vec::new();
        for entry in self.script.read(text) {
            changes = self.entry(entry);
        }
        changes
    }

    pub(crate) fn entry(&mut self, entry: Entry) -> Vec<Change> {
        let changes = self.initiative.entry(entry.clone(), Vec::new());
        let changed: Vec<Reading> = changes
            .into_iter()
            .map(|change| match change {
                Change::Set(reading) => reading,
                Change::Gone(key) => panic!("{key:?} is gone"),
            })
            .collect();
        let held = of::<Escape>(&changed);
        self.escape.entry(entry.clone(), held);
        self.pressure.entry(entry, changed)
    }

    pub(crate) fn share(&self, indicator: &'static str, team: Team) -> Share {
        share(&self.pressure, indicator, team)
    }

    /// Compares both teams' shares, as `1 of 2`.
    #[track_caller]
    pub(crate) fn check(&self, indicator: &'static str, a: &str, b: &str) {
        for (team, expected) in [(Team::A, a), (Team::B, b)] {
            let Share { part, whole } = self.share(indicator, team);
            assert_eq!(
                format!("{part} of {whole}"),
                expected,
                "{indicator} of {team:?}"
            );
        }
    }
}

/// A share that a plugin has published.
pub(crate) fn share<P: Plugin>(trial: &Trial<P>, indicator: &'static str, team: Team) -> Share {
    match trial.value(&about(indicator, team)) {
        Some(Value::Share(share)) => *share,
        other => panic!("`{indicator}` of {team:?} is {other:?}"),
    }
}

/// What the plugin reads of these.
fn of<P: Plugin>(readings: &[Reading]) -> Vec<Reading> {
    let reads = P::manifest().reads;
    let mut readings = readings.to_vec();
    readings.retain(|reading| reads.iter().any(|name| *name == reading.key.indicator));
    readings
}
