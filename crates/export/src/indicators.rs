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
    /// Whether its name goes on from the first row of its group.
    pub(crate) fn leans_on_above(&self) -> bool {
        self.alone.is_some()
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

/// Numbers that each team has.
pub(crate) const OF_TEAMS: &[Named] = &[
    named("escape.share", "Came out of pressure"),
    alone(
        now("escape.streak", "… in a row, now"),
        "Came out of pressure in a row, now",
    ),
    alone(
        named("escape.best", "… in a row, best"),
        "Came out of pressure in a row, best",
    ),
    alone(
        named("escape.unlikely", "… how often luck alone brings that"),
        "How often luck alone brings that best streak",
    ),
    named("approach.reached", "Got level after the return"),
    named("offense.finished", "Offense finished"),
    named("neutral.first", "First to take the offense"),
    named("defense.bounced", "Made them let it bounce"),
    named("sitter.punished", "Won when a ball sat up"),
    of_slot("speedup.won", "ready", "Speedups off a ball that sat up"),
    of_slot("speedup.won", "forced", "Speedups off a low ball"),
    named("gift.share", "Lost by own error, unpressed"),
    named("serve.won", "Rallies won, serving"),
    of_slot("third.won", "drop", "Won with a drop as third shot"),
    of_slot("third.won", "drive", "Won with a drive as third shot"),
    of_slot("third.won", "lob", "Won with a lob as third shot"),
    now("score.run", "Points in a row"),
    now("win.game", "Chance to win this game"),
    now("win.match", "Chance to win the match"),
];

/// Numbers of the match.
pub(crate) const OF_MATCH: &[Named] = &[
    now("win.swing", "At stake in the next rally, for the match"),
    now("rally.shots", "Shots in this rally"),
    named("rally.longest", "Longest rally"),
    named("charting.coverage", "Rallies charted in full"),
];

/// What an indicator is called where it stands alone; `None` for one that has no
/// name yet.
#[must_use]
pub fn label(indicator: &str, slot: Option<&str>) -> Option<&'static str> {
    let mut all = OF_TEAMS.iter().chain(OF_MATCH);
    let found = all.find(|one| one.indicator == indicator && one.slot == slot)?;
    Some(found.alone.unwrap_or(found.label))
}
