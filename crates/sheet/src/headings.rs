//! Which row names the columns, and what each of them means.
//!
//! Above the headings there may be titles and notes, and the headings may take two
//! rows, where cells were merged: `Team 1` over `Player 1` and `Player 2`.

mod names;

use crate::column::Column;
use crate::grid::{Grid, Row};
use names::{Sureness, key};

/// How many rows, empty ones not counted, are searched for the headings.
const LOOKED_AT: usize = 30;

/// The headings of a table.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Headings {
    /// The rows that they stand in, as places in the grid.
    pub(crate) rows: std::ops::Range<usize>,
    /// A text for every column; empty where it has none.
    pub(crate) texts: Vec<String>,
    /// What every column means, where that is known.
    pub(crate) columns: Vec<Option<Column>>,
    /// Columns that are surely called what another one is surely called, too.
    pub(crate) twice: Vec<usize>,
}

/// How many columns of a table are known by their names.
pub(crate) fn best_known(grid: &Grid) -> usize {
    find(grid).map_or(0, |headings| headings.known())
}

/// The headings of a table, where there are any that are known.
pub(crate) fn find(grid: &Grid) -> Option<Headings> {
    let mut best: Option<Headings> = None;
    let mut take = |headings: Headings| {
        if headings.weight() > best.as_ref().map_or((false, 1), Headings::weight) {
            best = Some(headings);
        }
    };
    // One row first: with a title above it, two rows know no more than one.
    let looked_at = grid.rows.len().min(LOOKED_AT);
    for at in 0..looked_at {
        take(of_row(grid, at));
    }
    for at in 0..looked_at {
        if let Some(below) = grid.rows.get(at + 1) {
            take(of_two_rows(grid, &grid.rows[at], below, at));
        }
    }
    best
}

/// The headings where somebody has said which row they are in; no row: the columns
/// have none.
pub(crate) fn said(grid: &Grid, row: Option<usize>) -> Headings {
    let at = row.and_then(|row| grid.rows.iter().position(|one| one.number == row));
    match at {
        None => Headings {
            texts: vec![String::new(); grid.width()],
            columns: vec![None; grid.width()],
            ..Headings::default()
        },
        Some(at) => {
            let (one, two) = (of_row(grid, at), grid.rows.get(at + 1));
            let two = two.map(|below| of_two_rows(grid, &grid.rows[at], below, at));
            two.filter(|two| two.weight() > one.weight()).unwrap_or(one)
        }
    }
}

/// The likeliest headings where no name is known: the first row of several cells.
pub(crate) fn likeliest(grid: &Grid) -> Headings {
    let filled = |row: &Row| row.cells.iter().filter(|cell| !cell.is_empty()).count();
    let wide = grid.rows.iter().position(|row| filled(row) > 1);
    match wide {
        Some(at) => of_row(grid, at),
        None => said(grid, None),
    }
}

impl Headings {
    /// Whether both teams of a match can be told.
    pub(crate) fn is_clear(&self) -> bool {
        let has = |column: Column| self.columns.contains(&Some(column));
        let a = has(Column::TeamA) || has(Column::PlayersA) || has(Column::PlayerA1);
        let b = has(Column::TeamB) || has(Column::PlayersB) || has(Column::PlayerB1);
        (a && b) || has(Column::BothTeams)
    }

    fn known(&self) -> usize {
        self.columns.iter().flatten().count()
    }

    fn weight(&self) -> (bool, usize) {
        (self.is_clear(), self.known())
    }
}

fn of_row(grid: &Grid, at: usize) -> Headings {
    let row = &grid.rows[at];
    let texts = (0..grid.width()).map(|place| one_line(row.cell(place)));
    named(texts.collect(), at..at + 1, grid)
}

/// Headings over two rows. A cell above counts for those to its right that are empty
/// above and hold something below: it was merged over them.
fn of_two_rows(grid: &Grid, above: &Row, below: &Row, at: usize) -> Headings {
    let mut group = "";
    let mut texts = Vec::new();
    for place in 0..grid.width() {
        let (top, bottom) = (above.cell(place), below.cell(place));
        if !top.is_empty() || bottom.is_empty() {
            group = top;
        }
        let both = one_line(format!("{group} {bottom}").trim());
        // Under a title the lower row speaks for itself.
        let alone = names::known(&key(&both)).is_none() && !bottom.is_empty();
        texts.push(if alone { one_line(bottom) } else { both });
    }
    named(texts, at..at + 2, grid)
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What columns with these headings mean.
fn named(texts: Vec<String>, rows: std::ops::Range<usize>, grid: &Grid) -> Headings {
    let keys: Vec<String> = texts.iter().map(|text| key(text)).collect();
    let mut meant: Vec<Option<(Column, Sureness)>> =
        keys.iter().map(|key| names::known(key)).collect();
    for (place, column) in by_company(&keys) {
        meant[place] = Some((column, Sureness::Sure));
    }
    let below = grid.rows.get(rows.end..).unwrap_or_default();
    for (place, one) in meant.iter_mut().enumerate() {
        if one.is_some_and(|(column, _)| column == Column::BothTeams) && !holds_pairs(below, place)
        {
            *one = None;
        }
    }
    let (mut columns, mut twice) = (vec![None; meant.len()], Vec::new());
    for (place, one) in meant.iter().enumerate() {
        let Some((column, sureness)) = *one else {
            continue;
        };
        let others = || {
            meant
                .iter()
                .enumerate()
                .filter(|(other, _)| *other != place)
        };
        let alike = |least: Sureness| {
            move |(_, other): &(usize, &Option<(Column, Sureness)>)| {
                other.is_some_and(|(named, sure)| named == column && sure >= least)
            }
        };
        let is_outdone =
            sureness == Sureness::Perhaps && others().any(|other| alike(Sureness::Sure)(&other));
        let mut first_alike = others().filter(|other| alike(sureness)(other));
        let is_second = first_alike.any(|(other, _)| other < place);
        if is_outdone || (is_second && sureness == Sureness::Perhaps) {
            continue;
        }
        if is_second {
            twice.push(place);
            continue;
        }
        columns[place] = Some(column);
    }
    let has = |column: Column| columns.contains(&Some(column));
    if has(Column::TeamA) && has(Column::TeamB) {
        for column in &mut columns {
            *column = column.filter(|one| *one != Column::BothTeams);
        }
    }
    Headings {
        rows,
        texts,
        columns,
        twice,
    }
}

/// Names that only the others beside them make clear.
fn by_company(keys: &[String]) -> Vec<(usize, Column)> {
    use Column::{
        ColorA, ColorB, PlayerA1, PlayerA2, PlayerB1, PlayerB2, PlayersA, PlayersB, TeamA, TeamB,
    };
    /// A name that stands there twice: the first is the first team's.
    const PAIRS: &[(&str, [Column; 2])] = &[
        ("team", [TeamA, TeamB]),
        ("teamname", [TeamA, TeamB]),
        ("pair", [TeamA, TeamB]),
        ("players", [PlayersA, PlayersB]),
        ("player", [PlayerA1, PlayerB1]),
        ("player1", [PlayerA1, PlayerB1]),
        ("player2", [PlayerA2, PlayerB2]),
        ("partner", [PlayerA2, PlayerB2]),
        ("color", [ColorA, ColorB]),
        ("teamcolor", [ColorA, ColorB]),
    ];
    /// Names that are clear where all of them stand there once.
    const COMPANIES: &[&[(&str, Column)]] = &[
        &[
            ("player1", PlayerA1),
            ("player2", PlayerA2),
            ("player3", PlayerB1),
            ("player4", PlayerB2),
        ],
        &[
            ("player1", PlayerA1),
            ("partner1", PlayerA2),
            ("player2", PlayerB1),
            ("partner2", PlayerB2),
        ],
        &[
            ("player", PlayerA1),
            ("partner", PlayerA2),
            ("opponent1", PlayerB1),
            ("opponent2", PlayerB2),
        ],
        &[
            ("player1", PlayerA1),
            ("player2", PlayerA2),
            ("opponent1", PlayerB1),
            ("opponent2", PlayerB2),
        ],
        &[("team", TeamA), ("opponent", TeamB)],
        &[("team", TeamA), ("opponents", TeamB)],
        &[("team", TeamA), ("opposingteam", TeamB)],
        &[("player", PlayerA1), ("opponent", PlayerB1)],
    ];
    let places = |name: &str| -> Vec<usize> {
        let named = keys.iter().enumerate().filter(|(_, key)| *key == name);
        named.map(|(place, _)| place).collect()
    };
    let mut meant = Vec::new();
    for (name, columns) in PAIRS {
        if let [first, second] = places(name)[..] {
            meant.extend([(first, columns[0]), (second, columns[1])]);
        }
    }
    for company in COMPANIES {
        let found: Option<Vec<_>> = company
            .iter()
            .map(|(name, column)| match places(name)[..] {
                [place] => Some((place, *column)),
                _ => None,
            })
            .collect();
        if let Some(found) = found {
            meant.extend(found);
            break;
        }
    }
    meant
}

/// Whether most of a column's cells hold two teams: `Heron v Owl`.
fn holds_pairs(rows: &[Row], place: usize) -> bool {
    let cells = rows
        .iter()
        .map(|row| row.cell(place))
        .filter(|cell| !cell.is_empty());
    let (mut pairs, mut all) = (0, 0);
    for cell in cells {
        all += 1;
        pairs += usize::from(two_teams(cell).is_some());
    }
    pairs * 2 > all
}

/// The two teams of a cell that holds both.
pub(crate) fn two_teams(cell: &str) -> Option<(&str, &str)> {
    /// What stands between them, the surest first.
    const BETWEEN: &[&str] = &[
        " v ", " vs ", " v. ", " vs. ", " versus ", "\nv\n", "\nvs\n", "\nvs.\n", " – ", " - ",
    ];
    let small = cell.to_ascii_lowercase();
    for between in BETWEEN {
        let mut found = small.match_indices(between);
        if let (Some((at, _)), None) = (found.next(), found.next()) {
            let (one, other) = (cell[..at].trim(), cell[at + between.len()..].trim());
            if !one.is_empty() && !other.is_empty() {
                return Some((one, other));
            }
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grid(rows: &[&[&str]]) -> Grid {
        let mut grid = Grid::default();
        for (at, cells) in rows.iter().enumerate() {
            let cells = cells.iter().map(|cell| (*cell).to_owned());
            grid.push(at + 1, &cells.collect::<Vec<_>>()).unwrap();
        }
        grid
    }

    #[track_caller]
    fn check(headings: &[&str], expected: &[&str]) {
        let found = find(&grid(&[headings, &["x"; 9]])).unwrap();
        let codes = found.columns.iter().map(|one| one.map_or("", Column::code));
        let codes: Vec<_> = codes.take(headings.len()).collect();
        assert_eq!(codes, expected);
    }

    #[test]
    fn names_that_stand_there_twice_are_the_first_and_the_second_teams() {
        check(
            &[
                "Team", "Player 1", "Player 2", "Team", "Player 1", "Player 2",
            ],
            &[
                "team_a",
                "player_a1",
                "player_a2",
                "team_b",
                "player_b1",
                "player_b2",
            ],
        );
        check(
            &["Team", "Color", "Opponent", "Court"],
            &["team_a", "", "team_b", "court"],
        );
        check(
            &["Player 1", "Player 2", "Player 3", "Player 4"],
            &["player_a1", "player_a2", "player_b1", "player_b2"],
        );
        check(
            &["Player 1", "Partner 1", "Player 2", "Partner 2"],
            &["player_a1", "player_a2", "player_b1", "player_b2"],
        );
    }

    #[test]
    fn of_two_columns_the_surer_name_counts() {
        check(
            &["Pool", "Team 1", "Team 2", "Round", "Division"],
            &["", "team_a", "team_b", "round", "title"],
        );
        check(
            &["Pool", "Team 1", "Team 2"],
            &["round", "team_a", "team_b"],
        );
    }

    #[test]
    fn headings_stand_below_titles_and_over_two_rows() {
        let sheet = grid(&[
            &["Pier Cup, Saturday"],
            &["Time", "Court", "Team 1", "", "Team 2", ""],
            &["", "", "Player 1", "Player 2", "Player 1", "Player 2"],
            &[
                "9:00",
                "1",
                "Ines Quill",
                "Tobi Abara",
                "Maro Fenn",
                "Lise Tarrow",
            ],
        ]);
        let found = find(&sheet).unwrap();
        assert_eq!(found.rows, 1..3);
        assert_eq!(found.texts[4], "Team 2 Player 1");
        assert!(found.is_clear());
        assert_eq!(found.known(), 6);
    }

    #[test]
    fn both_teams_can_stand_in_one_cell() {
        let sheet = grid(&[
            &["Match", "Court"],
            &["Heron vs. Owl", "1"],
            &["Kite v Lark", "2"],
        ]);
        assert_eq!(find(&sheet).unwrap().columns[0], Some(Column::BothTeams));
        let numbered = grid(&[
            &["Match", "Court", "Team 1", "Team 2"],
            &["1", "1", "A", "B"],
        ]);
        assert_eq!(find(&numbered).unwrap().columns[0], None);
        assert_eq!(
            two_teams("Quill-Abara v Fenn-Tarrow"),
            Some(("Quill-Abara", "Fenn-Tarrow"))
        );
        assert_eq!(two_teams("Heron"), None);
    }

    #[test]
    fn a_name_that_surely_stands_there_twice_is_told() {
        let found = find(&grid(&[&["Team 1", "Team 2", "Court", "Court"]])).unwrap();
        assert_eq!(found.twice, [3]);
    }

    #[test]
    fn names_that_nobody_knows_leave_it_unclear() {
        let sheet = grid(&[&["Rot", "Blau"], &["Heron", "Owl"]]);
        assert_eq!(find(&sheet), None);
        let guess = likeliest(&sheet);
        assert_eq!((guess.rows.clone(), guess.is_clear()), (0..1, false));
        assert_eq!(said(&sheet, None).texts, ["", ""]);
    }
}
