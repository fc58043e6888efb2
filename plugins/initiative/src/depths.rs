//! Where both teams stand: what the charter said, and what follows from the
//! strokes where nothing was said.
//!
//! Invariant: a team is as deep as its deeper player. One [`Depths`] lives for
//! one rally, from the end of the rally before it, so a depth given between two
//! rallies belongs to the coming one. It knows nothing about who holds the
//! initiative.

use rallytide_plugin_kit::{Contact, Depth, DepthMark, Discipline, PerTeam, Shot, Stroke, Team};

/// Where both teams stand in one rally.
#[derive(Debug, Clone)]
pub struct Depths {
    teams: PerTeam<TeamDepth>,
    awaited: Option<Awaited>,
}

/// Where one team stands.
#[derive(Debug, Clone)]
struct TeamDepth {
    /// One depth a player; one player in singles.
    players: Vec<Depth>,
    /// The charter said so for the team or one of its players, and no dink has
    /// ended it since.
    explicit: bool,
    /// The charter named a single player in this rally.
    player_named: bool,
}

/// A shot whose answer tells where the teams are by then.
#[derive(Debug, Clone, Copy)]
enum Awaited {
    /// A drop or reset of a team that was not at the line when it struck it.
    Soft(Team),
    /// A lob.
    Lob(Team),
}

impl Depths {
    /// Both teams deep in their court, where nothing else is said.
    #[must_use]
    pub fn at_the_start(discipline: Discipline) -> Self {
        let players = match discipline {
            Discipline::Doubles => 2,
            Discipline::Singles => 1,
        };
        let team = TeamDepth {
            players: vec![Depth::Back; players],
            explicit: false,
            player_named: false,
        };
        Self {
            teams: PerTeam {
                a: team.clone(),
                b: team,
            },
            awaited: None,
        }
    }

    /// Where a team's deeper player stands.
    #[must_use]
    pub fn of(&self, team: Team) -> Depth {
        self.teams[team].deepest()
    }

    /// Whether the charter's word stands behind it, for one player at least.
    #[must_use]
    pub fn is_explicit(&self, team: Team) -> bool {
        self.teams[team].explicit
    }

    /// Takes the charter's word.
    pub fn given(&mut self, mark: &DepthMark) {
        let team = &mut self.teams[mark.team];
        team.explicit = true;
        match mark.player {
            None => team.players.fill(mark.depth),
            Some(player) => {
                team.player_named = true;
                if let Some(depth) = team.players.get_mut(player as usize) {
                    *depth = mark.depth;
                }
            }
        }
    }

    /// Infers what the next shot tells, each rule overriding the one before it.
    pub fn struck(&mut self, shot: &Shot) {
        // An assumed shot came between: nobody saw what it answered.
        let awaited = self.awaited.take().filter(|_| !shot.missed_before);
        self.second_shot(shot);
        self.dink(shot);
        self.answer_to_a_soft_ball(shot, awaited);
        self.answer_to_a_lob(shot, awaited);
        self.awaited = match shot.stroke {
            Stroke::Drop | Stroke::Reset if self.of(shot.team) != Depth::Line => {
                Some(Awaited::Soft(shot.team))
            }
            Stroke::Lob => Some(Awaited::Lob(shot.team)),
            _ => None,
        };
    }

    /// D1: whoever returns the serve follows the ball to the line.
    fn second_shot(&mut self, shot: &Shot) {
        if shot.number == 2 {
            self.teams[shot.team].infer(Depth::Line);
        }
    }

    /// D2: a dink is struck at the line, whatever was said of the team before;
    /// a word about a single player is trusted more than the stroke.
    fn dink(&mut self, shot: &Shot) {
        let team = &mut self.teams[shot.team];
        if shot.stroke == Stroke::Dink && !team.player_named {
            team.explicit = false;
            team.infer(Depth::Line);
        }
    }

    /// D3: a soft ball that the opponents had to let bounce brings its team in.
    fn answer_to_a_soft_ball(&mut self, shot: &Shot, awaited: Option<Awaited>) {
        if let Some(Awaited::Soft(team)) = awaited
            && matches!(shot.contact, Some(Contact::Bounce | Contact::HalfVolley))
        {
            self.teams[team].infer(Depth::Line);
        }
    }

    /// D4: a lob that bounced sends the opponents back and brings its team in.
    fn answer_to_a_lob(&mut self, shot: &Shot, awaited: Option<Awaited>) {
        if let Some(Awaited::Lob(team)) = awaited
            && shot.contact == Some(Contact::Bounce)
        {
            self.teams[team].infer(Depth::Line);
            self.teams[shot.team].infer(Depth::Back);
        }
    }
}

impl TeamDepth {
    fn deepest(&self) -> Depth {
        // The interface lists the depths from the line backwards.
        self.players.iter().copied().max().unwrap_or(Depth::Back)
    }

    /// Moves the whole team, unless the charter's word stands.
    fn infer(&mut self, depth: Depth) {
        if !self.explicit {
            self.players.fill(depth);
        }
    }
}
