//! The aspects of a match that two charters can agree or differ about, and the
//! cases of each.

use rallytide_chart::{Contact, Cue, Depth, FaultKind, How, Stroke};

use crate::kappa::{CrossTable, Weights};
use crate::report::Difference;

/// An aspect of a match that both charts say something about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Aspect {
    Winner,
    How,
    By,
    ByPlayer,
    Fault,
    Team,
    Player,
    Stroke,
    Contact,
    Cue(Cue),
    Depth,
    Holder,
}

impl Aspect {
    /// All of them, in the order of the report.
    pub(crate) fn all() -> Vec<Self> {
        let mut all = vec![
            Self::Winner,
            Self::How,
            Self::By,
            Self::ByPlayer,
            Self::Fault,
        ];
        all.extend([Self::Team, Self::Player, Self::Stroke, Self::Contact]);
        all.extend(Cue::ALL.iter().map(|cue| Self::Cue(*cue)));
        all.extend([Self::Depth, Self::Holder]);
        all
    }

    /// The word in machine output.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Winner => "rally_winner",
            Self::How => "rally_how",
            Self::By => "rally_by",
            Self::ByPlayer => "rally_player",
            Self::Fault => "rally_fault",
            Self::Team => "team",
            Self::Player => "player",
            Self::Stroke => "stroke",
            Self::Contact => "contact",
            Self::Cue(cue) => cue.word(),
            Self::Depth => "depth",
            Self::Holder => "initiative",
        }
    }

    /// What is compared, for people.
    pub(crate) fn about(self) -> &'static str {
        match self {
            Self::Winner => "who won the rally",
            Self::How => "how it ended",
            Self::By => "who ended it",
            Self::ByPlayer => "which player ended it",
            Self::Fault => "which fault",
            Self::Team => "who struck the shot",
            Self::Player => "which player struck it",
            Self::Stroke => "the stroke",
            Self::Contact => "where the ball was taken",
            Self::Cue(Cue::OffBalance) => "off balance marked",
            Self::Cue(Cue::Awkward) => "awkward marked",
            Self::Cue(Cue::Attackable) => "high ball marked",
            Self::Cue(Cue::NetCord) => "net cord marked",
            Self::Depth => "where a team stood",
            Self::Holder => "who held the initiative",
        }
    }

    /// What can be said of it, in order where it has one.
    pub(crate) fn categories(self) -> Vec<&'static str> {
        match self {
            Self::Winner => vec!["a", "b", "not_counted"],
            Self::How => How::ALL.iter().map(|how| how.word()).collect(),
            Self::By | Self::Team => vec!["a", "b"],
            Self::ByPlayer | Self::Player => vec!["0", "1"],
            Self::Fault => FaultKind::ALL.iter().map(|fault| fault.word()).collect(),
            Self::Stroke => Stroke::ALL.iter().map(|stroke| stroke.word()).collect(),
            Self::Contact => Contact::ALL.iter().map(|contact| contact.word()).collect(),
            Self::Cue(_) => vec!["seen", "not_seen"],
            Self::Depth => Depth::ALL.iter().map(|depth| depth.word()).collect(),
            Self::Holder => vec!["a", "b", "nobody"],
        }
    }

    pub(crate) fn weights(self) -> Weights {
        match self {
            Self::Depth => Weights::Linear,
            _ => Weights::Alike,
        }
    }
}

/// The cases of one aspect.
pub(crate) struct Cases {
    pub(crate) kind: Aspect,
    pub(crate) categories: Vec<&'static str>,
    pub(crate) table: CrossTable,
    /// How often one alone said something.
    pub(crate) only_a: u32,
    pub(crate) only_b: u32,
}

impl Cases {
    pub(crate) fn new(kind: Aspect) -> Self {
        let categories = kind.categories();
        Self {
            kind,
            table: CrossTable::new(categories.len()),
            categories,
            only_a: 0,
            only_b: 0,
        }
    }

    /// Takes what each said, `None` for nothing; a difference is a place, at
    /// `place`. Words that are none of the aspect's count as nothing said.
    pub(crate) fn take(
        &mut self,
        a: Option<&str>,
        b: Option<&str>,
        place: &Difference,
    ) -> Option<Difference> {
        let find = |said: Option<&str>| {
            let said = said?;
            self.categories.iter().position(|word| *word == said)
        };
        match (find(a), find(b)) {
            (Some(a), Some(b)) => {
                self.table.count(a, b);
                (a != b).then(|| Difference {
                    kind: self.kind.word(),
                    a: self.categories[a].into(),
                    b: self.categories[b].into(),
                    ..place.clone()
                })
            }
            (Some(_), None) => {
                self.only_a += 1;
                None
            }
            (None, Some(_)) => {
                self.only_b += 1;
                None
            }
            (None, None) => None,
        }
    }
}
