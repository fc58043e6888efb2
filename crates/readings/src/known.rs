//! The first-party indicators that the host itself reads or names for people.
//!
//! Everywhere else an indicator is a name that comes from a plugin and goes to
//! whoever shows it. What is said here is the only thing the host knows about
//! an indicator beforehand; a plugin that takes the place of a first-party one
//! is taken at the same word.

use strum::{EnumString, IntoStaticStr, VariantArray};

use crate::reading::ReadingKey;

/// A first-party indicator that the host reads or names for people; what each
/// one means is in its plugin's README.
#[derive(Debug, Clone, Copy, PartialEq, Eq, EnumString, IntoStaticStr, VariantArray)]
pub enum KnownIndicator {
    /// Who holds the initiative.
    #[strum(serialize = "initiative")]
    Initiative,
    /// Where each team stands.
    #[strum(serialize = "depth")]
    Depth,
    /// A line for the commentator; goes to the booth only.
    #[strum(serialize = "prompt")]
    Prompt,
    /// Rallies won under pressure.
    #[strum(serialize = "pressed.won")]
    PressedWon,
    /// Rallies won without pressure.
    #[strum(serialize = "unpressed.won")]
    UnpressedWon,
    /// Pressed defense spells that did not end in a lost rally.
    #[strum(serialize = "escape.share")]
    EscapeShare,
    /// Such spells in a row.
    #[strum(serialize = "escape.streak")]
    EscapeStreak,
    /// The longest such row.
    #[strum(serialize = "escape.best")]
    EscapeBest,
    /// Defense spells after the return that ended well.
    #[strum(serialize = "approach.reached")]
    ApproachReached,
    /// Attacks won.
    #[strum(serialize = "offense.finished")]
    OffenseFinished,
    /// First attacks out of neutral.
    #[strum(serialize = "neutral.first")]
    NeutralFirst,
    /// Attacking opponents who were made to let the ball bounce.
    #[strum(serialize = "defense.bounced")]
    DefenseBounced,
    /// High balls of the opponents won.
    #[strum(serialize = "sitter.punished")]
    SitterPunished,
    /// Rallies won with a speedup.
    #[strum(serialize = "speedup.won")]
    SpeedupWon,
    /// Rallies lost by an unforced error.
    #[strum(serialize = "gift.share")]
    GiftShare,
    /// Rallies won on serve.
    #[strum(serialize = "serve.won")]
    ServeWon,
    /// Rallies won with a third shot of each stroke.
    #[strum(serialize = "third.won")]
    ThirdWon,
    /// How unlikely a row of escapes is.
    #[strum(serialize = "escape.unlikely")]
    EscapeUnlikely,
    /// Points in a row.
    #[strum(serialize = "score.run")]
    ScoreRun,
    /// The chance to win the game.
    #[strum(serialize = "win.game")]
    WinGame,
    /// The chance to win the match.
    #[strum(serialize = "win.match")]
    WinMatch,
    /// How much the next rally moves the chance to win the match.
    #[strum(serialize = "win.swing")]
    WinSwing,
    /// A player's part of the team's shots.
    #[strum(serialize = "player.shots")]
    PlayerShots,
    /// A player's shots struck on defense.
    #[strum(serialize = "player.pressed")]
    PlayerPressed,
    /// A player's part of the team's errors.
    #[strum(serialize = "player.errors")]
    PlayerErrors,
    /// Shots of the current or latest rally.
    #[strum(serialize = "rally.shots")]
    RallyShots,
    /// Shots of the longest rally.
    #[strum(serialize = "rally.longest")]
    RallyLongest,
    /// The time between the latest shots of the rally.
    #[strum(serialize = "rally.tempo")]
    RallyTempo,
    /// Rallies charted completely.
    #[strum(serialize = "charting.coverage")]
    ChartingCoverage,
}

impl KnownIndicator {
    /// All of them.
    pub const ALL: &[Self] = Self::VARIANTS;

    /// The name under which its plugin publishes it.
    #[must_use]
    pub fn name(self) -> &'static str {
        self.into()
    }

    /// The one that is published under this name, if it is one of these.
    #[must_use]
    pub fn from_name(name: &str) -> Option<Self> {
        name.parse().ok()
    }

    /// Whether a reading under `key` is one of it.
    #[must_use]
    pub fn names(self, key: &ReadingKey) -> bool {
        key.indicator == self.name()
    }

    /// Whether it says something only where shots are charted.
    #[must_use]
    pub fn needs_shots(self) -> bool {
        !matches!(
            self,
            Self::Prompt
                | Self::ServeWon
                | Self::ScoreRun
                | Self::WinGame
                | Self::WinMatch
                | Self::WinSwing
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_one_is_found_by_its_name() {
        for known in KnownIndicator::ALL {
            assert_eq!(KnownIndicator::from_name(known.name()), Some(*known));
        }
        assert_eq!(KnownIndicator::PressedWon.name(), "pressed.won");
        assert_eq!(KnownIndicator::from_name("pressed"), None);
    }
}
