//! Lines about what has just happened, the weightiest first.

use std::cmp::Ordering;

use rallytide_plugin_kit::{Ending, RallyEnd, Score, Stroke, Team};

use crate::course::GameCourse;
use crate::language::PlaceValue;
use crate::lines::{Life, Line, OfTeam, Scene};
use crate::phrases::Phrase;
use crate::rally::Rally;
use crate::sources::{BEST, COVERAGE, Cite, ESCAPES, LONGEST, RUN, STREAK, UNLIKELY};

/// Points in a row from which on it is a run.
pub const RUN_FROM: u32 = 4;
/// After the first points of a game were told, how many more have to follow
/// before they are told again.
const OPENING_STEP: u32 = 3;
/// Points in a row that a time-out is said to follow.
const TIME_OUT_RUN: u32 = 3;
/// Shots without which the longest rally is not worth a word.
const LONGEST_FROM: u32 = 15;
/// Percents below which a streak is rare.
const RARE: u32 = 10;

/// The aces of each player of the match.
#[derive(Debug, Clone, Copy, Default)]
pub struct Aces([[u32; 2]; 2]);

impl Aces {
    /// Takes the end of a rally, with the score before it.
    pub fn take(&mut self, end: &RallyEnd, before: &Score) {
        if is_ace(end, before)
            && let Some(count) =
                self.0[usize::from(end.winner == Team::B)].get_mut(before.server_player as usize)
        {
            *count += 1;
        }
    }

    fn of(&self, team: Team, player: u32) -> u32 {
        let of_team = self.0[usize::from(team == Team::B)];
        of_team.get(player as usize).copied().unwrap_or(0)
    }
}

/// A rally that has ended, and what was before it.
#[derive(Debug)]
pub struct EndedRally<'a> {
    /// The rally.
    pub rally: &'a Rally,
    /// How it ended.
    pub end: &'a RallyEnd,
    /// How the game has gone, this rally included.
    pub course: &'a GameCourse,
    /// The score before.
    pub before: &'a Score,
    /// All aces, this rally's included.
    pub aces: &'a Aces,
}

/// What a rally has brought that did not end a game.
#[must_use]
pub fn of_rally(scene: &Scene, ended: &EndedRally) -> Vec<Line> {
    let winner = ended.end.winner;
    let mut lines = Vec::new();
    lines.extend(point(scene, ended));
    lines.extend(saved(scene, ended));
    lines.extend(shot(scene, ended));
    for team in Team::BOTH {
        lines.extend(run(scene, team, ended.course));
    }
    lines.extend(longest(scene, ended.rally, winner));
    for team in Team::BOTH {
        lines.extend(streak(scene, team));
    }
    lines
}

/// Game or match point, for whoever has come to it by this rally.
fn point(scene: &Scene, ended: &EndedRally) -> Option<Line> {
    let score = scene.score;
    let team = score.game_point?;
    if ended.before.game_point == Some(team) {
        return None;
    }
    let is_match_point = score.match_point == Some(team);
    let is_again = ended.course.reached(team) > 1;
    let server = scene.names.server(team, score.serving, score.server_player);
    let phrase = match (is_match_point, is_again, server.is_some()) {
        (false, false, true) => Phrase::GamePoint,
        (false, false, false) => Phrase::GamePointOnServe,
        (false, true, true) => Phrase::GamePointAgain,
        (false, true, false) => Phrase::GamePointAgainOnServe,
        (true, false, true) => Phrase::MatchPoint,
        (true, false, false) => Phrase::MatchPointOnServe,
        (true, true, true) => Phrase::MatchPointAgain,
        (true, true, false) => Phrase::MatchPointAgainOnServe,
    };
    let line = Line::new(phrase, team, Life::Standing).with("points", scene.points(team));
    let line = match server {
        Some(server) => line.with("server", PlaceValue::Name(server.to_owned())),
        None => line,
    };
    Some(line.shown_by(scene.entry))
}

/// A game or match point that the other team could not use.
fn saved(scene: &Scene, ended: &EndedRally) -> Option<Line> {
    let (winner, before) = (ended.end.winner, ended.before);
    before.game_point.filter(|team| *team != winner)?;
    let was_match_point = before.match_point == before.game_point;
    let count = if was_match_point {
        ended.course.match_points_saved(winner)
    } else {
        ended.course.saved(winner)
    };
    let phrase = match (was_match_point, count > 1) {
        (false, false) => Phrase::GamePointSaved,
        (false, true) => Phrase::GamePointsSaved,
        (true, false) => Phrase::MatchPointSaved,
        (true, true) => Phrase::MatchPointsSaved,
    };
    let line = Line::new(phrase, winner, Life::LastRally);
    Some(line.number("number", count).shown_by(scene.entry))
}

/// An ace, an erne or a ball around the post that won the rally.
fn shot(scene: &Scene, ended: &EndedRally) -> Option<Line> {
    let EndedRally { end, before, .. } = ended;
    let team = end.winner;
    let last = ended.rally.last_shot();
    let shown_by = last.map_or(scene.entry, |shot| shot.entry);
    let named = |phrase, of_team, player: Option<u32>| {
        let name = player.and_then(|player| scene.names.player(team, player));
        let phrase = if name.is_some() { phrase } else { of_team };
        let name = name.unwrap_or(&scene.names.teams[team]).to_owned();
        let line = Line::new(phrase, team, Life::Standing);
        line.with("player", PlaceValue::Name(name))
            .shown_by(shown_by)
    };
    if is_ace(end, before) {
        let server = before.server_player;
        let count = ended.aces.of(team, server);
        let phrase = if count > 1 {
            Phrase::AceAgain
        } else {
            Phrase::Ace
        };
        let line = named(phrase, phrase, Some(server)).number("number", count);
        return Some(line.with("points", scene.points(team)));
    }
    let last = last.filter(|last| last.team == team)?;
    let won_by_it = matches!(end.how, None | Some(Ending::Winner | Ending::Unknown));
    let (phrase, of_team) = match last.stroke {
        Stroke::Erne => (Phrase::Erne, Phrase::ErneOfTeam),
        Stroke::Atp => (Phrase::Atp, Phrase::AtpOfTeam),
        _ => return None,
    };
    // Of a second shot the receiver is known by the score; but none is struck so: in
    // a chart of ends it is not the second one that was played.
    let player = last.player.filter(|_| last.number > 2);
    won_by_it.then(|| named(phrase, of_team, end.player.or(player)))
}

/// Only a server serves an ace.
fn is_ace(end: &RallyEnd, before: &Score) -> bool {
    end.how == Some(Ending::Ace) && end.winner == before.serving
}

/// A run within the game: of points that were scored over two games, or taken off
/// again, the score says nothing.
fn run(scene: &Scene, team: Team, course: &GameCourse) -> Option<Line> {
    let cite = Cite::team(RUN, team);
    let run = scene.sources.count(cite);
    let points = &scene.score.points;
    let (own, others) = (points.of(team), points.of(team.other()));
    if run < RUN_FROM || !course.shows_run(team, run, own) || !scene.is_fresh(cite) {
        return None;
    }
    if others == 0 && !(run - RUN_FROM).is_multiple_of(OPENING_STEP) {
        return None;
    }
    let phrase = match own.cmp(&others) {
        Ordering::Greater if others == 0 && own == run => Phrase::RunOpens,
        Ordering::Greater if own - run > others => Phrase::RunExtends,
        Ordering::Greater => Phrase::RunLeads,
        Ordering::Equal => Phrase::RunLevels,
        Ordering::Less => Phrase::RunTrails,
    };
    let line = Line::new(phrase, team, Life::Standing).figure(cite);
    Some(line.with("points", scene.points(team)))
}

/// The longest rally, at the rally that set it.
fn longest(scene: &Scene, rally: &Rally, winner: Team) -> Option<Line> {
    let cite = Cite::of_match(LONGEST);
    let shots = scene.sources.count(cite);
    let (_, rallies) = scene.sources.share(Cite::of_match(COVERAGE));
    let is_news = scene.is_fresh(cite)
        && shots >= LONGEST_FROM
        && rallies >= scene.least_sample
        && scene.has_shots()
        && rally.is_whole();
    is_news.then(|| Line::new(Phrase::Longest, winner, Life::LastRally).figure(cite))
}

/// A streak that grew by this rally, is the match's best and would seldom come by
/// chance.
fn streak(scene: &Scene, team: Team) -> Option<Line> {
    let sources = scene.sources;
    let (streak, best) = (Cite::team(STREAK, team), Cite::team(BEST, team));
    let others = Cite::team(BEST, team.other());
    let unlikely = Cite::team(UNLIKELY, team);
    let count = sources.count(streak);
    let is_best = count == sources.count(best) && count > sources.count(others);
    let is_rare = sources.percent(unlikely).is_some_and(|p| p < RARE);
    let (_, spells) = sources.share(Cite::team(ESCAPES, team));
    let is_news = scene.is_fresh(best)
        && is_best
        && is_rare
        && spells >= scene.least_sample
        && scene.has_shots();
    is_news.then(|| {
        let line = Line::new(Phrase::Streak, team, Life::LastRally).figure(streak);
        line.rests_on(best).rests_on(others).rests_on(unlikely)
    })
}

/// A time-out that follows points in a row of the others, the last of them scored in
/// the rally before it.
#[must_use]
pub fn time_out(scene: &Scene, taken_by: Team, course: &GameCourse) -> Option<Line> {
    let team = taken_by.other();
    let cite = Cite::team(RUN, team);
    let run = scene.sources.count(cite);
    let is_of_game = course.shows_run(team, run, scene.score.points.of(team));
    let is_of_last_rally = scene.sources.is_fresh(cite, scene.serial - 1);
    (run >= TIME_OUT_RUN && is_of_game && is_of_last_rally).then(|| {
        let line = Line::new(Phrase::TimeOut, team, Life::LastRally).figure(cite);
        line.shown_by(scene.entry)
    })
}
