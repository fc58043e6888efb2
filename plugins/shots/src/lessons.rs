//! What one rally shows, looked back on when it has ended.

use rallytide_plugin_kit::{RallyShots, Stroke, Team};

/// The stroke of the third shot, if it was recorded, as it is written.
#[must_use]
pub fn third_shot(rally: &RallyShots) -> Option<&'static str> {
    let third = rally.all().iter().find(|shot| shot.number == 3)?;
    Some(third.stroke.word())
}

/// What the team's first speedup came off: a ball marked attackable (`sitter`), or
/// one that was not marked or is not known (`other`).
#[must_use]
pub fn first_speedup(rally: &RallyShots, team: Team) -> Option<&'static str> {
    let shots = rally.all();
    let place = shots
        .iter()
        .position(|shot| shot.team == team && shot.stroke == Stroke::Speedup)?;
    let sat_up = rally.before(place).is_some_and(|before| before.attackable);
    Some(if sat_up { "sitter" } else { "other" })
}

/// Whether the team left a ball that sat up.
#[must_use]
pub fn left_attackable(rally: &RallyShots, team: Team) -> bool {
    let mut shots = rally.all().iter();
    shots.any(|shot| shot.team == team && shot.attackable)
}
