//! One rally on its way, as far as offense, defense and neutral play go.
//!
//! It is told of every entry that can change who holds the initiative, and keeps
//! what the rally will contribute if it counts. Whether it counts, and what the
//! contributions add up to, is decided elsewhere.

use rallytide_plugin_kit::{Contact, Ending, PerTeam, RallyEnd, Shot, Team};

use crate::sight::Sight;

/// The serve and the return are struck by whom the rules say.
const FIRST_SHARED_SHOT: u32 = 3;

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
pub struct AnswerToDefense {
    /// Who had struck that shot.
    pub team: Team,
    /// Whether the opponents had to let it bounce.
    pub bounced: bool,
}

/// A shot from the third of the rally on, whose player is known: the two before
/// it are struck by whom the rules say.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OfPlayer {
    /// The player's team.
    pub team: Team,
    /// Which of the team.
    pub player: u32,
    /// Whether the team was on defense right before it.
    pub on_defense: bool,
}

/// A rally on its way.
#[derive(Debug, Clone, Default)]
pub struct RallyContribution {
    out_of_sight: bool,
    struck: bool,
    /// The teams that had a pressed spell of defense.
    pressed: PerTeam<bool>,
    of_players: Vec<OfPlayer>,
    offense: Option<Offense>,
    /// The teams whose attacks are over, in order.
    given_up: Vec<Team>,
    neutral_at_the_line: bool,
    first: Option<Team>,
    /// The team of the latest shot, if it struck it while on defense.
    defended: Option<Team>,
    answers: Vec<AnswerToDefense>,
}

/// The running spell of offense.
#[derive(Debug, Clone, Copy)]
struct Offense {
    team: Team,
    attacks: bool,
}

impl RallyContribution {
    /// A shot is struck; `before` is how things stood right before it.
    pub fn shot(&mut self, shot: &Shot, before: Sight) {
        let answers = self.defended.take().filter(|_| !shot.missed_before);
        if let (Some(team), Some(contact)) = (answers, shot.contact) {
            self.answers.push(AnswerToDefense {
                team,
                bounced: matches!(contact, Contact::Bounce | Contact::HalfVolley),
            });
        }
        self.struck = true;
        let on_defense = before.holder == Some(shot.team.other());
        if let Some(player) = shot.player.filter(|_| shot.number >= FIRST_SHARED_SHOT) {
            self.of_players.push(OfPlayer {
                team: shot.team,
                player,
                on_defense,
            });
        }
        self.defended = on_defense.then_some(shot.team);
    }

    /// Takes how things stand after an entry from the first shot on.
    pub fn look(&mut self, after: Sight) {
        self.follow_offense(after);
        if let Some(attacker) = after.attacker() {
            self.pressed[attacker.other()] = true;
        }
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

    /// Whether the team had a pressed spell of defense; none where no shot was
    /// recorded.
    #[must_use]
    pub fn was_pressed(&self, team: Team) -> Option<bool> {
        self.struck.then_some(self.pressed[team])
    }

    /// The shots whose player is known and was free to be either.
    #[must_use]
    pub fn of_players(&self) -> &[OfPlayer] {
        &self.of_players
    }

    /// The answers to shots struck while on defense.
    #[must_use]
    pub fn answers(&self) -> &[AnswerToDefense] {
        &self.answers
    }
}

/// Whether the losers lost it by an error of their own. These endings are always
/// the losers': one that says otherwise is refused by the chart, and where `by` is
/// left out it follows.
#[must_use]
pub fn is_own_error(end: &RallyEnd) -> bool {
    matches!(end.how, Some(Ending::Net | Ending::Out | Ending::Fault))
}

/// Whether the loser gave the rally away: by its own error, while it was not on
/// defense. None where nobody said how the rally ended. `holder` held the
/// initiative right before the end.
#[must_use]
pub fn is_gift(end: &RallyEnd, holder: Option<Team>) -> Option<bool> {
    match end.how {
        None | Some(Ending::Unknown) => None,
        Some(_) => Some(is_own_error(end) && holder != Some(end.winner)),
    }
}
