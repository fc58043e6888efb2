//! The score object as it is written: keys, order, values.

use rallytide_chart::Team;
use rallytide_scoring::ScoreKeeper;
use serde_json::json;

use crate::notation::{SIDE_OUT, header, header_of, score};

#[test]
fn a_score_is_written_with_its_keys_in_their_order() {
    // An example worked by hand from 5.B of the USA Pickleball rulebook 2026: b on 5, so its player 1 stands right and
    // opens the turn; a on 3, so its player 1 stands right and receives.
    let format = json!({
        "discipline": "doubles", "scoring": "side_out", "points": 11, "win_by": 2, "games": 3,
    });
    let header = header_of(&format, Team::A);
    let mut score = score(&header, "10-7A1 A 3-5B1 Bt");
    score.rallies = 61;
    assert_eq!(
        serde_json::to_string(&score).unwrap(),
        r#"{"game":2,"games":{"a":1,"b":0},"points":{"a":3,"b":5},"call":"5-3-1","#.to_owned()
            + r#""serving":"b","server":1,"server_player":1,"receiver_player":1,"court":"right","#
            + r#""finished":[{"a":11,"b":7}],"change_ends":false,"near":"b","#
            + r#""time_outs_left":{"a":2,"b":1},"game_point":null,"match_point":null,"#
            + r#""winner":null,"rallies":61}"#
    );
}

#[test]
fn a_finished_match_is_written_with_nulls() {
    let score = score(&header(SIDE_OUT, 1, 1, 1), "A");
    assert_eq!(
        serde_json::to_string(&score).unwrap(),
        r#"{"game":1,"games":{"a":1,"b":0},"points":{"a":1,"b":0},"call":null,"#.to_owned()
            + r#""serving":"a","server":2,"server_player":0,"receiver_player":0,"court":"right","#
            + r#""finished":[{"a":1,"b":0}],"change_ends":false,"near":"a","#
            + r#""time_outs_left":{"a":2,"b":2},"game_point":null,"match_point":null,"#
            + r#""winner":"a","rallies":1}"#
    );
}

#[test]
fn a_step_says_whether_a_rally_counted_and_whether_it_ended_the_match() {
    let mut scoring = ScoreKeeper::new(&header(SIDE_OUT, 1, 1, 1));
    let steps: Vec<_> = crate::notation::plays("At replay B B A A")
        .iter()
        .map(|play| {
            let step = scoring.step(play);
            (step.changed, step.counted, step.ended_match)
        })
        .collect();
    assert_eq!(
        steps,
        [
            (true, false, false),
            (false, false, false),
            (true, true, false),
            (true, true, true),
            (false, false, false),
            (false, false, false),
        ]
    );
}
