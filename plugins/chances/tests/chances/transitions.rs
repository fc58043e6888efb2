//! The chain against the real scoring: every state that a game can reach, stepped
//! by the scoring crate, has the chance of the branches that follow it.

use std::collections::BTreeMap;

use rallytide_chances::format::{Lead, Service};
use rallytide_chart as chart;
use rallytide_plugin_kit::Team;
use rallytide_scoring::ScoreKeeper;

use crate::real::{SERVICES, Solved, Spec, after, chart_team};

/// Points of a and b with the same meaning as early as possible, whether a
/// serves, the server's number.
pub(crate) type Key = (u32, u32, bool, Option<u32>);

fn key(spec: &Spec, scoring: &ScoreKeeper) -> Key {
    let score = scoring.score();
    let (a, b) = (score.points.a, score.points.b);
    let spare = a.min(b).saturating_sub(spec.points - 1);
    let a_serves = score.serving == chart::Team::A;
    (a - spare, b - spare, a_serves, score.server)
}

/// Every state that a game of this format can reach, by the real scoring.
pub(crate) fn all_states(spec: &Spec) -> BTreeMap<Key, ScoreKeeper> {
    let mut found = BTreeMap::new();
    let mut waiting = vec![spec.scoring()];
    while let Some(scoring) = waiting.pop() {
        let key = key(spec, &scoring);
        if scoring.score().is_over() || found.contains_key(&key) {
            continue;
        }
        waiting.extend(Team::BOTH.map(|winner| after(&scoring, winner)));
        found.insert(key, scoring);
    }
    found
}

const SERVES: [(f64, f64); 6] = [
    (0.5, 0.5),
    (0.45, 0.40),
    (0.05, 0.95),
    (0.001, 0.002),
    (1.0, 0.3),
    (0.0, 0.5),
];

#[test]
fn every_state_has_the_chance_of_what_the_real_scoring_makes_of_it() {
    for service in SERVICES {
        for lead in [Lead::One, Lead::Two] {
            for points in [1, 2, 3, 11] {
                check(&Spec::game(service, points, lead));
            }
        }
    }
    check(&Spec::game(Service::TwoServers, 21, Lead::Two));
    check(&Spec::game(Service::ServedOut, 21, Lead::Two));
}

#[test]
fn so_has_every_score_that_the_referee_and_fouls_can_leave() {
    // Nobody gets there by rallies alone: ahead while the others serve though
    // the last point was one's own, level far beyond the game's points, and so
    // far ahead that it would be won if a foul had not taken the points off.
    for service in SERVICES {
        for lead in [Lead::One, Lead::Two] {
            let spec = Spec::game(service, 3, lead);
            let solved = SERVES.map(|serve| Solved::new(&spec, serve));
            for start in fixed_scores(&spec) {
                for offender in Team::BOTH {
                    let mut scoring = start.clone();
                    for _ in 0..4 {
                        check_branches(&spec, &scoring, &solved);
                        scoring.step(&chart::Play::Penalty {
                            team: chart_team(offender),
                        });
                    }
                }
            }
        }
    }
}

/// The real scoring after the referee has set points up to beyond those of a
/// game to 3, with either team and server to serve.
fn fixed_scores(spec: &Spec) -> Vec<ScoreKeeper> {
    let mut found = Vec::new();
    for (a, b) in (0..=6).flat_map(|a| (0..=6).map(move |b| (a, b))) {
        for serving in Team::BOTH {
            for server in [1, 2] {
                let mut scoring = spec.scoring();
                scoring.step(&chart::Play::ScoreFix(chart::ScoreFix {
                    points: chart::PairOf { a, b },
                    serving: chart_team(serving),
                    server: (spec.service == Service::TwoServers).then_some(server),
                    games: None,
                }));
                found.push(scoring);
            }
        }
    }
    found
}

#[track_caller]
fn check(spec: &Spec) {
    let solved = SERVES.map(|serve| Solved::new(spec, serve));
    for scoring in all_states(spec).values() {
        check_branches(spec, scoring, &solved);
    }
}

/// Checks the score against the two that the real scoring makes of it.
#[track_caller]
fn check_branches(spec: &Spec, scoring: &ScoreKeeper, solved: &[Solved]) {
    let score = scoring.score();
    if score.is_over() {
        return;
    }
    let [won, lost] = Team::BOTH.map(|winner| after(scoring, winner));
    for solved in solved {
        let here = solved.at(score);
        let (won, lost) = (solved.at(won.score()), solved.at(lost.score()));
        let expected = solved.rally(score, Team::A) * won.of_game
            + solved.rally(score, Team::B) * lost.of_game;
        let what = (spec, score, solved.serve);
        assert!(
            (here.of_game - expected).abs() < 1e-12,
            "{what:?}: {here:?}"
        );
        // In a single game, game and match are one.
        assert!(
            (here.of_match - here.of_game).abs() < 1e-15,
            "{what:?}: {here:?}"
        );
        let swing = won.of_game - lost.of_game;
        assert!((here.swing - swing).abs() < 1e-12, "{what:?}: {here:?}");
    }
}

/// The simplest generator that will do (`SplitMix64`), so that a seed always plays
/// the same games.
struct Dice(u64);

impl Dice {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        bits ^= bits >> 31;
        (bits >> 11) as f64 / (1_u64 << 53) as f64
    }
}

#[test]
fn games_played_by_the_real_scoring_are_won_as_often_as_said() {
    const GAMES: u32 = 4000;
    for (seed, (service, serve)) in (1..).zip([
        (Service::TwoServers, (0.45, 0.40)),
        (Service::OneServer, (0.55, 0.50)),
        (Service::EveryRally, (0.45, 0.42)),
        (Service::ServedOut, (0.40, 0.43)),
    ]) {
        let spec = Spec::game(service, 11, Lead::Two);
        let solved = Solved::new(&spec, serve);
        let said = solved.at(spec.scoring().score()).of_game;
        let mut dice = Dice(seed);
        let mut won = 0;
        for _ in 0..GAMES {
            let mut scoring = spec.scoring();
            while !scoring.score().is_over() {
                let a_wins = dice.uniform() < solved.rally(scoring.score(), Team::A);
                let winner = if a_wins { Team::A } else { Team::B };
                scoring.step(&crate::real::rally_won_by(winner));
            }
            won += u32::from(scoring.score().winner == Some(chart::Team::A));
        }
        let error = (said * (1.0 - said) / f64::from(GAMES)).sqrt();
        let off = (f64::from(won) / f64::from(GAMES) - said) / error;
        assert!(
            off.abs() < 4.0,
            "{service:?}: {won} of {GAMES}, said {said}, {off} errors off"
        );
    }
}
