//! Random matches under the sport's own scoring. Who scores is told here by its
//! rules and not by the points: in side-out scoring only the serving team does,
//! in rally scoring every rally gives a point (USA Pickleball rulebook 2026,
//! 14.A.2), under `winning_point` `server` but the one that would win the game
//! for the receivers (2025). A technical foul gives the others a point if the
//! offender has none.

use proptest::prelude::*;
use rallytide_chart as chart;
use rallytide_plugin_kit::testing::{Trial, opening_score};
use rallytide_plugin_kit::{Pair, Play, RallyEnd, Score, ScoreFix, Team, Value, about};
use rallytide_points::Points;
use rallytide_scoring::ScoreKeeper;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Rule {
    SideOut,
    EveryRally,
    ServedOut,
}

/// What happens next, to or by a team.
#[derive(Debug, Clone, Copy)]
enum Next {
    RallyWonBy(Team),
    PenaltyOf(Team),
    Fixed(u32, u32, Team),
}

#[derive(Debug, Clone)]
struct Spec {
    rule: Rule,
    discipline: &'static str,
    points: u32,
    win_by: u32,
    games: u32,
}

impl Spec {
    fn scoring(&self) -> ScoreKeeper {
        let scoring = match self.rule {
            Rule::SideOut => r#""scoring":"side_out""#,
            Rule::EveryRally => r#""scoring":"rally""#,
            Rule::ServedOut => r#""scoring":"rally","winning_point":"server""#,
        };
        let Self {
            discipline,
            points,
            win_by,
            games,
            ..
        } = self;
        let text = format!(
            r#"{{"kind":"match","chart":1,"id":"m","teams":{{"a":{{"name":"Harbour"}},"b":{{"name":"Dunes"}}}},"format":{{"discipline":"{discipline}",{scoring},"points":{points},"win_by":{win_by},"games":{games}}},"first_serve":"a"}}"#
        );
        ScoreKeeper::new(&chart::Header::from_text(&text).unwrap())
    }

    /// Who scores by the rules, if anybody does.
    fn scorer(&self, next: Next, before: &Score) -> Option<Team> {
        let of = |team| match team {
            Team::A => before.points.a,
            Team::B => before.points.b,
        };
        match next {
            Next::Fixed(..) => None,
            Next::PenaltyOf(team) => (of(team) == 0).then_some(team.other()),
            Next::RallyWonBy(team) => {
                let serves = before.serving == team;
                let would_win =
                    of(team) + 1 >= self.points && of(team) + 1 >= of(team.other()) + self.win_by;
                let scores = match self.rule {
                    Rule::SideOut => serves,
                    Rule::EveryRally => true,
                    Rule::ServedOut => serves || !would_win,
                };
                scores.then_some(team)
            }
        }
    }
}

fn team() -> impl Strategy<Value = Team> {
    prop::sample::select(Team::BOTH.to_vec())
}

fn spec() -> impl Strategy<Value = Spec> {
    (
        prop::sample::select(vec![Rule::SideOut, Rule::EveryRally, Rule::ServedOut]),
        prop::sample::select(vec!["singles", "doubles"]),
        1..=5_u32,
        1..=2_u32,
        prop::sample::select(vec![1, 3, 5]),
    )
        .prop_map(|(rule, discipline, points, win_by, games)| Spec {
            rule,
            discipline,
            points,
            win_by,
            games,
        })
}

fn plays() -> impl Strategy<Value = Vec<Next>> {
    let next = prop_oneof![
        12 => team().prop_map(Next::RallyWonBy),
        2 => team().prop_map(Next::PenaltyOf),
        1 => (0..5_u32, 0..5_u32, team()).prop_map(|(a, b, to)| Next::Fixed(a, b, to)),
    ];
    prop::collection::vec(next, 1..80)
}

fn chart_team(team: Team) -> chart::Team {
    match team {
        Team::A => chart::Team::A,
        Team::B => chart::Team::B,
    }
}

/// As the chart has it, and as a plugin is handed it.
fn both_forms(next: Next) -> (chart::Play, Play) {
    match next {
        Next::RallyWonBy(winner) => (
            chart::Play::RallyEnd(chart::RallyEnd {
                winner: chart_team(winner),
                how: None,
                by: None,
                player: None,
                fault: None,
            }),
            Play::RallyEnd(RallyEnd {
                winner,
                how: None,
                by: None,
                player: None,
                fault: None,
            }),
        ),
        Next::PenaltyOf(team) => (
            chart::Play::Penalty {
                team: chart_team(team),
            },
            Play::Penalty(team),
        ),
        Next::Fixed(a, b, serving) => (
            chart::Play::ScoreFix(chart::ScoreFix {
                points: chart::PairOf { a, b },
                serving: chart_team(serving),
                server: None,
                games: None,
            }),
            Play::ScoreFix(ScoreFix {
                points: Pair { a, b },
                serving,
                server: None,
                games: None,
            }),
        ),
    }
}

/// What matters of the real score here, as the host hands it over.
fn handed_over(score: &rallytide_scoring::Score) -> Score {
    let pair = |pair: &chart::PairOf<u32>| Pair {
        a: pair.a,
        b: pair.b,
    };
    let team = |team| match team {
        chart::Team::A => Team::A,
        chart::Team::B => Team::B,
    };
    Score {
        points: pair(&score.points),
        serving: team(score.serving),
        finished: score.finished.iter().map(pair).collect(),
        winner: score.winner.map(team),
        ..opening_score()
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn a_run_is_what_one_team_has_scored_since_the_other_did(spec in spec(), plays in plays()) {
        let mut scoring = spec.scoring();
        let mut points = Trial::<Points>::start(Vec::new(), Vec::new()).unwrap();
        let mut scorers: Vec<Team> = Vec::new();
        for next in plays {
            if scoring.score().is_over() {
                break;
            }
            scorers.extend(spec.scorer(next, &handed_over(scoring.score())));
            let (charted, handed) = both_forms(next);
            scoring.step(&charted);
            *points.score() = handed_over(scoring.score());
            points.play(handed);
            for team in Team::BOTH {
                let run = scorers.iter().rev().take_while(|scorer| **scorer == team).count();
                prop_assert_eq!(
                    points.value(&about("score.run", team)),
                    Some(&Value::Count(u32::try_from(run).unwrap())),
                    "{:?} after {:?}", team, next
                );
            }
        }
    }
}
