//! The names by which columns are usually called, without case, spaces and
//! punctuation.

use std::collections::HashMap;
use std::sync::LazyLock;

use crate::column::Column;

/// How surely a name means its column: of two columns that could be meant, the
/// surer one counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Sureness {
    /// A name that may mean it where nothing else does.
    Perhaps,
    /// A name of nothing else.
    Sure,
}

use Sureness::{Perhaps, Sure};

/// A heading as names are compared: letters and digits alone, small.
pub(super) fn key(heading: &str) -> String {
    let letters = heading.chars().filter(|c| c.is_alphanumeric());
    let key: String = letters.flat_map(char::to_lowercase).collect();
    key.replace("colour", "color")
}

/// What a name means by itself.
pub(super) fn known(key: &str) -> Option<(Column, Sureness)> {
    KNOWN.get(key).copied()
}

/// Names that say nothing of a team.
const PLAIN: &[(Column, Sureness, &str)] = &[
    (
        Column::Court,
        Sure,
        "court courtno courtnumber courtname ct crt assignedcourt courtassignment",
    ),
    (Column::Court, Perhaps, "location venue"),
    (
        Column::Time,
        Sure,
        "time start starttime starts startsat startat timestart scheduledtime \
        scheduledstart matchtime gametime timeslot",
    ),
    (
        Column::Time,
        Perhaps,
        "scheduled slot when datetime dateandtime datetimestart",
    ),
    (
        Column::Round,
        Sure,
        "round rd rnd roundname roundno roundnumber",
    ),
    (Column::Round, Perhaps, "stage phase pool group"),
    (Column::Title, Sure, "title matchtitle matchname"),
    (
        Column::Title,
        Perhaps,
        "event eventname division category draw bracket",
    ),
    (
        Column::Discipline,
        Sure,
        "discipline doublesorsingles singlesordoubles doublessingles singlesdoubles",
    ),
    (Column::Discipline, Perhaps, "type matchtype gametype"),
    (
        Column::Scoring,
        Sure,
        "scoring scoringsystem scoringtype scoringformat",
    ),
    (
        Column::Points,
        Sure,
        "points pointspergame pointsagame gamepoints pointstowin gameto gamesto playto playedto",
    ),
    (Column::WinBy, Sure, "winby winningmargin lead margin"),
    (
        Column::Games,
        Sure,
        "games bestof numberofgames gamespermatch maxgames",
    ),
    (
        Column::FirstServe,
        Sure,
        "firstserve firstserver servesfirst firsttoserve startingserve servingfirst",
    ),
    (Column::Id, Sure, "id matchid"),
    (
        Column::BothTeams,
        Sure,
        "bothteams matchup fixture pairing teamvteam teamsplaying",
    ),
    (Column::BothTeams, Perhaps, "teams match game"),
    (Column::TeamA, Sure, "home hometeam"),
    (
        Column::TeamB,
        Sure,
        "away awayteam visitor visitors visitingteam guest guests guestteam",
    ),
];

/// What a team can be called: itself, and whether the word can stand before a
/// number (`a1`) without meaning something else.
const MARKS: &[(&str, bool, bool)] = &[
    // (mark, is of team a, is letter or word)
    ("1", true, false),
    ("a", true, true),
    ("one", true, true),
    ("first", true, true),
    ("home", true, true),
    ("2", false, false),
    ("b", false, true),
    ("two", false, true),
    ("second", false, true),
    ("away", false, true),
];

/// Names of a team's columns; `@` stands for what the team is called.
const OF_A_TEAM: &[(&str, [Column; 2])] = &[
    (
        "team@ team@name @team @teamname teamname@ nameteam@ nameofteam@ side@ pair@ couple@ entry@ \
      competitor@ participant@ teams@",
        [Column::TeamA, Column::TeamB],
    ),
    (
        "team@players team@playernames players@ players@team playersteam@ playersofteam@ @players \
      @teamplayers pair@players team@names namesteam@ team@roster",
        [Column::PlayersA, Column::PlayersB],
    ),
    (
        "team@player1 team@p1 player1team@ player1ofteam@ pair@player1 team@firstplayer team@player \
      team@playerone team@playera side@player1 @teamplayer1",
        [Column::PlayerA1, Column::PlayerB1],
    ),
    (
        "team@player2 team@p2 player2team@ player2ofteam@ pair@player2 team@secondplayer team@partner \
      team@playertwo team@playerb side@player2 @teamplayer2 partnerteam@ pair@partner",
        [Column::PlayerA2, Column::PlayerB2],
    ),
    (
        "color@ team@color @color @teamcolor colorteam@ colorofteam@ teamcolor@ pair@color shirt@ \
      team@shirt shirtcolor@ shirtcolorteam@ team@shirtcolor",
        [Column::ColorA, Column::ColorB],
    ),
];

/// The same, where what the team is called is no number: `playera1`.
const OF_A_NAMED_TEAM: &[(&str, [Column; 2])] = &[
    (
        "player@1 @player1 @1 p@1 @p1 @playerone",
        [Column::PlayerA1, Column::PlayerB1],
    ),
    (
        "player@2 @player2 @2 p@2 @p2 @playertwo @partner partner@",
        [Column::PlayerA2, Column::PlayerB2],
    ),
];

static KNOWN: LazyLock<HashMap<String, (Column, Sureness)>> = LazyLock::new(|| {
    let mut known = HashMap::new();
    for (column, sureness, names) in PLAIN {
        for name in names.split_whitespace() {
            known.insert(name.to_owned(), (*column, *sureness));
        }
    }
    for (mark, is_a, is_word) in MARKS {
        let named = OF_A_NAMED_TEAM.iter().filter(|_| *is_word);
        for (names, columns) in OF_A_TEAM.iter().chain(named) {
            for name in names.split_whitespace() {
                let column = columns[usize::from(!is_a)];
                known.insert(name.replace('@', mark), (column, Sure));
            }
        }
    }
    known
});

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(heading: &str, expected: Column) {
        let found = known(&key(heading)).map(|(column, _)| column);
        assert_eq!(found, Some(expected), "{heading}");
    }

    /// Common practice: what schedules of clubs call their columns.
    #[test]
    fn usual_names_are_known_without_case_spaces_and_punctuation() {
        for (heading, column) in [
            ("team_a", Column::TeamA),
            ("Team 1", Column::TeamA),
            ("TEAM B", Column::TeamB),
            ("Home", Column::TeamA),
            ("Visitors", Column::TeamB),
            ("second team", Column::TeamB),
            ("Team #2", Column::TeamB),
            ("Team 1 – Player 2", Column::PlayerA2),
            ("Player 1 (Team B)", Column::PlayerB1),
            ("Team 2 partner", Column::PlayerB2),
            ("A1", Column::PlayerA1),
            ("b2", Column::PlayerB2),
            ("players_a", Column::PlayersA),
            ("Team A players", Column::PlayersA),
            ("Court #", Column::Court),
            ("Start time", Column::Time),
            ("Rd.", Column::Round),
            ("Team 1 colour", Column::ColorA),
            ("Color B", Column::ColorB),
            ("Best of", Column::Games),
            ("Win by", Column::WinBy),
            ("Match ID", Column::Id),
            ("First serve", Column::FirstServe),
        ] {
            check(heading, column);
        }
    }

    #[test]
    fn what_could_be_either_teams_is_not_guessed() {
        // Player A of team 1, or player 1 of team A?
        for heading in [
            "Player 1A",
            "Player 2B",
            "1A",
            "Name",
            "Referee",
            "Date",
            "No.",
        ] {
            assert_eq!(known(&key(heading)), None, "{heading}");
        }
    }
}
