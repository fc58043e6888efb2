//! Lines for the commentator: spoken English, each true when it is said, and
//! taken back when it no longer is.
//!
//! Everything in them comes from readings of other plugins; nothing is counted
//! here. The modules hold the logic as plain Rust: [`sources`] (what the others
//! say), [`rally`] (what has happened in the rally), [`moments`] and [`figures`]
//! (what could be said about it), [`board`] (what is said, and for how long),
//! [`phrases`] (the words). This file only translates between them and the host.

pub mod board;
pub mod clock;
pub mod figures;
pub mod language;
pub mod lines;
pub mod moments;
pub mod names;
pub mod phrases;
pub mod rally;
pub mod sources;

use rallytide_plugin_kit::{
    Entry, Manifest, Moment, Opening, Play, Plugin, Readings, Score, SettingType, Team,
};

use crate::board::{Board, Now, Place};
use crate::lines::{Line, Scene};
use crate::moments::Before;
use crate::phrases::ENGLISH;
use crate::rally::{Held, Rally};
use crate::sources::{FIGURES, INITIATIVE, Sources};

/// The plugin: what the others say, the rally on its way, and the board.
pub struct Prompts {
    least_sample: u32,
    during_rally: bool,
    sources: Sources,
    held: Held,
    rally: Rally,
    before: Before,
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
        .reads(&[INITIATIVE])
        .reads(FIGURES)
        .setting(
            "least_sample",
            "From so many cases on a share says something about a team.",
            SettingType::Whole((1, 100, 8)),
        )
        .setting(
            "pause_seconds",
            "Seconds of play between two new lines at least.",
            SettingType::Whole((3, 60, 8)),
        )
        .setting(
            "during_rally",
            "Whether a pressed team's need is offered while the rally is on.",
            SettingType::Truth(true),
        )
    }

    fn start(opening: &Opening) -> Result<Self, String> {
        let pause_ms = f64::from(opening.whole("pause_seconds")) * 1000.0;
        let names = names::spoken(&opening.header, &ENGLISH);
        let mut prompts = Self {
            least_sample: opening.whole("least_sample").unsigned_abs(),
            during_rally: opening.truth("during_rally"),
            sources: Sources::default(),
            held: Held::default(),
            rally: Rally::default(),
            before: Before::default(),
            board: Board::new(&ENGLISH, names, pause_ms),
            ended: 0,
            serial: 1,
        };
        for reading in opening.upstream.all() {
            if reading.key.indicator == INITIATIVE {
                prompts.held.take(reading);
            } else {
                prompts.sources.take(reading, None, 0);
            }
        }
        prompts.before = Before::of(&opening.score, &prompts.scene(None));
        Ok(prompts)
    }

    fn step(&mut self, moment: &Moment) {
        let Moment { entry, score, .. } = moment;
        if !entry.inserted {
            self.board.tick(entry.at_ms);
        }
        self.read(moment);
        match &entry.play {
            Play::RallyEnd(end) => self.rally_ends(entry, score, end.winner),
            Play::Replay => {
                self.board.take_back(self.ended + 1);
                self.review(score);
                self.next_rally(score);
            }
            play => {
                self.rally.take(entry.place, play, &self.held);
                self.review(score);
                if self.rally.is_on() {
                    self.within_rally(entry, score);
                } else {
                    self.between_rallies(entry, score);
                }
            }
        }
    }

    fn readings(&self, readings: &mut Readings) {
        self.board.state(readings);
    }
}

impl Prompts {
    fn scene(&self, fresh_in: Option<u32>) -> Scene<'_> {
        Scene {
            sources: &self.sources,
            fresh_in,
            least_sample: self.least_sample,
        }
    }

    /// Keeps what the others say. A rally's end is shown by its last shot, where
    /// there is one.
    fn read(&mut self, moment: &Moment) {
        for key in moment.upstream.gone() {
            if key.indicator == INITIATIVE {
                self.held = Held::default();
                self.rally.lose_sight();
            } else {
                self.sources.forget(key);
            }
        }
        let last_shot = match moment.entry.play {
            Play::RallyEnd(_) => self.rally.last_shot(),
            _ => None,
        };
        let shown_by = last_shot.map_or(moment.entry.place, |shot| shot.entry);
        for reading in moment.upstream.changed() {
            if reading.key.indicator == INITIATIVE {
                self.held.take(reading);
            } else {
                self.sources.take(reading, Some(shown_by), self.serial);
            }
        }
    }

    fn rally_ends(&mut self, entry: &Entry, score: &Score, winner: Team) {
        self.rally.end();
        self.ended += 1;
        self.review(score);
        if self.may_speak(entry) {
            let is_over = score.winner.is_some();
            let scene = self.scene((!is_over).then_some(self.serial));
            let mut lines = moments::of_rally(&scene, &self.rally, winner, &self.before);
            lines.extend(moments::of_score(&scene, score, &self.before, entry.place));
            lines.extend(figures::of_match(&scene, &self.rally));
            self.say(lines, entry, (self.ended, is_over));
        }
        self.next_rally(score);
    }

    fn next_rally(&mut self, score: &Score) {
        self.rally = Rally::default();
        self.serial += 1;
        self.before = Before::of(score, &self.scene(None));
    }

    /// Nothing but what is needed now.
    fn within_rally(&mut self, entry: &Entry, score: &Score) {
        if score.winner.is_some() {
            // The match is over in the middle of the rally.
            self.rally = Rally::default();
            return;
        }
        self.before.rescore(score);
        if self.during_rally
            && self.may_speak(entry)
            && let Some(team) = self.rally.needs(&self.held)
        {
            let line = moments::need(&self.scene(None), team, &self.held);
            if self.say(vec![line], entry, (self.ended + 1, false)) {
                self.rally.need_was_told();
            }
        }
    }

    /// There is time to look back where play has stopped for more than a serve.
    fn between_rallies(&mut self, entry: &Entry, score: &Score) {
        let stops = matches!(
            entry.play,
            Play::TimeOut(_) | Play::Penalty(_) | Play::ScoreFix(_) | Play::Note(_)
        );
        if stops && self.ended > 0 && self.may_speak(entry) {
            let scene = self.scene(None);
            let mut lines = moments::of_score(&scene, score, &self.before, entry.place);
            lines.extend(figures::of_match(&scene, &self.rally));
            self.say(lines, entry, (self.ended, true));
        }
        self.before.rescore(score);
    }

    fn review(&mut self, score: &Score) {
        let now = Now {
            sources: &self.sources,
            score,
            held: &self.held,
            ended: self.ended,
        };
        self.board.review(now);
    }

    /// An entry that was put in later says nothing of when it happened, so nothing
    /// new is said there.
    fn may_speak(&self, entry: &Entry) -> bool {
        !entry.inserted && self.board.may_speak(entry.at_ms)
    }

    /// Says one of the lines, if any is worth it. Whether one was said.
    fn say(&mut self, lines: Vec<Line>, entry: &Entry, (rally, stops): (u32, bool)) -> bool {
        let place = Place {
            entry: entry.place,
            at_ms: entry.at_ms,
            rally,
            ended: self.ended,
            stops,
        };
        self.board.say(lines, &self.sources, place)
    }
}

rallytide_plugin_kit::export_plugin!(Prompts);
