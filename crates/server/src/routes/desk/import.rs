//! `POST /matches/import`: an event's matches from a sheet, all or nothing: one row
//! that does not fit, and none is planned. What a sheet says is read by
//! `rallytide_sheet`; here its matches become headers.

use std::collections::BTreeSet;
use std::sync::Arc;

use axum::body::Bytes;
use axum::extract::rejection::BytesRejection;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Json;
use rallytide_chart::{Header, ID_RULE, MatchId};
use rallytide_court::CannotDo;
use rallytide_sheet::{Column, Sheet, SheetChoices, SheetMatch, SheetTeam};
use serde::Deserialize;
use serde_json::{Map, Value, json};

use super::plan::{self, CannotPlan};
use crate::answers::matches::{
    ImportAnswer, ImportProblem, LeftOutRow, ReadSheet, SheetColumn, SheetRow, SheetTab,
};
use crate::blocking::run_blocking;
use crate::rejection::Rejection;
use crate::state::AppState;

/// The most bytes of a file.
pub(super) const FILE_LIMIT: usize = rallytide_sheet::FILE_LIMIT;

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct How {
    dry: bool,
    tab: Option<String>,
    heading: Option<usize>,
    columns: Option<String>,
}

pub(crate) async fn import(
    State(state): State<AppState>,
    Query(how): Query<How>,
    body: Result<Bytes, BytesRejection>,
) -> Result<(StatusCode, Json<ImportAnswer>), Rejection> {
    let bytes = body.map_err(|rejection| too_large(&rejection))?;
    let is_dry = how.dry;
    let said = how.said()?;
    let courts = Arc::clone(&state.courts);
    let answer = run_blocking(move || -> Result<_, CannotDo> {
        let (headers, answer) = read(&bytes, &said, &|id| courts.is_taken(id))?;
        if answer.problems.is_empty() && !is_dry {
            courts.plan(headers)?;
        }
        Ok(answer)
    })
    .await?;
    let status = if answer.problems.is_empty() {
        StatusCode::OK
    } else {
        StatusCode::UNPROCESSABLE_ENTITY
    };
    Ok((status, Json(answer)))
}

fn too_large(rejection: &BytesRejection) -> Rejection {
    let status = rejection.status();
    if status != StatusCode::PAYLOAD_TOO_LARGE {
        return Rejection::new(status, "the file did not arrive whole; import it again");
    }
    let mib = FILE_LIMIT / 1024 / 1024;
    let sentence = format!(
        "the file is larger than {mib} MiB; copy the rows of the matches into a new sheet and import that"
    );
    Rejection::new(status, sentence)
}

impl How {
    /// What somebody has said about the sheet.
    fn said(self) -> Result<SheetChoices, Rejection> {
        let meaning = |code: &str| match code {
            "" => Ok(None),
            code => Column::from_code(code).map(Some).ok_or_else(|| {
                let known: Vec<_> = Column::ALL.iter().map(|one| one.code()).collect();
                let known = known.join(", ");
                Rejection::new(
                    StatusCode::BAD_REQUEST,
                    format!("`{code}` is no column of a match; there are {known}"),
                )
            }),
        };
        let columns = self.columns.as_deref();
        let columns =
            columns.map(|codes| codes.split(',').map(|code| meaning(code.trim())).collect());
        Ok(SheetChoices {
            tab: self.tab,
            heading_row: self.heading,
            columns: columns.transpose()?,
        })
    }
}

type Taken<'a> = dyn Fn(&str) -> Result<bool, CannotDo> + 'a;

/// Reads the matches, or everything that is wrong with the file.
fn read(
    bytes: &[u8],
    said: &SheetChoices,
    taken: &Taken<'_>,
) -> Result<(Vec<Header>, ImportAnswer), CannotDo> {
    let mut sheet = match rallytide_sheet::read(bytes, said) {
        Ok(sheet) => sheet,
        Err(unreadable) => {
            let problem = ImportProblem {
                line: None,
                column: None,
                message: unreadable.to_string(),
                row: String::new(),
            };
            let answer = ImportAnswer {
                problems: vec![problem],
                ..ImportAnswer::default()
            };
            return Ok((Vec::new(), answer));
        }
    };
    let (mut headers, mut problems) = (Vec::new(), Vec::new());
    let mut ids = BTreeSet::new();
    for one in std::mem::take(&mut sheet.matches) {
        match header(&one, &ids, taken) {
            Ok(header) => {
                ids.insert(header.id.as_str().to_ascii_lowercase());
                headers.push(header);
            }
            Err(CannotImport::Courts(error)) => return Err(error),
            Err(CannotImport::Row { column, message }) => problems.push(ImportProblem {
                line: Some(one.row),
                column: column.map(|column| called(&sheet, column)),
                message,
                row: one.cells,
            }),
        }
    }
    let mut answer = answer(sheet);
    answer.problems.extend(problems);
    if answer.problems.is_empty() {
        let matches = headers.iter().map(|header| header.to_json().clone());
        answer.matches = matches.collect();
    }
    Ok((headers, answer))
}

/// Why a match of a sheet cannot be planned.
enum CannotImport {
    Row {
        column: Option<Column>,
        message: String,
    },
    Courts(CannotDo),
}

/// The header of a match of a sheet.
fn header(
    one: &SheetMatch,
    ids: &BTreeSet<String>,
    taken: &Taken<'_>,
) -> Result<Header, CannotImport> {
    let is_taken = |id: &str| Ok(ids.contains(&id.to_ascii_lowercase()) || taken(id)?);
    if let Some(id) = &one.id {
        let unfit = |message| CannotImport::Row {
            column: Some(Column::Id),
            message,
        };
        if MatchId::new(id).is_none() {
            return Err(unfit(format!(
                "“{id}” cannot be an id: use {ID_RULE}, or leave the cell empty."
            )));
        }
        if is_taken(id).map_err(CannotImport::Courts)? {
            return Err(unfit(format!(
                "There is a match with the id “{id}” already. Choose another one, or leave the cell empty."
            )));
        }
    }
    plan::read(source(one), &is_taken).map_err(|error| match error {
        CannotPlan::Courts(error) => CannotImport::Courts(error),
        error => CannotImport::Row {
            column: None,
            message: format!("This row cannot be made a match: {error}."),
        },
    })
}

/// The header before it is checked.
fn source(one: &SheetMatch) -> Map<String, Value> {
    let team = |team: &SheetTeam| {
        let mut source = json!({"name": team.name, "players": team.players});
        if let Some(color) = &team.color {
            source["color"] = color.as_str().into();
        }
        source
    };
    let [a, b] = one.teams.each_ref().map(team);
    let header = json!({
        "id": one.id,
        "title": one.title,
        "court": one.court,
        "teams": {"a": a, "b": b},
        "format": {
            "discipline": one.discipline,
            "scoring": one.scoring,
            "points": one.points,
            "win_by": one.win_by,
            "games": one.games,
        },
        "first_serve": one.first_serve,
    });
    let Value::Object(mut header) = header else {
        return Map::new();
    };
    for (name, text) in [("round", &one.round), ("time", &one.time)] {
        if !text.is_empty() {
            header.insert(name.into(), text.as_str().into());
        }
    }
    header
}

/// What the sheet calls a column.
fn called(sheet: &Sheet, meaning: Column) -> String {
    let column = sheet
        .columns
        .iter()
        .find(|one| one.meaning == Some(meaning));
    match column {
        Some(column) if column.heading.is_empty() => format!("column {}", column.letters),
        Some(column) => column.heading.clone(),
        None => meaning.words().to_owned(),
    }
}

/// What is told of a sheet, its matches apart.
fn answer(sheet: Sheet) -> ImportAnswer {
    let left_out = sheet.left_out.into_iter().map(|one| LeftOutRow {
        line: one.row,
        why: one.why,
        row: one.cells,
    });
    let problems = sheet.problems.into_iter().map(|one| ImportProblem {
        line: one.row,
        column: one.column,
        message: one.message,
        row: one.cells,
    });
    let tabs = sheet.tabs.into_iter().map(|tab| SheetTab {
        name: tab.name,
        has_matches: tab.has_matches,
    });
    let columns = sheet.columns.into_iter().map(|one| SheetColumn {
        letters: one.letters,
        heading: one.heading,
        meaning: one.meaning.map(Column::code),
        examples: one.examples,
    });
    let first_rows = sheet.first_rows.into_iter().map(|one| SheetRow {
        line: one.row,
        row: one.cells,
    });
    ImportAnswer {
        matches: Vec::new(),
        ignored: sheet.ignored,
        left_out: left_out.collect(),
        problems: problems.collect(),
        sheet: Some(ReadSheet {
            form: sheet.form,
            tabs: tabs.collect(),
            tab: sheet.tab,
            heading: sheet.heading_row,
            first_rows: first_rows.collect(),
            columns: columns.collect(),
            is_clear: sheet.is_clear,
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answer(text: &str) -> ImportAnswer {
        read(text.as_bytes(), &SheetChoices::default(), &|id| {
            Ok(id == "taken")
        })
        .unwrap()
        .1
    }

    #[track_caller]
    fn problem(text: &str) -> (Option<usize>, Option<String>, String) {
        let answer = answer(text);
        assert_eq!(answer.problems.len(), 1, "{answer:?}");
        assert!(answer.matches.is_empty());
        let one = answer.problems.into_iter().next().unwrap();
        (one.line, one.column, one.message)
    }

    #[test]
    fn two_columns_are_enough() {
        let header = &answer("Team 2,Team 1\nBirch,Alder\n").matches[0];
        assert_eq!(header["teams"]["a"]["name"], "Alder");
        assert_eq!(header["id"], "alder-birch");
        assert_eq!(header["format"]["points"], 11);
        assert!(!header.contains_key("round"));
    }

    #[test]
    fn round_time_court_players_and_colors_come_along() {
        let text = "Team 1,Team 2,Round,Time,Court,Color A,Players A,Referee\n\
            Heron,Owl,QF 2,14:40,Court 3,navy,Ana / Bo,Ada\n";
        let answer = answer(text);
        let header = &answer.matches[0];
        let told = ["round", "time", "court"].map(|name| header[name].as_str().unwrap());
        assert_eq!(told, ["QF 2", "14:40", "3"]);
        let team = &header["teams"]["a"];
        assert_eq!(
            (&team["color"], &team["players"]),
            (&"#000080".into(), &json!(["Ana", "Bo"]))
        );
        assert_eq!(answer.ignored, ["Referee"]);
    }

    #[test]
    fn sixty_four_matches_of_one_title_get_ids_of_their_own() {
        let lines: Vec<String> = (0..64)
            .map(|number| format!("A{number},B{number},Round one"))
            .collect();
        let answer = answer(&format!("team_a,team_b,title\n{}\n", lines.join("\n")));
        let ids: BTreeSet<_> = answer
            .matches
            .iter()
            .map(|one| one["id"].to_string())
            .collect();
        assert_eq!(ids.len(), 64);
    }

    #[test]
    fn ids_are_checked_against_the_matches_there_are() {
        let (line, column, message) = problem("Team 1,Team 2,Match ID\nA,B,taken\n");
        assert_eq!((line, column.as_deref()), (Some(2), Some("Match ID")));
        assert!(message.contains("“taken” already"));
        assert!(
            problem("team_a,team_b,id\nA,B,x\nC,D,X\n")
                .2
                .contains("already")
        );
        assert!(
            problem("team_a,team_b,id\nA,B,x y\n")
                .2
                .contains("A-Z a-z 0-9 _ -")
        );
    }

    #[test]
    fn every_problem_is_told_and_no_match_comes_of_it() {
        let answer = answer("team_a,team_b,games,id\nA,B,2,\nC,D,3,\nE,F,x,\n");
        let lines: Vec<_> = answer.problems.iter().map(|one| one.line).collect();
        assert_eq!(lines, [Some(2), Some(4)]);
        assert_eq!(answer.problems[0].row, "A · B · 2");
        assert!(answer.matches.is_empty());
    }

    #[test]
    fn a_file_that_is_no_sheet_is_one_problem() {
        let (line, _, message) = problem("<html>");
        assert_eq!(line, None);
        assert!(message.starts_with("This is a web page"));
    }

    #[test]
    fn what_somebody_says_of_the_columns_is_read() {
        let how = |columns: &str| How {
            columns: Some(columns.into()),
            ..How::default()
        };
        let columns = how("team_a,,court").said().unwrap().columns;
        assert_eq!(
            columns,
            Some(vec![Some(Column::TeamA), None, Some(Column::Court)])
        );
        let refused = how("team_c").said().unwrap_err();
        assert!(refused.sentence.contains("`team_c`"));
    }
}
