//! Rows below the headings: each is a match, no match, or a problem.

use crate::column::{Column, letters};
use crate::grid::{Grid, Row};
use crate::headings::{Headings, two_teams};
use crate::planned::{LeftOut, Problem, SheetMatch, SheetTeam};
use crate::values;

/// The most matches of a sheet.
const MATCHES_LIMIT: usize = 500;

/// What became of the rows.
#[derive(Debug, Default)]
pub(crate) struct Rows {
    pub(crate) matches: Vec<SheetMatch>,
    pub(crate) left_out: Vec<LeftOut>,
    pub(crate) problems: Vec<Problem>,
}

/// A cell that cannot be read: its column, and what is wrong.
type Unfit = (Option<Column>, String);

/// Reads every row below the headings.
pub(crate) fn read(grid: &Grid, headings: &Headings) -> Rows {
    let mut found = Rows::default();
    for row in &grid.rows[headings.rows.end..] {
        let reader = RowReader {
            row,
            headings,
            heading_row: grid
                .rows
                .get(headings.rows.start)
                .filter(|_| !headings.rows.is_empty()),
        };
        match reader.read() {
            Found::Match(one) => found.matches.push(*one),
            Found::None(why) => found.left_out.push(LeftOut {
                row: row.number,
                why,
                cells: row.words(),
            }),
            Found::Problems(unfit) => {
                found
                    .problems
                    .extend(unfit.into_iter().map(|(column, message)| Problem {
                        row: Some(row.number),
                        column: column.map(|column| headings.called(column)),
                        message,
                        cells: row.words(),
                    }));
            }
        }
        if found.matches.len() > MATCHES_LIMIT {
            found.problems.push(Problem {
                row: Some(row.number),
                column: None,
                message: format!("From this row on there are more than {MATCHES_LIMIT} matches. Import them in two sheets."),
                cells: row.words(),
            });
            break;
        }
    }
    found
}

impl Headings {
    /// The column of a meaning.
    fn place(&self, column: Column) -> Option<usize> {
        self.columns.iter().position(|one| *one == Some(column))
    }

    /// What the sheet calls the column of a meaning.
    fn called(&self, column: Column) -> String {
        match self.place(column) {
            Some(place) if self.texts[place].is_empty() => format!("column {}", letters(place)),
            Some(place) => self.texts[place].clone(),
            None => column.words().to_owned(),
        }
    }
}

enum Found {
    Match(Box<SheetMatch>),
    None(&'static str),
    Problems(Vec<Unfit>),
}

struct RowReader<'a> {
    row: &'a Row,
    headings: &'a Headings,
    heading_row: Option<&'a Row>,
}

/// The columns of one team.
struct TeamColumns {
    team: Column,
    players: Column,
    each: [Column; 2],
    color: Column,
    whose: &'static str,
}

const TEAMS: [TeamColumns; 2] = [
    TeamColumns {
        team: Column::TeamA,
        players: Column::PlayersA,
        each: [Column::PlayerA1, Column::PlayerA2],
        color: Column::ColorA,
        whose: "the first team",
    },
    TeamColumns {
        team: Column::TeamB,
        players: Column::PlayersB,
        each: [Column::PlayerB1, Column::PlayerB2],
        color: Column::ColorB,
        whose: "the second team",
    },
];

impl RowReader<'_> {
    fn cell(&self, column: Column) -> Option<&str> {
        let place = self.headings.place(column)?;
        Some(self.row.cell(place)).filter(|cell| !cell.is_empty())
    }

    fn read(&self) -> Found {
        if self.repeats_headings() {
            return Found::None("the headings once more");
        }
        if let Some(unfit) = self.too_many_cells() {
            return Found::Problems(vec![unfit]);
        }
        let [a, b] = match self.named() {
            Ok(named) => named,
            Err(unfit) => return Found::Problems(vec![unfit]),
        };
        let is_bye = |name: &str| name.eq_ignore_ascii_case("bye");
        match (a, b) {
            (None, None) => Found::None("it names no teams"),
            (Some(one), None) | (None, Some(one)) => {
                let missing = &TEAMS[usize::from(self.named().is_ok_and(|[a, _]| a.is_some()))];
                let column = self.team_column(missing);
                let one = values::one_line_for_people(&one);
                let message = format!(
                    "“{one}” has no opponent. Fill in the other team, or clear the row if it is no match."
                );
                Found::Problems(vec![(Some(column), message)])
            }
            (Some(a), Some(b)) if is_bye(&a) || is_bye(&b) => Found::None("a bye: nobody plays"),
            (Some(a), Some(b)) if values::is_unknown(&a) && values::is_unknown(&b) => {
                Found::None("its teams are not known yet")
            }
            (Some(a), Some(b)) => self.read_match(&a, &b),
        }
    }

    /// The row of the headings again, as sheets made for paper have it.
    fn repeats_headings(&self) -> bool {
        let same = |above: &Row| {
            let cells = |row: &Row| {
                row.cells
                    .iter()
                    .map(|cell| cell.to_lowercase())
                    .collect::<Vec<_>>()
            };
            cells(above) == cells(self.row)
        };
        self.heading_row.is_some_and(same)
    }

    /// In a text a comma inside a name moves all that follows by one column.
    fn too_many_cells(&self) -> Option<Unfit> {
        let named = self.heading_row?.written;
        let cells = self.row.cells.len();
        (cells > named && self.row.written != named).then(|| {
            let message = format!(
                "This row has {cells} cells, the headings have {named}. Where a name holds the character between the cells, put the name in quotation marks."
            );
            (None, message)
        })
    }

    /// The column to look at where a team is missing.
    fn team_column(&self, of: &TeamColumns) -> Column {
        let candidates = [of.team, of.players, of.each[0]];
        let found = candidates
            .into_iter()
            .find(|one| self.headings.place(*one).is_some());
        found.unwrap_or(if self.headings.place(Column::BothTeams).is_some() {
            Column::BothTeams
        } else {
            of.team
        })
    }

    /// What the two teams are called, as far as the row says.
    fn named(&self) -> Result<[Option<String>; 2], Unfit> {
        let own = TEAMS.each_ref().map(|of| {
            let name = self.cell(of.team).map(str::to_owned);
            name.or_else(|| Some(self.players(of).join(" / ")).filter(|name| !name.is_empty()))
        });
        match (own, self.cell(Column::BothTeams)) {
            ([None, None], Some(cell)) => match two_teams(cell) {
                Some((a, b)) => Ok([Some(a.to_owned()), Some(b.to_owned())]),
                None => {
                    let cell = values::one_line_for_people(cell);
                    let message =
                        format!("“{cell}” does not name two teams. Write them as Heron v Owl.");
                    Err((Some(Column::BothTeams), message))
                }
            },
            (own, _) => Ok(own),
        }
    }

    /// The players' names as they are written.
    fn players(&self, of: &TeamColumns) -> Vec<&str> {
        let together = self
            .cell(of.players)
            .map(values::players)
            .unwrap_or_default();
        if !together.is_empty() {
            return together;
        }
        // One cell may hold both.
        let each = of.each.into_iter().filter_map(|column| self.cell(column));
        each.flat_map(values::players).collect()
    }

    /// The players, where there are any: `winner of QF 2` is none.
    fn named_players(&self, of: &TeamColumns) -> Vec<&str> {
        let players = self.players(of);
        match players[..] {
            [one] if values::is_open(one) => Vec::new(),
            _ => players,
        }
    }

    fn read_match(&self, a: &str, b: &str) -> Found {
        let mut unfit: Vec<Unfit> = Vec::new();
        macro_rules! read {
            ($column:expr, $otherwise:expr, $read:expr) => {
                match self.cell($column).map($read) {
                    None => $otherwise,
                    Some(Ok(value)) => value,
                    Some(Err(message)) => {
                        unfit.push((Some($column), message));
                        $otherwise
                    }
                }
            };
        }
        let discipline = read!(Column::Discipline, "doubles", values::discipline);
        let one = SheetMatch {
            row: self.row.number,
            cells: self.row.words(),
            id: self.cell(Column::Id).map(str::to_owned),
            title: read!(Column::Title, String::new(), values::title),
            court: read!(Column::Court, String::new(), values::court),
            round: read!(Column::Round, String::new(), values::round),
            time: read!(Column::Time, String::new(), values::time),
            discipline,
            scoring: read!(Column::Scoring, "side_out", values::scoring),
            points: read!(Column::Points, 11, |cell| values::number(cell, 1, 99)),
            win_by: read!(Column::WinBy, 2, |cell| values::number(cell, 1, 2)),
            games: read!(Column::Games, 3, games),
            first_serve: read!(Column::FirstServe, "a", |cell| values::first_serve(
                cell,
                [a, b]
            )),
            teams: [(a, 0), (b, 1)]
                .map(|(name, which)| self.team(&TEAMS[which], name, discipline, &mut unfit)),
        };
        let [first, second] = &one.teams;
        if unfit.is_empty() && first.name == second.name {
            let message = format!(
                "Both teams are called “{}”; viewers could not tell them apart. Give each a name of its own.",
                first.name
            );
            unfit.push((Some(self.team_column(&TEAMS[1])), message));
        }
        if unfit.is_empty() {
            Found::Match(Box::new(one))
        } else {
            Found::Problems(unfit)
        }
    }

    fn team(
        &self,
        of: &TeamColumns,
        name: &str,
        discipline: &str,
        unfit: &mut Vec<Unfit>,
    ) -> SheetTeam {
        let mut team = SheetTeam::default();
        let at = self.team_column(of);
        match values::name(name, of.whose) {
            Ok(name) => team.name = name,
            Err(message) => unfit.push((Some(at), message)),
        }
        let players = self.named_players(of);
        let size = if discipline == "singles" { 1 } else { 2 };
        let columns = [of.players, of.each[0], of.each[1]];
        let at = columns
            .into_iter()
            .find(|one| self.cell(*one).is_some())
            .unwrap_or(of.players);
        if players.len() != size && !players.is_empty() {
            let asked = if size == 1 {
                "in singles one player plays"
            } else {
                "in doubles two play"
            };
            let hint = if size == 2 && players.len() == 1 {
                " For a singles match write singles into a column called discipline."
            } else {
                ""
            };
            let count = players.len();
            let named = if count == 1 {
                "1 player is".to_owned()
            } else {
                format!("{count} players are")
            };
            let message = format!(
                "{named} named for {}, but {asked}. Name them all, or nobody.{hint}",
                of.whose
            );
            unfit.push((Some(at), message));
        }
        for player in players {
            match values::name(player, "a player") {
                Ok(player) => team.players.push(player),
                Err(message) => unfit.push((Some(at), message)),
            }
        }
        if let Some(cell) = self.cell(of.color) {
            match values::color(cell) {
                Ok(color) => team.color = Some(color),
                Err(message) => unfit.push((Some(of.color), message)),
            }
        }
        team
    }
}

fn games(cell: &str) -> Result<u32, String> {
    let games = values::number(cell, 1, 5)?;
    if games % 2 == 0 {
        return Err(format!(
            "A match cannot be the best of {games} games: 1, 3 or 5 can be won by one team only."
        ));
    }
    Ok(games)
}
