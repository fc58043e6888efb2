//! Lines for the commentator: spoken English, each true when it is said, and
//! taken back when it no longer is.
//!
//! Every share and count comes from readings of other plugins, every score from
//! the host; here it is only remembered how the score of a game has gone, and how
//! many aces a player has served. Nothing is said while a rally is on. The modules
//! hold the logic as plain Rust: [`sources`] (what the others say), [`course`]
//! (how the game has gone), [`rally`] (its last shot), [`moments`], [`compare`] and
//! [`recap`] (what could be said), [`board`] (what is said, and for how long),
//! [`phrases`] and [`english`] (the words). This file only translates between them
//! and the host.

pub mod board;
pub mod compare;
pub mod course;
pub mod english;
pub mod language;
pub mod lines;
pub mod moments;
pub mod names;
pub mod phrases;
pub mod rally;
pub mod recap;
pub mod sources;

use rallytide_plugin_kit::{
    Entry, Manifest, Moment, Opening, Play, Plugin, RallyEnd, Readings, Score, SettingType, Team,
};

use crate::board::Board;
use crate::compare::FAR;
use crate::course::{GameCourse, has_ended};
use crate::english::ENGLISH;
use crate::lines::{Line, OfTeam, Scene};
use crate::moments::{Aces, EndedRally};
use crate::names::Names;
use crate::phrases::Phrase;
use crate::rally::Rally;
use crate::sources::{FIGURES, Sources};

/// Rallies within which a comparison that was told is not news in the middle of a
/// game: its numbers have hardly moved.
const COMPARISON_RESTS: u32 = 20;

/// The plugin: what the others say, the rally and the game on their way, and the
/// board.
pub struct Prompts {
    least_sample: u32,
    quiet_rallies: u32,
    /// How many games the match is the best of: 1, 3 or 5.
    games: u32,
    names: Names,
    sources: Sources,
    rally: Rally,
    course: GameCourse,
    aces: Aces,
    /// Points were given, taken off or set in the match.
    is_altered: bool,
    /// The score before the entry.
    before: Score,
    board: Board,
    /// Rallies that have ended.
    ended: u32,
    /// Rallies that are over, the replayed ones included, plus one: in which a
    /// figure is fresh.
    serial: u32,
}

impl Plugin for Prompts {
    fn manifest() -> Manifest {
        Manifest::new(
            "prompts",
            env!("CARGO_PKG_VERSION"),
            "Offers the commentator lines to say, each with what shows it.",
        )
        .provides(&["prompt"])
        .reads(FIGURES)
        .setting(
            "least_sample",
            "Fewest cases from which a team's share is said.",
            SettingType::Whole((5, 100, 10)),
        )
        .setting(
            "quiet_rallies",
            "Rallies without a line before the teams' numbers are compared.",
            SettingType::Whole((0, 50, 3)),
        )
    }

    fn start(opening: &Opening) -> Result<Self, String> {
        let names = Names::of(&opening.header, &ENGLISH);
        let mut sources = Sources::default();
        for reading in opening.upstream.all() {
            sources.take(reading, None, 0);
        }
        Ok(Self {
            least_sample: opening.whole("least_sample").unsigned_abs(),
            quiet_rallies: opening.whole("quiet_rallies").unsigned_abs(),
            games: opening.header.games,
            board: Board::new(&ENGLISH, names.teams.clone()),
            names,
            sources,
            rally: Rally::default(),
            course: GameCourse::default(),
            aces: Aces::default(),
            is_altered: false,
            before: opening.score.clone(),
            ended: 0,
            serial: 1,
        })
    }

    fn step(&mut self, moment: &Moment) {
        let Moment { entry, score, .. } = moment;
        self.read(moment);
        if self.before.winner.is_some() {
            // What follows the end of the match changes nothing.
            return;
        }
        match &entry.play {
            Play::RallyEnd(end) => self.rally_ends(entry, score, end),
            Play::Replay => {
                self.board.review(&self.sources, score, self.ended);
                self.next_rally();
            }
            play => {
                self.rally.take(entry.place, play);
                self.board.review(&self.sources, score, self.ended);
                self.between_ends(entry, score);
            }
        }
        self.before.clone_from(score);
    }

    fn readings(&self, readings: &mut Readings) {
        self.board.state(readings);
    }
}

impl Prompts {
    /// Keeps what the others say. A rally's end is shown by its last shot, where
    /// there is one.
    fn read(&mut self, moment: &Moment) {
        for key in moment.upstream.gone() {
            self.sources.forget(key);
        }
        let last_shot = match moment.entry.play {
            Play::RallyEnd(_) => self.rally.last_shot(),
            _ => None,
        };
        let shown_by = last_shot.map_or(moment.entry.place, |shot| shot.entry);
        for reading in moment.upstream.changed() {
            self.sources.take(reading, Some(shown_by), self.serial);
        }
    }

    fn rally_ends(&mut self, entry: &Entry, score: &Score, end: &RallyEnd) {
        self.ended += 1;
        self.board.review(&self.sources, score, self.ended);
        if let Some(team) = self.before.game_point.filter(|team| *team != end.winner) {
            self.course.saves(team.other());
            if self.before.match_point == Some(team) {
                self.course.saves_match_point(team.other());
            }
        }
        self.aces.take(end, &self.before);
        if has_ended(&self.before, score) {
            self.game_ends(entry, score);
        } else {
            self.score_moves(score);
            self.say(entry, score, |prompts, scene| {
                let ended = EndedRally {
                    rally: &prompts.rally,
                    end,
                    course: &prompts.course,
                    before: &prompts.before,
                    aces: &prompts.aces,
                };
                let mut lines = moments::of_rally(scene, &ended);
                if prompts.board.quiet_for(prompts.ended) > prompts.quiet_rallies {
                    lines.extend(comparisons(scene));
                }
                vec![lines]
            });
        }
        self.next_rally();
    }

    /// Anything but the end of a rally.
    fn between_ends(&mut self, entry: &Entry, score: &Score) {
        let is_set = matches!(entry.play, Play::ScoreFix(_));
        self.is_altered |= is_set || self.before.points != score.points;
        if has_ended(&self.before, score) {
            self.game_ends(entry, score);
            return;
        }
        if is_set {
            self.course.lose(score.points);
        } else if self.before.points != score.points {
            self.course.points_given(score.points);
        }
        self.score_moves(score);
        if let Play::TimeOut(time_out) = &entry.play
            && !self.rally.is_on()
            && self.ended > 0
            && !self.board.has_said(self.ended)
        {
            let taken_by = (!time_out.medical).then_some(time_out.team);
            self.say(entry, score, |prompts, scene| {
                let run = taken_by.and_then(|team| moments::time_out(scene, team, &prompts.course));
                vec![run.into_iter().chain(comparisons(scene)).collect()]
            });
        }
    }

    /// Points that ended no game.
    fn score_moves(&mut self, score: &Score) {
        self.course.points(score.points);
        if let Some(team) = score.game_point
            && self.before.game_point != Some(team)
        {
            self.course.reaches(team);
        }
    }

    /// A game has ended, and with it perhaps the match. In the middle of a rally
    /// that goes on nothing is said of it.
    fn game_ends(&mut self, entry: &Entry, score: &Score) {
        let is_end = matches!(entry.play, Play::RallyEnd(_));
        if score.finished.len() > self.before.finished.len()
            && let Some(points) = score.finished.last()
        {
            if is_end {
                self.course.points(*points);
            } else {
                self.course.points_given(*points);
            }
        }
        if is_end || !self.rally.is_on() || score.winner.is_some() {
            self.say(entry, score, |prompts, scene| {
                let last_shot = prompts.rally.last_shot().map(|shot| shot.entry);
                recap::of(scene, &prompts.course, prompts.games, last_shot)
            });
        }
        self.course = self.course.next_game();
    }

    fn next_rally(&mut self) {
        self.rally = Rally::default();
        self.serial += 1;
    }

    /// Says one line of each part. An entry that was put in later says nothing of
    /// when it happened, so nothing new is said there.
    fn say(
        &mut self,
        entry: &Entry,
        score: &Score,
        parts: impl FnOnce(&Self, &Scene) -> Vec<Vec<Line>>,
    ) {
        if entry.inserted {
            return;
        }
        let scene = Scene {
            sources: &self.sources,
            score,
            names: &self.names,
            entry: entry.place,
            serial: self.serial,
            is_altered: self.is_altered,
            least_sample: self.least_sample,
        };
        for lines in parts(self, &scene) {
            self.board.say(lines, &scene, self.ended);
        }
    }
}

/// Comparisons for the middle of a game.
fn comparisons(scene: &Scene) -> Vec<Line> {
    let found = compare::all(scene, FAR).into_iter();
    let points = &scene.score.points;
    let is_ahead = |team: Team| points.of(team) > points.of(team.other());
    found
        // What a team gives away is no news while it is ahead.
        .filter(|one| one.line.phrase != Phrase::Unforced || !is_ahead(one.line.team))
        .map(|comparison| Line {
            rests: COMPARISON_RESTS,
            ..comparison.line
        })
        .collect()
}

rallytide_plugin_kit::export_plugin!(Prompts);
