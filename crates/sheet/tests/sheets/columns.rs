//! Which column is which: names, order, headings over two rows, what somebody says.

use rallytide_sheet::{Column, SheetChoices, read};

use crate::support::{check, tell};

#[test]
fn any_order_and_any_case() {
    check(
        "ROUND;court #;TEAM 2;Start Time;team-1\nQF 1;Court 3;Owl;9:15;Heron\n",
        &["2 Heron v Owl | court 3 | at 9:15 | round QF 1"],
    );
}

#[test]
fn home_and_away() {
    check("Home,Away\nHeron,Owl\n", &["2 Heron v Owl"]);
}

#[test]
fn team_and_opponent() {
    check(
        "Team,Opponent,Ct\nHeron,Owl,2\n",
        &["2 Heron v Owl | court 2"],
    );
}

#[test]
fn names_in_columns_of_their_own() {
    check(
        "Team 1 Player 1,Team 1 Player 2,Team 2 Player 1,Team 2 Player 2\nAna Reed,Bo Lund,Cy Marsh,Di Stone\n",
        &["2 Ana Reed / Bo Lund (Ana Reed, Bo Lund) v Cy Marsh / Di Stone (Cy Marsh, Di Stone)"],
    );
}

#[test]
fn four_players_in_a_row() {
    check(
        "Player 1,Player 2,Player 3,Player 4\nAna,Bo,Cy,Di\n",
        &["2 Ana / Bo (Ana, Bo) v Cy / Di (Cy, Di)"],
    );
}

#[test]
fn players_and_partners() {
    check(
        "Player 1,Partner 1,Player 2,Partner 2\nAna,Bo,Cy,Di\n",
        &["2 Ana / Bo (Ana, Bo) v Cy / Di (Cy, Di)"],
    );
}

#[test]
fn the_same_headings_twice() {
    check(
        "Team,Player 1,Player 2,Team,Player 1,Player 2\nHeron,Ana,Bo,Owl,Cy,Di\n",
        &["2 Heron (Ana, Bo) v Owl (Cy, Di)"],
    );
}

#[test]
fn both_players_in_one_cell() {
    check(
        "Team A;Players A;Team B;Players B\nHeron;Ana / Bo;Owl;Cy & Di\n",
        &["2 Heron (Ana, Bo) v Owl (Cy, Di)"],
    );
}

#[test]
fn both_teams_in_one_cell() {
    check(
        "Time,Match,Court\n9:00,Heron v Owl,1\n9:30,Kite vs. Lark,2\n",
        &[
            "2 Heron v Owl | court 1 | at 9:00",
            "3 Kite v Lark | court 2 | at 9:30",
        ],
    );
}

#[test]
fn unknown_columns_are_named_and_ignored() {
    check(
        "No.,Team 1,Team 2,Referee,Score,\n1,Heron,Owl,Ada Rowe,,x\n",
        &[
            "2 Heron v Owl",
            "ignored No.",
            "ignored Referee",
            "ignored Score",
            "ignored column F",
        ],
    );
}

#[test]
fn the_surer_of_two_names_counts_and_the_other_is_ignored() {
    check(
        "Team 1,Team 2,Round,Pool\nHeron,Owl,QF 1,A\n",
        &["2 Heron v Owl | round QF 1", "ignored Pool"],
    );
    check(
        "Team 1,Team 2,Pool\nHeron,Owl,A\n",
        &["2 Heron v Owl | round A"],
    );
}

#[test]
fn everything_a_match_can_say() {
    check(
        "id,title,team_a,team_b,players_a,players_b,court,time,round,discipline,scoring,points,win_by,games,first_serve,color_a,color_b\n\
         f1,Morning,Heron,Owl,Ana / Bo,Cy / Di,1,9:00,Final,Mixed doubles,Rally,to 15,1,best of 5,Owl,#07b,orange\n",
        &[
            "2 Heron (Ana, Bo) #0077BB v Owl (Cy, Di) #FFA500 | court 1 | at 9:00 | round Final | title Morning | id f1 | doubles rally 15/1/5 b",
        ],
    );
}

#[test]
fn singles() {
    check(
        "Team 1,Team 2,Player 1 team 1,Player 1 team 2,Event\nReed,Lund,Ana Reed,Bo Lund,Open\n",
        &[
            "2 [Player 1 team 1] 1 player is named for the first team, but in doubles two play. Name them all, or nobody. For a singles match write singles into a column called discipline.",
            "2 [Player 1 team 2] 1 player is named for the second team, but in doubles two play. Name them all, or nobody. For a singles match write singles into a column called discipline.",
        ],
    );
    check(
        "Player,Opponent,Discipline\nAna Reed,Bo Lund,Women's singles\n",
        &["2 Ana Reed (Ana Reed) v Bo Lund (Bo Lund) | singles side_out 11/2/3 a"],
    );
}

#[test]
fn times_as_shares_of_a_day_and_with_the_day() {
    check(
        "Team 1,Team 2,Time\nA,B,0.395833333\nC,D,2026-05-03 10:00\nE,F,46145.4375\nG,H,10:45:00 AM\n",
        &[
            "2 A v B | at 09:30",
            "3 C v D | at 10:00",
            "4 E v F | at 10:30",
            "5 G v H | at 10:45 AM",
        ],
    );
}

#[test]
fn headings_over_two_rows() {
    check(
        "Court,Team 1,,Team 2,\n,Player 1,Player 2,Player 1,Player 2\n1,Ana,Bo,Cy,Di\n",
        &["3 Ana / Bo (Ana, Bo) v Cy / Di (Cy, Di) | court 1"],
    );
}

#[test]
fn headings_that_are_repeated_for_paper_and_rows_that_are_no_match() {
    check(
        "Court,Team 1,Team 2\n1,Heron,Owl\nCourt,Team 1,Team 2\n2,Kite,Lark\n3,Wren,BYE\n1,TBD,TBD\nLunch,,\n",
        &[
            "2 Heron v Owl | court 1",
            "3 left out, the headings once more: Court · Team 1 · Team 2",
            "4 Kite v Lark | court 2",
            "5 left out, a bye: nobody plays: 3 · Wren · BYE",
            "6 left out, its teams are not known yet: 1 · TBD · TBD",
            "7 left out, it names no teams: Lunch",
        ],
    );
}

#[test]
fn places_that_other_matches_decide_are_planned() {
    check(
        "Round,Team 1,Team 2\nFinal,Winner of SF 1,Winner of SF 2\n",
        &["2 Winner of SF 1 v Winner of SF 2 | round Final"],
    );
}

#[test]
fn names_that_nobody_knows_are_asked_for() {
    let sheet = "Rot;Blau;Feld\nHeron;Owl;1\nKite;Lark;2\n".as_bytes();
    let asked = read(sheet, &SheetChoices::default()).unwrap();
    assert!(!asked.is_clear && asked.matches.is_empty());
    assert_eq!(asked.heading_row, Some(1));
    let shown: Vec<_> = asked
        .columns
        .iter()
        .map(|one| {
            (
                one.letters.as_str(),
                one.heading.as_str(),
                one.examples[1].as_str(),
            )
        })
        .collect();
    assert_eq!(
        shown,
        [
            ("A", "Rot", "Kite"),
            ("B", "Blau", "Lark"),
            ("C", "Feld", "2")
        ]
    );
    assert_eq!(
        tell(sheet, &SheetChoices::default()),
        [
            "1 It cannot be told which columns name the two teams. Say which they are, or call the columns Team 1 and Team 2."
        ]
    );
    let said = SheetChoices {
        columns: Some(vec![
            Some(Column::TeamB),
            Some(Column::TeamA),
            Some(Column::Court),
        ]),
        ..SheetChoices::default()
    };
    assert_eq!(
        tell(sheet, &said),
        ["2 Owl v Heron | court 1", "3 Lark v Kite | court 2"]
    );
}

#[test]
fn rows_without_any_headings_are_asked_for() {
    let said = SheetChoices {
        heading_row: Some(0),
        columns: Some(vec![Some(Column::Time), Some(Column::BothTeams)]),
        ..SheetChoices::default()
    };
    assert_eq!(
        tell("9:00,Heron v Owl\n9:30,Kite\n".as_bytes(), &said),
        ["2 [column B] “Kite” does not name two teams. Write them as Heron v Owl."]
    );
    assert_eq!(
        tell("9:00,Heron v Owl\n9:30,Kite v Lark\n".as_bytes(), &said),
        ["1 Heron v Owl | at 9:00", "2 Kite v Lark | at 9:30"]
    );
}

#[test]
fn a_row_of_headings_that_somebody_points_at() {
    let said = SheetChoices {
        heading_row: Some(2),
        ..SheetChoices::default()
    };
    assert_eq!(
        tell("Team 1,Team 2\nHome,Away\nHeron,Owl\n".as_bytes(), &said),
        ["3 Heron v Owl"]
    );
}
