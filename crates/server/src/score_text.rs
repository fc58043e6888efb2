//! The score as plain text, for scoreboards that poll and for text files.

use rallytide_court::ChartedMatch;

/// Line 1: the call, or `final` and the games after the match. Lines 2 and 3:
/// the teams in the order of the header, the serving one first named as such.
pub(crate) fn score_lines(charted: &ChartedMatch) -> String {
    let score = charted.score();
    let teams = &charted.chart().header().teams;
    let call = score.call_or_final();
    format!("{call}\n{}\n{}\n", teams.a.name, teams.b.name)
}
