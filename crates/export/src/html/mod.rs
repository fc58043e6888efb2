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

use maud::{DOCTYPE, Markup, PreEscaped, html};
use rallytide_chart::{Play, Team};
use rallytide_court::{Aside, Chronicle, Part};
use rallytide_scoring::what_happened;

use crate::words::{clock_words, one_line, team_name};

const STYLE: &str = include_str!("page.css");

/// The match as a page.
#[must_use]
pub fn page(chronicle: &Chronicle) -> String {
    let title = summary::title(chronicle);
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
                header { (summary::header(chronicle, &title)) }
                main {
                    (summary::score(chronicle))
                    (numbers::section(chronicle))
                    (games(chronicle))
                    (reading_guide(chronicle))
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
fn games(chronicle: &Chronicle) -> Markup {
    let mut games: Vec<(u32, Vec<&Part>)> = Vec::new();
    for part in &chronicle.parts {
        let game = match part {
            Part::Rally(rally) => rally.before.game,
            Part::Aside(aside) => aside.before.game,
        };
        match games.last_mut() {
            Some((current, parts)) if *current == game => parts.push(part),
            _ => games.push((game, vec![part])),
        }
    }
    html! {
        @for (place, (game, parts)) in games.iter().enumerate() {
            // The referee can turn games over, so that a number comes twice.
            @let id = format!("games-{}", place + 1);
            section.game aria-labelledby=(id) {
                h2 id=(id) { (summary::game_heading(chronicle, *game)) }
                @if parts.iter().any(|part| matches!(part, Part::Rally(_))) {
                    nav.rallies aria-label={ "Rallies of game " (game) ", part " (place + 1) } {
                        @for part in parts {
                            @if let Part::Rally(rally) = part { (rally::link(rally)) " " }
                        }
                    }
                }
                @for part in parts {
                    @match part {
                        Part::Rally(rally) => (rally::article(chronicle, rally)),
                        Part::Aside(aside) => (aside_line(chronicle, aside)),
                    }
                }
            }
        }
    }
}

fn aside_line(chronicle: &Chronicle, aside: &Aside) -> Markup {
    let words = match &*aside.play {
        Play::Note { text } => format!("Note: {}", one_line(text)),
        play => one_line(&what_happened(
            &chronicle.header,
            &aside.before,
            play,
            &aside.after,
        )),
    };
    html! {
        p.aside {
            span.clock { (clock_words(chronicle.since_start(aside.clocked))) }
            " " (words)
            @if let Some(number) = aside.rally { " (in rally " (number) ")" }
        }
    }
}

fn reading_guide(chronicle: &Chronicle) -> Markup {
    let name = |team| team_name(&chronicle.header, team);
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
