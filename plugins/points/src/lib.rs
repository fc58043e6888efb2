//! Points in a row: how many a team has scored since the other last did.
//!
//! Points come from rallies and from penalties; points taken off and what the
//! referee sets are ignored.

use rallytide_plugin_kit::{
    Manifest, Moment, Opening, Pair, PerTeam, Play, Plugin, Publisher, Score, Team, Value, about,
};

const INDICATOR: &str = "score.run";

/// The plugin: the runs, and the score they were counted by.
#[derive(Debug)]
pub struct Points {
    runs: PerTeam<u32>,
    before: Score,
}

impl Plugin for Points {
    fn manifest() -> Manifest {
        Manifest::new(
            "points",
            env!("CARGO_PKG_VERSION"),
            "Counts the points a team has scored in a row.",
        )
        .provides(&[INDICATOR])
    }

    fn start(opening: &Opening, publish: &mut Publisher) -> Result<Self, String> {
        for team in Team::BOTH {
            publish.set(about(INDICATOR, team), Value::Count(0));
        }
        Ok(Self {
            runs: PerTeam::default(),
            before: opening.score.clone(),
        })
    }

    fn step(&mut self, moment: &Moment, publish: &mut Publisher) {
        let before = std::mem::replace(&mut self.before, moment.score.clone());
        if !matches!(moment.entry.play, Play::RallyEnd(_) | Play::Penalty(_)) {
            return;
        }
        for team in Team::BOTH {
            let gained = gained(&before, &moment.score, team);
            if gained == 0 {
                continue;
            }
            self.runs[team] += gained;
            publish.set(about(INDICATOR, team), Value::Count(self.runs[team]));
            if self.runs[team.other()] > 0 {
                self.runs[team.other()] = 0;
                publish.set(about(INDICATOR, team.other()), Value::Count(0));
            }
        }
    }
}

/// The points `team` has gained between two scores, also where a game ended in
/// between: then they stand with the games that are over.
fn gained(before: &Score, after: &Score, team: Team) -> u32 {
    let points = if after.finished.len() > before.finished.len() {
        after.finished.last().copied().unwrap_or(after.points)
    } else {
        after.points
    };
    of(points, team).saturating_sub(of(before.points, team))
}

fn of(pair: Pair, team: Team) -> u32 {
    match team {
        Team::A => pair.a,
        Team::B => pair.b,
    }
}

rallytide_plugin_kit::export_plugin!(Points);
