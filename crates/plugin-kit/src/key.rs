//! What a reading is called by.
//!
//! Names are borrowed where they stand in the plugin's source, so that stating a
//! reading after every entry costs no memory.

use std::borrow::Cow;

use crate::Team;
use crate::interface::rallytide::plugin::types as wire;

/// Names a reading: at most one is current under a key. Keys sort by indicator,
/// team, player and slot, each absent one first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Key {
    /// One of the indicators that a manifest declares.
    pub indicator: Cow<'static, str>,
    /// The team it is about; none: the match.
    pub team: Option<Team>,
    /// The player it is about, 0 or 1.
    pub player: Option<u32>,
    /// A further distinction within the indicator.
    pub slot: Option<Cow<'static, str>>,
}

/// The key of a reading about the match.
#[must_use]
pub fn key(indicator: impl Into<Cow<'static, str>>) -> Key {
    Key {
        indicator: indicator.into(),
        team: None,
        player: None,
        slot: None,
    }
}

/// The key of a reading about a team.
#[must_use]
pub fn about(indicator: impl Into<Cow<'static, str>>, team: Team) -> Key {
    Key {
        team: Some(team),
        ..key(indicator)
    }
}

impl Key {
    /// The same key about a player of the team, 0 or 1.
    #[must_use]
    pub fn player(self, player: u32) -> Self {
        Self {
            player: Some(player),
            ..self
        }
    }

    /// The same key with a slot.
    #[must_use]
    pub fn slot(self, slot: impl Into<Cow<'static, str>>) -> Self {
        Self {
            slot: Some(slot.into()),
            ..self
        }
    }

    fn parts(&self) -> (&str, u8, Option<u32>, Option<&str>) {
        let team = match self.team {
            None => 0,
            Some(Team::A) => 1,
            Some(Team::B) => 2,
        };
        (&self.indicator, team, self.player, self.slot.as_deref())
    }
}

impl Ord for Key {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.parts().cmp(&other.parts())
    }
}

impl PartialOrd for Key {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl From<wire::Key> for Key {
    fn from(sent: wire::Key) -> Self {
        Self {
            indicator: sent.indicator.into(),
            team: sent.team,
            player: sent.player,
            slot: sent.slot.map(Cow::from),
        }
    }
}

impl From<Key> for wire::Key {
    fn from(key: Key) -> Self {
        Self {
            indicator: key.indicator.into_owned(),
            team: key.team,
            player: key.player,
            slot: key.slot.map(Cow::into_owned),
        }
    }
}
