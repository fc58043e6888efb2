//! What the rallies that counted add up to.

use rallytide_plugin_kit::{PerTeam, RallyEnd, Tally, Team};

use crate::rally::{RallyContribution, is_gift};

/// The tallies of a team.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct TeamTallies {
    /// `offense.finished`.
    pub finished: Tally,
    /// `neutral.first`.
    pub first: Tally,
    /// `defense.bounced`.
    pub bounced: Tally,
    /// `gift.share`.
    pub gifts: Tally,
    /// `pressed.won`.
    pub pressed_won: Tally,
    /// `unpressed.won`.
    pub unpressed_won: Tally,
}

/// Counts a rally that has ended; `holder` held the initiative right before.
pub fn count(
    tallies: &mut PerTeam<TeamTallies>,
    rally: &RallyContribution,
    end: &RallyEnd,
    holder: Option<Team>,
) {
    for attack in rally.attacks() {
        let finished = attack.held_to_the_end && attack.team == end.winner;
        tallies[attack.team].finished.count(finished);
    }
    if let Some(first) = rally.first_out_of_neutral() {
        for team in Team::BOTH {
            tallies[team].first.count(team == first);
        }
    }
    for answer in rally.answers() {
        tallies[answer.team].bounced.count(answer.bounced);
    }
    for team in Team::BOTH {
        let tallies = &mut tallies[team];
        match rally.was_pressed(team) {
            Some(true) => tallies.pressed_won.count(team == end.winner),
            Some(false) => tallies.unpressed_won.count(team == end.winner),
            None => {}
        }
    }
    if let Some(gift) = is_gift(end, holder) {
        tallies[end.winner.other()].gifts.count(gift);
    }
}
