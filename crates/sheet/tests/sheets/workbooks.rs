//! XLSX and ODS, as other programs save them.

use rallytide_sheet::{SheetChoices, read};

use crate::support::{check, file, tell};

/// As in `separated`, with times as the workbook keeps them: shares of a day.
const MERGED: &[&str] = &[
    "5 Ines Quill / Tobi Abara (Ines Quill, Tobi Abara) #000080 v Maro Fenn / Lise Tarrow (Maro Fenn, Lise Tarrow) | court 1 | at 09:30 | round Pool A",
    "6 Zoë Marsh / Øyvind Lund (Zoë Marsh, Øyvind Lund) #D55E00 v Ada Büchel / Jörg Pell (Ada Büchel, Jörg Pell) | court 2 | at 10:30 | round Pool B",
    "7 Nia Crane / Otto Reed (Nia Crane, Otto Reed) v Ivy Stone / Sol Hale (Ivy Stone, Sol Hale) | court 3 | at 11:30 | round Pool C",
    "9 left out, it names no teams: Lunch break",
    "10 Winner of Pool A v Winner of Pool B | court 1 | at 13:00 | round Final",
    "ignored Referee",
];

#[test]
fn merged_headings_times_and_colors_from_three_programs() {
    for name in [
        "openpyxl-merged.xlsx",
        "calc-merged.xlsx",
        "calc-merged.ods",
    ] {
        assert_eq!(
            tell(&file(name), &SheetChoices::default()),
            MERGED,
            "{name}"
        );
    }
}

#[test]
fn of_several_tabs_the_first_with_matches_is_read() {
    for name in ["openpyxl-tabs.xlsx", "calc-tabs.ods"] {
        let sheet = read(&file(name), &SheetChoices::default()).unwrap();
        assert_eq!(sheet.tab.as_deref(), Some("Saturday"), "{name}");
        let tabs: Vec<_> = sheet
            .tabs
            .iter()
            .map(|tab| (tab.name.as_str(), tab.has_matches))
            .collect();
        assert_eq!(
            tabs,
            [("Notes", false), ("Saturday", true), ("Sunday", true)],
            "{name}: the hidden one is not offered"
        );
        check(
            file(name),
            &["2 Heron v Owl | court 1", "3 Kite v Lark | court 2"],
        );
    }
}

#[test]
fn a_tab_that_somebody_chooses_is_read() {
    let said = |tab: &str| SheetChoices {
        tab: Some(tab.into()),
        ..SheetChoices::default()
    };
    assert_eq!(
        tell(&file("calc-tabs.ods"), &said("Sunday")),
        ["2 Wren v Swift | court 1"]
    );
    assert_eq!(
        tell(&file("openpyxl-tabs.xlsx"), &said("Monday")),
        ["There is no tab “Monday” in this workbook. Choose another one."]
    );
}

#[test]
fn where_no_tab_can_be_told_it_is_asked() {
    let sheet = read(&file("calc-unknown-names.ods"), &SheetChoices::default()).unwrap();
    assert!(!sheet.is_clear);
    assert_eq!(sheet.tabs.len(), 2);
    assert_eq!(sheet.columns[0].examples, ["Heron", "Kite"]);
}

#[test]
fn results_of_formulas_are_read() {
    check(
        file("calc-formulas.xlsx"),
        &[
            "2 Quill / Abara v Fenn / Tarrow | court 1 | at 09:00",
            "3 Marsh / Lund v Büchel / Pell | court 2 | at 10:00",
            "4 Crane / Reed v Stone / Hale | court 3 | at 11:00",
            "ignored A first",
            "ignored A last",
            "ignored B first",
            "ignored B last",
        ],
    );
}

#[test]
fn rows_are_counted_as_the_spreadsheet_shows_them() {
    check(
        file("openpyxl-bad-row.xlsx"),
        &[
            "4 [Points] “11.5” is no whole number from 1 to 99.",
            "4 [Best of] A match cannot be the best of 2 games: 1, 3 or 5 can be won by one team only.",
        ],
    );
}

#[test]
fn old_empty_and_endless_workbooks_are_refused() {
    check(
        file("calc-bad-row.xls"),
        &[
            "This is an old Excel workbook (XLS), or one with a password. Open it in the spreadsheet program, save it as XLSX without a password, and import that.",
        ],
    );
    check(
        file("openpyxl-empty.xlsx"),
        &["There is nothing in this file. Save the sheet again, with its matches, and import it."],
    );
    for name in ["openpyxl-far.xlsx", "calc-far.ods"] {
        let far = "The sheet goes on below row 2000. Put the matches, 500 at most, and nothing else into a sheet of their own.";
        assert_eq!(tell(&file(name), &SheetChoices::default()), [far], "{name}");
    }
}
