//! What the comparison found, as machine output has it.

use rallytide_chart::{EntryId, MatchId};
use rallytide_match_record::ChartingDepth;
use serde::Serialize;

use crate::kappa::Kappa;

/// How well two charts agree.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Agreement {
    /// What to know before reading any of it, a sentence each.
    pub warnings: Vec<String>,
    /// The first chart.
    pub a: ChartSize,
    /// The second chart.
    pub b: ChartSize,
    /// How the clocks go together; `None` where they do not.
    pub clocks: Option<ClockReport>,
    /// Rallies in both and in one alone.
    pub rallies: Counted,
    /// Shots in both and in one alone, of the rallies of which both charts have
    /// shots.
    pub shots: Counted,
    /// How many shots those rallies have.
    pub shot_counts: CountReport,
    /// Aspect by aspect.
    pub kinds: Vec<KindReport>,
    /// Everything that differs, in order.
    #[serde(rename = "places")]
    pub differences: Vec<Difference>,
}

/// What a chart holds.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ChartSize {
    /// The match's id.
    #[serde(rename = "match")]
    pub id: MatchId,
    /// Its rallies, replayed ones included.
    pub rallies: usize,
    /// Its recorded shots.
    pub shots: usize,
    /// How deep the match was charted.
    pub charted: ChartingDepth,
}

/// How two clocks go together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct ClockReport {
    /// How far b's clock is ahead of a's, in milliseconds (the median over the
    /// ends of rallies in both).
    pub offset_ms: i64,
    /// Half of the rallies are no further from that, in milliseconds.
    pub spread_ms: i64,
}

/// In both and in one alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
pub struct Counted {
    /// In both charts.
    pub both: usize,
    /// In a alone.
    pub only_a: usize,
    /// In b alone.
    pub only_b: usize,
}

/// How many shots rallies have, counted by both.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CountReport {
    /// Rallies of which both charts have shots.
    pub rallies: usize,
    /// Those with the same number of recorded shots.
    pub same: usize,
    /// Those whose numbers differ by one at most.
    pub within_one: usize,
    /// b's number less a's, on average; `None` without rallies.
    pub mean_difference: Option<f64>,
    /// The sums' difference in percent of their mean; `None` without shots.
    pub percent_error: Option<f64>,
}

/// One kind of thing compared.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct KindReport {
    /// Which.
    pub kind: &'static str,
    /// What is compared, for people.
    #[serde(skip)]
    pub about: &'static str,
    /// Cases in which both said something.
    pub cases: u32,
    /// Those in which they said the same.
    pub agreed: u32,
    /// Cases in which a alone said something.
    pub only_a: u32,
    /// Cases in which b alone said something.
    pub only_b: u32,
    /// Cohen's kappa; `None` where it is not defined.
    pub kappa: Option<Kappa>,
    /// Linearly weighted kappa, for what has an order.
    pub weighted: Option<Kappa>,
    /// Why there is no kappa, or why not to rely on it; a sentence each.
    pub notes: Vec<String>,
    /// Each word that either used.
    pub categories: Vec<CategoryReport>,
    /// How often a said this and b that: rows a's words, columns b's, in the order
    /// of `categories`.
    pub table: Vec<Vec<u32>>,
    /// What they said of one thing, the most frequent first.
    pub confusions: Vec<Confusion>,
}

/// One word of a kind.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CategoryReport {
    /// The word.
    pub category: &'static str,
    /// How often a said it.
    pub a: u32,
    /// How often b said it.
    pub b: u32,
    /// How often both said it of one thing.
    pub both: u32,
    /// Twice `both` over the sum of `a` and `b`.
    pub specific: Option<f64>,
    /// The difference of `a` and `b` in percent of their mean.
    pub percent_error: Option<f64>,
}

/// A pair of words said of the same thing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Confusion {
    /// What a said.
    pub a: &'static str,
    /// What b said.
    pub b: &'static str,
    /// How often.
    pub count: u32,
}

/// Where the charts differ.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Difference {
    /// About what: a kind, or `rally` or `shot` for what one chart alone has.
    pub kind: &'static str,
    /// The rally in a.
    pub rally_a: Option<u32>,
    /// The rally in b.
    pub rally_b: Option<u32>,
    /// The shot's number in a's rally.
    pub shot_a: Option<u32>,
    /// The shot's number in b's rally.
    pub shot_b: Option<u32>,
    /// The entry in a.
    pub entry_a: Option<EntryId>,
    /// The entry in b.
    pub entry_b: Option<EntryId>,
    /// What a says.
    pub a: String,
    /// What b says.
    pub b: String,
}
