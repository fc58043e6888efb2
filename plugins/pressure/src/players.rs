//! What each player of a doubles team did: its part of the shots, how many of
//! them under pressure, its part of the errors.
//!
//! Everything rests on shots and errors whose player is known; the rest is left
//! out, of the whole too.

use rallytide_plugin_kit::{PerTeam, RallyEnd, Tally, Team, Value};

use crate::rally::{RallyContribution, is_own_error};

/// The players of a doubles team, in the order of the header.
pub const PLAYERS: [u32; 2] = [0, 1];

/// What was counted of one player.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
struct PlayerCount {
    shots: u32,
    pressed: u32,
    errors: u32,
}

/// What was counted of all four.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct PlayerCounts(PerTeam<[PlayerCount; 2]>);

impl PlayerCounts {
    /// Counts a rally that has ended.
    pub fn count(&mut self, rally: &RallyContribution, end: &RallyEnd) {
        for shot in rally.of_players() {
            if let Some(player) = self.player(shot.team, shot.player) {
                player.shots += 1;
                player.pressed += u32::from(shot.on_defense);
            }
        }
        let loser = end.winner.other();
        let erred = end.player.filter(|_| is_own_error(end));
        if let Some(player) = erred.and_then(|player| self.player(loser, player)) {
            player.errors += 1;
        }
    }

    /// A player's readings, always in this order.
    #[must_use]
    pub fn readings(&self, team: Team, player: u32) -> [(&'static str, Value); 3] {
        let [one, two] = self.0[team];
        let own = if player == 0 { one } else { two };
        let share = |part, whole| Tally { part, whole }.value();
        [
            ("player.shots", share(own.shots, one.shots + two.shots)),
            ("player.pressed", share(own.pressed, own.shots)),
            ("player.errors", share(own.errors, one.errors + two.errors)),
        ]
    }

    fn player(&mut self, team: Team, player: u32) -> Option<&mut PlayerCount> {
        self.0[team].get_mut(player as usize)
    }
}
