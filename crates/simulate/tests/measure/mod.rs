//! Measures made-up matches by their charts alone: lengths, times, strokes, cues,
//! endings. Counts only; what they should be is the tests' to say.

use std::collections::BTreeMap;

use rallytide_chart::{At, Cue, Effective, How, Play, RallyReader, Stroke, Team, read_chart_file};
use rallytide_scoring::ScoreKeeper;

/// What was counted over some matches.
#[derive(Debug, Default)]
pub(crate) struct Measure {
    pub(crate) matches: usize,
    pub(crate) entries: Vec<f64>,
    pub(crate) rallies_per_match: Vec<f64>,
    pub(crate) shots_per_rally: Vec<f64>,
    pub(crate) seconds_per_rally: Vec<f64>,
    /// Between a rally's end and the next serve, with nothing charted between.
    pub(crate) gaps: Vec<f64>,
    pub(crate) minutes_per_match: Vec<f64>,
    /// Between two shots in the air, both firm: a hands battle.
    pub(crate) hands_battle_gaps: Vec<f64>,
    pub(crate) strokes: BTreeMap<&'static str, usize>,
    pub(crate) thirds: BTreeMap<&'static str, usize>,
    pub(crate) hows: BTreeMap<&'static str, usize>,
    pub(crate) kinds: BTreeMap<&'static str, usize>,
    pub(crate) cues: BTreeMap<&'static str, usize>,
    pub(crate) shots: usize,
    pub(crate) shots_with_cue: usize,
    pub(crate) served: usize,
    pub(crate) served_and_won: usize,
    pub(crate) longest: f64,
}

struct OpenRally {
    serve: Option<At>,
    last: Option<(At, Stroke)>,
    shots: BTreeMap<String, bool>,
    numbers: Vec<Stroke>,
    serving: Team,
}

impl Measure {
    /// Adds the match with these lines.
    pub(crate) fn add(&mut self, lines: &[String]) {
        let text = lines.join("\n");
        let file = read_chart_file(text.as_bytes());
        let chart = file.chart.expect("the header is valid");
        let effective = chart.effective();
        self.matches += 1;
        self.entries.push(lines.len() as f64 - 1.0);
        let mut scoring = ScoreKeeper::new(chart.header());
        let mut reader = RallyReader::default();
        let mut rally = OpenRally::new(scoring.score().serving);
        let mut ended: Option<At> = None;
        for entry in &effective {
            *self.kinds.entry(entry.play.kind().word()).or_default() += 1;
            let step = reader.step(entry);
            match entry.play.as_ref() {
                Play::Shot(shot) => {
                    if rally.serve.is_none() {
                        if let Some(ended) = ended.take() {
                            self.gaps.push(seconds(ended, entry.at));
                        }
                        rally.serve = Some(entry.at);
                    }
                    self.shot(entry, shot.stroke, &mut rally);
                    for cue in shot.cues.iter() {
                        self.cue(cue, entry.id.as_str(), &mut rally);
                    }
                }
                Play::Cue(mark) => {
                    if let Some(shot) = step.shot {
                        self.cue(mark.cue, shot.entry.as_str(), &mut rally);
                    }
                }
                Play::Depth(_) => {}
                Play::RallyEnd(end) => {
                    self.rally_end(entry.at, end.how, end.winner, &rally);
                }
                _ => ended = None,
            }
            scoring.step(&entry.play);
            if matches!(entry.play.as_ref(), Play::RallyEnd(_)) {
                ended = (!scoring.score().change_ends).then_some(entry.at);
            }
            if matches!(entry.play.as_ref(), Play::RallyEnd(_) | Play::Replay) {
                rally = OpenRally::new(scoring.score().serving);
            }
        }
        self.rallies_per_match
            .push(f64::from(scoring.score().rallies));
        if let (Some(first), Some(last)) = (effective.first(), effective.last()) {
            self.minutes_per_match
                .push(seconds(first.at, last.at) / 60.0);
        }
    }

    fn shot(&mut self, entry: &Effective, stroke: Stroke, rally: &mut OpenRally) {
        self.shots += 1;
        *self.strokes.entry(stroke.word()).or_default() += 1;
        let fast = |stroke| matches!(stroke, Stroke::Volley | Stroke::Speedup);
        if let Some((at, before)) = rally.last
            && fast(before)
            && matches!(stroke, Stroke::Volley | Stroke::Block)
        {
            self.hands_battle_gaps.push(seconds(at, entry.at));
        }
        rally.last = Some((entry.at, stroke));
        rally.numbers.push(stroke);
        rally.shots.insert(entry.id.as_str().to_owned(), false);
    }

    fn cue(&mut self, cue: Cue, shot: &str, rally: &mut OpenRally) {
        *self.cues.entry(cue.word()).or_default() += 1;
        if let Some(marked) = rally.shots.get_mut(shot)
            && !*marked
        {
            *marked = true;
            self.shots_with_cue += 1;
        }
    }

    fn rally_end(&mut self, at: At, how: Option<How>, winner: Team, rally: &OpenRally) {
        if let Some(how) = how {
            *self.hows.entry(how.word()).or_default() += 1;
        }
        self.served += 1;
        self.served_and_won += usize::from(winner == rally.serving);
        let Some(serve) = rally.serve else { return };
        self.shots_per_rally.push(rally.numbers.len() as f64);
        self.longest = self.longest.max(rally.numbers.len() as f64);
        self.seconds_per_rally.push(seconds(serve, at));
        if let Some(third) = rally.numbers.get(2) {
            *self.thirds.entry(third.word()).or_default() += 1;
        }
    }

    /// Share of the shots with at least one cue.
    pub(crate) fn cue_share(&self) -> f64 {
        self.shots_with_cue as f64 / self.shots as f64
    }

    /// Share of rallies won by the serving team.
    pub(crate) fn serving_won(&self) -> f64 {
        self.served_and_won as f64 / self.served as f64
    }

    /// Shots per second over all rallies.
    pub(crate) fn shots_per_second(&self) -> f64 {
        self.shots_per_rally.iter().sum::<f64>() / self.seconds_per_rally.iter().sum::<f64>()
    }
}

impl OpenRally {
    fn new(serving: Team) -> Self {
        Self {
            serve: None,
            last: None,
            shots: BTreeMap::new(),
            numbers: Vec::new(),
            serving,
        }
    }
}

/// The mean of `values`.
pub(crate) fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

/// The share of `values` from `low` to `high`, both included.
pub(crate) fn share_within(values: &[f64], low: f64, high: f64) -> f64 {
    let within = values.iter().filter(|value| (low..=high).contains(*value));
    within.count() as f64 / values.len() as f64
}

fn seconds(from: At, to: At) -> f64 {
    (to.milliseconds() - from.milliseconds()) as f64 / 1000.0
}
