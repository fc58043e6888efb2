//! Defense spells: how long a team stays under pressure, and how it comes out.
//!
//! Invariant: at most one team is on defense, so at most one spell is open, and
//! the end of one may be the beginning of the other. A spell is handed over the
//! moment it ends; nothing is counted here.

use rallytide_plugin_kit::{Held, Team};

/// A defense spell that has ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct EndedSpell {
    /// The team that was on defense.
    pub team: Team,
    /// A row other than `depth` was read against it on the way.
    pub pressed: bool,
    /// It began while the 2nd shot of the rally was the latest.
    pub from_second_shot: bool,
    /// How it came out.
    pub outcome: SpellOutcome,
}

/// How a defense spell comes out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SpellOutcome {
    /// Nobody holds the initiative any more.
    Recovered,
    /// Straight to offense.
    Turned,
    /// The team won the rally.
    Won,
    /// The team lost the rally.
    Lost,
}

impl SpellOutcome {
    /// The rally was not lost in it.
    #[must_use]
    pub fn is_escape(self) -> bool {
        self != Self::Lost
    }
}

/// The spells of the current rally.
#[derive(Debug, Default)]
pub struct Spells {
    open: Option<Open>,
}

#[derive(Debug, Clone, Copy)]
struct Open {
    team: Team,
    pressed: bool,
    from_second_shot: bool,
}

impl Open {
    fn ended(self, outcome: SpellOutcome) -> EndedSpell {
        EndedSpell {
            team: self.team,
            pressed: self.pressed,
            from_second_shot: self.from_second_shot,
            outcome,
        }
    }
}

impl Spells {
    /// Takes what holds after an entry within a rally, `latest_shot` being the
    /// number of the latest shot. The entry that ends a spell is no part of it.
    pub fn entry(&mut self, held: Held, latest_shot: u32) -> Option<EndedSpell> {
        let on_defense = held.by.map(Team::other);
        let mut ended = None;
        if let Some(open) = self.open
            && on_defense != Some(open.team)
        {
            self.open = None;
            ended = Some(open.ended(match on_defense {
                None => SpellOutcome::Recovered,
                Some(_) => SpellOutcome::Turned,
            }));
        }
        if let Some(team) = on_defense {
            let open = self.open.get_or_insert(Open {
                team,
                pressed: false,
                from_second_shot: latest_shot == 2,
            });
            open.pressed |= held.pressed[team];
        }
        ended
    }

    /// The rally is over.
    pub fn rally_won_by(&mut self, winner: Team) -> Option<EndedSpell> {
        let open = self.open.take()?;
        Some(open.ended(if open.team == winner {
            SpellOutcome::Won
        } else {
            SpellOutcome::Lost
        }))
    }

    /// The rally does not count, is cut off, or cannot be judged any more: what
    /// is open has no outcome.
    pub fn break_off(&mut self) {
        self.open = None;
    }
}
