//! Publishes one reading of every type of value, about the match, a team, a
//! player and a slot, so that pages can be asked to show what they have never
//! heard of.

use rallytide_plugin_kit::{
    Lean, Manifest, Moment, Opening, Plugin, Publisher, Share, Team, Value, about, key,
};

struct Spectrum(u32);

impl Spectrum {
    fn publish(&self, publish: &mut Publisher) {
        let entries = self.0;
        let toward = Some(if entries.is_multiple_of(2) { Team::A } else { Team::B });
        let lean = Lean {
            toward,
            strength: 0.5,
        };
        publish.set(key("spectrum.lean"), Value::Lean(lean));
        publish.set(key("spectrum.count"), Value::Count(40 + entries));
        for team in Team::BOTH {
            let share = Share {
                part: 2,
                whole: 5 + entries,
            };
            publish.set(about("spectrum.share", team), Value::Share(share));
        }
        publish.set(about("spectrum.chance", Team::A), Value::Chance(0.625));
        publish.set(key("spectrum.duration"), Value::Duration(12_300 + entries));
        let text = format!("heard {entries} entries");
        publish.set(key("spectrum.text"), Value::Text(text));
        publish.set(key("spectrum.flag"), Value::Flag(entries > 0));
        publish.set(key("spectrum.slots").slot("forehand"), Value::Count(entries));
        let mut player = about("spectrum.player", Team::B);
        player.player = Some(1);
        publish.set(player, Value::Count(entries));
    }
}

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

    fn start(_: &Opening, publish: &mut Publisher) -> Result<Self, String> {
        let spectrum = Self(0);
        spectrum.publish(publish);
        Ok(spectrum)
    }

    fn step(&mut self, _: &Moment, publish: &mut Publisher) {
        self.0 += 1;
        self.publish(publish);
    }
}

rallytide_plugin_kit::export_plugin!(Spectrum);
