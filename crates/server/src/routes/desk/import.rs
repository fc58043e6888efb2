//! `POST /matches/import`: an event's matches from a spreadsheet, as comma
//! separated values (RFC 4180). All or nothing: one line that does not fit, and
//! none is planned; every problem is told with its line and column. Columns that
//! mean nothing here are left aside and named.

use std::collections::BTreeSet;
use std::sync::Arc;

use axum::body::Bytes;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Json;
use rallytide_chart::{FieldPath, Header};
use rallytide_court::CannotDo;
use serde::Deserialize;
use serde_json::{Map, Value, json};

use super::plan::{self, CannotPlan};
use crate::answers::matches::{ImportAnswer, ImportProblem};
use crate::blocking::run_blocking;
use crate::rejection::Rejection;
use crate::state::AppState;

/// The most lines after the header line.
const LINES_LIMIT: usize = 500;
/// The most bytes.
pub(super) const BYTES_LIMIT: usize = 1024 * 1024;

/// The columns there may be; the first two have to.
const COLUMNS: &[&str] = &[
    "team_a",
    "team_b",
    "court",
    "round",
    "time",
    "title",
    "players_a",
    "players_b",
    "discipline",
    "scoring",
    "points",
    "win_by",
    "games",
    "first_serve",
    "id",
];

#[derive(Debug, Deserialize)]
pub(crate) struct How {
    #[serde(default)]
    dry: bool,
}

pub(crate) async fn import(
    State(state): State<AppState>,
    Query(how): Query<How>,
    body: Bytes,
) -> Result<(StatusCode, Json<ImportAnswer>), Rejection> {
    let courts = Arc::clone(&state.courts);
    let read = run_blocking(move || -> Result<_, CannotDo> {
        let read = read(&body, &|id| courts.is_taken(id))?;
        if let (Ok(sheet), false) = (&read, how.dry) {
            courts.plan(sheet.headers.clone())?;
        }
        Ok(read)
    })
    .await?;
    Ok(match read {
        Ok(sheet) => {
            let matches = sheet.headers.iter().map(|header| header.to_json().clone());
            let answer = ImportAnswer {
                matches: matches.collect(),
                ignored: sheet.ignored,
                problems: Vec::new(),
            };
            (StatusCode::OK, Json(answer))
        }
        Err(problems) => {
            let answer = ImportAnswer {
                problems,
                ..ImportAnswer::default()
            };
            (StatusCode::UNPROCESSABLE_ENTITY, Json(answer))
        }
    })
}

/// A sheet that can be planned.
#[derive(Debug)]
struct Sheet {
    headers: Vec<Header>,
    /// Columns that mean nothing here, as they were written.
    ignored: Vec<String>,
}

type Taken<'a> = dyn Fn(&str) -> Result<bool, CannotDo> + 'a;

/// Reads the matches, or everything that is wrong with the file.
fn read(bytes: &[u8], taken: &Taken<'_>) -> Result<Result<Sheet, Vec<ImportProblem>>, CannotDo> {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let mut reader = csv::ReaderBuilder::new()
        .trim(csv::Trim::All)
        .from_reader(bytes);
    let columns = match columns(&mut reader) {
        Ok(columns) => columns,
        Err(problem) => return Ok(Err(vec![problem])),
    };
    let (mut headers, mut problems) = (Vec::new(), Vec::new());
    let mut ids = BTreeSet::new();
    for (count, record) in reader.records().enumerate() {
        if count == LINES_LIMIT {
            problems.push(whole(
                count as u64 + 2,
                format!("there are more than {LINES_LIMIT} matches; bring them in two files"),
            ));
            break;
        }
        let record = match record {
            Ok(record) => record,
            Err(error) => {
                let line = error.position().map_or(0, csv::Position::line);
                problems.push(whole(line, sentence(&error)));
                continue;
            }
        };
        let line = record.position().map_or(0, csv::Position::line);
        let cell = |name: &str| {
            let place = columns.iter().position(|column| column == name)?;
            record.get(place).filter(|text| !text.is_empty())
        };
        let unfit = |column: &str, message: String| ImportProblem {
            line,
            column: Some(column.to_owned()),
            message,
        };
        let source = match source(&cell) {
            Ok(source) => source,
            Err((column, message)) => {
                problems.push(unfit(column, message));
                continue;
            }
        };
        let free = |id: &str| Ok(ids.contains(&id.to_ascii_lowercase()) || taken(id)?);
        match plan::read(source, &free) {
            Ok(header) => {
                let id = header.id.as_str();
                if !ids.insert(id.to_ascii_lowercase()) || taken(id)? {
                    problems.push(unfit("id", format!("there is a match `{id}` already")));
                } else {
                    headers.push(header);
                }
            }
            Err(CannotPlan::Courts(error)) => return Err(error),
            Err(error) => problems.push(ImportProblem {
                line,
                column: error.field().and_then(column_of).map(str::to_owned),
                message: error.to_string(),
            }),
        }
    }
    if headers.is_empty() && problems.is_empty() {
        problems.push(whole(2, "there is no match in the file".into()));
    }
    Ok(if problems.is_empty() {
        let ignored = ignored(&mut reader);
        Ok(Sheet { headers, ignored })
    } else {
        Err(problems)
    })
}

/// The named columns that mean nothing here.
fn ignored(reader: &mut csv::Reader<&[u8]>) -> Vec<String> {
    let names = reader.headers().map(|record| record.iter().collect());
    let names: Vec<&str> = names.unwrap_or_default();
    let unknown = names
        .into_iter()
        .filter(|name| !name.is_empty() && !COLUMNS.contains(&name.to_ascii_lowercase().as_str()));
    unknown.map(str::to_owned).collect()
}

/// The columns of the header line.
fn columns(reader: &mut csv::Reader<&[u8]>) -> Result<Vec<String>, ImportProblem> {
    let record = reader
        .headers()
        .map_err(|error| whole(1, sentence(&error)))?;
    let columns: Vec<String> = record.iter().map(str::to_ascii_lowercase).collect();
    for (place, column) in columns.iter().enumerate() {
        if COLUMNS.contains(&column.as_str()) && columns[..place].contains(column) {
            return Err(ImportProblem {
                line: 1,
                column: Some(column.clone()),
                message: format!("the column `{column}` is there twice"),
            });
        }
    }
    for needed in &COLUMNS[..2] {
        if !columns.iter().any(|column| column == needed) {
            return Err(ImportProblem {
                line: 1,
                column: Some((*needed).to_owned()),
                message: format!(
                    "the column `{needed}` is missing; line 1 names the columns, like \
                     `court,team_a,team_b`"
                ),
            });
        }
    }
    Ok(columns)
}

/// The header of a line, before it is checked.
fn source<'a>(
    cell: &impl Fn(&str) -> Option<&'a str>,
) -> Result<Map<String, Value>, (&'static str, String)> {
    let word = |name: &str, otherwise: &str| cell(name).unwrap_or(otherwise).to_ascii_lowercase();
    let number = |name: &'static str, otherwise: u64| match cell(name) {
        None => Ok(otherwise),
        Some(text) => text
            .parse::<u64>()
            .map_err(|_| (name, format!("`{text}` is no whole number"))),
    };
    let team = |name: &'static str, players: &str| {
        let called = cell(name).ok_or((name, "the team has no name".to_owned()))?;
        let players: Vec<&str> = cell(players)
            .map(|text| text.split(['/', ';']).map(str::trim).collect())
            .unwrap_or_default();
        Ok(json!({"name": called, "players": players}))
    };
    let header = json!({
        "id": cell("id"),
        "title": cell("title").unwrap_or(""),
        "court": cell("court").unwrap_or(""),
        "teams": {"a": team("team_a", "players_a")?, "b": team("team_b", "players_b")?},
        "format": {
            "discipline": word("discipline", "doubles"),
            "scoring": word("scoring", "side_out"),
            "points": number("points", 11)?,
            "win_by": number("win_by", 2)?,
            "games": number("games", 3)?,
        },
        "first_serve": word("first_serve", "a"),
    });
    let Value::Object(mut header) = header else {
        return Ok(Map::new());
    };
    for name in ["round", "time"] {
        if let Some(text) = cell(name) {
            header.insert(name.into(), text.into());
        }
    }
    Ok(header)
}

/// The column that a field of the header comes from.
fn column_of(field: &FieldPath) -> Option<&'static str> {
    match field.as_str() {
        "teams.a.name" => Some("team_a"),
        "teams.b.name" => Some("team_b"),
        "teams.a.players" => Some("players_a"),
        "teams.b.players" => Some("players_b"),
        path => {
            let name = path.strip_prefix("format.").unwrap_or(path);
            COLUMNS.iter().copied().find(|column| *column == name)
        }
    }
}

fn whole(line: u64, message: String) -> ImportProblem {
    ImportProblem {
        line,
        column: None,
        message,
    }
}

fn sentence(error: &csv::Error) -> String {
    match error.kind() {
        csv::ErrorKind::UnequalLengths {
            expected_len, len, ..
        } => format!("the line has {len} columns, line 1 names {expected_len}"),
        csv::ErrorKind::Utf8 { .. } => {
            "the line is no UTF-8; save the table as `CSV UTF-8`".to_owned()
        }
        _ => error.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str) -> Result<Vec<Header>, Vec<ImportProblem>> {
        sheet(text).map(|sheet| sheet.headers)
    }

    fn sheet(text: &str) -> Result<Sheet, Vec<ImportProblem>> {
        read(text.as_bytes(), &|id| Ok(id == "taken")).unwrap()
    }

    #[track_caller]
    fn problem(text: &str) -> (u64, Option<String>, String) {
        let problems = check(text).unwrap_err();
        assert_eq!(problems.len(), 1, "{problems:?}");
        let one = problems.into_iter().next().unwrap();
        (one.line, one.column, one.message)
    }

    #[test]
    fn two_columns_are_enough_in_any_order() {
        let headers = check("team_b,team_a\nBirch,Alder\n").unwrap();
        assert_eq!(headers[0].teams.a.name, "Alder");
        assert_eq!(headers[0].id.as_str(), "alder-birch");
        assert_eq!(headers[0].format.points, 11);
    }

    #[test]
    fn quoted_cells_byte_order_marks_and_both_separators_of_players_are_read() {
        let text = "\u{feff}team_a,team_b,players_a,players_b\r\n\
            \"Grün, Øst\",\"the \"\"B\"\"s\",Ana / Bo,Cy;Di\r\n";
        let headers = check(text).unwrap();
        assert_eq!(headers[0].teams.a.name, "Grün, Øst");
        assert_eq!(headers[0].teams.b.name, "the \"B\"s");
        assert_eq!(headers[0].teams.a.players, ["Ana", "Bo"]);
        assert_eq!(headers[0].teams.b.players, ["Cy", "Di"]);
    }

    #[test]
    fn sixty_four_matches_of_one_title_get_ids_of_their_own() {
        let lines: Vec<String> = (0..64)
            .map(|number| format!("A{number},B{number},Round one"))
            .collect();
        let text = format!("team_a,team_b,title\n{}\n", lines.join("\n"));
        let headers = check(&text).unwrap();
        let ids: BTreeSet<_> = headers.iter().map(|one| one.id.to_string()).collect();
        assert_eq!(ids.len(), 64);
    }

    #[test]
    fn what_does_not_fit_is_told_by_line_and_column() {
        let (line, column, message) = problem("team_a,team_b,points\nA,B,11\nC,D,many\n");
        assert_eq!((line, column.as_deref()), (3, Some("points")));
        assert!(message.contains("`many`"));
        let (line, column, _) = problem("team_a,team_b,points\nA,B,100\n");
        assert_eq!((line, column.as_deref()), (2, Some("points")));
        let (line, column, _) = problem("team_a,team_b,id\nA,B,taken\n");
        assert_eq!((line, column.as_deref()), (2, Some("id")));
        let (line, column, _) = problem("team_a,team_b\nA,\n");
        assert_eq!((line, column.as_deref()), (2, Some("team_b")));
        assert_eq!(problem("team_a,team_b\nA,B,C\n").0, 2);
    }

    #[test]
    fn what_a_header_refuses_is_told_by_the_column_of_its_team() {
        let columns = "team_a,team_b,players_a,players_b,scoring,court";
        for (line, column) in [
            ("A,B,C / D,E,,", "players_b"),
            ("A,B,C / D / E,F / G,,", "players_a"),
            ("A,B\u{7},,,,", "team_b"),
            ("A,B,C / D,E / F\u{7},,", "players_b"),
            ("A,B,,,best,", "scoring"),
            ("A,B,,,,1\u{7}", "court"),
        ] {
            let (_, found, message) = problem(&format!("{columns}\n{line}\n"));
            assert_eq!(found.as_deref(), Some(column), "{line}: {message}");
        }
    }

    #[test]
    fn the_header_line_is_checked_first() {
        assert_eq!(problem("team_a\nA\n").1.as_deref(), Some("team_b"));
        assert!(problem("team_a,team_b,team_a\n").2.contains("twice"));
        assert!(problem("team_a,team_b\n").2.contains("no match"));
    }

    #[test]
    fn round_and_time_come_along_and_strange_columns_are_left_aside_by_name() {
        let text = "Pool,team_a,team_b,Round,time,,Referee\nA,Heron,Owl,QF 2,14:40,x,Ada\n";
        let sheet = sheet(text).unwrap();
        assert_eq!(sheet.ignored, ["Pool", "Referee"]);
        let header = sheet.headers[0].to_json();
        assert_eq!(
            (&header["round"], &header["time"]),
            (&"QF 2".into(), &"14:40".into())
        );
        let plain = check("team_a,team_b,round\nHeron,Owl,\n").unwrap();
        assert!(!plain[0].to_json().contains_key("round"));
    }

    #[test]
    fn every_problem_is_told_and_no_match_comes_of_it() {
        let problems = check("team_a,team_b,games\nA,B,2\nC,D,3\nE,F,x\n").unwrap_err();
        let lines: Vec<u64> = problems.iter().map(|one| one.line).collect();
        assert_eq!(lines, [2, 4]);
    }

    #[test]
    fn more_than_five_hundred_matches_are_too_many() {
        let text = |count| format!("team_a,team_b\n{}", "A,B\n".repeat(count));
        assert_eq!(check(&text(500)).unwrap().len(), 500);
        assert_eq!(problem(&text(501)).0, 502);
    }
}
