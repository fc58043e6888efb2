//! What a sheet says of its matches.

/// A match of a sheet, checked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetMatch {
    /// The row it stands in, as the spreadsheet counts.
    pub row: usize,
    /// Its id, where the sheet gives one.
    pub id: Option<String>,
    /// Its title; may be empty.
    pub title: String,
    /// The court, as links call it; may be empty.
    pub court: String,
    /// The round; may be empty.
    pub round: String,
    /// The time; may be empty.
    pub time: String,
    /// The first and the second team.
    pub teams: [SheetTeam; 2],
    /// `doubles` or `singles`.
    pub discipline: &'static str,
    /// `side_out` or `rally`.
    pub scoring: &'static str,
    /// Points that win a game, 1 to 99.
    pub points: u32,
    /// The lead that wins a game, 1 or 2.
    pub win_by: u32,
    /// Best of how many games: 1, 3 or 5.
    pub games: u32,
    /// The team that serves first, `a` or `b`.
    pub first_serve: &'static str,
    /// What stands in the row.
    pub cells: String,
}

/// A team of a sheet.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct SheetTeam {
    /// Its name.
    pub name: String,
    /// Its players, the starting server first: none, or as many as play.
    pub players: Vec<String>,
    /// Its color, `#RRGGBB`.
    pub color: Option<String>,
}

/// What keeps a sheet from being imported.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// The row, as the spreadsheet counts; none where it is about the whole sheet.
    pub row: Option<usize>,
    /// The column, as the sheet calls it.
    pub column: Option<String>,
    /// What is wrong and what to do, as sentences.
    pub message: String,
    /// What stands in the row.
    pub cells: String,
}

/// A row that is no match and was left out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOut {
    /// The row, as the spreadsheet counts.
    pub row: usize,
    /// Why it was.
    pub why: &'static str,
    /// What stands in it.
    pub cells: String,
}
