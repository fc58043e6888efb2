//! Rows and files that are refused: what, where, what to do.

use crate::support::check;

#[test]
fn every_problem_of_every_row() {
    check(
        "Team 1;Team 2;Points;Best of;Color A\nA;B;11;3;blue\nC;D;eleven;2;plaid\n;E;11;3;\n",
        &[
            "3 [Points] “eleven” is no whole number from 1 to 99.",
            "3 [Best of] A match cannot be the best of 2 games: 1, 3 or 5 can be won by one team only.",
            "3 [Color A] “plaid” is not a color this program knows. Write a simple name like blue, or a value like #0072B2.",
            "4 [Team 1] “E” has no opponent. Fill in the other team, or clear the row if it is no match.",
        ],
    );
}

#[test]
fn points_out_of_range_and_leads_that_are_none() {
    check(
        "team_a,team_b,points,win_by\nA,B,100,2\nC,D,11,3\nE,F,11.5,2\n",
        &[
            "2 [points] “100” is no whole number from 1 to 99.",
            "3 [win_by] “3” is no whole number from 1 to 2.",
            "4 [points] “11.5” is no whole number from 1 to 99.",
        ],
    );
}

#[test]
fn an_unquoted_separator_in_a_name() {
    check(
        "Team 1,Team 2\nHeron, the,Owl\n",
        &[
            "2 This row has 3 cells, the headings have 2. Where a name holds the character between the cells, put the name in quotation marks.",
        ],
    );
}

#[test]
fn the_same_team_twice() {
    check(
        "Team 1,Team 2\nHeron,Heron\n",
        &[
            "2 [Team 2] Both teams are called “Heron”; viewers could not tell them apart. Give each a name of its own.",
        ],
    );
}

#[test]
fn names_that_nobody_could_read() {
    check(
        format!("Team 1,Team 2\n{},Owl\n", "long ".repeat(13)),
        &[
            "2 [Team 1] The name of the first team has 64 characters; more than 60 cannot be read on the graphic. Shorten it.",
        ],
    );
}

#[test]
fn characters_that_cannot_be_shown() {
    check(
        "Team 1,Team 2\nHer\u{7}on,Owl\n",
        &["2 [Team 1] The cell holds a character that cannot be shown. Type the cell again."],
    );
}

#[test]
fn players_that_do_not_fit_the_discipline() {
    check(
        "Team 1,Team 2,Players 1,Discipline\nA,B,Ana / Bo / Cy,doubles\nC,D,Ana / Bo,singles\nE,F,,triples\n",
        &[
            "2 [Players 1] 3 players are named for the first team, but in doubles two play. Name them all, or nobody.",
            "3 [Players 1] 2 players are named for the first team, but in singles one player plays. Name them all, or nobody.",
            "4 [Discipline] “triples” is neither doubles nor singles. Write one of these words.",
        ],
    );
}

#[test]
fn courts_and_first_serves() {
    check(
        "Team 1,Team 2,Court,First serve,Scoring\nA,B,Plätze,A,rally\nC,D,1,Kite,best\n",
        &[
            "2 [Court] “Plätze” cannot be a court's name, which stands in links: use letters a to z, digits, - or _, like 3 or Center.",
            "3 [Scoring] “best” is no way of scoring. Write side-out or rally.",
            "3 [First serve] “Kite” is neither of the two teams. Write 1 or 2, or the name of the team that serves first.",
        ],
    );
}

#[test]
fn a_mark_that_is_never_closed() {
    check(
        "Team 1,Team 2\nA,B\n\"Heron,Owl\nKite,Lark\n",
        &[
            "A cell in row 3 begins with a quotation mark (\") and never ends with one. Remove the mark, or put one at the cell's end.",
        ],
    );
}

#[test]
fn headings_alone_and_nothing_at_all() {
    check(
        "Team 1,Team 2\n\n",
        &["0 There is no match in it: below the row with the headings each row is one match."],
    );
    let nothing =
        "There is nothing in this file. Save the sheet again, with its matches, and import it.";
    check("", &[nothing]);
    check("\n , ,\n", &[nothing]);
}

#[test]
fn one_team_column_or_the_same_one_twice() {
    check(
        "Team 1,Court\nHeron,1\n",
        &[
            "1 It cannot be told which columns name the two teams. Say which they are, or call the columns Team 1 and Team 2.",
        ],
    );
    check(
        "Team 1,Team 2,Court,Court\nHeron,Owl,1,2\n",
        &[
            "1 [Court] Two columns mean the same. Say below which one counts, or rename one of them.",
        ],
    );
}

#[test]
fn more_than_five_hundred_matches() {
    let sheet = |count| format!("Team 1,Team 2\n{}", "A,B\n".repeat(count));
    let read = rallytide_sheet::read(
        sheet(500).as_bytes(),
        &rallytide_sheet::SheetChoices::default(),
    );
    assert_eq!(read.unwrap().matches.len(), 500);
    check(
        sheet(501),
        &["502 From this row on there are more than 500 matches. Import them in two sheets."],
    );
}

#[test]
fn files_that_are_no_sheets() {
    check(
        "<!DOCTYPE html>\n<table><tr><td>Team 1",
        &["This is a web page, not a sheet. Save the table as CSV, XLSX or ODS and import that."],
    );
    check(
        "{\"kind\":\"match\",\"chart\":1}",
        &[
            "This is a file for programs (JSON), not a sheet. Save the table as CSV, XLSX or ODS and import that.",
        ],
    );
    check(
        b"%PDF-1.7\n\x00",
        &["This is a PDF file, not a sheet. Save the table as CSV, XLSX or ODS and import that."],
    );
    check(
        b"\x89PNG\r\n\x1a\n\x00\x00",
        &["This is a picture, not a sheet. Save the table as CSV, XLSX or ODS and import that."],
    );
    check(
        "x".repeat(1024 * 1024 + 1),
        &[
            "The file is larger than 1 MiB. Copy the rows of the matches into a new sheet and import that.",
        ],
    );
    check(
        format!("Team 1,Team 2\n{}", "\n".repeat(3_000) + "A,B\n"),
        &[
            "The sheet goes on below row 2000. Put the matches, 500 at most, and nothing else into a sheet of their own.",
        ],
    );
}
