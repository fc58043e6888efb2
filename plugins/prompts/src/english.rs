//! Everything that is ever said, in English.
//!
//! Another language is another file like this one. The places are explained in
//! [`crate::language`]; ways to say one phrase are taken in turns. Each has to be
//! short enough with the longest names, which a test sees to. Numbers stand in
//! places only, never in the words.

use rallytide_plugin_kit::Team;

use crate::language::{Language, Span, Tense};
use crate::phrases::Phrase;

/// English.
pub const ENGLISH: Language = Language {
    and: "and",
    nameless: |team| match team {
        Team::A => "Team A",
        Team::B => "Team B",
    },
    ways,
    share: |part, whole| match part {
        0 => format!("none of {whole}"),
        part => format!("{part} of {whole}"),
    },
    score,
    scores: |games| match games.split_last() {
        None => String::new(),
        Some((last, [])) => score(last.0, last.1),
        Some((last, before)) => {
            let before: Vec<String> = before.iter().map(|game| score(game.0, game.1)).collect();
            format!("{} and {}", before.join(", "), score(last.0, last.1))
        }
    },
    span: |span| match span {
        Span::Game => "the game",
        Span::Match => "the match",
        Span::LastGame => "the last game",
        Span::Decider => "the decider",
    },
    has: |name| if is_pair(name) { "have" } else { "has" },
    serves: |name| if is_pair(name) { "serve" } else { "serves" },
    won: |name, tense| match (tense, is_pair(name)) {
        (Tense::Over, _) => "won",
        (Tense::SoFar, true) => "have won",
        (Tense::SoFar, false) => "has won",
    },
};

fn score(own: u32, others: u32) -> String {
    format!("{own}–{others}")
}

/// A name like "Reed and Lund" takes the plural.
fn is_pair(name: &str) -> bool {
    name.contains(" and ")
}

fn ways(phrase: Phrase) -> &'static [&'static str] {
    points(phrase)
        .or_else(|| play(phrase))
        .or_else(|| numbers(phrase))
        .unwrap_or_else(|| recaps(phrase))
}

fn points(phrase: Phrase) -> Option<&'static [&'static str]> {
    Some(match phrase {
        Phrase::GamePoint => &["{team} reached game point at {points}, with {server} to serve."],
        Phrase::GamePointOnServe => &["{team} {serves} for the game at {points}."],
        Phrase::GamePointAgain => {
            &["{team} got back to game point at {points}, with {server} to serve."]
        }
        Phrase::GamePointAgainOnServe => &["{team} {serves} for the game again at {points}."],
        Phrase::MatchPoint => &["{team} reached match point at {points}, with {server} to serve."],
        Phrase::MatchPointOnServe => &["{team} {serves} for the match at {points}."],
        Phrase::MatchPointAgain => {
            &["{team} got back to match point at {points}, with {server} to serve."]
        }
        Phrase::MatchPointAgainOnServe => &["{team} {serves} for the match again at {points}."],
        Phrase::GamePointSaved => &["{team} saved a game point."],
        Phrase::GamePointsSaved => &["{team} {has} now saved {number} game points in this game."],
        Phrase::MatchPointSaved => &["{team} saved a match point."],
        Phrase::MatchPointsSaved => &["{team} {has} now saved {number} match points."],
        _ => return None,
    })
}

fn play(phrase: Phrase) -> Option<&'static [&'static str]> {
    Some(match phrase {
        Phrase::Ace => &["{player} served an ace to make it {points}."],
        Phrase::AceAgain => &["That was ace number {number} from {player} in this match."],
        Phrase::Erne => &["{player} won the rally with an erne."],
        Phrase::ErneOfTeam => &["An erne won the rally for {player}."],
        Phrase::Atp => &["{player} won the rally with a shot around the post."],
        Phrase::AtpOfTeam => &["A shot around the post won the rally for {player}."],
        Phrase::RunOpens => &["{team} scored the first {0} points of the game."],
        Phrase::RunExtends => {
            &["{team} scored {0} points in a row to extend the lead to {points}."]
        }
        Phrase::RunLeads => &["{team} scored {0} points in a row to lead {points}."],
        Phrase::RunLevels => &["{team} scored {0} points in a row to draw level at {points}."],
        Phrase::RunTrails => &["{team} scored {0} points in a row to get back to {points}."],
        Phrase::Longest => {
            &["The longest rally of the match so far took {0} shots, and {team} won it."]
        }
        Phrase::Streak => {
            &["{team} came out of pressure {0} times in a row, the longest streak of the match."]
        }
        Phrase::TimeOut => &["{other} took a time-out after {team} scored {0} points in a row."],
        _ => return None,
    })
}

fn numbers(phrase: Phrase) -> Option<&'static [&'static str]> {
    Some(match phrase {
        Phrase::Pressed => &["Under pressure, {team} {won} {0} rallies, against {1} for {other}."],
        Phrase::Serving => &["On serve, {team} {won} {0} rallies, against {1} for {other}."],
        Phrase::HighBalls => {
            &["Off high balls, {team} {won} {0} rallies, against {1} for {other}."]
        }
        Phrase::Unforced => &["{team} gave away {0} lost rallies by unforced errors, {other} {1}."],
        Phrase::Drops => &["{team} {won} {0} rallies with a third-shot drop, {other} {1}."],
        Phrase::DropsAndDrives => {
            &["{team} {won} {0} rallies with a third-shot drop and {1} with a drive."]
        }
        Phrase::FirstAttack => {
            &["With everyone at the kitchen line, {team} attacked first in {0} rallies."]
        }
        _ => return None,
    })
}

fn recaps(phrase: Phrase) -> &'static [&'static str] {
    match phrase {
        Phrase::Game => &["{team} won game {game} {points} to lead {games} in games."],
        Phrase::GameLevels => {
            &["{team} won game {game} {points} to draw level at {games} in games."]
        }
        Phrase::GameTrails => &["{team} won game {game} {points} to get back to {games} in games."],
        Phrase::MatchOfOne => &["{team} won the match {points}."],
        Phrase::Match => {
            &["{team} won the match by {own} games to {others}, with scores of {scores}."]
        }
        Phrase::MatchInGames => &["{team} won the match by {own} games to {others}."],
        Phrase::Retired => &["{team} won the match after {other} retired."],
        Phrase::Comeback => &["{team} came back from {low} down to win {span}."],
        Phrase::LastPointsFromBehind => {
            &["{team} scored the last {number} points to win {span} from {low} down."]
        }
        Phrase::Slipped => &["{team} let a {low} lead slip before winning {span}."],
        Phrase::EveryPoint => &["{team} scored every point of {span}."],
        Phrase::LedThroughout => &["{team} led from start to finish in {span}."],
        Phrase::LastLevel => &["{team} pulled away from {low} to win {span}."],
        Phrase::SavedOne => &["{team} saved a game point before winning {span}."],
        Phrase::SavedSome => &["{team} saved {number} game points before winning {span}."],
        Phrase::SavedMatchPoint => &["{team} saved a match point before winning the match."],
        Phrase::SavedMatchPoints => {
            &["{team} saved {number} match points before winning the match."]
        }
        Phrase::LastPoints => &["{team} scored the last {0} points of {span}."],
        Phrase::Total => &["{team} scored {number} points in all, against {others} for {other}."],
        Phrase::Decider => &["Game {game} decides the match, and {server} serves first."],
        _ => &[],
    }
}
