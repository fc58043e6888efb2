//! A guest that behaves: says of each entry which readings of the other guests
//! it was handed, so that tests see what is handed on.

use rallytide_plugin_kit::{
    Key, Manifest, Moment, Opening, Plugin, Publisher, Reading, Value, key,
};

struct Echoes;

fn words(what: &str, keys: impl Iterator<Item = String>) -> String {
    let keys: Vec<String> = keys.collect();
    format!("{what} {}", keys.join(" "))
}

fn name(key: &Key) -> String {
    match &key.team {
        None => key.indicator.clone(),
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

    fn start(opening: &Opening, publish: &mut Publisher) -> Result<Self, String> {
        let text = words("opening:", opening.readings.iter().map(said));
        publish.set(key("echoes.opening"), Value::Text(text));
        Ok(Self)
    }

    fn step(&mut self, moment: &Moment, publish: &mut Publisher) {
        let changed = words("changed:", moment.changed.iter().map(said));
        publish.set(key("echoes.changed"), Value::Text(changed));
        let gone = words("gone:", moment.gone.iter().map(name));
        publish.set(key("echoes.gone"), Value::Text(gone));
    }
}

rallytide_plugin_kit::export_plugin!(Echoes);
