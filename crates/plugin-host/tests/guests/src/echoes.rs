//! A guest that behaves: says of each entry which readings of the other guests
//! it was handed, so that tests see what is handed on.

use rallytide_plugin_kit::{
    Key, Manifest, Moment, Opening, Plugin, Reading, Readings, Value, key,
};

/// What it was handed: in the opening, changed, gone.
struct Echoes {
    opening: String,
    latest: Option<[String; 2]>,
}

fn words(what: &str, keys: impl Iterator<Item = String>) -> String {
    let keys: Vec<String> = keys.collect();
    format!("{what} {}", keys.join(" "))
}

fn name(key: &Key) -> String {
    match &key.team {
        None => key.indicator.to_string(),
        Some(team) => format!("{}/{team:?}", key.indicator),
    }
}

fn said(reading: &Reading) -> String {
    match &reading.value {
        Value::Count(n) => format!("{}={n}", name(&reading.key)),
        _ => name(&reading.key),
    }
}

impl Plugin for Echoes {
    fn manifest() -> Manifest {
        Manifest::new("echoes", "0.1.0", "Says what it is handed.")
            .provides(&["echoes.opening", "echoes.changed", "echoes.gone"])
            .reads(&["counts.entries", "counts.latest"])
    }

    fn start(opening: &Opening) -> Result<Self, String> {
        Ok(Self {
            opening: words("opening:", opening.upstream.all().map(said)),
            latest: None,
        })
    }

    fn step(&mut self, moment: &Moment) {
        let changed = words("changed:", moment.upstream.changed().map(said));
        let gone = words("gone:", moment.upstream.gone().iter().map(name));
        self.latest = Some([changed, gone]);
    }

    fn readings(&self, readings: &mut Readings) {
        readings.set(key("echoes.opening"), Value::Text(self.opening.clone()));
        if let Some([changed, gone]) = &self.latest {
            readings.set(key("echoes.changed"), Value::Text(changed.clone()));
            readings.set(key("echoes.gone"), Value::Text(gone.clone()));
        }
    }
}

rallytide_plugin_kit::export_plugin!(Echoes);
