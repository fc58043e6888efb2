//! What happens between two rallies, and how long it takes.
//!
//! Lengths after the rules: a time-out and a change of ends within a game last
//! up to 1 minute (USA Pickleball rulebook 2025, 10.A; 2018, 5.B.6), two minutes
//! lie between games (2025, 5.B.2), a medical time-out takes up to 15 minutes and
//! a player who cannot go on retires (2025, 10.B). The pause between two rallies
//! follows the published gaps named in `rally/timing.rs`. How often things happen
//! is ours.
//!
//! Invariants: no standard time-out without one left; a penalty or a ruling turned
//! over never ends a game; the score it is given is the only state it reads.

use rallytide_chart::{Lineup, Play, RallyEnd, ScoreFix, Team, TimeOut};
use rallytide_scoring::{Score, ScoreKeeper};

use crate::dice::Dice;
use crate::plan::Incidents;

/// What happens, and when.
#[derive(Debug, Clone, Default)]
pub(crate) struct Interlude {
    /// In order, each with the milliseconds since the one before (the first:
    /// since the ball was dead).
    pub(crate) events: Vec<(i64, Play)>,
    /// From the last event, or the dead ball, to the next serve, in milliseconds.
    pub(crate) until_serve: i64,
}

/// What the interludes have to remember of the match.
#[derive(Debug, Clone)]
pub(crate) struct MatchSoFar {
    incidents: Incidents,
    doubles: bool,
    had_medical: bool,
    /// Points in a row by one team, within a game.
    run: Option<(Team, u32)>,
}

/// A rally that has just been counted.
pub(crate) struct JustPlayed<'a> {
    /// The scoring before it.
    pub(crate) before: &'a ScoreKeeper,
    /// Who won it.
    pub(crate) winner: Team,
}

const NOTES: &[&str] = &[
    "wind picks up from the far end",
    "long look at the line before the call",
    "new ball",
    "both teams wait for the next court",
    "sun in the eyes on this side",
    "crowd on its feet",
    "wet spot wiped near the kitchen line",
    "they switch to a stacked formation",
    "shoe laces",
    "camera moved, picture may shake",
];

impl MatchSoFar {
    pub(crate) fn new(incidents: Incidents, doubles: bool) -> Self {
        Self {
            incidents,
            doubles,
            had_medical: false,
            run: None,
        }
    }

    /// What happens after `played` (`None` before the first rally and after a
    /// replayed one), with the score as it stands in `scoring`.
    pub(crate) fn interlude(
        &mut self,
        scoring: &ScoreKeeper,
        played: Option<&JustPlayed<'_>>,
        dice: &mut Dice,
    ) -> Interlude {
        let score = scoring.score();
        let before = played.map(|played| played.before.score());
        self.keep_run(before, score);
        let new_game = before.is_some_and(|before| before.game != score.game);
        let mut interlude = Interlude {
            events: Vec::new(),
            until_serve: match before {
                None => dice.milliseconds(7_000.0, 2_000.0),
                Some(_) if new_game => dice.milliseconds(112_000.0, 12_000.0),
                Some(_) if score.change_ends => dice.milliseconds(48_000.0, 10_000.0),
                Some(_) => pause(dice),
            },
        };
        if self.incidents == Incidents::Lifelike && played.is_some() {
            if new_game {
                self.new_starters(&mut interlude, dice);
            }
            self.happenings(scoring, played, &mut interlude, dice);
        }
        interlude
    }

    /// Whether the coming rally is broken off and replayed.
    pub(crate) fn is_broken_off(&self, dice: &mut Dice) -> bool {
        self.incidents == Incidents::Lifelike && dice.chance(0.006)
    }

    fn keep_run(&mut self, before: Option<&Score>, score: &Score) {
        let Some(before) = before else { return };
        if before.game != score.game {
            self.run = None;
            return;
        }
        for team in Team::ALL {
            if score.points.of(*team) > before.points.of(*team) {
                self.run = Some(match self.run {
                    Some((running, points)) if running == *team => (running, points + 1),
                    _ => (*team, 1),
                });
            }
        }
    }

    fn new_starters(&self, interlude: &mut Interlude, dice: &mut Dice) {
        for team in Team::ALL {
            if self.doubles && dice.chance(0.12) {
                let lineup = Lineup {
                    team: *team,
                    starting_server: dice.one_of(&[0, 1]),
                };
                let wait = dice.milliseconds(60_000.0, 20_000.0);
                interlude.events.push((wait, Play::Lineup(lineup)));
                interlude.until_serve = dice.milliseconds(40_000.0, 15_000.0);
            }
        }
    }

    /// At most one of the things that stop play, and perhaps a note.
    fn happenings(
        &mut self,
        scoring: &ScoreKeeper,
        played: Option<&JustPlayed<'_>>,
        interlude: &mut Interlude,
        dice: &mut Dice,
    ) {
        let score = scoring.score();
        let quiet = interlude.events.is_empty() && !score.change_ends;
        let fix = played.and_then(|played| turned_over(score, played));
        if dice.chance(0.003)
            && let (true, Some(fix)) = (quiet, fix)
        {
            let text = "line call overruled after the rally, point given the other way";
            let discussion = dice.milliseconds(14_000.0, 5_000.0);
            interlude.events = vec![(discussion, note(text)), (4_000, Play::ScoreFix(fix))];
        } else if let Some(penalty) = penalty(scoring, dice)
            && quiet
        {
            let talk = dice.milliseconds(20_000.0, 8_000.0);
            interlude.events = vec![(talk, penalty)];
        } else if dice.chance(0.0012) && quiet && !self.had_medical {
            self.medical(interlude, dice);
        } else if let Some(team) = self.wants_time_out(score, dice)
            && quiet
        {
            self.run = None;
            interlude.events = vec![(2_500, time_out(team, false))];
            interlude.until_serve = dice.milliseconds(60_000.0, 7_000.0);
        } else if dice.chance(0.012) {
            let wait = dice.milliseconds(5_000.0, 1_500.0);
            interlude.events.push((wait, note(dice.one_of(NOTES))));
            interlude.until_serve = (interlude.until_serve - wait).max(4_000);
        }
    }

    fn medical(&mut self, interlude: &mut Interlude, dice: &mut Dice) {
        self.had_medical = true;
        let team = dice.one_of(Team::ALL);
        interlude.events = vec![(6_000, time_out(team, true))];
        let treatment = dice.milliseconds(420_000.0, 240_000.0);
        if dice.chance(0.15) {
            interlude.events.push((treatment, Play::Retire { team }));
        } else {
            interlude.until_serve = treatment;
        }
    }

    /// A team stops the others' run, or breathes before a game point against it.
    fn wants_time_out(&self, score: &Score, dice: &mut Dice) -> Option<Team> {
        let against_run = self.run.filter(|(_, points)| *points >= 4);
        let (team, eager) = match (against_run, score.game_point) {
            (Some((running, _)), _) => (running.other(), 0.35),
            (None, Some(threatening)) => (threatening.other(), 0.12),
            (None, None) => (dice.one_of(Team::ALL), 0.006),
        };
        let left = *score.time_outs_left.of(team) > 0;
        (dice.chance(eager) && left).then_some(team)
    }
}

/// From a dead ball to the next serve with nothing between: fetching the ball,
/// walking back, the call; in milliseconds.
fn pause(dice: &mut Dice) -> i64 {
    let (mean, spread) = dice.weighted(&[
        ((8_000.0, 1_500.0), 0.07),
        ((11_700.0, 3_000.0), 0.86),
        ((17_500.0, 3_500.0), 0.07),
    ]);
    dice.milliseconds(mean, spread)
}

/// The referee's word that gives the last rally to the other team; `None` where
/// a game or a change of ends hangs on it, so that nothing but points and service
/// has to be put right.
fn turned_over(score: &Score, played: &JustPlayed<'_>) -> Option<ScoreFix> {
    let mut other_way = played.before.clone();
    other_way.step(&Play::RallyEnd(RallyEnd {
        winner: played.winner.other(),
        how: None,
        by: None,
        player: None,
        fault: None,
    }));
    let game = played.before.score().game;
    let other_way = other_way.score();
    (goes_on(game, score) && goes_on(game, other_way)).then_some(ScoreFix {
        points: other_way.points,
        serving: other_way.serving,
        server: other_way.server,
        games: None,
    })
}

/// Very rarely a technical foul; `None` also where game or change of ends would
/// hang on it.
fn penalty(scoring: &ScoreKeeper, dice: &mut Dice) -> Option<Play> {
    let called = dice.chance(0.0014);
    let play = Play::Penalty {
        team: dice.one_of(Team::ALL),
    };
    let mut after = scoring.clone();
    after.step(&play);
    (called && goes_on(scoring.score().game, after.score())).then_some(play)
}

/// Whether `score` is one within game number `game`, with no change of ends due.
fn goes_on(game: u32, score: &Score) -> bool {
    score.game == game && !score.is_over() && !score.change_ends
}

fn time_out(team: Team, medical: bool) -> Play {
    Play::TimeOut(TimeOut { team, medical })
}

fn note(text: &str) -> Play {
    Play::Note { text: text.into() }
}
