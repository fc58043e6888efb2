//! The scoring of one game as a chain of rallies: from each state, what winning
//! or losing the rally leads to.
//!
//! Where players stand does not matter to a chance and is left out. Nothing here
//! knows a probability.

use rallytide_plugin_kit::{Discipline, MatchHeader, Score, Scoring, Team, WinningPoint};

/// The scoring of a game.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct GameFormat {
    /// Points that win it, at least 1.
    pub points: u32,
    /// The lead that wins it.
    pub lead: Lead,
    /// How serving and scoring go.
    pub service: Service,
}

/// The lead that wins a game.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lead {
    /// One point: the game ends at its points.
    One,
    /// Two points, without a cap.
    Two,
}

/// How serving and scoring go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Service {
    /// Only the servers score; two servers a turn, one in the game's first.
    TwoServers,
    /// Only the server scores; one server a turn.
    OneServer,
    /// Every rally scores; anybody may score the last point.
    EveryRally,
    /// Every rally scores, but the last point only on the own serve: a receiver
    /// who wins the rally that would win the game gets the serve and no point.
    ServedOut,
}

/// A game before a rally.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct GameState {
    /// Team a's points.
    pub a: u32,
    /// Team b's points.
    pub b: u32,
    /// Who serves.
    pub serving: Team,
    /// Whether the second server of the turn serves.
    pub second: bool,
}

/// What a rally leads to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Next {
    /// The game goes on.
    Goes(GameState),
    /// The game is won.
    Won(Team),
}

impl GameFormat {
    /// The scoring of a match's games.
    #[must_use]
    pub fn of(header: &MatchHeader) -> Self {
        let service = match (header.scoring, header.discipline, header.winning_point) {
            (Scoring::SideOut, Discipline::Doubles, _) => Service::TwoServers,
            (Scoring::SideOut, Discipline::Singles, _) => Service::OneServer,
            (Scoring::Rally, _, WinningPoint::Any) => Service::EveryRally,
            (Scoring::Rally, _, WinningPoint::Server) => Service::ServedOut,
        };
        Self {
            points: header.points.max(1),
            lead: if header.win_by < 2 {
                Lead::One
            } else {
                Lead::Two
            },
            service,
        }
    }

    /// The start of a game that `first` serves: with two servers a turn, its
    /// first turn has only the one numbered 2.
    #[must_use]
    pub fn start(&self, first: Team) -> GameState {
        GameState {
            a: 0,
            b: 0,
            serving: first,
            second: self.service == Service::TwoServers,
        }
    }

    /// The state a score shows.
    #[must_use]
    pub fn state(&self, score: &Score) -> GameState {
        GameState {
            a: score.points.a,
            b: score.points.b,
            serving: score.serving,
            second: self.service == Service::TwoServers && score.server == Some(2),
        }
    }

    /// What the rally leads to if `winner` wins it.
    #[must_use]
    pub fn next(&self, state: GameState, winner: Team) -> Next {
        if winner == state.serving {
            return self.scores(state, winner);
        }
        let side_out = GameState {
            serving: winner,
            second: false,
            ..state
        };
        match self.service {
            Service::TwoServers if !state.second => Next::Goes(GameState {
                second: true,
                ..state
            }),
            Service::TwoServers | Service::OneServer => Next::Goes(side_out),
            Service::EveryRally => self.scores(side_out, winner),
            Service::ServedOut => match self.scores(side_out, winner) {
                Next::Won(_) => Next::Goes(side_out),
                goes @ Next::Goes(_) => goes,
            },
        }
    }

    /// A point for `team`, which serves on.
    fn scores(self, state: GameState, team: Team) -> Next {
        let (a, b) = match team {
            Team::A => (state.a.saturating_add(1), state.b),
            Team::B => (state.a, state.b.saturating_add(1)),
        };
        let (own, other) = match team {
            Team::A => (a, b),
            Team::B => (b, a),
        };
        let clear = match self.lead {
            Lead::One => 1,
            Lead::Two => 2,
        };
        if own >= self.points && own >= other.saturating_add(clear) {
            return Next::Won(team);
        }
        Next::Goes(GameState { a, b, ..state })
    }
}
