//! Says of a sheet, on lines, what became of every row.

use rallytide_sheet::{Sheet, SheetChoices, SheetMatch, read};

/// A file that another program saved.
pub(crate) fn file(name: &str) -> Vec<u8> {
    let path = format!("{}/tests/files/{name}", env!("CARGO_MANIFEST_DIR"));
    std::fs::read(&path).unwrap_or_else(|error| panic!("could not read `{path}`: {error}"))
}

/// One line a match, a row left out, a column ignored, a problem; in the order of
/// the sheet.
pub(crate) fn told(sheet: &Sheet) -> Vec<String> {
    let mut lines: Vec<(usize, String)> = Vec::new();
    lines.extend(sheet.matches.iter().map(|one| (one.row, told_match(one))));
    let left_out = sheet.left_out.iter();
    lines.extend(left_out.map(|one| {
        (
            one.row,
            format!("{} left out, {}: {}", one.row, one.why, one.cells),
        )
    }));
    let problems = sheet.problems.iter().map(|one| {
        let column = one
            .column
            .as_ref()
            .map(|column| format!(" [{column}]"))
            .unwrap_or_default();
        let row = one.row.unwrap_or(0);
        (row, format!("{row}{column} {}", one.message))
    });
    lines.extend(problems);
    lines.sort_by_key(|(row, _)| *row);
    let ignored = sheet
        .ignored
        .iter()
        .map(|column| format!("ignored {column}"));
    lines
        .into_iter()
        .map(|(_, line)| line)
        .chain(ignored)
        .collect()
}

fn told_match(one: &SheetMatch) -> String {
    let teams = one.teams.each_ref().map(|team| {
        let mut told = team.name.clone();
        if !team.players.is_empty() {
            told = format!("{told} ({})", team.players.join(", "));
        }
        if let Some(color) = &team.color {
            told = format!("{told} {color}");
        }
        told
    });
    let mut parts = vec![format!("{} {}", one.row, teams.join(" v "))];
    for (word, text) in [
        ("court", &one.court),
        ("at", &one.time),
        ("round", &one.round),
        ("title", &one.title),
    ] {
        if !text.is_empty() {
            parts.push(format!("{word} {text}"));
        }
    }
    if let Some(id) = &one.id {
        parts.push(format!("id {id}"));
    }
    let format = format!(
        "{} {} {}/{}/{} {}",
        one.discipline, one.scoring, one.points, one.win_by, one.games, one.first_serve
    );
    if format != "doubles side_out 11/2/3 a" {
        parts.push(format);
    }
    parts.join(" | ")
}

/// What is told of a file, or the sentence that refuses it whole.
pub(crate) fn tell(bytes: &[u8], said: &SheetChoices) -> Vec<String> {
    match read(bytes, said) {
        Ok(sheet) => told(&sheet),
        Err(error) => vec![error.to_string()],
    }
}

/// Checks a file of which nobody has said anything.
#[track_caller]
pub(crate) fn check(bytes: impl AsRef<[u8]>, expected: &[&str]) {
    assert_eq!(tell(bytes.as_ref(), &SheetChoices::default()), expected);
}
