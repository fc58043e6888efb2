//! A page for people: the whole match in one file that needs neither network nor
//! script, to be read on a screen or printed.
//!
//! The look is that of the host's pages: team a is round and stands above, team b
//! is a diamond and stands below; who is on offense is told by place, shape and
//! words, color goes along. Every text is escaped by the template.

mod numbers;
mod players;
mod rally;
mod ribbon;
mod shapes;
mod summary;
mod value_cell;

use maud::{DOCTYPE, Markup, PreEscaped, html};
use rallytide_chart::{Play, Team};
use rallytide_match_record::{MatchRecord, RecordItem, RecordedIncident};
use rallytide_scoring::what_happened;

use crate::words::{clock_words, one_line, team_name};

const STYLE: &str = include_str!("html/page.css");

/// The match as a page.
#[must_use]
pub fn page(record: &MatchRecord) -> String {
    let title = summary::title(record);
    let markup = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                (shapes::definitions())
                header { (summary::header(record, &title)) }
                main {
                    (summary::score(record))
                    (numbers::section(record))
                    (games(record))
                    (reading_guide(record))
                }
                footer { (cautions()) }
            }
        }
    };
    let mut text = markup.into_string();
    text.push('\n');
    text
}

/// The rallies and what happened between them, game by game.
fn games(record: &MatchRecord) -> Markup {
    let mut games: Vec<(u32, Vec<&RecordItem>)> = Vec::new();
    for part in &record.items {
        let game = match part {
            RecordItem::Rally(rally) => rally.before.game,
            RecordItem::RecordedIncident(incident) => incident.before.game,
        };
        match games.last_mut() {
            Some((current, items)) if *current == game => items.push(part),
            _ => games.push((game, vec![part])),
        }
    }
    html! {
        @for (place, (game, items)) in games.iter().enumerate() {
            // The referee can turn games over, so that a number comes twice.
            @let id = format!("games-{}", place + 1);
            section.game aria-labelledby=(id) {
                h2 id=(id) { (summary::game_heading(record, *game)) }
                @if items.iter().any(|part| matches!(part, RecordItem::Rally(_))) {
                    nav.rallies aria-label={ "Rallies of game " (game) ", part " (place + 1) } {
                        @for part in items {
                            @if let RecordItem::Rally(rally) = part { (rally::link(rally)) " " }
                        }
                    }
                }
                @for part in items {
                    @match part {
                        RecordItem::Rally(rally) => (rally::article(record, rally)),
                        RecordItem::RecordedIncident(incident) => (incident_line(record, incident)),
                    }
                }
            }
        }
    }
}

fn incident_line(record: &MatchRecord, incident: &RecordedIncident) -> Markup {
    let words = match &*incident.play {
        Play::Note { text } => format!("Note: {}", one_line(text)),
        play => one_line(&what_happened(
            &record.header,
            &incident.before,
            play,
            &incident.after,
        )),
    };
    html! {
        p.aside {
            span.clock { (clock_words(record.since_start(incident.time))) }
            " " (words)
            @if let Some(number) = incident.rally { " (in rally " (number) ")" }
        }
    }
}

fn reading_guide(record: &MatchRecord) -> Markup {
    let name = |team| team_name(&record.header, team);
    html! {
        section.guide aria-labelledby="guide" {
            h2 id="guide" { "How to read this" }
            p {
                "A rally's ribbon has a mark a shot: its shape says who struck it ("
                (shapes::inline(Team::A)) " " bdi { (name(Team::A)) } ", "
                (shapes::inline(Team::B)) " " bdi { (name(Team::B)) }
                "), its height who holds the initiative after it: up for the first team, down for \
                 the second, in the middle for nobody; the further, the clearer. A broken empty \
                 mark is a shot nobody recorded."
            }
            p {
                "A team is on offense when less speaks against it than against the other: a high \
                 ball, a player off balance, a half volley, a ball the opponents took in the air or \
                 sped up, being pinned back. What is assumed and not seen says so. \
                 These rules are common practice among coaches; no published standard has them."
            }
            p {
                "Times count from the first entry of the chart. A percentage comes only from eight \
                 cases on; the range below it holds the true share in 95 of 100 such samples \
                 (Wilson score interval). A chart is one person's view: look at the video before \
                 you judge a player by it."
            }
        }
    }
}

fn cautions() -> Markup {
    html! {
        p {
            "Names and notes in here are personal data: pass this file on only with the consent of \
             those it names, and of the guardians of minors. The event's rules and local law come \
             first."
        }
    }
}
