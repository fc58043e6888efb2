//! Which rally of one chart is which of the other, and which shot is which.
//!
//! Two passes. The first looks at who won, at the score and at the shots; from
//! what it pairs, the clocks are compared; the second looks at the time too. The
//! weights are ours, chosen so that a wrong word stays opposite the right one and
//! only what is missing becomes a gap.

use rallytide_chart::{Contact, Stroke, Team};
use rallytide_match_record::{MatchRecord, RecordedRally};

use crate::align::{Fit, Pair, align};
use crate::clocks::Clocks;

/// A rally of each chart, or of one alone, with its shots paired.
pub(crate) struct RallyPair {
    pub(crate) rallies: Pair,
    /// The shots, by their places among the recorded ones; empty unless both
    /// charts have the rally.
    pub(crate) shots: Vec<Pair>,
}

/// Two charts side by side.
pub(crate) struct Pairing {
    pub(crate) rallies: Vec<RallyPair>,
    pub(crate) clocks: Option<Clocks>,
}

/// A rally as far as it tells one from another.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct RallySeen {
    winner: Option<Team>,
    ended: Option<i64>,
    score: (u32, u32, u32, Team),
    shots: Vec<PairedShot>,
    place: usize,
}

#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct PairedShot {
    team: Team,
    stroke: Option<Stroke>,
    contact: Option<Contact>,
    struck: Option<i64>,
}

pub(crate) fn pair(a: &MatchRecord, b: &MatchRecord) -> Pairing {
    let (a, b) = (seen(a), seen(b));
    let likeness: Vec<Vec<i64>> = a
        .iter()
        .map(|one| {
            b.iter()
                .map(|other| likeness(&one.shots, &other.shots))
                .collect()
        })
        .collect();
    let mut fit = RallyFit {
        likeness: &likeness,
        clocks: None,
    };
    let (pairs, _) = align(&a, &b, &fit);
    let differences = |pairs: &[Pair]| {
        let both = pairs.iter().filter_map(|pair| match pair {
            Pair::Both(one, other) => Some(b[*other].ended? - a[*one].ended?),
            _ => None,
        });
        Clocks::from_differences(&both.collect::<Vec<_>>())
    };
    fit.clocks = differences(&pairs);
    let (pairs, _) = align(&a, &b, &fit);
    let clocks = differences(&pairs);
    let shots = |pair: Pair| match pair {
        Pair::Both(one, other) => align(&a[one].shots, &b[other].shots, &ShotFit { clocks }).0,
        _ => Vec::new(),
    };
    Pairing {
        rallies: pairs
            .iter()
            .map(|rallies| RallyPair {
                rallies: *rallies,
                shots: shots(*rallies),
            })
            .collect(),
        clocks,
    }
}

fn seen(record: &MatchRecord) -> Vec<RallySeen> {
    let rallies = record.rallies().enumerate();
    rallies
        .map(|(place, rally)| rally_seen(place, rally))
        .collect()
}

fn rally_seen(place: usize, rally: &RecordedRally) -> RallySeen {
    let end = rally.end.as_ref();
    let before = &rally.before;
    RallySeen {
        winner: end.and_then(|end| end.shown.won_by),
        ended: end
            .filter(|end| !end.time.estimated)
            .map(|end| end.time.at.milliseconds()),
        score: (
            before.game,
            before.points.a,
            before.points.b,
            before.serving,
        ),
        shots: rally
            .recorded_shots()
            .map(|shot| PairedShot {
                team: shot.shown.team,
                stroke: shot.shown.stroke,
                contact: shot.shown.contact,
                struck: shot
                    .time
                    .filter(|time| !time.estimated)
                    .map(|time| time.at.milliseconds()),
            })
            .collect(),
        place,
    }
}

/// The most that shots can say for two rallies being one.
const MOST_LIKENESS: i64 = 12;

/// How alike the shots of two rallies are, 0 to [`MOST_LIKENESS`]; 0 where one
/// chart has none.
fn likeness(a: &[PairedShot], b: &[PairedShot]) -> i64 {
    if a.is_empty() || b.is_empty() {
        return 0;
    }
    let (pairs, _) = align(a, b, &ShotFit { clocks: None });
    let mut alike = 0;
    let mut all = 0;
    for pair in pairs {
        match pair {
            Pair::Both(one, other) => {
                let (one, other) = (&a[one], &b[other]);
                alike += 2 * i64::from((one.team, one.stroke) == (other.team, other.stroke));
                all += 2;
            }
            Pair::First(_) | Pair::Second(_) => all += 1,
        }
    }
    MOST_LIKENESS * alike / all
}

struct RallyFit<'a> {
    likeness: &'a [Vec<i64>],
    clocks: Option<Clocks>,
}

impl Fit<RallySeen> for RallyFit<'_> {
    fn fit(&self, a: &RallySeen, b: &RallySeen) -> i64 {
        let winner = if a.winner == b.winner { 8 } else { -4 };
        let score = if a.score == b.score { 4 } else { 0 };
        let time = self
            .clocks
            .zip(a.ended.zip(b.ended))
            .map_or(0, |(clocks, (a, b))| match clocks.apart(a, b) {
                ..2_000 => 8,
                2_000..5_000 => 4,
                5_000..10_000 => 0,
                10_000..20_000 => -8,
                _ => -24,
            });
        winner + score + time + self.likeness[a.place][b.place]
    }

    fn gap(&self) -> i64 {
        6
    }
}

struct ShotFit {
    clocks: Option<Clocks>,
}

impl Fit<PairedShot> for ShotFit {
    fn fit(&self, a: &PairedShot, b: &PairedShot) -> i64 {
        let team = if a.team == b.team { 6 } else { -6 };
        let stroke = if a.stroke == b.stroke { 6 } else { 0 };
        let contact = i64::from(a.contact.is_some() && a.contact == b.contact);
        let time =
            self.clocks
                .zip(a.struck.zip(b.struck))
                .map_or(0, |(clocks, (a, b))| match clocks.apart(a, b) {
                    ..400 => 4,
                    400..900 => 2,
                    900..2_500 => 0,
                    _ => -8,
                });
        team + stroke + contact + time
    }

    fn gap(&self) -> i64 {
        4
    }
}
