//! A guest that behaves: counts entries and shots, says why, takes a reading
//! back between rallies.

use rallytide_plugin_kit::{
    Manifest, Moment, Opening, Play, Plugin, Publisher, Reason, Severity, Share, Team, Value,
    about, key, log,
};

/// Counts.
pub struct Counts {
    entries: u32,
    shots: [u32; 2],
}

impl Plugin for Counts {
    fn manifest() -> Manifest {
        Manifest::new("counts", "0.1.0", "Counts entries and shots.").provides(&[
            "counts.entries",
            "counts.shots",
            "counts.latest",
        ])
    }

    fn start(_: &Opening, publish: &mut Publisher) -> Result<Self, String> {
        publish.set(key("counts.entries"), Value::Count(0));
        for team in Team::BOTH {
            publish.set(
                about("counts.shots", team),
                Value::Share(Share { part: 0, whole: 0 }),
            );
        }
        log(Severity::Info, "counting");
        Ok(Self {
            entries: 0,
            shots: [0; 2],
        })
    }

    fn step(&mut self, moment: &Moment, publish: &mut Publisher) {
        self.entries += 1;
        publish.set(key("counts.entries"), Value::Count(self.entries));
        let latest = key("counts.latest");
        let Play::Shot(shot) = &moment.entry.play else {
            publish.gone(latest);
            return;
        };
        self.shots[shot.team as usize] += 1;
        let whole = self.shots.iter().sum();
        for team in Team::BOTH {
            let part = self.shots[team as usize];
            publish.set(
                about("counts.shots", team),
                Value::Share(Share { part, whole }),
            );
        }
        publish.explain(
            latest,
            Value::Text(format!("{:?} {}", shot.stroke, shot.number)),
            vec![Reason {
                code: "struck".into(),
                team: Some(shot.team.other()),
                entry: moment.entry.place,
                inferred: false,
            }],
            vec!["z".into(), "a".into()],
        );
    }
}

rallytide_plugin_kit::export_plugin!(Counts);
