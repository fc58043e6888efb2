//! One rally on its way, as far as offense, defense and neutral play go.

use rallytide_plugin_kit::{Contact, Ending, PerTeam, RallyEnd, Shot, Team};

/// What the upstream readings say at an entry.
#[derive(Debug, Clone, Default)]
pub struct Standing {
    /// Who holds the initiative.
    pub holder: Option<Team>,
    /// The teams that a row other than `depth` speaks against.
    pub rows_against: Vec<Team>,
    /// Who is at the line.
    pub at_line: PerTeam<bool>,
}

impl Standing {
    /// Forgets a reading that is no more.
    pub fn forget(&mut self, indicator: &str, team: Option<Team>) {
        match (indicator, team) {
            ("initiative", _) => {
                self.holder = None;
                self.rows_against.clear();
            }
            ("depth", Some(team)) => self.at_line[team] = false,
            _ => {}
        }
    }

    /// Whether a row other than `depth` speaks against `team`.
    fn pressed(&self, team: Team) -> bool {
        self.rows_against.contains(&team)
    }

    fn is_neutral_at_the_line(&self) -> bool {
        self.holder.is_none() && self.at_line.a && self.at_line.b
    }
}

/// A spell of offense in which a row other than `depth` was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OffenseSpell {
    /// Who was on offense.
    pub team: Team,
    /// Whether it was still on when the rally ended.
    pub open: bool,
}

/// The answer to a shot struck while on defense.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Answer {
    /// Who had struck it.
    pub team: Team,
    /// Whether the opponents had to let it bounce.
    pub bounced: bool,
}

/// A rally on its way.
#[derive(Debug, Clone, Default)]
pub struct Rally {
    struck: bool,
    running: Option<Running>,
    ended: Vec<Team>,
    armed: bool,
    first: Option<Team>,
    /// The team of the latest shot, if it struck it while on defense.
    defended: Option<Team>,
    answers: Vec<Answer>,
}

#[derive(Debug, Clone, Copy)]
struct Running {
    team: Team,
    pressed: bool,
}

impl Rally {
    /// A shot is struck; `before` held the initiative right before it.
    pub fn shot(&mut self, shot: &Shot, before: Option<Team>) {
        let defended = self.defended.take().filter(|_| !shot.missed_before);
        if let (Some(team), Some(contact)) = (defended, shot.contact) {
            self.answers.push(Answer {
                team,
                bounced: matches!(contact, Contact::Bounce | Contact::HalfVolley),
            });
        }
        let on_defense = self.struck && before == Some(shot.team.other());
        self.defended = on_defense.then_some(shot.team);
        self.struck = true;
    }

    /// Looks at how things stand after an entry of the rally.
    pub fn look(&mut self, standing: &Standing) {
        if !self.struck {
            return;
        }
        self.follow_offense(standing);
        let attacker = standing
            .holder
            .filter(|team| standing.pressed(team.other()));
        if self.armed && self.first.is_none() {
            self.first = attacker;
        }
        self.armed |= standing.is_neutral_at_the_line();
    }

    fn follow_offense(&mut self, standing: &Standing) {
        if let Some(running) = &mut self.running {
            if standing.holder == Some(running.team) {
                running.pressed |= standing.pressed(running.team.other());
                return;
            }
            if running.pressed {
                self.ended.push(running.team);
            }
        }
        self.running = standing.holder.map(|team| Running {
            team,
            pressed: standing.pressed(team.other()),
        });
    }

    /// The spells of offense in which a row other than `depth` was read.
    pub fn offense_spells(&self) -> impl Iterator<Item = OffenseSpell> {
        let ended = self.ended.iter().map(|team| OffenseSpell {
            team: *team,
            open: false,
        });
        let running = self.running.iter().filter(|running| running.pressed);
        ended.chain(running.map(|running| OffenseSpell {
            team: running.team,
            open: true,
        }))
    }

    /// Who first came on offense, with a row other than `depth`, after both had
    /// been at the line with nobody holding.
    #[must_use]
    pub fn first_out_of_neutral(&self) -> Option<Team> {
        self.first
    }

    /// The answers, with known contacts, to shots struck while on defense.
    #[must_use]
    pub fn answers(&self) -> &[Answer] {
        &self.answers
    }
}

/// Whether the loser gave the rally away: by its own net, out or fault, while it
/// was not on defense. `before` held the initiative right before the end.
#[must_use]
pub fn is_gift(end: &RallyEnd, before: Option<Team>) -> bool {
    let loser = end.winner.other();
    let own = matches!(end.how, Some(Ending::Net | Ending::Out | Ending::Fault));
    own && end.by.is_none_or(|by| by == loser) && before != Some(end.winner)
}
