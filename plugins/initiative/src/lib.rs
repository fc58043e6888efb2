//! Who holds the initiative, and where the teams stand.
//!
//! The rules are common practice of the trade; there is no published standard.
//! The README says them in words, with an example. The modules hold the logic as
//! plain Rust: [`depths`] (where the teams stand), [`rows`] (what speaks against
//! whom), [`standing`] (who holds by it), [`rally`] (one rally on its way). This
//! file only translates between them and the host.

pub mod depths;
pub mod rally;
pub mod rows;
pub mod standing;

use rallytide_plugin_kit::{
    Depth, Discipline, Key, Manifest, Moment, Opening, PerTeam, Play, Plugin, Publisher, Team,
    Value, about, key,
};

use crate::depths::Depths;
use crate::rally::Rally;
use crate::standing::Standing;

/// The plugin: the current rally, and what was published last.
#[derive(Debug)]
pub struct Initiative {
    discipline: Discipline,
    rally: Rally,
    published: Published,
}

/// The last published readings, so that only changes are published.
#[derive(Debug)]
struct Published {
    standing: Standing,
    depths: PerTeam<DepthReading>,
}

/// What is published about where a team stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct DepthReading {
    depth: Depth,
    inferred: bool,
}

impl Plugin for Initiative {
    fn manifest() -> Manifest {
        Manifest::new(
            "initiative",
            env!("CARGO_PKG_VERSION"),
            "Says who holds the initiative and why, and where the teams stand.",
        )
        .provides(&["initiative", "depth"])
    }

    fn start(opening: &Opening, publish: &mut Publisher) -> Result<Self, String> {
        let discipline = opening.header.discipline;
        let rally = Rally::to_come(discipline);
        let published = Published {
            standing: rally.standing().clone(),
            depths: depth_readings(rally.depths()),
        };
        published.standing_to(publish);
        for team in Team::BOTH {
            published.depth_to(publish, team);
        }
        Ok(Self {
            discipline,
            rally,
            published,
        })
    }

    fn step(&mut self, moment: &Moment, publish: &mut Publisher) {
        let entry = moment.entry.place;
        match &moment.entry.play {
            Play::Shot(shot) => self.rally.shot(entry, shot),
            Play::Cue(mark) => self.rally.cue(entry, mark),
            Play::Depth(mark) => self.rally.depth(mark),
            Play::RallyEnd(_) | Play::Replay => self.rally = Rally::to_come(self.discipline),
            // A match that ends otherwise cuts the rally off: it is as over.
            _ if moment.score.winner.is_some() => self.rally = Rally::to_come(self.discipline),
            _ => {}
        }
        self.publish_changes(publish);
    }
}

impl Initiative {
    fn publish_changes(&mut self, publish: &mut Publisher) {
        let standing = self.rally.standing();
        if self.published.standing != *standing {
            self.published.standing = standing.clone();
            self.published.standing_to(publish);
        }
        let depths = depth_readings(self.rally.depths());
        for team in Team::BOTH {
            if self.published.depths[team] != depths[team] {
                self.published.depths[team] = depths[team];
                self.published.depth_to(publish, team);
            }
        }
    }
}

impl Published {
    fn standing_to(&self, publish: &mut Publisher) {
        let standing = &self.standing;
        publish.explain(
            key("initiative"),
            standing.value(),
            standing.reasons(),
            standing.flags(),
        );
    }

    fn depth_to(&self, publish: &mut Publisher, team: Team) {
        let DepthReading { depth, inferred } = self.depths[team];
        let word = match depth {
            Depth::Back => "back",
            Depth::Transition => "transition",
            Depth::Line => "line",
        };
        let flags = if inferred {
            vec!["inferred".to_owned()]
        } else {
            Vec::new()
        };
        publish.explain(depth_key(team), Value::Text(word.into()), Vec::new(), flags);
    }
}

fn depth_key(team: Team) -> Key {
    about("depth", team)
}

fn depth_readings(depths: &Depths) -> PerTeam<DepthReading> {
    let reading = |team| DepthReading {
        depth: depths.of(team),
        inferred: !depths.is_explicit(team),
    };
    PerTeam {
        a: reading(Team::A),
        b: reading(Team::B),
    }
}

rallytide_plugin_kit::export_plugin!(Initiative);
