//! What corrections would do, before they are stored.

use std::collections::BTreeMap;

use rallytide_chart::{Admission, Entry, EntryId, Flag, Refusal, Seq, Team};
use rallytide_readings::Reading;
use rallytide_scoring::{PlayByPlay, Score};
use serde_json::Value;

use crate::charted::ChartedMatch;
use crate::live::LiveCourt;

/// What would come of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Preview {
    /// The score now, as JSON.
    pub score_before: Value,
    /// The score it would be.
    pub score_after: Value,
    /// The rallies that would be told otherwise, in order.
    pub rallies: Vec<ChangedRally>,
    /// How many readings would differ.
    pub readings_changed: usize,
    /// The entries that would be refused: their ids, as far as they have one.
    pub refused: Vec<(Option<String>, Refusal)>,
    /// What would be flagged.
    pub flags: Vec<Flag>,
}

/// A rally before and after.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChangedRally {
    /// Counted from 1, as the rallies would be, else as they are.
    pub number: usize,
    /// Who won and the call after it, "a won, 4-2-1"; `None` if there is no such
    /// rally yet.
    pub before: Option<String>,
    /// The same as it would be; `None` if the rally would be gone.
    pub after: Option<String>,
}

impl LiveCourt {
    /// Tries entries on the match that is on; nothing is stored, nobody sees it.
    /// `None` where there is no match. Runs the chart some times: call it from a
    /// blocking task.
    #[must_use]
    pub fn preview(&self, entries: Vec<Value>) -> Option<Preview> {
        let (chart, plugin_set, off) = self.with_match(|charted| {
            let plugin_set = std::sync::Arc::clone(charted.plugin_set());
            let off = charted.switched_off().clone();
            (charted.chart().clone(), plugin_set, off)
        })?;
        let scratch = ChartedMatch::from_chart_without(chart, plugin_set, off);
        Some(preview(scratch, entries))
    }
}

fn preview(mut charted: ChartedMatch, entries: Vec<Value>) -> Preview {
    let score_before = json(charted.score());
    let rallies_before = rallies(&charted);
    let readings_before: Vec<Reading> = charted.readings().cloned().collect();
    let (mut refused, mut flags) = (Vec::new(), Vec::new());
    for entry in entries {
        let id = entry.get("id").and_then(Value::as_str).map(str::to_owned);
        match try_entry(&mut charted, entry) {
            Ok(seen) => flags.extend(seen),
            Err(refusal) => refused.push((id, refusal)),
        }
    }
    let readings_after: Vec<&Reading> = charted.readings().collect();
    Preview {
        score_before,
        score_after: json(charted.score()),
        rallies: changed(&rallies_before, &rallies(&charted)),
        readings_changed: different(&readings_before, &readings_after),
        refused,
        flags,
    }
}

fn try_entry(charted: &mut ChartedMatch, entry: Value) -> Result<Vec<Flag>, Refusal> {
    let source = Entry::fields_of(entry)?;
    let entry = Entry::from_json(source, &charted.chart().header().format)?;
    match charted.judge(&entry)? {
        Admission::Repeat(_) => Ok(Vec::new()),
        Admission::New => {
            let seq = Seq(charted.chart().last_seq().0 + 1);
            Ok(charted.take(seq, entry, None).flags)
        }
    }
}

/// A rally by the entry that ended it: its number, and how it is told.
type Rallies = BTreeMap<EntryId, (usize, String)>;

fn rallies(charted: &ChartedMatch) -> Rallies {
    use rallytide_chart::Play;
    let mut play = PlayByPlay::new(charted.chart().header());
    let mut told = Rallies::new();
    for entry in charted.chart().effective() {
        let turn = play.step(&entry);
        if let (true, Play::RallyEnd(end)) = (turn.counted, entry.play.as_ref()) {
            let number = told.len() + 1;
            told.insert(entry.id.clone(), (number, tell(end.winner, play.score())));
        }
    }
    told
}

fn tell(winner: Team, score: &Score) -> String {
    format!("{} won, {}", winner.word(), score.call_or_final())
}

fn changed(before: &Rallies, after: &Rallies) -> Vec<ChangedRally> {
    let ids = before
        .keys()
        .chain(after.keys().filter(|id| !before.contains_key(*id)));
    let mut changed: Vec<ChangedRally> = ids
        .filter_map(|id| {
            let (one, other) = (before.get(id), after.get(id));
            let words = |rally: Option<&(usize, String)>| rally.map(|(_, words)| words.clone());
            let rally = ChangedRally {
                number: other.or(one)?.0,
                before: words(one),
                after: words(other),
            };
            (rally.before != rally.after).then_some(rally)
        })
        .collect();
    changed.sort_by_key(|rally| rally.number);
    changed
}

/// How many readings differ, are gone or are new. Where one was last changed is
/// no difference to whoever looks at it.
fn different(before: &[Reading], after: &[&Reading]) -> usize {
    let keyed = |reading: &Reading| {
        let mut value = serde_json::to_value(reading).unwrap_or_default();
        let parts = value.as_object_mut();
        let key = parts.map(|parts| {
            parts.shift_remove("seq");
            ["indicator", "team", "player", "slot"].map(|name| parts[name].to_string())
        });
        (key, value)
    };
    let before: BTreeMap<_, _> = before.iter().map(keyed).collect();
    let after: BTreeMap<_, _> = after.iter().map(|reading| keyed(reading)).collect();
    let gone = before.keys().filter(|key| !after.contains_key(*key));
    let other = after
        .iter()
        .filter(|(key, value)| before.get(*key) != Some(*value));
    gone.count() + other.count()
}

fn json(score: &Score) -> Value {
    serde_json::to_value(score).unwrap_or_default()
}
