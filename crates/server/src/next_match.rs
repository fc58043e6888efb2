//! Which match is next on a court.

use rallytide_court::{KnownMatch, MatchPhase};

/// The court of a match that names none; the desk starts it there.
const FIRST_COURT: &str = "1";

/// The first match that is planned for the court, in the order of the plan.
pub(crate) fn next_on<'all>(court: &str, matches: &'all [KnownMatch]) -> Option<&'all KnownMatch> {
    matches.iter().find(|one| {
        let planned = Some(one.header.court.as_str()).filter(|court| !court.is_empty());
        one.state == MatchPhase::Planned && planned.unwrap_or(FIRST_COURT) == court
    })
}
