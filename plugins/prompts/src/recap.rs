//! The recap at the end of a game and of the match, and the word before a deciding
//! game: what came of it, and what stood out, with counts.
//!
//! Each part of it is a list of lines, the best first, of which one is said.

use rallytide_plugin_kit::{Score, Team};

use crate::compare::{self, APART, Comparison, SOMEWHAT_APART};
use crate::course::Course;
use crate::language::{Said, Span};
use crate::lines::{Life, Line, OfTeam, Scene};
use crate::moments::RUN_FROM;
use crate::phrases::Phrase;
use crate::sources::{Cite, RUN};

/// Points behind from which on it was a comeback.
const COMEBACK_FROM: u32 = 4;
/// Points of the final lead from which on it is worth a word never to have trailed.
const CLEAR_LEAD: u32 = 4;

/// The recap of the game, or of the match, that this entry has ended.
#[must_use]
pub fn of(scene: &Scene, course: &Course, games: u32, last_shot: Option<u32>) -> Vec<Vec<Line>> {
    let shown_by = last_shot.unwrap_or(scene.entry);
    match scene.score.winner {
        Some(winner) => {
            let recap = Recap::of_match(scene, course, winner, games, shown_by);
            let result = recap.match_result();
            vec![vec![result], recap.what_stood_out(), recap.what_else()]
        }
        None => {
            let Some((winner, _)) = last_game(scene.score) else {
                return Vec::new();
            };
            let recap = Recap::of_game(scene, course, winner, games, shown_by);
            let third = match recap.decider() {
                Some(line) => vec![line],
                None => recap.strong(),
            };
            vec![vec![recap.game_result()], recap.what_stood_out(), third]
        }
    }
}

/// The game that ended last: who won it, and its points, the winner's first.
fn last_game(score: &Score) -> Option<(Team, (u32, u32))> {
    let points = score.finished.last()?;
    let winner = if points.a > points.b {
        Team::A
    } else {
        Team::B
    };
    Some((winner, (points.of(winner), points.of(winner.other()))))
}

struct Recap<'a> {
    scene: &'a Scene<'a>,
    course: &'a Course,
    winner: Team,
    games: u32,
    span: Span,
    shown_by: u32,
}

impl<'a> Recap<'a> {
    fn of_match(
        scene: &'a Scene,
        course: &'a Course,
        winner: Team,
        games: u32,
        shown_by: u32,
    ) -> Self {
        let span = if games == 1 {
            Span::Match
        } else {
            Span::LastGame
        };
        Self {
            scene,
            course,
            winner,
            games,
            span,
            shown_by,
        }
    }

    fn of_game(
        scene: &'a Scene,
        course: &'a Course,
        winner: Team,
        games: u32,
        shown_by: u32,
    ) -> Self {
        Self {
            span: Span::Game,
            ..Self::of_match(scene, course, winner, games, shown_by)
        }
    }

    fn line(&self, phrase: Phrase) -> Line {
        Line::new(phrase, self.winner, Life::ThreeRallies)
            .with("span", Said::Span(self.span))
            .shown_by(self.shown_by)
    }

    fn games_won(&self) -> (u32, u32) {
        let games = &self.scene.score.games;
        (games.of(self.winner), games.of(self.winner.other()))
    }

    fn game_result(&self) -> Line {
        let (own, others) = self.games_won();
        let phrase = match own.cmp(&others) {
            std::cmp::Ordering::Greater => Phrase::Game,
            std::cmp::Ordering::Equal => Phrase::GameLevels,
            std::cmp::Ordering::Less => Phrase::GameTrails,
        };
        let points = last_game(self.scene.score).map_or((0, 0), |(_, points)| points);
        self.line(phrase)
            .number("game", own + others)
            .with("points", Said::Score(points.0, points.1))
            .with("games", Said::Score(own, others))
    }

    fn match_result(&self) -> Line {
        let score = self.scene.score;
        let winner = self.winner;
        let (own, others) = self.games_won();
        if !self.is_played_out() {
            return self.line(Phrase::Retired);
        }
        let finished = score.finished.iter();
        let scores: Vec<(u32, u32)> = finished
            .map(|game| (game.of(winner), game.of(winner.other())))
            .collect();
        let line = self.line(if self.games == 1 {
            Phrase::MatchOfOne
        } else if self.knows_all_games() {
            Phrase::Match
        } else {
            Phrase::MatchInGames
        });
        line.with("points", self.scene.points(winner))
            .number("own", own)
            .number("others", others)
            .with("scores", Said::Scores(scores))
    }

    /// Won by games, and not because the other team gave up.
    fn is_played_out(&self) -> bool {
        2 * self.games_won().0 > self.games
    }

    /// The referee may have set games whose scores nobody knows.
    fn knows_all_games(&self) -> bool {
        let (own, others) = self.games_won();
        self.scene.score.finished.len() == (own + others) as usize
    }

    /// There is always something.
    fn what_stood_out(&self) -> Vec<Line> {
        let mut lines = self.what_else();
        lines.extend(self.lead());
        lines.extend(compare::serves(self.scene).and_then(|one| self.for_the_winner(one)));
        lines
    }

    fn what_else(&self) -> Vec<Line> {
        let mut lines = self.strong();
        lines.extend(self.plain());
        lines
    }

    /// What is worth a word in any recap.
    fn strong(&self) -> Vec<Line> {
        let mut lines = Vec::new();
        lines.extend(self.comeback());
        lines.extend(self.saved());
        let apart = compare::all(self.scene, APART).into_iter();
        lines.extend(apart.filter_map(|one| self.for_the_winner(one)));
        lines.extend(self.last_points());
        lines.extend(self.never_behind());
        lines
    }

    /// What there is in most matches.
    fn plain(&self) -> Vec<Line> {
        let mut lines = Vec::new();
        lines.extend(compare::with_and_without(self.scene, self.winner));
        let serves = compare::serves(self.scene).filter(|serves| serves.apart >= SOMEWHAT_APART);
        lines.extend(serves.and_then(|one| self.for_the_winner(one)));
        lines.extend(self.total());
        lines
    }

    fn for_the_winner(&self, comparison: Comparison) -> Option<Line> {
        (comparison.ahead == self.winner).then_some(comparison.line)
    }

    fn is_game_known(&self) -> bool {
        self.course.is_known() && (self.span == Span::Game || self.is_played_out())
    }

    fn comeback(&self) -> Option<Line> {
        let low = self.course.low(self.winner);
        let is_one = self.is_game_known() && low.1 - low.0 >= COMEBACK_FROM;
        is_one.then(|| {
            let line = self.line(Phrase::Comeback);
            line.with("low", Said::Score(low.0, low.1))
        })
    }

    fn saved(&self) -> Option<Line> {
        let of_match = self.course.match_points_saved(self.winner);
        let (phrase, count) = match (of_match, self.course.saved(self.winner)) {
            (1.., _) if !self.is_played_out() || self.span == Span::Game => return None,
            (1, _) => (Phrase::SavedMatchPoint, of_match),
            (2.., _) => (Phrase::SavedMatchPoints, of_match),
            (0, 0) => return None,
            (0, 1) => (Phrase::SavedOne, 1),
            (0, count) => (Phrase::SavedSome, count),
        };
        self.is_game_known()
            .then(|| self.line(phrase).number("number", count))
    }

    fn last_points(&self) -> Option<Line> {
        let cite = Cite::team(RUN, self.winner);
        let run = self.scene.sources.count(cite);
        let (_, (own, _)) = last_game(self.scene.score)?;
        let is_one = self.is_game_known() && run >= RUN_FROM && run <= own;
        is_one.then(|| self.line(Phrase::LastPoints).figure(cite))
    }

    fn never_behind(&self) -> Option<Line> {
        let (_, (own, others)) = last_game(self.scene.score)?;
        let is_one = self.is_game_known()
            && self.course.low(self.winner) == (0, 0)
            && own >= others + CLEAR_LEAD;
        is_one.then(|| self.line(Phrase::NeverBehind))
    }

    fn lead(&self) -> Option<Line> {
        let lead = self.course.lead(self.winner);
        let is_one = self.is_game_known() && lead > 1;
        is_one.then(|| self.line(Phrase::Lead).number("number", lead))
    }

    /// The points of all games, where there were several.
    fn total(&self) -> Option<Line> {
        let finished = &self.scene.score.finished;
        let of = |team| finished.iter().map(|game| game.of(team)).sum();
        let is_one = self.span == Span::LastGame && self.is_played_out() && self.knows_all_games();
        is_one.then(|| {
            self.line(Phrase::Total)
                .number("number", of(self.winner))
                .number("others", of(self.winner.other()))
        })
    }

    /// The game to come decides the match.
    fn decider(&self) -> Option<Line> {
        let score = self.scene.score;
        let (own, others) = self.games_won();
        if self.games == 1 || own != others || own != self.games / 2 {
            return None;
        }
        let names = self.scene.names;
        let server = names.player(score.serving, score.server_player);
        let server = server.unwrap_or(&names.teams[score.serving]);
        let line = Line::new(Phrase::Decider, score.serving, Life::Standing)
            .number("game", score.game)
            .with("games", Said::Score(own, others))
            .with("server", Said::Name(server.to_owned()));
        Some(line.shown_by(self.shown_by))
    }
}
