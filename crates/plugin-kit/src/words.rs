//! The interface's small vocabularies as text, as the chart writes them.

use crate::{Contact, Cue, Depth, Stroke};

macro_rules! words {
    ($name:ident { $($variant:ident = $word:literal),+ $(,)? }) => {
        impl $name {
            /// All of them, in the order of the interface.
            pub const ALL: &[Self] = &[$(Self::$variant),+];

            /// The word for it.
            #[must_use]
            pub fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }

            /// What the word means; none where it is unknown.
            #[must_use]
            pub fn from_word(word: &str) -> Option<Self> {
                match word { $($word => Some(Self::$variant),)+ _ => None }
            }
        }
    };
}

words!(Stroke {
    Serve = "serve",
    Return = "return",
    Drive = "drive",
    Drop = "drop",
    Dink = "dink",
    Lob = "lob",
    Reset = "reset",
    Volley = "volley",
    Block = "block",
    Speedup = "speedup",
    Overhead = "overhead",
    Erne = "erne",
    Atp = "atp",
    Other = "other",
});

words!(Contact {
    Bounce = "bounce",
    Air = "air",
    HalfVolley = "half_volley",
});

words!(Cue {
    OffBalance = "off_balance",
    Awkward = "awkward",
    Attackable = "attackable",
    NetCord = "net_cord",
});

words!(Depth {
    Line = "line",
    Transition = "transition",
    Back = "back",
});

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_word_means_what_it_stands_for() {
        for stroke in Stroke::ALL {
            assert_eq!(Stroke::from_word(stroke.word()), Some(*stroke));
        }
        assert_eq!(Depth::Back.word(), "back");
        assert_eq!(Cue::from_word("smash"), None);
    }
}
