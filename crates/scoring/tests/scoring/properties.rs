//! What holds for every match, over random formats and entries.

use proptest::prelude::*;
use rallytide_chart::{
    Chart, Cue, CueMark, Depth, DepthMark, Entry, Header, Lineup, PairOf, Play, ScoreFix,
    Scoring as ScoringRule, Stroke, Team, TimeOut, WinningPoint,
};
use rallytide_scoring::{Score, ScoreKeeper, ServiceCourt};
use serde_json::{Value, json};

use crate::notation::{
    FREEZE, FREEZE_SINGLES, RALLY, RALLY_SINGLES, SIDE_OUT, SIDE_OUT_SINGLES, STATIC,
    STATIC_FREEZE, header_of, object, rally_to, shot,
};
use crate::random::{ALL_RULES, headers, matches, team, winners};

const SIDE_OUT_RULES: &[&str] = &[SIDE_OUT, SIDE_OUT_SINGLES];
const RALLY_RULES: &[&str] = &[
    RALLY,
    FREEZE,
    STATIC,
    STATIC_FREEZE,
    RALLY_SINGLES,
    FREEZE_SINGLES,
];
const PARITY_RULES: &[&str] = &[SIDE_OUT, RALLY, FREEZE];
const STATIC_RULES: &[&str] = &[STATIC, STATIC_FREEZE];
const DOUBLES_RULES: &[&str] = &[SIDE_OUT, RALLY, FREEZE, STATIC, STATIC_FREEZE];
const SINGLES_RULES: &[&str] = &[SIDE_OUT_SINGLES, RALLY_SINGLES, FREEZE_SINGLES];

/// The scores of a match, the one before the first entry included.
fn scores(header: &Header, plays: &[Play]) -> Vec<Score> {
    let mut scoring = ScoreKeeper::new(header);
    let mut scores = vec![scoring.score().clone()];
    for play in plays {
        scoring.step(play);
        scores.push(scoring.score().clone());
    }
    scores
}

fn rallies(winners: &[Team]) -> Vec<Play> {
    winners.iter().copied().map(rally_to).collect()
}

/// Points of the whole match.
fn total_points(score: &Score) -> u32 {
    let both = |pair: &PairOf<u32>| pair.a + pair.b;
    let current = if score.is_over() {
        0
    } else {
        both(&score.points)
    };
    score.finished.iter().map(both).sum::<u32>() + current
}

/// The same match seen with the teams' names exchanged.
fn mirrored_header(header: &Header) -> Header {
    let format = &header.to_json()["format"];
    header_of(format, header.first_serve.other())
}

fn mirrored_play(play: &Play) -> Play {
    let swap = |pair: PairOf<u32>| PairOf {
        a: pair.b,
        b: pair.a,
    };
    match play {
        Play::RallyEnd(end) => rally_to(end.winner.other()),
        Play::TimeOut(time_out) => Play::TimeOut(TimeOut {
            team: time_out.team.other(),
            ..*time_out
        }),
        Play::Penalty { team } => Play::Penalty { team: team.other() },
        Play::ScoreFix(fix) => Play::ScoreFix(ScoreFix {
            points: swap(fix.points),
            serving: fix.serving.other(),
            server: fix.server,
            games: fix.games.map(swap),
        }),
        Play::Lineup(lineup) => Play::Lineup(Lineup {
            team: lineup.team.other(),
            ..*lineup
        }),
        Play::Retire { team } => Play::Retire { team: team.other() },
        other => other.clone(),
    }
}

/// A score with the teams' names exchanged. `near` stays: both matches start
/// with their team a there.
fn mirrored_score(score: &Score) -> Score {
    let swap = |pair: &PairOf<u32>| PairOf {
        a: pair.b,
        b: pair.a,
    };
    let other = |team: Option<Team>| team.map(Team::other);
    Score {
        games: swap(&score.games),
        points: swap(&score.points),
        serving: score.serving.other(),
        finished: std::sync::Arc::new(score.finished.iter().map(swap).collect()),
        time_outs_left: swap(&score.time_outs_left),
        game_point: other(score.game_point),
        match_point: other(score.match_point),
        winner: other(score.winner),
        ..score.clone()
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn side_out_points_are_the_rallies_that_servers_won(header in headers(SIDE_OUT_RULES), winners in winners()) {
        // USA Pickleball rulebook 2026, 4.A (published): only the serving side
        // scores.
        let scores = scores(&header, &rallies(&winners));
        let won_by_servers = scores
            .iter()
            .zip(&winners)
            .filter(|(score, winner)| !score.is_over() && score.serving == **winner)
            .count();
        let last = scores.last().expect("a start");
        prop_assert_eq!(total_points(last) as usize, won_by_servers);
    }

    #[test]
    fn rally_points_are_the_rallies_played(header in headers(RALLY_RULES), winners in winners()) {
        // USA Pickleball rulebook 2026, 14.A.2 (published): a point a rally; 2025,
        // provisional rally scoring, 12.B.1: none where receivers win at game
        // point.
        let ScoringRule::Rally { winning_point, .. } = header.format.scoring else {
            return Ok(());
        };
        for score in scores(&header, &rallies(&winners)) {
            match winning_point {
                WinningPoint::Any => prop_assert_eq!(total_points(&score), score.rallies),
                WinningPoint::Server => prop_assert!(total_points(&score) <= score.rallies),
            }
        }
    }

    /// USA Pickleball rulebook 2022, glossary, and 1999, 5.B.7 (published):
    /// a team's score is even exactly when its starting server stands right.
    #[test]
    fn an_even_score_has_the_starting_server_right(header in headers(PARITY_RULES), winners in winners()) {
        for score in scores(&header, &rallies(&winners)) {
            if score.is_over() {
                continue;
            }
            for (team, player) in [
                (score.serving, score.server_player),
                (score.receiving(), score.receiver_player),
            ] {
                let even = score.points.of(team) % 2 == 0;
                prop_assert_eq!(even == (player == 0), score.court == ServiceCourt::Right);
            }
        }
    }

    #[test]
    fn a_static_player_never_leaves_their_court(header in headers(STATIC_RULES), winners in winners()) {
        // Common practice of team leagues; no rulebook edition has it.
        for score in scores(&header, &rallies(&winners)) {
            let right = score.court == ServiceCourt::Right;
            prop_assert_eq!(right, score.server_player == 0);
            prop_assert_eq!(right, score.receiver_player == 0);
            prop_assert!(score.is_over() || right == (score.points.of(score.serving) % 2 == 0));
        }
    }

    /// The serve goes to the diagonal court (USA Pickleball rulebook 2026, 7.E,
    /// published), whatever was corrected, fouled or changed in the line-up.
    #[test]
    fn the_receiver_is_always_diagonal((header, plays) in matches(DOUBLES_RULES)) {
        let mut scoring = ScoreKeeper::new(&header);
        for play in &plays {
            scoring.step(play);
            let score = scoring.score();
            let on_the_right = score.court == ServiceCourt::Right;
            for (team, player) in [
                (score.serving, score.server_player),
                (score.receiving(), score.receiver_player),
            ] {
                if let Some(right) = player_right(&scoring, team) {
                    prop_assert_eq!(player == right, on_the_right);
                }
            }
        }
    }

    #[test]
    fn singles_stand_where_the_servers_own_score_puts_them((header, plays) in matches(SINGLES_RULES)) {
        // USA Pickleball rulebook 2019 to 2025, 4.B.5.a and 4.B.5.b (published).
        for score in scores(&header, &plays) {
            prop_assert_eq!((score.server_player, score.receiver_player), (0, 0));
            let even = score.points.of(score.serving) % 2 == 0;
            prop_assert!(score.is_over() || even == (score.court == ServiceCourt::Right));
        }
    }

    #[test]
    fn a_finished_game_is_never_continued((header, plays) in matches(ALL_RULES)) {
        // USA Pickleball rulebook 2025, 12.B (published): to the points, two clear;
        // 2026, 15.C: one clear.
        let format = header.format;
        let scores = scores(&header, &plays);
        for pair in scores.windows(2) {
            let (before, after) = (&pair[0], &pair[1]);
            prop_assert!(after.finished.starts_with(&before.finished));
            let new = &after.finished[before.finished.len()..];
            prop_assert!(new.len() <= 1);
            if let Some(game) = new.first() {
                let (most, least) = (game.a.max(game.b), game.a.min(game.b));
                prop_assert!(most >= format.points && most - least >= format.win_by);
                prop_assert!(after.is_over() || after.points == PairOf::default());
            }
            if before.is_over() {
                prop_assert_eq!(before, after);
            }
        }
    }

    #[test]
    fn the_winner_has_the_games_that_win(header in headers(ALL_RULES), winners in winners()) {
        // USA Pickleball rulebook 2025, 12.B (published): best of three or five.
        let last = scores(&header, &rallies(&winners)).pop().expect("a start");
        let needed = header.format.games_to_win();
        let best = last.games.a.max(last.games.b);
        prop_assert_eq!(last.winner.is_some(), best == needed);
        let won = |team: Team| last.finished.iter()
            .filter(|game| game.of(team) > game.of(team.other()))
            .count() as u32;
        prop_assert_eq!(won(Team::A), last.games.a);
        prop_assert_eq!(won(Team::B), last.games.b);
        if let Some(winner) = last.winner {
            prop_assert_eq!(*last.games.of(winner), needed);
            prop_assert_eq!(Some(&last.points), last.finished.last());
        }
    }

    #[test]
    fn mirrored_teams_give_the_mirrored_score((header, plays) in matches(ALL_RULES)) {
        let mirrored: Vec<Play> = plays.iter().map(mirrored_play).collect();
        let ours = scores(&header, &plays);
        let theirs = scores(&mirrored_header(&header), &mirrored);
        for (score, mirror) in ours.iter().zip(&theirs) {
            prop_assert_eq!(&mirrored_score(score), mirror);
        }
    }

    /// Between games once, and once more within a single or deciding game (USA
    /// Pickleball rulebook 2025, 5.B.1, 5.B.3 and 5.B.4, published).
    #[test]
    fn ends_change_once_between_games_and_once_within_the_last(
        header in headers(ALL_RULES),
        winners in winners(),
    ) {
        let format = header.format;
        let scores = scores(&header, &rallies(&winners));
        let half = format.points.div_ceil(2);
        for game in 1..=format.games {
            let of_game: Vec<&Score> = scores.iter().filter(|score| score.game == game).collect();
            let changes = of_game.iter().filter(|score| score.change_ends).count();
            let at_start = usize::from(game > 1 && !of_game.is_empty());
            let reached = of_game
                .iter()
                .any(|score| !score.is_over() && score.points.a.max(score.points.b) >= half);
            let within = usize::from(game == format.games && reached);
            prop_assert_eq!(changes, at_start + within);
        }
    }

    #[test]
    fn near_flips_exactly_where_ends_change(header in headers(ALL_RULES), winners in winners()) {
        for pair in scores(&header, &rallies(&winners)).windows(2) {
            prop_assert_eq!(pair[0].near != pair[1].near, pair[1].change_ends);
        }
    }

    #[test]
    fn game_and_match_point_say_who_wins_by_the_next_rally((header, plays) in matches(ALL_RULES)) {
        let mut scoring = ScoreKeeper::new(&header);
        for play in &plays {
            scoring.step(play);
            let score = scoring.score();
            if score.is_over() {
                prop_assert_eq!((score.game_point, score.match_point), (None, None));
                break;
            }
            let after = |winner: Team| {
                let mut ahead = scoring.clone();
                ahead.step(&rally_to(winner));
                ahead.score().clone()
            };
            let in_order = [score.serving, score.receiving()];
            let game = in_order
                .into_iter()
                .find(|team| after(*team).finished.len() > score.finished.len());
            let won = in_order
                .into_iter()
                .find(|team| after(*team).winner == Some(*team));
            prop_assert_eq!(score.game_point, game);
            prop_assert_eq!(score.match_point, won);
        }
    }

    #[test]
    fn the_call_is_the_servers_points_then_the_receivers((header, plays) in matches(ALL_RULES)) {
        // USA Pickleball rulebook 2026, 6.B.2 and 14.A.3 (published): three numbers
        // in side-out doubles, two in rally scoring. Two in singles (4.I up to
        // 2025): memory.
        for score in scores(&header, &plays) {
            let written = object(&score);
            let (own, other) = (
                score.points.of(score.serving),
                score.points.of(score.receiving()),
            );
            prop_assert_eq!(score.server.is_some(), header.format.has_two_servers());
            let expected = match (score.is_over(), score.server) {
                (true, _) => Value::Null,
                (false, Some(number)) => format!("{own}-{other}-{number}").into(),
                (false, None) => format!("{own}-{other}").into(),
            };
            prop_assert_eq!(&written["call"], &expected);
        }
    }

    #[test]
    fn a_step_tells_the_truth_about_the_score((header, plays) in matches(ALL_RULES)) {
        let mut scoring = ScoreKeeper::new(&header);
        for play in &plays {
            let before = scoring.score().clone();
            let step = scoring.step(play);
            let after = scoring.score();
            prop_assert_eq!(step.changed, object(&before) != object(after));
            prop_assert_eq!(step.counted, after.rallies == before.rallies + 1);
            prop_assert_eq!(step.ended_match, !before.is_over() && after.is_over());
        }
    }

    /// Shots, cues, depths and notes between the other entries change nothing.
    #[test]
    fn a_match_charted_shot_by_shot_has_the_score_of_its_ends(
        (header, plays) in matches(ALL_RULES),
        strokes in prop::collection::vec((team(), 0..Stroke::ALL.len()), 0..8),
    ) {
        let mut charted = Vec::new();
        for play in &plays {
            charted.extend(strokes.iter().map(|(team, stroke)| shot(*team, Stroke::ALL[*stroke])));
            charted.push(Play::Cue(CueMark { cue: Cue::Attackable, shot: None }));
            charted.push(Play::Depth(DepthMark {
                team: Team::A,
                depth: Depth::Line,
                player: None,
            }));
            charted.push(Play::Note { text: "a word".into() });
            charted.push(play.clone());
        }
        let last_of = |plays: &[Play]| scores(&header, plays).pop();
        prop_assert_eq!(last_of(&plays), last_of(&charted));
    }

    #[test]
    fn a_corrected_chart_has_the_score_of_the_right_one(
        header in headers(ALL_RULES),
        winners in winners(),
        wrong in any::<prop::sample::Index>(),
    ) {
        prop_assume!(!winners.is_empty());
        let wrong = wrong.index(winners.len());
        let right: Vec<Play> = rallies(&winners);
        let mut chart = Chart::new(header.clone());
        for (place, winner) in winners.iter().enumerate() {
            let charted = if place == wrong { winner.other() } else { *winner };
            let end = json!({"kind": "rally_end", "won_by": charted});
            push(&mut chart, &format!("r{place}"), end);
        }
        let with = json!({"kind": "rally_end", "won_by": winners[wrong]});
        push(&mut chart, "fix", json!({
            "kind": "amend", "target": format!("r{wrong}"), "with": with,
        }));
        let effective: Vec<Play> = chart
            .effective()
            .iter()
            .map(|entry| entry.play.as_ref().clone())
            .collect();
        prop_assert_eq!(scores(&header, &effective), scores(&header, &right));
    }
}

/// Who of `team` stands right now, asked independently of the current turn: the
/// player who would open the team's turn by the referee's word, or the partner
/// where that player would open it from the left. `None` where the word would
/// end the game, or the match is over.
fn player_right(scoring: &ScoreKeeper, team: Team) -> Option<u32> {
    let points = scoring.score().points;
    let mut asked = scoring.clone();
    for serving in [team.other(), team] {
        asked.step(&Play::ScoreFix(ScoreFix {
            points,
            serving,
            server: Some(1),
            games: None,
        }));
    }
    let answer = asked.score();
    let goes_on = !answer.is_over() && answer.game == scoring.score().game;
    goes_on.then_some(match answer.court {
        ServiceCourt::Right => answer.server_player,
        ServiceCourt::Left => 1 - answer.server_player,
    })
}

fn push(chart: &mut Chart, id: &str, mut fields: Value) {
    fields["id"] = id.into();
    fields["at"] = "2026-05-02T10:00:00.000Z".into();
    let Value::Object(object) = fields else {
        unreachable!("an object literal")
    };
    let entry = Entry::from_json(object, &chart.header().format).expect("the entry is right");
    chart.admit(&entry).expect("the entry fits");
    chart.push(entry);
}
