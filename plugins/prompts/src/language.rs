//! What a language has to bring along to say prompts, and saying one.
//!
//! Invariant: a text has at most [`MOST_WORDS`] words, or it is not said.

use rallytide_plugin_kit::{PerTeam, Team};

use crate::phrases::Phrase;
use crate::sources::Figure;

/// Words of a prompt at most: what can be said in one go.
pub const MOST_WORDS: usize = 20;

/// Everything about a language. The words of a phrase hold places: `{team}` and
/// `{other}` (the opponents), `{has}`, `{serves}` and `{won}` (which go with the team before
/// them), `{0}`, `{1}` for the figures in order, and the named ones of
/// [`Filling::places`].
pub struct Language {
    /// What joins two names.
    pub and: &'static str,
    /// What a team is called whose name cannot be said.
    pub nameless: fn(Team) -> &'static str,
    /// The ways to say a phrase, the plainest first.
    pub ways: fn(Phrase) -> &'static [&'static str],
    /// "2 of 3".
    pub share: fn(part: u32, whole: u32) -> String,
    /// "11–7".
    pub score: fn(own: u32, others: u32) -> String,
    /// "11–7, 8–11 and 11–9".
    pub scores: fn(&[(u32, u32)]) -> String,
    /// "the last game".
    pub span: fn(Span) -> &'static str,
    /// "has" or "have", whichever goes with the name.
    pub has: fn(name: &str) -> &'static str,
    /// "serves" or "serve", whichever goes with the name.
    pub serves: fn(name: &str) -> &'static str,
    /// What a team has won so far, or won in a match that is over.
    pub won: fn(name: &str, tense: Tense) -> &'static str,
}

/// Whether what is told goes on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tense {
    /// The match goes on.
    SoFar,
    /// The match is over.
    Over,
}

/// What stands in a named place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PlaceValue {
    /// A number.
    Number(u32),
    /// A score, the team's own first.
    Score(u32, u32),
    /// The scores of games, the team's own first.
    Scores(Vec<(u32, u32)>),
    /// A name.
    Name(String),
    /// What a recap is of.
    Span(Span),
}

/// What a recap is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Span {
    /// A game, after which the match goes on.
    Game,
    /// A match of one game.
    Match,
    /// The last game of a match.
    LastGame,
    /// The same, of a match that was level in games before it.
    Decider,
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
    /// The named places.
    pub places: &'a [(&'static str, PlaceValue)],
    /// Whether the match goes on.
    pub tense: Tense,
}

impl Language {
    /// The text of one way to say a phrase. `None` if something that fills a place
    /// is missing, or if it is too long.
    #[must_use]
    pub fn say(&self, way: &str, filling: &Filling) -> Option<String> {
        let (start, rest) = way.split_once('{').unwrap_or((way, ""));
        let mut text = start.to_owned();
        for part in rest.split('{').filter(|part| !part.is_empty()) {
            let (place, words) = part.split_once('}')?;
            text.push_str(&self.filled(place, filling)?);
            text.push_str(words);
        }
        (text.split_whitespace().count() <= MOST_WORDS).then_some(text)
    }

    fn filled(&self, place: &str, filling: &Filling) -> Option<String> {
        let name = &filling.names[filling.team];
        Some(match place {
            "team" => name.clone(),
            "other" => filling.names[filling.team.other()].clone(),
            "has" => (self.has)(name).to_owned(),
            "serves" => (self.serves)(name).to_owned(),
            "won" => (self.won)(name, filling.tense).to_owned(),
            _ => match place.parse::<usize>() {
                Ok(figure) => self.figure((*filling.figures.get(figure)?)?)?,
                Err(_) => {
                    let mut places = filling.places.iter();
                    let (_, said) = places.find(|(one, _)| *one == place)?;
                    self.place(said)
                }
            },
        })
    }

    /// A figure as it is said. A chance never is.
    fn figure(&self, figure: Figure) -> Option<String> {
        match figure {
            Figure::Count(count) => Some(count.to_string()),
            Figure::Share { part, whole } => Some((self.share)(part, whole)),
            Figure::Percent(_) => None,
        }
    }

    fn place(&self, said: &PlaceValue) -> String {
        match said {
            PlaceValue::Number(number) => number.to_string(),
            PlaceValue::Score(own, others) => (self.score)(*own, *others),
            PlaceValue::Scores(scores) => (self.scores)(scores),
            PlaceValue::Name(name) => name.clone(),
            PlaceValue::Span(span) => (self.span)(*span).to_owned(),
        }
    }
}
