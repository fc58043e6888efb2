//! The closed vocabularies of the chart: teams, kinds, strokes, contacts, cues, …
//!
//! Each word is written in files and on the wire exactly as [`word`](Stroke::word)
//! gives it. The lists are closed: an unknown word is refused with all known ones.

use serde::{Deserialize, Serialize};

macro_rules! vocabulary {
    ($(#[$meta:meta])* $name:ident { $($(#[$item_meta:meta])* $variant:ident = $word:literal,)+ }) => {
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
        pub enum $name {
            $($(#[$item_meta])* #[serde(rename = $word)] $variant,)+
        }

        impl $name {
            /// Every word of the list, in the order of declaration.
            pub const ALL: &[Self] = &[$(Self::$variant),+];

            /// The word as it is written in files and on the wire.
            #[must_use]
            pub fn word(self) -> &'static str {
                match self { $(Self::$variant => $word,)+ }
            }

            /// Finds the member written as `word`; `None` for an unknown word.
            #[must_use]
            pub fn from_word(word: &str) -> Option<Self> {
                match word { $($word => Some(Self::$variant),)+ _ => None }
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str(self.word())
            }
        }
    };
}

vocabulary! {
    /// One of the two sides of the match.
    Team {
        /// The first team of the header.
        A = "a",
        /// The second team of the header.
        B = "b",
    }
}

impl Team {
    /// The opponents.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::A => Self::B,
            Self::B => Self::A,
        }
    }
}

vocabulary! {
    /// Every `kind` an entry can have.
    Kind {
        /// A contact with the ball.
        Shot = "shot",
        /// Something seen about a shot.
        Cue = "cue",
        /// Where a team stands.
        Depth = "depth",
        /// The rally is over.
        RallyEnd = "rally_end",
        /// The rally does not count.
        Replay = "replay",
        /// A team takes a time-out.
        TimeOut = "time_out",
        /// A technical foul.
        Penalty = "penalty",
        /// The referee's word on the score.
        ScoreFix = "score_fix",
        /// A new starting server.
        Lineup = "lineup",
        /// A team stops.
        Retire = "retire",
        /// Free text.
        Note = "note",
        /// A correction: an entry never happened.
        Retract = "retract",
        /// A correction: an entry was really another.
        Amend = "amend",
        /// A correction: an entry was missed.
        Insert = "insert",
    }
}

impl Kind {
    /// Whether it corrects what was recorded before.
    #[must_use]
    pub fn is_correction(self) -> bool {
        matches!(self, Self::Retract | Self::Amend | Self::Insert)
    }
}

vocabulary! {
    /// How a ball was struck, as a charter tells strokes apart.
    Stroke {
        /// The stroke that opens a rally.
        Serve = "serve",
        /// The answer to the serve.
        Return = "return",
        /// Firm, off the bounce.
        Drive = "drive",
        /// Soft from deep, meant to land in the kitchen.
        Drop = "drop",
        /// Soft, from kitchen to kitchen.
        Dink = "dink",
        /// Over the opponents.
        Lob = "lob",
        /// Deliberately soft, under attack.
        Reset = "reset",
        /// Any other firm ball in the air.
        Volley = "volley",
        /// Passive, in the air.
        Block = "block",
        /// The first fast ball out of a soft exchange.
        Speedup = "speedup",
        /// A smash.
        Overhead = "overhead",
        /// A volley beside the kitchen.
        Erne = "erne",
        /// Around the post.
        Atp = "atp",
        /// Anything else.
        Other = "other",
    }
}

vocabulary! {
    /// How the ball met the paddle.
    Contact {
        /// After it bounced.
        Bounce = "bounce",
        /// Before it bounced.
        Air = "air",
        /// Right off the bounce, at the feet.
        HalfVolley = "half_volley",
    }
}

vocabulary! {
    /// Something a charter saw about a shot.
    Cue {
        /// Stretched, lunging or falling.
        OffBalance = "off_balance",
        /// Ball behind, cramped or overreached.
        Awkward = "awkward",
        /// The ball this shot sends sits up for the opponents.
        Attackable = "attackable",
        /// The ball touched the net; counts for nobody.
        NetCord = "net_cord",
    }
}

vocabulary! {
    /// Where a team stands between baseline and kitchen line; deeper is greater.
    Depth {
        /// At the kitchen line.
        Line = "line",
        /// On the way.
        Transition = "transition",
        /// Near the baseline.
        Back = "back",
    }
}

vocabulary! {
    /// How a rally ended.
    How {
        /// `by` won it with a ball that was not returned.
        Winner = "winner",
        /// `by` won it with the serve.
        Ace = "ace",
        /// `by` hit the net.
        Net = "net",
        /// `by` hit it out.
        Out = "out",
        /// `by` broke a rule.
        Fault = "fault",
        /// Not seen.
        Unknown = "unknown",
    }
}

vocabulary! {
    /// What kind of fault ended a rally.
    FaultKind {
        /// A fault of the serve.
        Serve = "serve",
        /// In the non-volley zone.
        Kitchen = "kitchen",
        /// Volleyed before the two bounces.
        EarlyVolley = "early_volley",
        /// The ball bounced twice.
        SecondBounce = "second_bounce",
        /// Touched the net.
        NetTouch = "net_touch",
        /// The ball touched a player.
        Body = "body",
        /// Anything else.
        Other = "other",
    }
}

vocabulary! {
    /// What the host tells the charter about an accepted entry. Nothing is
    /// refused for a flag: the charter saw what they saw.
    Flag {
        /// The receiving team served.
        ServeByReceivers = "serve_by_receivers",
        /// Two shots in a row by one team: a shot of the other is assumed between.
        MissedShot = "missed_shot",
        /// A shot of a rally in which no serve has been struck.
        NoServe = "no_serve",
        /// A cue whose shot is not an effective shot of the current rally.
        NoShot = "no_shot",
        /// A time-out by a team that has none left.
        NoTimeOutLeft = "no_time_out_left",
    }
}

/// A value for each team.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct PairOf<T> {
    /// Team a's.
    pub a: T,
    /// Team b's.
    pub b: T,
}

impl<T> PairOf<T> {
    /// The value of `team`.
    pub fn of(&self, team: Team) -> &T {
        match team {
            Team::A => &self.a,
            Team::B => &self.b,
        }
    }

    /// The value of `team`, to change it.
    pub fn of_mut(&mut self, team: Team) -> &mut T {
        match team {
            Team::A => &mut self.a,
            Team::B => &mut self.b,
        }
    }
}
