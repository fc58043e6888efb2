//! The numbers that are named for people, in the order they are shown; the same
//! names as on the booth's page (a test compares them). A reading that is not
//! listed stays out of the page for people, because a number without words helps
//! nobody; the table of readings has them all.

use rallytide_readings::KnownIndicator;

/// A number with its name.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Named {
    pub(crate) indicator: KnownIndicator,
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

const fn named(indicator: KnownIndicator, label: &'static str) -> Named {
    Named {
        indicator,
        slot: None,
        label,
        alone: None,
        momentary: false,
    }
}

const fn of_slot(indicator: KnownIndicator, slot: &'static str, label: &'static str) -> Named {
    Named {
        slot: Some(slot),
        ..named(indicator, label)
    }
}

const fn now(indicator: KnownIndicator, label: &'static str) -> Named {
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
    named(KnownIndicator::PressedWon, "Rallies won under pressure"),
    alone(
        named(KnownIndicator::UnpressedWon, "… otherwise"),
        "Rallies won without pressure",
    ),
    named(KnownIndicator::EscapeShare, "Came out of pressure"),
    alone(
        now(KnownIndicator::EscapeStreak, "… current streak"),
        "Current streak out of pressure",
    ),
    alone(
        named(KnownIndicator::EscapeBest, "… best streak"),
        "Best streak out of pressure",
    ),
    named(
        KnownIndicator::ApproachReached,
        "Out of defense after the return",
    ),
    named(KnownIndicator::OffenseFinished, "Attacks won"),
    named(KnownIndicator::NeutralFirst, "Attacked first from neutral"),
    named(
        KnownIndicator::DefenseBounced,
        "From defense, made them let it bounce",
    ),
    named(KnownIndicator::SitterPunished, "Won off a high ball"),
    of_slot(
        KnownIndicator::SpeedupWon,
        "sitter",
        "Speedups off a high ball, won",
    ),
    of_slot(KnownIndicator::SpeedupWon, "other", "Other speedups, won"),
    named(KnownIndicator::GiftShare, "Lost by an unforced error"),
    named(KnownIndicator::ServeWon, "Rallies won on serve"),
    of_slot(
        KnownIndicator::ThirdWon,
        "drop",
        "Won with a third-shot drop",
    ),
    of_slot(
        KnownIndicator::ThirdWon,
        "drive",
        "Won with a third-shot drive",
    ),
    of_slot(KnownIndicator::ThirdWon, "lob", "Won with a third-shot lob"),
    now(KnownIndicator::ScoreRun, "Points in a row"),
    now(KnownIndicator::WinGame, "Chance to win this game"),
    now(KnownIndicator::WinMatch, "Chance to win the match"),
];

/// Numbers that each player has, where players are named.
pub(crate) const OF_PLAYERS: &[Named] = &[
    named(KnownIndicator::PlayerShots, "Shots from the third on"),
    named(KnownIndicator::PlayerPressed, "Of these, struck on defense"),
    named(KnownIndicator::PlayerErrors, "The team's errors"),
];

/// Numbers of the match.
pub(crate) const OF_MATCH: &[Named] = &[
    now(KnownIndicator::WinSwing, "Swing of the next rally"),
    now(KnownIndicator::RallyShots, "Shots in this rally"),
    named(KnownIndicator::RallyLongest, "Longest rally"),
    named(
        KnownIndicator::ChartingCoverage,
        "Rallies charted completely",
    ),
];

/// What an indicator is called where it stands alone; `None` for one that has no
/// name yet.
#[must_use]
pub fn label(indicator: &str, slot: Option<&str>) -> Option<&'static str> {
    let mut all = OF_TEAMS.iter().chain(OF_PLAYERS).chain(OF_MATCH);
    let found = all.find(|one| one.indicator.name() == indicator && one.slot == slot)?;
    Some(found.alone_label())
}
