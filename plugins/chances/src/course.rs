//! From the chances of a game to those of the match, and to how much the next
//! rally matters.

use rallytide_plugin_kit::{MatchHeader, PerTeam, Score, Team};

use crate::format::{GameFormat, GameState};
use crate::game::GameChances;

/// What can be said from a score.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chances {
    /// Team a's chance to win the game.
    pub of_game: f64,
    /// Team a's chance to win the match.
    pub of_match: f64,
    /// How much the next rally matters: a team's chance to win the match after
    /// winning it, less after losing it. The same for both teams.
    pub swing: f64,
}

/// The format of a match.
#[derive(Debug, Clone, Copy)]
pub struct MatchFormat {
    game: GameFormat,
    games_to_win: u32,
    first_serve: Team,
}

/// Where a match stands, as far as it matters to the chances.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MatchStanding {
    /// It is over.
    Over(Team),
    /// It goes on.
    Running {
        /// The current game.
        state: GameState,
        /// Its number, from 1.
        game: u32,
        /// How many games each team still has to win, the current one included;
        /// at least 1.
        need: PerTeam<u32>,
    },
}

impl MatchFormat {
    /// The format that a header announces.
    #[must_use]
    pub fn of(header: &MatchHeader) -> Self {
        Self {
            game: GameFormat::of(header),
            games_to_win: header.games / 2 + 1,
            first_serve: header.first_serve,
        }
    }

    /// How its games are scored.
    #[must_use]
    pub fn game(&self) -> GameFormat {
        self.game
    }

    /// Where a score stands.
    #[must_use]
    pub fn standing(&self, score: &Score) -> MatchStanding {
        match score.winner {
            Some(winner) => MatchStanding::Over(winner),
            None => {
                let need = |won: u32| self.games_to_win.saturating_sub(won).max(1);
                MatchStanding::Running {
                    state: self.game.state(score),
                    game: score.game,
                    need: PerTeam {
                        a: need(score.games.a),
                        b: need(score.games.b),
                    },
                }
            }
        }
    }

    /// The chances where a match stands, by its solved game.
    #[must_use]
    pub fn chances(&self, standing: MatchStanding, solved: &GameChances) -> Chances {
        let (state, game, need) = match standing {
            MatchStanding::Over(winner) => {
                let of_a = f64::from(u8::from(winner == Team::A));
                return Chances {
                    of_game: of_a,
                    of_match: of_a,
                    swing: 0.0,
                };
            }
            MatchStanding::Running { state, game, need } => (state, game, need),
        };
        let from_start = PerTeam {
            a: solved.of(self.game.start(Team::A)),
            b: solved.of(self.game.start(Team::B)),
        };
        let of_game = |number| from_start[self.serves_first_in(number)];
        let won = after_game(need, game, Team::A, &of_game);
        let lost = after_game(need, game, Team::B, &of_game);
        // A game's chance of 1 or 0 gives exactly `won` or `lost`.
        let of_match = |of_game: f64| (of_game * won + (1.0 - of_game) * lost).clamp(0.0, 1.0);
        let of_rally = |winner| of_match(solved.after(self.game.next(state, winner)));
        let of_game = solved.of(state);
        Chances {
            of_game,
            of_match: of_match(of_game),
            swing: (of_rally(Team::A) - of_rally(Team::B)).clamp(0.0, 1.0),
        }
    }

    /// The initial service alternates game by game.
    fn serves_first_in(&self, game: u32) -> Team {
        if game.is_multiple_of(2) {
            self.first_serve.other()
        } else {
            self.first_serve
        }
    }
}

/// Team a's chance to win a match before game number `game`, when each team
/// still has to win `need` games, at least 1; `of_game` is its chance to win the
/// game of a number.
pub fn from_game(need: PerTeam<u32>, game: u32, of_game: &impl Fn(u32) -> f64) -> f64 {
    let chance = of_game(game);
    chance * after_game(need, game, Team::A, of_game)
        + (1.0 - chance) * after_game(need, game, Team::B, of_game)
}

/// The same after `winner` has won that game.
fn after_game(
    mut need: PerTeam<u32>,
    game: u32,
    winner: Team,
    of_game: &impl Fn(u32) -> f64,
) -> f64 {
    need[winner] -= 1;
    if need[winner] == 0 {
        return f64::from(u8::from(winner == Team::A));
    }
    from_game(need, game.saturating_add(1), of_game)
}
