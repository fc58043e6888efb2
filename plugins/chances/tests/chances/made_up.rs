//! Made-up games against what is said before their first rally.
//!
//! The chances take a team to win a rally it serves with one probability all game
//! long. Made-up matches are not made like that: every shot depends on who strikes
//! it and what is faced, so who serves, receives and attacks makes a difference
//! from rally to rally. They are a Monte Carlo of *play*, and the chances are
//! compared under their own assumption: each seed is played as one game to 99,
//! whose first rallies are a whole game to 11. The rallies after that one, which it
//! has not seen, give the two probabilities as the plugin estimates them; with
//! those it says who wins the game to 11.
//!
//! Bound: over all seeds the number of games won by the team that was said to be
//! the likelier winner lies within four standard errors of what was said, the
//! errors being those of games that are independent given their chances. A chance
//! of the wrong team, of the wrong server or of another format lies far outside.

use rallytide_chances::estimate::ServeEstimate;
use rallytide_chances::format::{GameFormat, Lead, Service};
use rallytide_chances::game::GameChances;
use rallytide_chart::{
    Body, Discipline, Entry, Header, Play, Positions, Scoring as Counting, WinningPoint,
};
use rallytide_plugin_kit::{PerTeam, Team};
use rallytide_scoring::ScoreKeeper;
use rallytide_simulate::{Detail, Incidents, Mistakes, Plan, simulate};

use crate::real::team_of;

const SHORT: u32 = 11;
const LONG: u32 = 99;
const SEEDS: std::ops::RangeInclusive<u64> = 1..=160;

/// What was said of a game before it began, and who won it.
struct Game {
    /// Team a's chance.
    said: f64,
    won_by_a: bool,
    /// Rallies behind the estimates.
    rallies: u32,
}

fn play(seed: u64, discipline: Discipline, counting: Counting, service: Service) -> Game {
    let mut plan = Plan {
        detail: Detail::ScoreOnly,
        mistakes: Mistakes::None,
        incidents: Incidents::None,
        ..Plan::new(seed)
    };
    plan.format.discipline = discipline;
    plan.format.scoring = counting;
    plan.format.points = LONG;
    plan.format.games = 1;
    let lines = simulate(&plan).expect("the plan makes a match");
    let header = Header::from_text(&lines[0]).expect("a header");
    let mut short_header = header.clone();
    short_header.format.points = SHORT;
    let mut short = ScoreKeeper::new(&short_header);
    let mut long = ScoreKeeper::new(&header);
    let first = team_of(short.score().serving);
    let mut estimates = PerTeam {
        a: ServeEstimate::prior(0.45, 20.0),
        b: ServeEstimate::prior(0.45, 20.0),
    };
    let mut rallies = 0;
    for line in &lines[1..] {
        let entry = Entry::from_text(line, &header.format).expect("an entry");
        let Body::Play(play) = &entry.body else {
            panic!("a charter who never errs corrects nothing: {line}");
        };
        if !short.score().is_over() {
            short.step(play);
        } else if let Play::RallyEnd(end) = &**play {
            let serving = team_of(long.score().serving);
            estimates[serving].count(team_of(end.winner) == serving);
            rallies += 1;
        }
        long.step(play);
    }
    let format = GameFormat {
        points: SHORT,
        lead: Lead::Two,
        service,
    };
    let serve = PerTeam {
        a: estimates.a.mean(),
        b: estimates.b.mean(),
    };
    let winner = short.score().winner.expect("the game to 11 has ended");
    Game {
        said: GameChances::solve(format, serve).of(format.start(first)),
        won_by_a: team_of(winner) == Team::A,
        rallies,
    }
}

#[track_caller]
fn check(discipline: Discipline, counting: Counting, service: Service) {
    let (mut said, mut won, mut variance, mut games) = (0.0, 0.0, 0.0, 0.0);
    for seed in SEEDS {
        let game = play(seed, discipline, counting, service);
        assert!(game.rallies > 80, "seed {seed}: {} rallies", game.rallies);
        let a_is_likelier = game.said >= 0.5;
        let likelier = game.said.max(1.0 - game.said);
        said += likelier;
        won += f64::from(u8::from(game.won_by_a == a_is_likelier));
        variance += likelier * (1.0 - likelier);
        games += 1.0;
    }
    let off = (won - said) / variance.sqrt();
    let what = format!("{service:?}: {won} of {games} won by the likelier, said {said}, {off} off");
    println!("{what}");
    assert!(off.abs() < 4.0, "{what}");
    // The teams differ, or this would show little: the other way round it fails.
    let swapped = (games - won - said) / variance.sqrt();
    assert!(swapped < -4.0, "{what}, swapped {swapped}");
}

#[test]
fn made_up_doubles_are_won_by_the_likelier_team_as_often_as_said() {
    check(Discipline::Doubles, Counting::SideOut, Service::TwoServers);
}

#[test]
fn made_up_singles_are_won_by_the_likelier_team_as_often_as_said() {
    check(Discipline::Singles, Counting::SideOut, Service::OneServer);
}

#[test]
fn made_up_rally_scoring_is_won_by_the_likelier_team_as_often_as_said() {
    let counting = Counting::Rally {
        winning_point: WinningPoint::Any,
        positions: Positions::Swap,
    };
    check(Discipline::Doubles, counting, Service::EveryRally);
}
