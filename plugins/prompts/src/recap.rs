//! The recap at the end of a game and of the match, and the word before a deciding
//! game: what came of it, and what stood out, with counts.
//!
//! Each part of it is a list of lines, the best first, of which one is said.

use rallytide_plugin_kit::{Score, Team};

use crate::compare::{self, APART, Comparison};
use crate::course::GameCourse;
use crate::language::{PlaceValue, Span};
use crate::lines::{Life, Line, OfTeam, Scene};
use crate::moments::RUN_FROM;
use crate::phrases::Phrase;
use crate::sources::{Cite, RUN};

/// Points behind from which on it was a comeback.
const COMEBACK_FROM: u32 = 4;
/// Points behind, or ahead before it was level, that a recap makes do with.
const SOMEWHAT_BEHIND: u32 = 3;

/// The recap of the game, or of the match, that this entry has ended.
#[must_use]
pub fn of(
    scene: &Scene,
    course: &GameCourse,
    games: u32,
    last_shot: Option<u32>,
) -> Vec<Vec<Line>> {
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
    course: &'a GameCourse,
    winner: Team,
    games: u32,
    span: Span,
    shown_by: u32,
}

impl<'a> Recap<'a> {
    fn of_match(
        scene: &'a Scene,
        course: &'a GameCourse,
        winner: Team,
        games: u32,
        shown_by: u32,
    ) -> Self {
        let won = &scene.score.games;
        let span = match games {
            1 => Span::Match,
            _ if won.a + won.b == games => Span::Decider,
            _ => Span::LastGame,
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
        course: &'a GameCourse,
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
            .with("span", PlaceValue::Span(self.span))
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
            .with("points", PlaceValue::Score(points.0, points.1))
            .with("games", PlaceValue::Score(own, others))
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
            .with("scores", PlaceValue::Scores(scores))
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

    /// There is always something, unless the referee has set the score.
    fn what_stood_out(&self) -> Vec<Line> {
        let mut lines = self.what_else();
        lines.extend(self.last_level());
        lines
    }

    fn what_else(&self) -> Vec<Line> {
        let mut lines = self.strong();
        lines.extend(self.plain());
        lines
    }

    /// What is worth a word in any recap: how the game was won, then what the
    /// numbers say.
    fn strong(&self) -> Vec<Line> {
        let mut lines = Vec::new();
        lines.extend(self.every_point());
        lines.extend(self.last_points_from_behind());
        lines.extend(self.comeback(COMEBACK_FROM));
        lines.extend(self.saved());
        lines.extend(self.slipped(COMEBACK_FROM));
        let apart = compare::all(self.scene, APART).into_iter();
        lines.extend(apart.filter_map(|one| self.for_the_winner(one)));
        lines.extend(self.last_points());
        lines.extend(self.led_throughout());
        lines
    }

    /// What there is in most matches.
    fn plain(&self) -> Vec<Line> {
        let mut lines = Vec::new();
        lines.extend(self.comeback(SOMEWHAT_BEHIND));
        lines.extend(self.slipped(SOMEWHAT_BEHIND));
        let plain = compare::plain(self.scene).into_iter();
        lines.extend(plain.filter_map(|one| self.for_the_winner(one)));
        lines.extend(self.total());
        lines
    }

    fn for_the_winner(&self, comparison: Comparison) -> Option<Line> {
        (comparison.ahead == self.winner).then_some(comparison.line)
    }

    /// Whether there was a last point that won the game.
    fn is_won(&self) -> bool {
        self.span == Span::Game || self.is_played_out()
    }

    fn is_game_known(&self) -> bool {
        self.course.is_known() && self.is_won()
    }

    /// The winner's points of the game that ended last, and the others'.
    fn points(&self) -> Option<(u32, u32)> {
        self.is_won()
            .then(|| last_game(self.scene.score).map(|(_, points)| points))?
    }

    /// Whether a lead is worth telling: of at least `least` points, and not a small
    /// one from the first half of the game. `at`: the points of the team that led.
    fn is_told(&self, at: u32, lead: u32, least: u32) -> bool {
        let is_late = |(own, _)| 2 * at >= own || lead >= COMEBACK_FROM;
        lead >= least && self.points().is_some_and(is_late)
    }

    fn told_from(&self, phrase: Phrase, from: (u32, u32)) -> Line {
        self.line(phrase)
            .with("low", PlaceValue::Score(from.0, from.1))
    }

    fn every_point(&self) -> Option<Line> {
        let (_, others) = self.points()?;
        let is_one = self.is_game_known() && others == 0;
        is_one.then(|| self.line(Phrase::EveryPoint))
    }

    fn last_points_from_behind(&self) -> Option<Line> {
        let (own, _) = self.points()?;
        let from = self.course.run_from(self.winner);
        let run = own.saturating_sub(from.0);
        let low = self.course.low(self.winner);
        let is_comeback = low.1 - low.0 >= COMEBACK_FROM;
        let is_best = !is_comeback || from.1.saturating_sub(from.0) == low.1 - low.0;
        (run >= RUN_FROM && from.0 < from.1 && is_best).then(|| {
            self.told_from(Phrase::LastPointsFromBehind, from)
                .number("number", run)
        })
    }

    fn comeback(&self, least: u32) -> Option<Line> {
        let low = self.course.low(self.winner);
        let is_one = self.is_told(low.1, low.1 - low.0, least);
        is_one.then(|| self.told_from(Phrase::Comeback, low))
    }

    /// A lead that the others made up before the winner won all the same.
    fn slipped(&self, least: u32) -> Option<Line> {
        let high = self.course.slipped(self.winner);
        let is_one = self.is_told(high.0, high.0 - high.1, least);
        is_one.then(|| self.told_from(Phrase::Slipped, high))
    }

    /// Who came back from far behind has saved game points: that is said once.
    fn saved(&self) -> Option<Line> {
        let of_match = self.course.match_points_saved(self.winner);
        let (phrase, count) = match (of_match, self.course.saved(self.winner)) {
            (1.., _) if !self.is_played_out() || self.span == Span::Game => return None,
            (1, _) => (Phrase::SavedMatchPoint, of_match),
            (2.., _) => (Phrase::SavedMatchPoints, of_match),
            (0, 0) => return None,
            (0, _) if self.comeback(COMEBACK_FROM).is_some() => return None,
            (0, 1) => (Phrase::SavedOne, 1),
            (0, count) => (Phrase::SavedSome, count),
        };
        self.is_game_known()
            .then(|| self.line(phrase).number("number", count))
    }

    fn last_points(&self) -> Option<Line> {
        let cite = Cite::team(RUN, self.winner);
        let run = self.scene.sources.count(cite);
        let (own, others) = self.points()?;
        let is_seen = others > 0 && self.course.shows_run(self.winner, run, own);
        let is_one = self.is_game_known() && run >= RUN_FROM && is_seen;
        is_one.then(|| self.line(Phrase::LastPoints).figure(cite))
    }

    fn led_throughout(&self) -> Option<Line> {
        let is_one = self.is_game_known()
            && !self.course.was_caught()
            && self.course.low(self.winner) == (0, 0);
        is_one.then(|| self.line(Phrase::LedThroughout))
    }

    /// Where the winner went ahead for good.
    fn last_level(&self) -> Option<Line> {
        let level = self.course.level();
        let is_one = self.is_game_known() && level > 0;
        is_one.then(|| self.told_from(Phrase::LastLevel, (level, level)))
    }

    /// The points of all games, where the last one decided.
    fn total(&self) -> Option<Line> {
        let finished = &self.scene.score.finished;
        let of = |team| finished.iter().map(|game| game.of(team)).sum();
        let (own, others): (u32, u32) = (of(self.winner), of(self.winner.other()));
        let is_one = self.span == Span::Decider && self.is_played_out() && self.knows_all_games();
        (is_one && own != others).then(|| {
            self.line(Phrase::Total)
                .number("number", own)
                .number("others", others)
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
            .with("server", PlaceValue::Name(server.to_owned()));
        Some(line.shown_by(self.shown_by))
    }
}
