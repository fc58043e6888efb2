//! The comparison: pairs rallies and shots, collects the cases, sums them up.

use rallytide_chart::{Contact, Cue, PairOf, Stroke, Team};
use rallytide_match_record::{MatchRecord, RecordedRally, RecordedShot};

use crate::align::Pair;
use crate::cases::{Aspect, Cases};
use crate::kappa::{Weights, percent_error};
use crate::pairing::{RallyPair, pair};
use crate::report::{
    Agreement, CategoryReport, ChartSize, ClockReport, Confusion, CountReport, Counted, Difference,
    KindReport,
};

/// Below this many cases a range is rough.
const FEW_CASES: u32 = 30;
/// From this share of one word on, kappa is low even where charters agree.
const ONE_SIDED: f64 = 0.9;

/// Compares two charts of one match.
#[must_use]
pub fn compare(a: &MatchRecord, b: &MatchRecord) -> Agreement {
    let pairing = pair(a, b);
    let mut comparison = Comparison {
        rallies: PairOf {
            a: a.rallies().collect(),
            b: b.rallies().collect(),
        },
        kinds: Aspect::all().into_iter().map(Cases::new).collect(),
        differences: Vec::new(),
        counted: Counted::default(),
        shots: Counted::default(),
        shot_counts: Vec::new(),
    };
    for pair in &pairing.rallies {
        comparison.rally(pair);
    }
    let (size_a, size_b) = (size(a), size(b));
    Agreement {
        warnings: of_other_depths(&size_a, &size_b).into_iter().collect(),
        a: size_a,
        b: size_b,
        clocks: pairing.clocks.map(|clocks| ClockReport {
            offset_ms: clocks.offset,
            spread_ms: clocks.spread,
        }),
        rallies: comparison.counted,
        shots: comparison.shots,
        shot_counts: count_report(&comparison.shot_counts),
        kinds: comparison.kinds.iter().map(kind_report).collect(),
        differences: comparison.differences,
    }
}

fn size(record: &MatchRecord) -> ChartSize {
    ChartSize {
        id: record.header.id.clone(),
        rallies: record.rallies().count(),
        shots: record
            .rallies()
            .map(|rally| rally.recorded_shots().count())
            .sum(),
        charted: record.charting_depth(),
    }
}

/// Charts of different depth differ in what was asked of the charters. One without
/// a rally has no depth yet.
fn of_other_depths(a: &ChartSize, b: &ChartSize) -> Option<String> {
    (a.charted != b.charted && a.rallies > 0 && b.rallies > 0).then(|| {
        format!(
            "the charts are of different depth (a: {}, b: {}): compare only what both charters \
             were asked for; what one did not chart is no slip",
            a.charted.words(),
            b.charted.words()
        )
    })
}

struct Comparison<'a> {
    rallies: PairOf<Vec<&'a RecordedRally>>,
    kinds: Vec<Cases>,
    differences: Vec<Difference>,
    counted: Counted,
    shots: Counted,
    /// Of each rally of which both have shots: how many each has.
    shot_counts: Vec<(usize, usize)>,
}

impl<'a> Comparison<'a> {
    fn rally(&mut self, pair: &RallyPair) {
        match pair.rallies {
            Pair::Both(a, b) => {
                self.counted.both += 1;
                let (a, b) = (self.rallies.a[a], self.rallies.b[b]);
                self.ends(a, b);
                self.shots(a, b, &pair.shots);
            }
            Pair::First(a) => {
                self.counted.only_a += 1;
                let a = self.rallies.a[a];
                self.lonely("rally", Some(a), None, (None, None));
            }
            Pair::Second(b) => {
                self.counted.only_b += 1;
                let b = self.rallies.b[b];
                self.lonely("rally", None, Some(b), (None, None));
            }
        }
    }

    fn take(&mut self, kind: Aspect, a: Option<&str>, b: Option<&str>, place: &Difference) {
        let cases = self.kinds.iter_mut().find(|cases| cases.kind == kind);
        self.differences
            .extend(cases.and_then(|cases| cases.take(a, b, place)));
    }

    fn ends(&mut self, a: &'a RecordedRally, b: &'a RecordedRally) {
        let end = |rally: &'a RecordedRally| rally.end.as_ref();
        let entry = |rally: &'a RecordedRally| end(rally).map(|end| end.shown.entry.clone());
        let place = Difference {
            entry_a: entry(a),
            entry_b: entry(b),
            ..place(Some(a), Some(b))
        };
        let winner = |rally: &'a RecordedRally| {
            let end = end(rally)?;
            Some(end.shown.won_by.map_or("not_counted", Team::word))
        };
        let by = |rally: &'a RecordedRally| end(rally)?.shown.by;
        // What nobody saw is nothing said.
        let how = |rally: &'a RecordedRally| end(rally)?.shown.how.filter(|how| *how != "unknown");
        let fault = |rally: &'a RecordedRally| Some(end(rally)?.fault?.word());
        self.take(Aspect::Winner, winner(a), winner(b), &place);
        self.take(Aspect::How, how(a), how(b), &place);
        self.take(
            Aspect::By,
            by(a).map(Team::word),
            by(b).map(Team::word),
            &place,
        );
        if by(a) == by(b) {
            let player = |rally: &'a RecordedRally| player_word(end(rally)?.recorded_player);
            self.take(Aspect::ByPlayer, player(a), player(b), &place);
        }
        self.take(Aspect::Fault, fault(a), fault(b), &place);
    }

    fn shots(&mut self, a: &'a RecordedRally, b: &'a RecordedRally, pairs: &[Pair]) {
        let of_a: Vec<&RecordedShot> = a.recorded_shots().collect();
        let of_b: Vec<&RecordedShot> = b.recorded_shots().collect();
        // Where one of them charted no shots, that is less work, not a slip.
        if of_a.is_empty() || of_b.is_empty() {
            return;
        }
        self.shot_counts.push((of_a.len(), of_b.len()));
        for pair in pairs {
            match *pair {
                Pair::Both(one, other) => {
                    self.shots.both += 1;
                    self.shot((a, of_a[one]), (b, of_b[other]));
                }
                Pair::First(one) => {
                    self.shots.only_a += 1;
                    self.lonely("shot", Some(a), Some(b), (Some(of_a[one]), None));
                }
                Pair::Second(other) => {
                    self.shots.only_b += 1;
                    self.lonely("shot", Some(a), Some(b), (None, Some(of_b[other])));
                }
            }
        }
    }

    fn shot(
        &mut self,
        a: (&'a RecordedRally, &'a RecordedShot),
        b: (&'a RecordedRally, &'a RecordedShot),
    ) {
        let (rally_a, a) = a;
        let (rally_b, b) = b;
        let place = at_shots(place(Some(rally_a), Some(rally_b)), Some(a), Some(b));
        let team = |shot: &RecordedShot| Some(shot.shown.team.word());
        let stroke = |shot: &RecordedShot| shot.shown.stroke.map(Stroke::word);
        let contact = |shot: &RecordedShot| shot.shown.contact.map(Contact::word);
        self.take(Aspect::Team, team(a), team(b), &place);
        if a.shown.team == b.shown.team {
            let player = |shot: &RecordedShot| player_word(shot.recorded_player);
            self.take(Aspect::Player, player(a), player(b), &place);
        }
        self.take(Aspect::Stroke, stroke(a), stroke(b), &place);
        self.take(Aspect::Contact, contact(a), contact(b), &place);
        for cue in Cue::ALL {
            let seen = |shot: &RecordedShot| {
                let is_seen = shot.shown.cues.contains(cue);
                Some(if is_seen { "seen" } else { "not_seen" })
            };
            self.take(Aspect::Cue(*cue), seen(a), seen(b), &place);
        }
        for team in Team::ALL {
            let depth = |shot: &'a RecordedShot| {
                let told = shot.depths.of(*team).as_ref();
                told.map(|told| told.depth.as_str())
            };
            self.take(Aspect::Depth, depth(a), depth(b), &place);
        }
        let holder = |rally: &RecordedRally, shot: &RecordedShot| {
            let is_known = !rally.initiative.is_empty();
            is_known.then(|| shot.shown.toward.map_or("nobody", Team::word))
        };
        self.take(
            Aspect::Holder,
            holder(rally_a, a),
            holder(rally_b, b),
            &place,
        );
    }

    /// Something that one chart alone has.
    fn lonely(
        &mut self,
        kind: &'static str,
        a: Option<&RecordedRally>,
        b: Option<&RecordedRally>,
        shots: (Option<&RecordedShot>, Option<&RecordedShot>),
    ) {
        let words = |rally: Option<&RecordedRally>, shot: Option<&RecordedShot>| match (
            kind, shot, rally,
        ) {
            ("shot", Some(shot), _) => shot
                .shown
                .stroke
                .map_or("shot", |stroke| stroke.word())
                .into(),
            ("rally", _, Some(rally)) => format!("rally {}", rally.number),
            _ => "missing".to_owned(),
        };
        let entry = |rally: Option<&RecordedRally>| {
            let end = rally.and_then(|rally| rally.end.as_ref())?;
            (kind == "rally").then(|| end.shown.entry.clone())
        };
        let place = Difference {
            kind,
            entry_a: entry(a),
            entry_b: entry(b),
            a: words(a, shots.0),
            b: words(b, shots.1),
            ..place(a, b)
        };
        self.differences.push(at_shots(place, shots.0, shots.1));
    }
}

fn place(a: Option<&RecordedRally>, b: Option<&RecordedRally>) -> Difference {
    Difference {
        kind: "",
        rally_a: a.map(|rally| rally.number),
        rally_b: b.map(|rally| rally.number),
        shot_a: None,
        shot_b: None,
        entry_a: None,
        entry_b: None,
        a: String::new(),
        b: String::new(),
    }
}

fn at_shots(place: Difference, a: Option<&RecordedShot>, b: Option<&RecordedShot>) -> Difference {
    let entry = |shot: Option<&RecordedShot>| shot.and_then(|shot| shot.shown.entry.clone());
    Difference {
        shot_a: a.map(|shot| shot.shown.n),
        shot_b: b.map(|shot| shot.shown.n),
        entry_a: entry(a).or(place.entry_a),
        entry_b: entry(b).or(place.entry_b),
        ..place
    }
}

fn player_word(player: Option<u32>) -> Option<&'static str> {
    match player? {
        0 => Some("0"),
        _ => Some("1"),
    }
}

fn count_report(counts: &[(usize, usize)]) -> CountReport {
    let within = |most: usize| {
        counts
            .iter()
            .filter(|(a, b)| a.abs_diff(*b) <= most)
            .count()
    };
    let sum_a: usize = counts.iter().map(|(a, _)| a).sum();
    let sum_b: usize = counts.iter().map(|(_, b)| b).sum();
    CountReport {
        rallies: counts.len(),
        same: within(0),
        within_one: within(1),
        mean_difference: (!counts.is_empty())
            .then(|| (sum_b as f64 - sum_a as f64) / counts.len() as f64),
        percent_error: percent_error(sum_a as u32, sum_b as u32),
    }
}

fn kind_report(cases: &Cases) -> KindReport {
    let table = &cases.table;
    let used = table.used();
    let kappa = table.kappa(Weights::Alike);
    let weighted = match cases.kind.weights() {
        Weights::Alike => None,
        Weights::Linear => table.kappa(Weights::Linear),
    };
    let categories = used.iter().map(|at| CategoryReport {
        category: cases.categories[*at],
        a: table.said_by_a(*at),
        b: table.said_by_b(*at),
        both: table.counts()[*at][*at],
        specific: table.specific(*at),
        percent_error: percent_error(table.said_by_a(*at), table.said_by_b(*at)),
    });
    let rows = used
        .iter()
        .map(|a| used.iter().map(|b| table.counts()[*a][*b]).collect());
    KindReport {
        kind: cases.kind.word(),
        about: cases.kind.about(),
        cases: table.cases(),
        agreed: table.agreed(),
        only_a: cases.only_a,
        only_b: cases.only_b,
        kappa,
        weighted,
        notes: notes(cases),
        categories: categories.collect(),
        table: rows.collect(),
        confusions: confusions(cases),
    }
}

/// Why there is no kappa, or why not to rely on it.
fn notes(cases: &Cases) -> Vec<String> {
    let table = &cases.table;
    let all = table.cases();
    let mut notes = Vec::new();
    if all == 0 {
        notes.push("nothing that both charts recorded".to_owned());
        return notes;
    }
    let used = table.used();
    let word = |at: usize| cases.categories[at].replace('_', " ");
    if let [only] = used[..] {
        notes.push(format!(
            "no kappa: both charts always say `{}`, and so would chance",
            word(only)
        ));
        return notes;
    }
    if table.agreed() < all {
        notes.extend(misleading(cases, &used));
    }
    if all < FEW_CASES {
        notes.push(format!("few cases ({all}): the range is rough"));
    }
    notes
}

/// Why kappa is lower than the charts are different, where it is.
fn misleading(cases: &Cases, used: &[usize]) -> Option<String> {
    let table = &cases.table;
    let all = table.cases();
    let word = |at: usize| cases.categories[at].replace('_', " ");
    let throughout = |at: &usize| table.said_by_a(*at) == all || table.said_by_b(*at) == all;
    if let Some(only) = used.iter().copied().find(throughout) {
        return Some(format!(
            "kappa says little: one chart always says `{}`, which makes it 0 whatever the \
             other says",
            word(only)
        ));
    }
    let said = |at: usize| table.said_by_a(at) + table.said_by_b(at);
    let is_common = |at: &usize| f64::from(said(*at)) >= ONE_SIDED * 2.0 * f64::from(all);
    let common = used.iter().copied().find(is_common)?;
    let others = used.iter().copied().filter(|at| *at != common);
    let specific: Vec<String> = others
        .filter_map(|at| {
            let share = (table.specific(at)? * 100.0).floor();
            Some(format!("`{}` {share} %", word(at)))
        })
        .collect();
    Some(format!(
        "kappa is low where nearly all cases are `{}`; agreement on the rest: {}",
        word(common),
        specific.join(", ")
    ))
}

fn confusions(cases: &Cases) -> Vec<Confusion> {
    let counts = cases.table.counts();
    let mut confusions: Vec<Confusion> = Vec::new();
    for (a, row) in counts.iter().enumerate() {
        for (b, count) in row.iter().enumerate() {
            if a != b && *count > 0 {
                confusions.push(Confusion {
                    a: cases.categories[a],
                    b: cases.categories[b],
                    count: *count,
                });
            }
        }
    }
    // A stable order that does not depend on which chart came first.
    confusions.sort_by_key(|one| {
        let (low, high) = (one.a.min(one.b), one.a.max(one.b));
        (std::cmp::Reverse(one.count), low, high)
    });
    confusions
}
