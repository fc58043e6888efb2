//! What stands at the top: who played, and the score by game.

use maud::{Markup, html};
use rallytide_chart::{PairOf, Team};
use rallytide_match_record::MatchRecord;
use rallytide_scoring::Score;

use super::shapes;
use crate::words::{
    call_words, clock_words, counted, format_words, one_line, player_name, team_name,
};

/// The match's title, else its teams.
pub(super) fn title(record: &MatchRecord) -> String {
    let header = &record.header;
    match one_line(&header.title).as_str() {
        "" => format!(
            "{} against {}",
            team_name(header, Team::A),
            team_name(header, Team::B)
        ),
        title => title.to_owned(),
    }
}

pub(super) fn header(record: &MatchRecord, title: &str) -> Markup {
    let header = &record.header;
    let court = one_line(&header.court);
    // The day as the charter's clock had it in UTC.
    let day = record.begins.map(|at| at.to_string());
    let day = day.as_deref().and_then(|text| text.split_once('T'));
    html! {
        h1 { (title) }
        p.about {
            (format_words(&header.format))
            " · charted: " (record.charting_depth().words())
            @if !court.is_empty() { " · court " (court) }
            @if let Some((day, time)) = day {
                " · charted from " (day) ", " (time.get(..5).unwrap_or_default()) " UTC"
            }
        }
    }
}

pub(super) fn score(record: &MatchRecord) -> Markup {
    let closing = &record.closing;
    let columns = columns(closing);
    html! {
        section.score aria-labelledby="score" {
            h2 id="score" { "Score" }
            table {
                thead {
                    tr {
                        th scope="col" { "Team" }
                        @for number in 1..=columns.len() {
                            th scope="col" { "Game " (number) }
                        }
                        th scope="col" { "Games won" }
                    }
                }
                tbody {
                    @for team in Team::ALL {
                        tr {
                            th scope="row" { (team_cell(record, *team)) }
                            @for points in &columns {
                                td.won[points.of(*team) > points.of(team.other())] { (points.of(*team)) }
                            }
                            td { (closing.games.of(*team)) }
                        }
                    }
                }
            }
            p.result { (result(record)) }
            p.size { (size(record)) }
        }
    }
}

/// The games over, then the one being played.
fn columns(closing: &Score) -> Vec<PairOf<u32>> {
    let mut columns = closing.finished.as_ref().clone();
    // A match that was played to its end has its last game among those over; one
    // that a team gave up has not.
    let last_is_over = closing.winner.is_some() && closing.finished.last() == Some(&closing.points);
    if !last_is_over {
        columns.push(closing.points);
    }
    columns
}

fn team_cell(record: &MatchRecord, team: Team) -> Markup {
    let header = &record.header;
    let players: Vec<String> = (0..header.format.team_size())
        .filter_map(|player| player_name(header, team, player))
        .collect();
    let name = team_name(header, team);
    html! {
        (shapes::inline(team)) " " bdi { (name) }
        @if !players.is_empty() && players != [name] {
            span.players { (players.join(", ")) }
        }
    }
}

fn result(record: &MatchRecord) -> String {
    let closing = &record.closing;
    let header = &record.header;
    let Some(winner) = closing.winner else {
        return match record.begins {
            None => "Nothing has been charted yet.".into(),
            Some(_) => format!(
                "Not finished: {} in game {}.",
                call_words(closing),
                closing.game
            ),
        };
    };
    let retired = *closing.games.of(winner) < header.format.games_to_win();
    let how = if retired { ", opponents retired" } else { "" };
    format!("{} won the match{how}.", team_name(header, winner))
}

fn size(record: &MatchRecord) -> String {
    let rallies = record.closing.rallies;
    let shots: usize = record.rallies().map(|rally| rally.shots.len()).sum();
    let last = record
        .rallies()
        .filter_map(|rally| rally.end.as_ref())
        .last();
    let mut words = match rallies {
        1 => "1 rally".to_owned(),
        _ => format!("{rallies} rallies"),
    };
    if shots > 0 {
        words = format!("{words}, {}", counted(shots, "shot"));
    }
    if let Some(end) = last {
        let lasted = record.since_start(end.time);
        words = format!(
            "{words}, {} from the first entry to the end of the last rally",
            clock_words(lasted)
        );
    }
    format!("{words}.")
}

/// "Game 2: 11–7".
pub(super) fn game_heading(record: &MatchRecord, game: u32) -> String {
    let finished = &record.closing.finished;
    match finished.get((game as usize).saturating_sub(1)) {
        Some(points) => format!("Game {game}: {}–{}", points.a, points.b),
        None => format!("Game {game}"),
    }
}
