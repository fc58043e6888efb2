//! Publishes one reading of every type of value, about the match, a team, a
//! player and a slot, so that pages can be asked to show what they have never
//! heard of.

use rallytide_plugin_kit::{
    Lean, Manifest, Moment, Opening, Plugin, Readings, Share, Team, Value, about, key,
};

struct Spectrum(u32);

impl Plugin for Spectrum {
    fn manifest() -> Manifest {
        Manifest::new("spectrum", "1.0.0", "Publishes every type of value.").provides(&[
            "spectrum.lean",
            "spectrum.count",
            "spectrum.share",
            "spectrum.chance",
            "spectrum.duration",
            "spectrum.text",
            "spectrum.flag",
            "spectrum.slots",
            "spectrum.player",
        ])
    }

    fn start(_: &Opening) -> Result<Self, String> {
        Ok(Self(0))
    }

    fn step(&mut self, _: &Moment) {
        self.0 += 1;
    }

    fn readings(&self, readings: &mut Readings) {
        let entries = self.0;
        let toward = Some(if entries.is_multiple_of(2) { Team::A } else { Team::B });
        let lean = Lean {
            toward,
            strength: 0.5,
        };
        readings.set(key("spectrum.lean"), Value::Lean(lean));
        readings.set(key("spectrum.count"), Value::Count(40 + entries));
        for team in Team::BOTH {
            let share = Share {
                part: 2,
                whole: 5 + entries,
            };
            readings.set(about("spectrum.share", team), Value::Share(share));
        }
        readings.set(about("spectrum.chance", Team::A), Value::Chance(0.625));
        readings.set(key("spectrum.duration"), Value::Duration(12_300 + entries));
        let text = format!("heard {entries} entries");
        readings.set(key("spectrum.text"), Value::Text(text));
        readings.set(key("spectrum.flag"), Value::Flag(entries > 0));
        readings.set(key("spectrum.slots").slot("forehand"), Value::Count(entries));
        let player = about("spectrum.player", Team::B).player(1);
        readings.set(player, Value::Count(entries));
    }
}

rallytide_plugin_kit::export_plugin!(Spectrum);
