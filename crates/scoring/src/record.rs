//! The recorded score: what is written down for a match that is over.
//!
//! A retirement is completed on paper; the score object itself is not touched.

use rallytide_chart::{Format, PairOf, Team};

use crate::score::Score;

/// The games as they are recorded for a match that is over; `None` while it
/// goes on.
///
/// Where a team retired, it keeps its points of the current game and the other
/// gets the minimum winning score; games not played are recorded as shut-outs,
/// as many as the winner was short of (USA Pickleball rulebook 2024, 12.F.6.a,
/// after a secondary source: a team leading 10-5 in game 1 of a best of three to
/// 11 retires, recorded 12-10, 11-0).
#[must_use]
pub fn recorded_score(score: &Score, format: &Format) -> Option<Vec<PairOf<u32>>> {
    let winner = score.winner?;
    let mut games = score.finished.as_ref().clone();
    let missing = format
        .games_to_win()
        .saturating_sub(*score.games.of(winner));
    if missing > 0 {
        games.push(completed(score.points, winner, format));
        games.extend((1..missing).map(|_| completed(PairOf::default(), winner, format)));
    }
    Some(games)
}

/// The game with `points`, won by `winner` with as few points as it takes. Points
/// already scored are never taken away: after a technical foul a team can stand
/// above the minimum without having won.
fn completed(points: PairOf<u32>, winner: Team, format: &Format) -> PairOf<u32> {
    let least = format
        .points
        .max(points.of(winner.other()).saturating_add(format.win_by));
    let mut points = points;
    let won = points.of_mut(winner);
    *won = least.max(*won);
    points
}
