//! One rally on its way, as far as offense, defense and neutral play go.
//!
//! It is told of every entry that can change who holds the initiative, and keeps
//! what the rally will contribute if it counts. Whether it counts, and what the
//! contributions add up to, is decided elsewhere.

use rallytide_plugin_kit::{Contact, Ending, RallyEnd, Shot, Team};

use crate::standing::Sight;

/// A spell of offense in which a row other than `depth` was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Attack {
    /// Who was on offense.
    pub team: Team,
    /// Whether it still was when the rally ended.
    pub held_to_the_end: bool,
}

/// The answer, with a known contact, to a shot struck while on defense.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Answer {
    /// Who had struck that shot.
    pub team: Team,
    /// Whether the opponents had to let it bounce.
    pub bounced: bool,
}

/// A rally on its way.
#[derive(Debug, Clone, Default)]
pub struct Rally {
    out_of_sight: bool,
    offense: Option<Offense>,
    /// The teams whose attacks are over, in order.
    given_up: Vec<Team>,
    neutral_at_the_line: bool,
    first: Option<Team>,
    /// The team of the latest shot, if it struck it while on defense.
    defended: Option<Team>,
    answers: Vec<Answer>,
}

/// The running spell of offense.
#[derive(Debug, Clone, Copy)]
struct Offense {
    team: Team,
    attacks: bool,
}

impl Rally {
    /// A shot is struck; `before` is how things stood right before it.
    pub fn shot(&mut self, shot: &Shot, before: Sight) {
        let answers = self.defended.take().filter(|_| !shot.missed_before);
        if let (Some(team), Some(contact)) = (answers, shot.contact) {
            self.answers.push(Answer {
                team,
                bounced: matches!(contact, Contact::Bounce | Contact::HalfVolley),
            });
        }
        let on_defense = before.holder == Some(shot.team.other());
        self.defended = on_defense.then_some(shot.team);
    }

    /// Takes how things stand after an entry from the first shot on.
    pub fn look(&mut self, after: Sight) {
        self.follow_offense(after);
        if self.neutral_at_the_line && self.first.is_none() {
            self.first = after.attacker();
        }
        self.neutral_at_the_line |= after.is_neutral_at_the_line();
    }

    /// How things stood is not known for a while.
    pub fn lose_sight(&mut self) {
        self.out_of_sight = true;
    }

    /// Whether how things stood was known all the time.
    #[must_use]
    pub fn was_in_sight(&self) -> bool {
        !self.out_of_sight
    }

    /// The spell of a team ends where the other's begins, too; the entry that
    /// begins one counts for it, the one that ends it does not.
    fn follow_offense(&mut self, after: Sight) {
        let attacks = after.attacker().is_some();
        if let Some(offense) = &mut self.offense {
            if after.holder == Some(offense.team) {
                offense.attacks |= attacks;
                return;
            }
            if offense.attacks {
                self.given_up.push(offense.team);
            }
        }
        self.offense = after.holder.map(|team| Offense { team, attacks });
    }

    /// The spells of offense in which a row other than `depth` was read.
    pub fn attacks(&self) -> impl Iterator<Item = Attack> {
        let given_up = self.given_up.iter().map(|team| Attack {
            team: *team,
            held_to_the_end: false,
        });
        let running = self.offense.iter().filter(|offense| offense.attacks);
        given_up.chain(running.map(|offense| Attack {
            team: offense.team,
            held_to_the_end: true,
        }))
    }

    /// Who first attacked after both teams had been at the line with nobody
    /// holding.
    #[must_use]
    pub fn first_out_of_neutral(&self) -> Option<Team> {
        self.first
    }

    /// The answers to shots struck while on defense.
    #[must_use]
    pub fn answers(&self) -> &[Answer] {
        &self.answers
    }
}

/// Whether the loser gave the rally away: by its own net, out or fault, while it
/// was not on defense. `holder` held the initiative right before the end. These
/// endings are always the loser's: one that says otherwise is refused by the
/// chart, and where `by` is left out it follows.
#[must_use]
pub fn is_gift(end: &RallyEnd, holder: Option<Team>) -> bool {
    let own_error = matches!(end.how, Some(Ending::Net | Ending::Out | Ending::Fault));
    own_error && holder != Some(end.winner)
}
