//! The arithmetic of a format: what wins a game, who can score, when ends
//! change, who serves first, how many time-outs there are.
//!
//! Questions about numbers only; what follows from the answers is the state
//! machine's business.

use rallytide_chart::{Discipline, Format, PairOf, Positions, Scoring, Team, WinningPoint};

/// From this length on a game has three time-outs a team instead of two
/// (USA Pickleball rulebook 2020 to 2025, 10.A: two in a game to 11 or 15,
/// three in a game to 21).
const LONG_GAME: u32 = 21;

/// The rules that one match is played by.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Rules {
    format: Format,
    first_serve: Team,
}

impl Rules {
    pub(crate) fn new(format: Format, first_serve: Team) -> Self {
        Self {
            format,
            first_serve,
        }
    }

    /// Whether a team with `own` points has won the game against `other`
    /// points: the points of the format, `win_by` clear, without a cap.
    pub(crate) fn wins_game(&self, own: u32, other: u32) -> bool {
        own >= self.format.points && own >= other.saturating_add(self.format.win_by)
    }

    /// Whether this number of games wins the match.
    pub(crate) fn wins_match(&self, games: u32) -> bool {
        games >= self.format.games_to_win()
    }

    /// Whether `team` gets a point if it wins the next rally.
    pub(crate) fn scores(&self, team: Team, serving: Team, points: PairOf<u32>) -> bool {
        if team == serving {
            return true;
        }
        match self.format.scoring {
            Scoring::SideOut => false,
            Scoring::Rally { winning_point, .. } => match winning_point {
                WinningPoint::Any => true,
                WinningPoint::Server => !self.next_point_wins(team, points),
            },
        }
    }

    /// Whether `team` wins the game if it wins the next rally.
    pub(crate) fn at_game_point(&self, team: Team, serving: Team, points: PairOf<u32>) -> bool {
        self.scores(team, serving, points) && self.next_point_wins(team, points)
    }

    fn next_point_wins(&self, team: Team, points: PairOf<u32>) -> bool {
        self.wins_game(points.of(team).saturating_add(1), *points.of(team.other()))
    }

    /// The points at which the ends change within game number `game`; `None`
    /// where they do not. Single-game matches and deciding games change at 6 of
    /// 11, 8 of 15, 11 of 21 (USA Pickleball rulebook 2025, 5.B.3 and 5.B.4).
    pub(crate) fn change_of_ends_within(&self, game: u32) -> Option<u32> {
        let is_last = game == self.format.games;
        is_last.then(|| self.format.points.div_ceil(2))
    }

    /// Who serves first in game number `game`: it alternates game by game (USA
    /// Pickleball rulebook 2019 and 2025, 5.B.1).
    pub(crate) fn first_serving(&self, game: u32) -> Team {
        if game % 2 == 1 {
            self.first_serve
        } else {
            self.first_serve.other()
        }
    }

    /// The server number a game begins with: the team that starts has one
    /// server only, numbered 2 (USA Pickleball rulebook 2026, 5.B.2). `None`
    /// where a service turn has one server.
    pub(crate) fn first_server_number(&self) -> Option<u32> {
        self.has_two_servers().then_some(2)
    }

    pub(crate) fn has_two_servers(&self) -> bool {
        self.format.has_two_servers()
    }

    /// Standard time-outs a team has in a game.
    pub(crate) fn time_outs(&self) -> u32 {
        if self.format.points < LONG_GAME { 2 } else { 3 }
    }

    pub(crate) fn keeps_courts(&self) -> bool {
        matches!(
            self.format.scoring,
            Scoring::Rally {
                positions: Positions::Static,
                ..
            }
        )
    }

    pub(crate) fn is_singles(&self) -> bool {
        self.format.discipline == Discipline::Singles
    }

    /// The partner of `player`; in singles there is none, and it is the player.
    pub(crate) fn partner(&self, player: u32) -> u32 {
        if self.is_singles() {
            player
        } else {
            1 - player.min(1)
        }
    }
}
