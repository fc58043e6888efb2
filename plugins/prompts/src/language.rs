//! What a language has to bring along to say prompts, and saying one.
//!
//! Invariant: a text has at most [`MOST_WORDS`] words, or it is not said.

use rallytide_plugin_kit::{PerTeam, Team};

use crate::phrases::Phrase;
use crate::sources::Figure;

/// Words of a prompt at most: one breath.
pub const MOST_WORDS: usize = 14;
/// A share of fewer cases is not told at all.
pub const LEAST_TOLD: u32 = 3;

/// Everything about a language. The phrases hold places: `{team}`, `{other}` (the
/// opponents), `{stroke}`, and `{0}`, `{1}` for the figures in order.
pub struct Language {
    /// What joins two names.
    pub and: &'static str,
    /// What a team is called whose name cannot be said.
    pub nameless: fn(Team) -> &'static str,
    /// The ways to say a phrase, the plainest first.
    pub ways: fn(Phrase) -> &'static [&'static str],
    /// "2 of 3".
    pub share: fn(part: u32, whole: u32) -> String,
    /// "60 percent".
    pub percent: fn(percent: u32) -> String,
    /// A stroke in the plural.
    pub strokes: fn(stroke: &str) -> &'static str,
}

/// What fills the places of a phrase.
#[derive(Debug)]
pub struct Filling<'a> {
    /// What the teams are called.
    pub names: &'a PerTeam<String>,
    /// The team it is about.
    pub team: Team,
    /// The figures, in order; none where nobody says one.
    pub figures: &'a [Option<Figure>],
    /// The slot of a stroke, where there is one.
    pub stroke: &'a str,
}

impl Language {
    /// The text of one way to say a phrase. `None` if one of its figures is missing
    /// or cannot be told, or if it is too long for a breath.
    #[must_use]
    pub fn say(&self, way: &str, filling: &Filling) -> Option<String> {
        let (start, rest) = way.split_once('{').unwrap_or((way, ""));
        let mut text = start.to_owned();
        for part in rest.split('{').filter(|part| !part.is_empty()) {
            let (place, words) = part.split_once('}')?;
            self.fill(place, filling, &mut text)?;
            text.push_str(words);
        }
        (text.split_whitespace().count() <= MOST_WORDS).then_some(text)
    }

    fn fill(&self, place: &str, filling: &Filling, text: &mut String) -> Option<()> {
        match place {
            "team" => text.push_str(&filling.names[filling.team]),
            "other" => text.push_str(&filling.names[filling.team.other()]),
            "stroke" => text.push_str((self.strokes)(filling.stroke)),
            figure => {
                let figure = filling.figures.get(figure.parse::<usize>().ok()?)?;
                text.push_str(&self.tell((*figure)?)?);
            }
        }
        Some(())
    }

    /// A figure as it is said. A share of very few cases and a chance that rounds
    /// to never or always are not.
    fn tell(&self, figure: Figure) -> Option<String> {
        match figure {
            Figure::Count(count) => Some(count.to_string()),
            Figure::Share { part, whole } => {
                (whole >= LEAST_TOLD).then(|| (self.share)(part, whole))
            }
            Figure::Percent(percent) => {
                (1..=99).contains(&percent).then(|| (self.percent)(percent))
            }
        }
    }
}

/// Whether a way to say something has a place for the figure of this number.
#[must_use]
pub fn has_place(way: &str, figure: usize) -> bool {
    way.contains(&format!("{{{figure}}}"))
}
