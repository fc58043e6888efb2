//! Lines about what has just happened, and what it means for the score.

use rallytide_plugin_kit::{Score, Team};

use crate::lines::{Life, Line, Scene};
use crate::phrases::Phrase;
use crate::rally::{Held, Outcome, Rally, Story};
use crate::sources::{
    BEST, BOUNCED, COVERAGE, Cite, ESCAPES, GAME, LONGEST, MATCH, RUN, SHOTS, STREAK, SWING,
    UNLIKELY,
};

/// Escapes in a row from which on it is a streak.
const STREAK_FROM: u32 = 3;
/// Escapes in a row that can be the longest of the match, or rare.
const LONG_STREAK: u32 = 3;
/// Escapes in a row whose end is worth a word.
const ENDED_STREAK: u32 = 5;
/// Points in a row from which on it is a run.
const RUN_FROM: u32 = 3;
/// Shots of a rally that is long whatever the match.
const LONG_RALLY: u32 = 20;
/// Shots without which the longest rally is not worth a word.
const LONGEST_FROM: u32 = 15;
/// Percents that the next rally is worth, to be spoken of.
const BIG_SWING: u32 = 25;
/// Percents below which a streak is rare.
const RARE: u32 = 10;
/// Percents up to which either team's chance is called much the same.
const EVEN: u32 = 55;
/// Percents up to which a chance is open enough to be told at game and match point.
const OPEN: u32 = 94;

/// What was so before the rally.
#[derive(Debug, Clone, Copy, Default)]
pub struct Before {
    /// Who had game point.
    pub game_point: Option<Team>,
    /// Who had match point.
    pub match_point: Option<Team>,
    /// Games that were over.
    pub finished: usize,
    /// Each team's streak, team a first.
    pub streaks: [u32; 2],
}

impl Before {
    /// How it stands, for the rally to come.
    #[must_use]
    pub fn of(score: &Score, scene: &Scene) -> Self {
        let streak = |team| scene.sources.count(Cite::team(STREAK, team));
        Self {
            game_point: score.game_point,
            match_point: score.match_point,
            finished: score.finished.len(),
            streaks: [streak(Team::A), streak(Team::B)],
        }
    }

    /// The score has changed in the middle of the rally, or between two.
    pub fn rescore(&mut self, score: &Score) {
        self.game_point = score.game_point;
        self.match_point = score.match_point;
        self.finished = score.finished.len();
    }
}

/// What a pressed team needs, with the rows that press it, and how often it has
/// come to it, unless the chart has gaps.
#[must_use]
pub fn need(scene: &Scene, team: Team, held: &Held) -> Line {
    let mut line = Line::new(Phrase::NextBall, team, 48).lasting(Life::Pressed(team));
    if !scene.has_gaps() {
        line = line.figure(Cite::team(BOUNCED, team));
    }
    line.shown.extend(held.pressing(team).cloned());
    line
}

/// What a rally has brought, the moment it has ended.
#[must_use]
pub fn of_rally(scene: &Scene, rally: &Rally, winner: Team, before: &Before) -> Vec<Line> {
    let mut lines = Vec::new();
    if let Some(story) = rally.story() {
        lines.push(answer(story, winner));
    }
    let last = rally.last_shot().map(|shot| shot.entry);
    if rally.ends_fast() {
        let line = Line::new(Phrase::Exchange, winner, 48).lasting(Life::LastRally);
        lines.push(line.shown_by(last));
    }
    lines.extend(long(scene, winner));
    for team in Team::BOTH {
        if !scene.has_gaps() {
            lines.extend(escapes(scene, team, before));
        }
        lines.extend(run(scene, team));
    }
    lines
}

fn answer(story: &Story, winner: Team) -> Line {
    let won = winner == story.team;
    let phrase = match (story.outcome, story.bounced, won) {
        (Outcome::Escaped, true, true) => Phrase::BouncedAndWon,
        (Outcome::Escaped, true, false) => Phrase::BouncedAndLost,
        (Outcome::Escaped, false, true) => Phrase::OutAndWon,
        (Outcome::Escaped, false, false) => Phrase::OutAndLost,
        (Outcome::StillPressed, _, true) => Phrase::PressedAndWon,
        (Outcome::StillPressed, false, false) if !story.unsure => Phrase::NeverBounced,
        (Outcome::StillPressed, ..) => Phrase::NeverOut,
    };
    let weight = if story.was_told { 85 } else { 42 };
    Line::new(phrase, story.team, weight)
        .figure(Cite::team(ESCAPES, story.team))
        .lasting(Life::LastRally)
        .shown_by(story.entry)
}

fn long(scene: &Scene, winner: Team) -> Option<Line> {
    let longest = Cite::of_match(LONGEST);
    let shots = scene.sources.count(longest);
    let rallies = Cite::of_match(COVERAGE);
    if shots >= LONGEST_FROM && scene.is_fresh(longest) && scene.is_sample(rallies) {
        let line = Line::new(Phrase::Longest, winner, 56).figure(longest);
        return Some(line.of_match());
    }
    let this = Cite::of_match(SHOTS);
    (scene.sources.count(this) >= LONG_RALLY).then(|| {
        let line = Line::new(Phrase::LongRally, winner, 44).figure(this);
        line.of_match().lasting(Life::LastRally)
    })
}

fn escapes(scene: &Scene, team: Team, before: &Before) -> Vec<Line> {
    let sources = scene.sources;
    let (streak, best) = (Cite::team(STREAK, team), Cite::team(BEST, team));
    let count = sources.count(streak);
    let had = before.streaks[usize::from(team == Team::B)];
    let mut lines = Vec::new();
    if !scene.is_fresh(streak) {
        return lines;
    }
    if had >= ENDED_STREAK && count == 0 {
        let line = Line::new(Phrase::Caught, team.other(), 58)
            .figure(Cite::team(ESCAPES, team))
            .rests_on(streak);
        lines.push(line.lasting(Life::LastRally));
    }
    if count >= STREAK_FROM && count > had {
        let weight = 32 + 4 * count.min(8).cast_signed();
        lines.push(Line::new(Phrase::Streak, team, weight).figure(streak));
    }
    if count < LONG_STREAK || count != sources.count(best) {
        return lines;
    }
    let others = Cite::team(BEST, team.other());
    if count > sources.count(others) {
        let line = Line::new(Phrase::BestStreak, team, 62).figure(streak);
        lines.push(line.rests_on(best).rests_on(others));
    }
    let unlikely = Cite::team(UNLIKELY, team);
    let is_rare = sources.percent(unlikely).is_some_and(|p| p < RARE);
    if is_rare && scene.is_sample(Cite::team(ESCAPES, team)) {
        let line = Line::new(Phrase::RareStreak, team, 70).figure(best);
        lines.push(line.rests_on(unlikely));
    }
    lines
}

fn run(scene: &Scene, team: Team) -> Option<Line> {
    let run = Cite::team(RUN, team);
    let points = scene.sources.count(run);
    let weight = 30 + 6 * points.min(6).cast_signed();
    (points >= RUN_FROM && scene.is_fresh(run))
        .then(|| Line::new(Phrase::InARow, team, weight).figure(run))
}

/// What the score has come to.
#[must_use]
pub fn of_score(scene: &Scene, score: &Score, before: &Before, entry: u32) -> Vec<Line> {
    let mut lines = Vec::new();
    let shown_by = Some(entry);
    let told = has_told_serves(scene);
    let games_go_on = score.finished.len() == before.finished && score.winner.is_none();
    let with_chance = |line: Line, cite: Cite| match scene.sources.percent(cite) {
        Some(percent) if told && percent <= OPEN => line.figure(cite),
        _ => line,
    };
    if let Some(team) = score.match_point {
        let line = Line::new(Phrase::MatchPoint, team, 100).lasting(Life::MatchPoint(team));
        lines.push(with_chance(
            line.shown_by(shown_by),
            Cite::team(MATCH, team),
        ));
    } else if let Some(team) = score.game_point {
        let line = Line::new(Phrase::GamePoint, team, 80).lasting(Life::GamePoint(team));
        lines.push(with_chance(line.shown_by(shown_by), Cite::team(GAME, team)));
    }
    if games_go_on {
        let saved = |had: Option<Team>, has| had.filter(|team| has != Some(*team));
        if let Some(team) = saved(before.match_point, score.match_point) {
            let line = Line::new(Phrase::MatchPointSaved, team.other(), 90);
            lines.push(line.lasting(Life::LastRally).shown_by(shown_by));
        } else if let Some(team) = saved(before.game_point, score.game_point) {
            let line = Line::new(Phrase::GamePointSaved, team.other(), 64);
            lines.push(line.lasting(Life::LastRally).shown_by(shown_by));
        }
    }
    if told && score.winner.is_none() {
        lines.extend(chances(scene, score.finished.len() > before.finished));
    }
    lines
}

/// The chances say something about this match only once enough of it is played.
fn has_told_serves(scene: &Scene) -> bool {
    let serves = |team| {
        scene
            .sources
            .share(Cite::team(crate::sources::SERVE, team))
            .1
    };
    serves(Team::A) + serves(Team::B) >= 2 * scene.least_sample
}

fn chances(scene: &Scene, is_new_game: bool) -> Vec<Line> {
    let mut lines = Vec::new();
    let swing = Cite::of_match(SWING);
    if let Some(percent) = scene.sources.percent(swing)
        && percent >= BIG_SWING
        && scene.is_fresh(swing)
    {
        let weight = 24 + percent.cast_signed();
        let line = Line::new(Phrase::NextRally, Team::A, weight).figure(swing);
        lines.push(line.of_match());
    }
    if !is_new_game && scene.fresh_in.is_some() {
        return lines;
    }
    let cite = |team| Cite::team(MATCH, team);
    let chance = |team| scene.sources.percent(cite(team));
    if let (Some(a), Some(b)) = (chance(Team::A), chance(Team::B)) {
        let ahead = if a >= b { Team::A } else { Team::B };
        lines.push(if a.max(b) <= EVEN {
            let line = Line::new(Phrase::Even, ahead, 60).of_match();
            line.rests_on(cite(Team::A)).rests_on(cite(Team::B))
        } else {
            Line::new(Phrase::ToWin, ahead, 66).figure(cite(ahead))
        });
    }
    lines
}
