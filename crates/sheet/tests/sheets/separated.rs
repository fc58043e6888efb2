//! Text: separators, line breaks, quoting, encodings, what stands around the table.

use crate::support::{check, file};

#[test]
fn commas() {
    check(
        "team_a,team_b,court\nHeron,Owl,1\n",
        &["2 Heron v Owl | court 1"],
    );
}

#[test]
fn semicolons() {
    check(
        "Court;Team 1;Team 2\n1;Heron;Owl\n2;Kite;Lark\n",
        &["2 Heron v Owl | court 1", "3 Kite v Lark | court 2"],
    );
}

#[test]
fn tabs_as_pasted_cells_have_them() {
    check(
        "Time\tTeam A\tTeam B\r\n9:00\tHeron\tOwl\r\n",
        &["2 Heron v Owl | at 9:00"],
    );
}

#[test]
fn bars() {
    check("Team A|Team B\nHeron|Owl\n", &["2 Heron v Owl"]);
}

#[test]
fn semicolons_with_commas_in_the_cells() {
    check(
        "Team A;Team B;Time\nHeron, red;Owl, blue;0,375\n",
        &["2 Heron, red v Owl, blue | at 09:00"],
    );
}

#[test]
fn a_line_that_names_the_separator() {
    check(
        "sep=;\r\nTeam 1;Team 2\r\nHeron;Owl\r\n",
        &["2 Heron v Owl"],
    );
}

#[test]
fn carriage_returns_alone() {
    check(
        "Team 1,Team 2\rHeron,Owl\rKite,Lark\r",
        &["2 Heron v Owl", "3 Kite v Lark"],
    );
}

#[test]
fn carriage_returns_with_line_feeds_are_counted_as_the_spreadsheet_does() {
    check(
        "Team 1,Team 2,Points\r\nHeron,Owl,11\r\nKite,Lark,many\r\n",
        &["3 [Points] “many” is no whole number from 1 to 99."],
    );
}

#[test]
fn empty_lines_are_rows_that_the_spreadsheet_counts() {
    check(
        "\r\nTeam 1,Team 2\r\n\r\n,,\r\nHeron,Owl\r\n\r\nKite,\r\n",
        &[
            "7 [Team 2] “Kite” has no opponent. Fill in the other team, or clear the row if it is no match.",
        ],
    );
}

#[test]
fn a_line_break_in_a_quoted_cell_is_no_row() {
    // RFC 4180, section 2, rule 6.
    check(
        "Team 1,Team 2,Note\r\n\"Ines Quill\r\nTobi Abara\",Owl,x\r\nKite,Lark,\r\n",
        &[
            "2 Ines Quill / Tobi Abara v Owl",
            "3 Kite v Lark",
            "ignored Note",
        ],
    );
}

#[test]
fn quoted_cells_hold_separators_and_marks() {
    // RFC 4180, section 2, rules 6 and 7.
    check(
        "team_a,team_b\n\"Heron, the\",\"the \"\"Owls\"\"\"\n",
        &["2 Heron, the v the \"Owls\""],
    );
}

#[test]
fn marks_in_the_middle_of_a_cell_are_letters() {
    check(
        "team_a;team_b\nthe 5\" Herons;Owl\n",
        &["2 the 5\" Herons v Owl"],
    );
}

#[test]
fn spaces_around_cells_and_before_quotes() {
    check(
        "Team 1, Team 2 , Court\n Heron , \"Owl, gray\" , 1 \n",
        &["2 Heron v Owl, gray | court 1"],
    );
}

#[test]
fn utf_8_with_a_mark() {
    check("\u{feff}Team 1,Team 2\nGrün,Øst\n", &["2 Grün v Øst"]);
}

#[test]
fn windows_1252() {
    // WHATWG Encoding Standard, index of windows-1252: 0xFC is ü, 0xD8 is Ø, 0x92 is ’.
    check(
        b"Team 1;Team 2\r\nGr\xfcn;\xd8st\x92s\r\n",
        &["2 Grün v Øst’s"],
    );
}

#[test]
fn utf_16_as_spreadsheets_save_unicode_text() {
    let text = "Team 1\tTeam 2\r\nGrün\tØst\r\n";
    let units = std::iter::once(0xfeff).chain(text.encode_utf16());
    let little: Vec<u8> = units.clone().flat_map(u16::to_le_bytes).collect();
    let big: Vec<u8> = units.flat_map(u16::to_be_bytes).collect();
    check(little, &["2 Grün v Øst"]);
    check(big, &["2 Grün v Øst"]);
}

#[test]
fn a_title_above_the_headings_and_a_note_below() {
    check(
        "Pier Cup, Saturday,,\n,,\nTeam 1,Team 2,Court\nHeron,Owl,1\n,,\n,,Hall opens at 8\n",
        &[
            "4 Heron v Owl | court 1",
            "6 left out, it names no teams: Hall opens at 8",
        ],
    );
    check(
        "Pier Cup, Saturday,,\nTeam 1,Team 2,Court\nHeron,Owl,1\nHall opens at 8\n",
        &[
            "4 [Team 2] “Hall opens at 8” has no opponent. Fill in the other team, or clear the row if it is no match.",
        ],
    );
}

#[test]
fn a_title_that_is_narrower_than_the_table_is_no_heading() {
    let sheet = "Grün-Weiß Cup;;\n\nTime;Court;Team 1;Team 2\n9:00;1;Heron;Owl\n";
    check(sheet, &["4 Heron v Owl | court 1 | at 9:00"]);
    let read = rallytide_sheet::read(sheet.as_bytes(), &rallytide_sheet::SheetChoices::default());
    assert_eq!(read.unwrap().heading_row, Some(3));
}

#[test]
fn no_line_break_at_the_end() {
    check("Team 1,Team 2\nHeron,Owl", &["2 Heron v Owl"]);
}

#[test]
fn short_rows_lack_their_last_cells() {
    check(
        "Team 1,Team 2,Court,Round\nHeron,Owl\nKite,Lark,2\n",
        &["2 Heron v Owl", "3 Kite v Lark | court 2"],
    );
}

#[test]
fn marks_of_no_width_and_special_spaces() {
    check(
        "Team 1,Team\u{a0}2\nHer\u{200b}on,Owl\u{a0}s\n",
        &["2 Heron v Owl s"],
    );
}

/// What Calc saves: two rows of headings, once merged; times with
/// seconds; a row for lunch; a final whose teams are decided by matches before.
const MERGED: &[&str] = &[
    "5 Ines Quill / Tobi Abara (Ines Quill, Tobi Abara) #000080 v Maro Fenn / Lise Tarrow (Maro Fenn, Lise Tarrow) | court 1 | at 9:30 | round Pool A",
    "6 Zoë Marsh / Øyvind Lund (Zoë Marsh, Øyvind Lund) #D55E00 v Ada Büchel / Jörg Pell (Ada Büchel, Jörg Pell) | court 2 | at 10:30 | round Pool B",
    "7 Nia Crane / Otto Reed (Nia Crane, Otto Reed) v Ivy Stone / Sol Hale (Ivy Stone, Sol Hale) | court 3 | at 11:30 | round Pool C",
    "9 left out, it names no teams: Lunch break",
    "10 Winner of Pool A v Winner of Pool B | court 1 | at 13:00 | round Final",
    "ignored Referee",
];

#[test]
fn semicolons_in_windows_1252_as_calc_saves_them() {
    check(file("calc-1252.csv"), MERGED);
}

#[test]
fn commas_in_utf_8_as_calc_saves_them() {
    check(file("calc-utf8.csv"), MERGED);
}
