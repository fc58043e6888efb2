//! A guest that behaves: counts entries and shots, says why, takes a reading
//! back between rallies.

use rallytide_plugin_kit::{
    Manifest, Moment, Opening, Play, Plugin, Readings, Reason, Severity, Share, Shot, Team, Value,
    about, key, log,
};

/// Counts.
pub struct Counts {
    entries: u32,
    shots: [u32; 2],
    /// The latest entry, if it was a shot.
    latest: Option<(u32, Shot)>,
}

impl Plugin for Counts {
    fn manifest() -> Manifest {
        Manifest::new("counts", "0.1.0", "Counts entries and shots.").provides(&[
            "counts.entries",
            "counts.shots",
            "counts.latest",
        ])
    }

    fn start(_: &Opening) -> Result<Self, String> {
        log(Severity::Info, "counting");
        Ok(Self {
            entries: 0,
            shots: [0; 2],
            latest: None,
        })
    }

    fn step(&mut self, moment: &Moment) {
        self.entries += 1;
        self.latest = None;
        if let Play::Shot(shot) = &moment.entry.play {
            self.shots[shot.team as usize] += 1;
            self.latest = Some((moment.entry.place, *shot));
        }
    }

    fn readings(&self, readings: &mut Readings) {
        readings.set(key("counts.entries"), Value::Count(self.entries));
        let whole = self.shots.iter().sum();
        for team in Team::BOTH {
            let part = self.shots[team as usize];
            readings.set(
                about("counts.shots", team),
                Value::Share(Share { part, whole }),
            );
        }
        if let Some((entry, shot)) = &self.latest {
            readings.explain(
                key("counts.latest"),
                Value::Text(format!("{:?} {}", shot.stroke, shot.number)),
                vec![Reason {
                    code: "struck".into(),
                    team: Some(shot.team.other()),
                    entry: *entry,
                    inferred: false,
                }],
                vec!["z".into(), "a".into()],
            );
        }
    }
}

rallytide_plugin_kit::export_plugin!(Counts);
