//! The numbers that are named for people, in the order they are shown; the same
//! names as on the booth's page (a test compares them). A reading that is not
//! listed stays out of the page for people, because a number without words helps
//! nobody; the table of readings has them all.

/// A number with its name.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Named {
    pub(crate) indicator: &'static str,
    pub(crate) slot: Option<&'static str>,
    pub(crate) label: &'static str,
    /// What it is called where the row above it is not there to lean on.
    alone: Option<&'static str>,
    /// It speaks of the moment: of no use once the match is over.
    pub(crate) momentary: bool,
}

impl Named {
    /// Whether its name goes on from a row above it.
    pub(crate) fn leans_on_above(&self) -> bool {
        self.alone.is_some()
    }

    /// What it is called where that row is not there.
    pub(crate) fn alone_label(&self) -> &'static str {
        self.alone.unwrap_or(self.label)
    }
}

const fn named(indicator: &'static str, label: &'static str) -> Named {
    Named {
        indicator,
        slot: None,
        label,
        alone: None,
        momentary: false,
    }
}

const fn of_slot(indicator: &'static str, slot: &'static str, label: &'static str) -> Named {
    Named {
        slot: Some(slot),
        ..named(indicator, label)
    }
}

const fn now(indicator: &'static str, label: &'static str) -> Named {
    Named {
        momentary: true,
        ..named(indicator, label)
    }
}

const fn alone(named: Named, label: &'static str) -> Named {
    Named {
        alone: Some(label),
        ..named
    }
}

/// Numbers that each team has. The first row leads them: the sentence that players
/// understand.
pub(crate) const OF_TEAMS: &[Named] = &[
    named("pressed.won", "Rallies won under pressure"),
    alone(
        named("unpressed.won", "… otherwise"),
        "Rallies won without pressure",
    ),
    named("escape.share", "Came out of pressure"),
    alone(
        now("escape.streak", "… current streak"),
        "Current streak out of pressure",
    ),
    alone(
        named("escape.best", "… best streak"),
        "Best streak out of pressure",
    ),
    named("approach.reached", "Out of defense after the return"),
    named("offense.finished", "Attacks won"),
    named("neutral.first", "Attacked first from neutral"),
    named("defense.bounced", "From defense, made them let it bounce"),
    named("sitter.punished", "Won off a high ball"),
    of_slot("speedup.won", "sitter", "Speedups off a high ball, won"),
    of_slot("speedup.won", "other", "Other speedups, won"),
    named("gift.share", "Lost by an unforced error"),
    named("serve.won", "Rallies won on serve"),
    of_slot("third.won", "drop", "Won with a third-shot drop"),
    of_slot("third.won", "drive", "Won with a third-shot drive"),
    of_slot("third.won", "lob", "Won with a third-shot lob"),
    now("score.run", "Points in a row"),
    now("win.game", "Chance to win this game"),
    now("win.match", "Chance to win the match"),
];

/// Numbers that each player has, where players are named.
pub(crate) const OF_PLAYERS: &[Named] = &[
    named("player.shots", "Shots from the third on"),
    named("player.pressed", "Of these, struck on defense"),
    named("player.errors", "The team's errors"),
];

/// Numbers of the match.
pub(crate) const OF_MATCH: &[Named] = &[
    now("win.swing", "Swing of the next rally"),
    now("rally.shots", "Shots in this rally"),
    named("rally.longest", "Longest rally"),
    named("charting.coverage", "Rallies charted completely"),
];

/// What an indicator is called where it stands alone; `None` for one that has no
/// name yet.
#[must_use]
pub fn label(indicator: &str, slot: Option<&str>) -> Option<&'static str> {
    let mut all = OF_TEAMS.iter().chain(OF_PLAYERS).chain(OF_MATCH);
    let found = all.find(|one| one.indicator == indicator && one.slot == slot)?;
    Some(found.alone_label())
}
