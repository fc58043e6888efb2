//! Whose shots a made-up chart names, and that serve and return need no naming.

use rallytide_chart::{Chart, Play, Positions, Scoring, WinningPoint, read_chart_file};
use rallytide_scoring::PlayByPlay;
use rallytide_simulate::{Mistakes, NamedPlayers, Plan, simulate};

fn lines(plan: &Plan) -> Vec<String> {
    simulate(plan).expect("the plan makes a match")
}

fn chart(lines: &[String]) -> Chart {
    let file = read_chart_file((lines.join("\n") + "\n").as_bytes());
    assert_eq!(file.problems, []);
    file.chart.expect("no problems, so there is a chart")
}

/// Shots from the third of their rally on, and how many of them name a player.
fn named_shots(plan: &Plan) -> (usize, usize) {
    let mut play = PlayByPlay::new(chart(&lines(plan)).header());
    let (mut all, mut named) = (0, 0);
    for entry in chart(&lines(plan)).effective() {
        let turn = play.step(&entry);
        let Play::Shot(shot) = entry.play.as_ref() else {
            continue;
        };
        if turn.rally.shot.is_some_and(|in_rally| in_rally.number > 2) {
            all += 1;
            named += usize::from(shot.player.is_some());
        }
    }
    (all, named)
}

#[test]
fn all_some_or_no_players_are_named_on_wish_and_nothing_else_changes() {
    let with = |players| Plan {
        players,
        mistakes: Mistakes::None,
        ..Plan::new(7)
    };
    let (shots, named) = named_shots(&with(NamedPlayers::All));
    assert_eq!(named, shots);
    let (_, named) = named_shots(&with(NamedPlayers::None));
    assert_eq!(named, 0);
    let (_, named) = named_shots(&with(NamedPlayers::Some));
    assert!((1..shots / 4).contains(&named), "{named} of {shots}");
    let without_players = |players| {
        let entry = |line: String| {
            let mut entry: serde_json::Value = serde_json::from_str(&line).expect("JSON");
            if entry["kind"] != "depth" {
                entry.as_object_mut().expect("an object").remove("player");
            }
            entry
        };
        let lines = lines(&with(players)).into_iter().map(entry);
        lines.collect::<Vec<_>>()
    };
    assert_eq!(
        without_players(NamedPlayers::All),
        without_players(NamedPlayers::None)
    );
}

#[test]
fn nearly_every_serve_and_return_is_known_by_the_score_also_after_corrections_and_new_lineups() {
    let (mut all, mut known) = (0, 0);
    for seed in 1..=20 {
        for scoring in [
            Scoring::SideOut,
            Scoring::Rally {
                winning_point: WinningPoint::Any,
                positions: Positions::Static,
            },
        ] {
            let mut plan = Plan {
                players: NamedPlayers::None,
                ..Plan::new(seed)
            };
            plan.format.scoring = scoring;
            let chart = chart(&lines(&plan));
            let mut play = PlayByPlay::new(chart.header());
            for entry in chart.effective() {
                let before = play.score().clone();
                let turn = play.step(&entry);
                let Some(shot) = turn.rally.shot.filter(|shot| shot.number <= 2) else {
                    continue;
                };
                if !matches!(*entry.play, Play::Shot(_)) {
                    continue;
                }
                all += 1;
                known += usize::from(shot.player.is_some());
                let expected = if shot.team == before.serving {
                    before.server_player
                } else {
                    before.receiver_player
                };
                assert!(shot.player.is_none_or(|player| player == expected));
            }
        }
    }
    assert!(known * 100 >= all * 95, "{known} of {all}");
}
