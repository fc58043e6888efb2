//! Archives that are no workbooks, bombs, and bytes at random: a sentence each time,
//! within little memory. More rounds: `PROPTEST_CASES=100000`.

use std::io::{Cursor, Write};

use proptest::prelude::*;
use rallytide_sheet::{FILE_LIMIT, SheetChoices, read};
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

use crate::support::{check, file};

const UNPACKS: &str = "The workbook unpacks to more than is read. Copy the rows of the matches into a new workbook and import that.";
const DAMAGED: &str =
    "The workbook is damaged. Open it in the spreadsheet program, save it again, and import that.";

fn archive(parts: &[(&str, &[u8])]) -> Vec<u8> {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in parts {
        writer
            .start_file(*name, SimpleFileOptions::default())
            .expect("an archive in memory takes parts");
        writer.write_all(bytes).expect("memory takes bytes");
    }
    let written = writer.finish().expect("memory takes the end");
    written.into_inner()
}

const TYPES: (&str, &[u8]) = (
    "mimetype",
    b"application/vnd.oasis.opendocument.spreadsheet",
);
const MANIFEST: (&str, &[u8]) = ("META-INF/manifest.xml", b"<manifest:manifest/>");

/// The smallest XLSX that names its parts (ECMA-376, part 1, annex L.2, shortened).
fn xlsx(shared: &str, rows: &str) -> Vec<u8> {
    let main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    let documents = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    let packages = "http://schemas.openxmlformats.org/package/2006/relationships";
    let root = format!(
        "<Relationships xmlns=\"{packages}\"><Relationship Id=\"r1\" Type=\"{documents}/officeDocument\" Target=\"xl/workbook.xml\"/></Relationships>"
    );
    let relations = format!(
        "<Relationships xmlns=\"{packages}\"><Relationship Id=\"r1\" Type=\"{documents}/worksheet\" Target=\"worksheets/sheet1.xml\"/></Relationships>"
    );
    let workbook = format!(
        "<workbook xmlns=\"{main}\" xmlns:r=\"{documents}\"><sheets><sheet name=\"A\" sheetId=\"1\" r:id=\"r1\"/></sheets></workbook>"
    );
    let sheet = format!("<worksheet xmlns=\"{main}\"><sheetData>{rows}</sheetData></worksheet>");
    archive(&[
        ("_rels/.rels", root.as_bytes()),
        ("xl/workbook.xml", workbook.as_bytes()),
        ("xl/_rels/workbook.xml.rels", relations.as_bytes()),
        ("xl/sharedStrings.xml", shared.as_bytes()),
        ("xl/worksheets/sheet1.xml", sheet.as_bytes()),
    ])
}

#[test]
fn the_small_workbook_can_be_read() {
    let shared = "<sst uniqueCount=\"2\"><si><t>Team 1</t></si><si><t>Team 2</t></si></sst>";
    let rows = "<row r=\"1\"><c r=\"A1\" t=\"s\"><v>0</v></c><c r=\"B1\" t=\"s\"><v>1</v></c></row>\
        <row r=\"2\"><c r=\"A2\" t=\"inlineStr\"><is><t>Heron &amp; Co</t></is></c><c r=\"B2\" t=\"str\"><v>Owl</v></c></row>";
    check(xlsx(shared, rows), &["2 Heron & Co v Owl"]);
}

#[test]
fn parts_that_unpack_to_gigabytes_are_not_unpacked() {
    let zeros = vec![b' '; 40 * 1024 * 1024];
    let bomb = archive(&[
        ("xl/workbook.xml", b"<workbook/>"),
        ("xl/worksheets/sheet1.xml", &zeros),
    ]);
    assert!(bomb.len() < FILE_LIMIT / 100);
    check(bomb, &[UNPACKS]);
    check(
        archive(&[
            ("xl/workbook.xml", b"<workbook/>"),
            ("xl/styles.xml", &zeros[..3 * 1024 * 1024]),
        ]),
        &[UNPACKS],
    );
}

#[test]
fn pictures_have_room_of_their_own_and_no_part_escapes_being_counted() {
    let with = |size: usize| {
        let bytes = vec![b' '; size];
        archive(&[
            ("xl/workbook.xml", b"<workbook/>"),
            ("xl/media/image1.png", &bytes),
        ])
    };
    check(with(20 * 1024 * 1024), &[DAMAGED]);
    check(with(40 * 1024 * 1024), &[UNPACKS]);
}

#[test]
fn a_count_of_texts_that_is_not_true_makes_no_room_for_them() {
    for count in ["999999999999", "18446744073709551615", "4000000000"] {
        check(
            xlsx(
                &format!("<sst uniqueCount=\"{count}\"><si><t>x</t></si></sst>"),
                "",
            ),
            &[DAMAGED],
        );
    }
}

#[test]
fn cells_far_apart_take_no_room_between_them() {
    let far = "<row r=\"1\"><c r=\"A1\"><v>1</v></c><c r=\"XFD1\"><v>1</v></c></row>";
    check(
        xlsx("<sst/>", far),
        &[
            "Row 1 has more than 200 columns. Put the matches and nothing else into a sheet of their own.",
        ],
    );
}

#[test]
fn one_text_in_every_cell_is_refused() {
    let shared = format!(
        "<sst uniqueCount=\"1\"><si><t>{}</t></si></sst>",
        "x".repeat(2_000)
    );
    let cells = "<c t=\"s\"><v>0</v></c>".repeat(200);
    let rows = format!("<row>{cells}</row>").repeat(1_900);
    check(
        xlsx(&shared, &rows),
        &[
            "There is far more text in this sheet than a schedule has. Copy the rows of the matches into a new sheet and import that.",
        ],
    );
}

#[test]
fn an_ods_that_repeats_its_cells_a_billion_times_is_refused() {
    let content = b"<office:document-content><table:table table:name=\"A\"><table:table-row table:number-rows-repeated=\"1048576\">\
        <table:table-cell office:value=\"1\" table:number-columns-repeated=\"16384\"/></table:table-row></table:table></office:document-content>";
    check(
        archive(&[TYPES, MANIFEST, ("content.xml", content)]),
        &[
            "Row 1 has more than 200 columns. Put the matches and nothing else into a sheet of their own.",
        ],
    );
}

#[test]
fn archives_of_other_kinds_are_called_what_they_are() {
    let end = "Open it in the spreadsheet program, save it as";
    check(
        archive(&[("Index/Document.iwa", b"x")]),
        &[&format!(
            "This is a workbook of another kind (Numbers). {end} XLSX or CSV, and import that."
        )],
    );
    check(
        archive(&[("xl/workbook.bin", b"x")]),
        &[&format!(
            "This is a binary Excel workbook (XLSB). {end} XLSX, and import that."
        )],
    );
    check(
        archive(&[("word/document.xml", b"x")]),
        &["This is a document, not a sheet. Save the table as CSV, XLSX or ODS and import that."],
    );
    check(
        archive(&[("notes.txt", b"x")]),
        &[&format!(
            "This is an archive (ZIP) without a workbook in it. {end} XLSX, ODS or CSV, and import that."
        )],
    );
    check(b"PK\x03\x04 cut off", &[DAMAGED]);
    check(
        [b"PK\x03\x04".to_vec(), vec![0; FILE_LIMIT]].concat(),
        &[
            "The file is larger than 8 MiB. Copy the rows of the matches into a new sheet and import that.",
        ],
    );
}

proptest! {
    #![proptest_config(ProptestConfig { cases: std::env::var("PROPTEST_CASES").ok().and_then(|n| n.parse().ok()).unwrap_or(300), ..ProptestConfig::default() })]

    #[test]
    fn bytes_at_random_are_read_or_refused(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        let _ = read(&bytes, &SheetChoices::default());
    }

    #[test]
    fn texts_at_random_are_read_or_refused_and_every_row_is_told(
        lines in proptest::collection::vec("[a-zA-Z0-9 ,;\t\"/.:é-]{0,30}", 0..12), row in 0..6_usize,
    ) {
        let text = format!("Team 1,Team 2,Court,Time\n{}", lines.join("\n"));
        let said = SheetChoices { heading_row: row.checked_sub(1), ..SheetChoices::default() };
        if let Ok(sheet) = read(text.as_bytes(), &said) {
            prop_assert!(sheet.matches.is_empty() || sheet.problems.is_empty(), "nothing is half imported");
            prop_assert!(!sheet.matches.is_empty() || !sheet.problems.is_empty(), "nothing is silently empty");
        }
    }

    #[test]
    fn a_workbook_with_bytes_changed_is_read_or_refused(
        which in 0..3_usize, changes in proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..12),
    ) {
        let mut bytes = file(["openpyxl-tabs.xlsx", "calc-merged.ods", "calc-merged.xlsx"][which]);
        for (at, byte) in changes {
            let at = at.index(bytes.len());
            bytes[at] = byte;
        }
        let _ = read(&bytes, &SheetChoices::default());
    }
}
