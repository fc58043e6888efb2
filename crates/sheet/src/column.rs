//! What a column of a sheet can mean.

/// What the cells of a column say about their match.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Column {
    /// The first team's name.
    TeamA,
    /// The second team's name.
    TeamB,
    /// Both teams in one cell: `Heron v Owl`.
    BothTeams,
    /// The first team's players in one cell.
    PlayersA,
    /// The second team's players in one cell.
    PlayersB,
    /// The first team's first player, who is its starting server.
    PlayerA1,
    /// The first team's other player.
    PlayerA2,
    /// The second team's first player, who is its starting server.
    PlayerB1,
    /// The second team's other player.
    PlayerB2,
    /// The court it is planned for.
    Court,
    /// When it is planned to start.
    Time,
    /// Its round.
    Round,
    /// Its title.
    Title,
    /// The first team's color.
    ColorA,
    /// The second team's color.
    ColorB,
    /// Doubles or singles.
    Discipline,
    /// Side-out or rally scoring.
    Scoring,
    /// Points that win a game.
    Points,
    /// The lead that wins a game.
    WinBy,
    /// Best of how many games.
    Games,
    /// The team that serves first.
    FirstServe,
    /// The match's id.
    Id,
}

impl Column {
    /// Every meaning there is.
    pub const ALL: &[Self] = &[
        Self::TeamA,
        Self::TeamB,
        Self::BothTeams,
        Self::PlayersA,
        Self::PlayersB,
        Self::PlayerA1,
        Self::PlayerA2,
        Self::PlayerB1,
        Self::PlayerB2,
        Self::Court,
        Self::Time,
        Self::Round,
        Self::Title,
        Self::ColorA,
        Self::ColorB,
        Self::Discipline,
        Self::Scoring,
        Self::Points,
        Self::WinBy,
        Self::Games,
        Self::FirstServe,
        Self::Id,
    ];

    /// The meaning as programs write it.
    #[must_use]
    pub fn code(self) -> &'static str {
        match self {
            Self::TeamA => "team_a",
            Self::TeamB => "team_b",
            Self::BothTeams => "both_teams",
            Self::PlayersA => "players_a",
            Self::PlayersB => "players_b",
            Self::PlayerA1 => "player_a1",
            Self::PlayerA2 => "player_a2",
            Self::PlayerB1 => "player_b1",
            Self::PlayerB2 => "player_b2",
            Self::Court => "court",
            Self::Time => "time",
            Self::Round => "round",
            Self::Title => "title",
            Self::ColorA => "color_a",
            Self::ColorB => "color_b",
            Self::Discipline => "discipline",
            Self::Scoring => "scoring",
            Self::Points => "points",
            Self::WinBy => "win_by",
            Self::Games => "games",
            Self::FirstServe => "first_serve",
            Self::Id => "id",
        }
    }

    /// Reads what [`Column::code`] wrote.
    #[must_use]
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|one| one.code() == code)
    }

    /// The meaning as people say it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::TeamA => "first team",
            Self::TeamB => "second team",
            Self::BothTeams => "both teams",
            Self::PlayersA => "first team's players",
            Self::PlayersB => "second team's players",
            Self::PlayerA1 => "first team's player 1",
            Self::PlayerA2 => "first team's player 2",
            Self::PlayerB1 => "second team's player 1",
            Self::PlayerB2 => "second team's player 2",
            Self::Court => "court",
            Self::Time => "time",
            Self::Round => "round",
            Self::Title => "title",
            Self::ColorA => "first team's color",
            Self::ColorB => "second team's color",
            Self::Discipline => "doubles or singles",
            Self::Scoring => "scoring",
            Self::Points => "points per game",
            Self::WinBy => "win by",
            Self::Games => "best of how many games",
            Self::FirstServe => "serves first",
            Self::Id => "id",
        }
    }
}

/// The letters that a spreadsheet shows over a column: `A`, `B` … `Z`, `AA`.
#[must_use]
pub(crate) fn letters(place: usize) -> String {
    let mut rest = place + 1;
    let mut letters = Vec::new();
    while rest > 0 {
        rest -= 1;
        letters.push(char::from(b'A' + (rest % 26) as u8));
        rest /= 26;
    }
    letters.into_iter().rev().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_meaning_has_a_code_of_its_own() {
        for column in Column::ALL {
            assert_eq!(Column::from_code(column.code()), Some(*column));
        }
    }

    /// ECMA-376, 5th edition, part 1, 18.18.62 (cell references): the last column is `XFD`.
    #[test]
    fn columns_are_lettered_as_spreadsheets_do() {
        for (place, expected) in [
            (0, "A"),
            (25, "Z"),
            (26, "AA"),
            (701, "ZZ"),
            (16_383, "XFD"),
        ] {
            assert_eq!(letters(place), expected);
        }
    }
}
