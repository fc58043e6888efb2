//! The table that people read.

use rallytide_chart::{FaultKind, Header, How, Play, RallyEnd, Team};
use rallytide_scoring::{ScoreKeeper, ScoreRow};

use crate::notation::{FREEZE, RALLY, SIDE_OUT, header, plays};

/// The rows of a script.
fn rows(header: &Header, plays: &[Play]) -> Vec<ScoreRow> {
    let mut scoring = ScoreKeeper::new(header);
    plays
        .iter()
        .map(|play| {
            let before = scoring.score().clone();
            scoring.step(play);
            ScoreRow::new(header, &before, play, scoring.score())
        })
        .collect()
}

/// Checks the words of the last entry of a script.
#[track_caller]
fn check_words(header: &Header, script: &str, expected: &str) {
    let rows = rows(header, &plays(script));
    assert_eq!(rows.last().map(|row| row.what.as_str()), Some(expected));
}

#[test]
fn a_row_names_players_teams_courts_and_ends() {
    let header = header(SIDE_OUT, 11, 2, 1);
    let opening = ScoreRow::opening(&header, ScoreKeeper::new(&header).score());
    assert_eq!(
        opening.cells(),
        [
            "0",
            "1",
            "0-0-2",
            "Ada Venn (Venn / Lind)",
            "right",
            "Petra Marek (Marek / Sato)",
            "Venn / Lind",
            "start of the match",
        ]
    );
    let second = &rows(&header, &plays("AB"))[1];
    assert_eq!(
        second.cells(),
        [
            "2",
            "1",
            "0-1-1",
            "Petra Marek (Marek / Sato)",
            "right",
            "Jonas Lind (Venn / Lind)",
            "Venn / Lind",
            "rally to Marek / Sato; side out",
        ]
    );
    assert_eq!(opening.cells().len(), ScoreRow::HEADINGS.len());
}

#[test]
fn a_row_after_the_match_has_nobody_serving() {
    let header = header(SIDE_OUT, 2, 1, 1);
    let last = rows(&header, &plays("AA")).pop().unwrap();
    assert_eq!(
        last.cells(),
        [
            "2",
            "1",
            "points 2-0",
            "",
            "",
            "",
            "Marek / Sato",
            "rally to Venn / Lind; point; game to Venn / Lind, 2-0; match to Venn / Lind",
        ]
    );
}

#[test]
fn a_rally_is_told_by_what_it_brought() {
    let side_out = header(SIDE_OUT, 11, 2, 1);
    check_words(&side_out, "A", "rally to Venn / Lind; point");
    check_words(&side_out, "B", "rally to Marek / Sato; side out");
    check_words(&side_out, "BA", "rally to Venn / Lind; second server");
    check_words(
        &side_out,
        "AAAAAA",
        "rally to Venn / Lind; point; change ends",
    );
    let rally = header(RALLY, 3, 1, 3);
    check_words(&rally, "B", "rally to Marek / Sato; point; side out");
    check_words(
        &rally,
        "AAA",
        "rally to Venn / Lind; point; game to Venn / Lind, 3-0; change ends",
    );
    check_words(
        &header(SIDE_OUT, 1, 1, 3),
        "A",
        "rally to Venn / Lind; point; game to Venn / Lind, 1-0; change ends",
    );
    check_words(
        &header(FREEZE, 3, 1, 1),
        "2-0B A",
        "rally to Venn / Lind; side out",
    );
}

#[test]
fn the_other_entries_are_told_too() {
    let header = header(SIDE_OUT, 11, 2, 1);
    check_words(&header, "At", "time-out for Venn / Lind, 1 left");
    check_words(
        &header,
        "At At At",
        "Venn / Lind asked for a time-out, none left",
    );
    check_words(&header, "Bm", "medical time-out for Marek / Sato");
    check_words(
        &header,
        "A A!",
        "technical foul by Venn / Lind: a point off",
    );
    check_words(
        &header,
        "A!",
        "technical foul by Venn / Lind: a point to Marek / Sato",
    );
    check_words(&header, "3-2A", "the referee set the score");
    check_words(&header, "A=1", "Jonas Lind starts for Venn / Lind");
    check_words(&header, "replay", "the rally is replayed");
    check_words(&header, "Ax", "Venn / Lind retired; match to Marek / Sato");
    check_words(
        &header,
        "11-2A",
        "the referee set the score; game to Venn / Lind, 11-2; match to Venn / Lind",
    );
}

#[test]
fn the_end_of_a_rally_is_told_as_far_as_it_was_recorded() {
    let header = header(SIDE_OUT, 11, 2, 1);
    let words = |how, by, player, fault| {
        let end = RallyEnd {
            winner: Team::A,
            how,
            by,
            player,
            fault,
        };
        rows(&header, &[Play::RallyEnd(end)]).remove(0).what
    };
    assert_eq!(
        words(Some(How::Out), Some(Team::B), Some(1), None),
        "rally to Venn / Lind (Rin Sato, out); point"
    );
    assert_eq!(
        words(
            Some(How::Fault),
            Some(Team::B),
            None,
            Some(FaultKind::NetTouch)
        ),
        "rally to Venn / Lind (Marek / Sato, fault: net touch); point"
    );
    assert_eq!(
        words(Some(How::Winner), None, None, None),
        "rally to Venn / Lind (winner); point"
    );
    assert_eq!(
        words(Some(How::Unknown), None, None, None),
        "rally to Venn / Lind; point"
    );
}
