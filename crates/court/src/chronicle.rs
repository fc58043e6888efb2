//! The chronicle: a whole match told from its chart, for whoever looks at it
//! afterwards: rally by rally, shot by shot, with the score before and after,
//! who held the initiative and why.
//!
//! A pure function of the effective chart and the plugins. Who holds, and how
//! deep a team stands, is taken from the readings; nothing is judged here.

use std::sync::Arc;

use rallytide_chart::{
    At, Chart, Effective, EntryId, FaultKind, Flag, Header, PairOf, Play, Stroke, Team,
};
use rallytide_plugin_host::{PluginSet, Reading, Reason, Run, Value};
use rallytide_scoring::{Place, PlayByPlay, Score};

use crate::book::{RallyEndView, RallyPatch, ShotView};
use crate::charted::{Walked, walk};
use crate::messages::Unavailable;
use crate::timeline::{Clocked, timeline};

/// A whole match.
#[derive(Debug, Clone)]
pub struct Chronicle {
    /// Who plays, under which format.
    pub header: Arc<Header>,
    /// The score before the first entry.
    pub opening: Score,
    /// What happened, in order. What falls into a rally stands after it.
    pub parts: Vec<Part>,
    /// The score at the end of the chart.
    pub closing: Score,
    /// All readings at the end of the chart, sorted.
    pub readings: Vec<Reading>,
    /// Plugins whose readings are not to be had.
    pub unavailable: Vec<Unavailable>,
    /// When the first entry happened; `None` in a chart without entries.
    pub begins: Option<At>,
}

/// A part of the match.
#[derive(Debug, Clone)]
pub enum Part {
    /// A rally.
    Rally(ToldRally),
    /// Something beside the rallies.
    Aside(Aside),
}

/// A rally from its first entry to its end.
#[derive(Debug, Clone)]
pub struct ToldRally {
    /// Counted from 1 over the match, replayed ones included.
    pub number: u32,
    /// The score as it stood when the rally began.
    pub before: Score,
    /// The score after its last entry.
    pub after: Score,
    /// Whether the score counts it: not if replayed, cut off or not ended.
    pub counted: bool,
    /// When its first entry happened.
    pub began: Clocked,
    /// Its shots, assumed ones included.
    pub shots: Vec<ToldShot>,
    /// Who held the initiative after each of its entries from the first shot on.
    pub states: Vec<Held>,
    /// How it ended; `None` where the chart ends in the middle of it.
    pub end: Option<ToldEnd>,
    /// What the charter was told about its entries other than shots.
    pub flags: Vec<Flag>,
}

/// A shot.
#[derive(Debug, Clone)]
pub struct ToldShot {
    /// Number, team, stroke, contact, cues, and who held after it.
    pub view: ShotView,
    /// When it happened; `None` for an assumed one.
    pub clocked: Option<Clocked>,
    /// When it was recorded, as recorded; `None` for an assumed one.
    pub recorded: Option<At>,
    /// Which player struck it, where recorded.
    pub player: Option<u32>,
    /// Whether the contact was recorded and not assumed from the stroke.
    pub contact_given: bool,
    /// How deep each team stood, by the latest entry about this moment.
    pub depths: PairOf<Option<ToldDepth>>,
    /// What the charter was told about it.
    pub flags: Vec<Flag>,
}

/// How deep a team stood.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ToldDepth {
    /// `back`, `transition` or `line`.
    pub depth: String,
    /// It was inferred, not seen.
    pub inferred: bool,
}

/// Who held the initiative after an entry.
#[derive(Debug, Clone)]
pub struct Held {
    /// The entry.
    pub entry: EntryId,
    /// When it happened.
    pub clocked: Clocked,
    /// Who held; `None`: nobody.
    pub toward: Option<Team>,
    /// How strongly, 0 to 1.
    pub strength: f64,
    /// Why.
    pub why: Vec<Reason>,
}

/// The end of a rally.
#[derive(Debug, Clone)]
pub struct ToldEnd {
    /// Who won, how, by whom.
    pub view: RallyEndView,
    /// When.
    pub clocked: Clocked,
    /// Which player of `by`, if recorded.
    pub player: Option<u32>,
    /// Which fault, if recorded.
    pub fault: Option<FaultKind>,
    /// What the entry was; a rally can be cut off by many kinds.
    pub play: Arc<Play>,
}

/// Something beside the rallies: a time-out, a foul, the referee's word, a note.
#[derive(Debug, Clone)]
pub struct Aside {
    /// The entry.
    pub entry: EntryId,
    /// When.
    pub clocked: Clocked,
    /// What happened.
    pub play: Arc<Play>,
    /// The rally it fell into, if it fell into one.
    pub rally: Option<u32>,
    /// The score before it.
    pub before: Score,
    /// The score after it.
    pub after: Score,
    /// What the charter was told about it.
    pub flags: Vec<Flag>,
}

impl Chronicle {
    /// Tells the match of `chart`.
    #[must_use]
    pub fn new(chart: &Chart, plugin_set: &PluginSet) -> Self {
        Self::with_run(chart, plugin_set).0
    }

    /// As [`Chronicle::new`]; the plugins' run at the end comes along.
    #[must_use]
    pub fn with_run(chart: &Chart, plugin_set: &PluginSet) -> (Self, Run) {
        let times = timeline(&chart.effective());
        let opening = PlayByPlay::new(chart.header()).score().clone();
        let mut teller = Teller {
            parts: Vec::new(),
            running: None,
            score: opening.clone(),
        };
        let mut times_left = times.iter();
        let run = walk(chart, plugin_set, |walked| {
            if let Some(clocked) = times_left.next() {
                teller.tell(walked, *clocked);
            }
        });
        let unavailable = run
            .unavailable()
            .map(|(plugin, message)| Unavailable { plugin, message });
        let chronicle = Self {
            header: Arc::clone(chart.header()),
            opening,
            parts: teller.parts,
            closing: teller.score,
            readings: run.readings().cloned().collect(),
            unavailable: unavailable.collect(),
            begins: times.first().map(|first| first.at),
        };
        (chronicle, run)
    }

    /// The rallies in order.
    pub fn rallies(&self) -> impl Iterator<Item = &ToldRally> {
        self.parts.iter().filter_map(|part| match part {
            Part::Rally(rally) => Some(rally),
            Part::Aside(_) => None,
        })
    }

    /// What happened beside the rallies, in order.
    pub fn asides(&self) -> impl Iterator<Item = &Aside> {
        self.parts.iter().filter_map(|part| match part {
            Part::Aside(aside) => Some(aside),
            Part::Rally(_) => None,
        })
    }

    /// Milliseconds from the first entry of the match.
    #[must_use]
    pub fn since_start(&self, clocked: Clocked) -> i64 {
        let begins = self.begins.unwrap_or(clocked.at);
        clocked.at.milliseconds() - begins.milliseconds()
    }
}

impl Aside {
    /// The team it is about, if it is about one.
    #[must_use]
    pub fn team(&self) -> Option<Team> {
        match &*self.play {
            Play::TimeOut(time_out) => Some(time_out.team),
            Play::Lineup(lineup) => Some(lineup.team),
            Play::Penalty { team } | Play::Retire { team } => Some(*team),
            _ => None,
        }
    }

    /// The text of a note.
    #[must_use]
    pub fn text(&self) -> Option<&str> {
        match &*self.play {
            Play::Note { text } => Some(text),
            _ => None,
        }
    }
}

impl ToldRally {
    /// Whether it was charted from its serve on, without a shot missed.
    #[must_use]
    pub fn is_charted_in_full(&self) -> bool {
        let first = self.shots.first();
        first.is_some_and(|shot| shot.view.stroke == Some(Stroke::Serve))
            && self.shots.iter().all(|shot| !shot.view.assumed)
    }

    /// The shots that somebody recorded.
    pub fn recorded_shots(&self) -> impl Iterator<Item = &ToldShot> {
        self.shots.iter().filter(|shot| !shot.view.assumed)
    }
}

struct Teller {
    parts: Vec<Part>,
    /// The place of the rally being played.
    running: Option<usize>,
    /// The score before the entry whose turn it is.
    score: Score,
}

impl Teller {
    fn tell(&mut self, walked: &Walked<'_>, clocked: Clocked) {
        let after_match = walked.turn.place == Place::AfterMatch;
        if let Some(patch) = walked.rally {
            self.rally(patch, walked, clocked);
        } else if let (Play::Cue(_), Some(rally)) = (&*walked.entry.play, self.running_rally()) {
            rally.flags.extend(&walked.turn.flags);
        }
        let is_note = matches!(*walked.entry.play, Play::Note { .. });
        if is_aside(&walked.entry.play) && (is_note || !after_match) {
            self.aside(walked, clocked);
        }
        if walked.turn.score_changed {
            self.score = walked.score.clone();
        }
    }

    fn running_rally(&mut self) -> Option<&mut ToldRally> {
        match self.parts.get_mut(self.running?) {
            Some(Part::Rally(rally)) => Some(rally),
            _ => None,
        }
    }

    /// The rally with this number, begun if it is a new one.
    fn begun(&mut self, number: u32, clocked: Clocked) -> &mut ToldRally {
        if self
            .running_rally()
            .is_none_or(|rally| rally.number != number)
        {
            self.running = Some(self.parts.len());
            self.parts.push(Part::Rally(ToldRally {
                number,
                before: self.score.clone(),
                after: self.score.clone(),
                counted: false,
                began: clocked,
                shots: Vec::new(),
                states: Vec::new(),
                end: None,
                flags: Vec::new(),
            }));
        }
        self.running_rally()
            .expect("a rally was begun above where none was running")
    }

    fn rally(&mut self, patch: &RallyPatch, walked: &Walked<'_>, clocked: Clocked) {
        let rally = self.begun(patch.number, clocked);
        let entry = walked.entry;
        for view in &patch.shots {
            let known = rally.shots.iter_mut().find(|shot| shot.view.n == view.n);
            match known {
                Some(shot) => shot.view = view.clone(),
                None => rally.shots.push(told_shot(view, walked, clocked)),
            }
        }
        rally.after = walked.score.clone();
        if let Some(end) = &patch.end {
            let (player, fault) = match &*entry.play {
                Play::RallyEnd(end) => (end.player, end.fault),
                _ => (None, None),
            };
            rally.counted = walked.turn.counted && matches!(*entry.play, Play::RallyEnd(_));
            rally.end = Some(ToldEnd {
                view: end.clone(),
                clocked,
                player,
                fault,
                play: Arc::clone(&entry.play),
            });
            self.running = None;
            return;
        }
        if !matches!(*entry.play, Play::Shot(_)) {
            rally.flags.extend(&walked.turn.flags);
        }
        if let Some(latest) = rally.shots.last_mut() {
            latest.depths = depths(walked.run);
        }
        if let Some(held) = held(entry, walked.run, clocked) {
            rally.states.push(held);
        }
    }

    fn aside(&mut self, walked: &Walked<'_>, clocked: Clocked) {
        let rally = self.running_rally().map(|rally| rally.number);
        self.parts.push(Part::Aside(Aside {
            entry: walked.entry.id.clone(),
            clocked,
            play: Arc::clone(&walked.entry.play),
            rally,
            before: self.score.clone(),
            after: walked.score.clone(),
            flags: walked.turn.flags.clone(),
        }));
    }
}

/// Whether it is told beside the rallies.
fn is_aside(play: &Play) -> bool {
    match play {
        Play::Shot(_) | Play::Cue(_) | Play::Depth(_) | Play::RallyEnd(_) | Play::Replay => false,
        Play::TimeOut(_)
        | Play::Penalty { .. }
        | Play::ScoreFix(_)
        | Play::Lineup(_)
        | Play::Retire { .. }
        | Play::Note { .. } => true,
    }
}

fn told_shot(view: &ShotView, walked: &Walked<'_>, clocked: Clocked) -> ToldShot {
    let struck = match &*walked.entry.play {
        Play::Shot(shot) if !view.assumed => Some(shot),
        _ => None,
    };
    ToldShot {
        view: view.clone(),
        clocked: struck.map(|_| clocked),
        recorded: struck.map(|_| walked.entry.at),
        player: struck.and_then(|shot| shot.player),
        contact_given: struck
            .is_some_and(|shot| shot.contact.is_some() && shot.stroke != Stroke::Serve),
        depths: PairOf::default(),
        flags: match struck {
            Some(_) => walked.turn.flags.clone(),
            None => Vec::new(),
        },
    }
}

fn depths(run: &Run) -> PairOf<Option<ToldDepth>> {
    let mut depths = PairOf::<Option<ToldDepth>>::default();
    for reading in run.readings().filter(|one| one.indicator() == "depth") {
        if let (Some(team), Value::Text { text }) = (reading.key.team, &reading.value) {
            *depths.of_mut(team) = Some(ToldDepth {
                depth: text.clone(),
                inferred: reading.flags.iter().any(|flag| flag == "inferred"),
            });
        }
    }
    depths
}

fn held(entry: &Effective, run: &Run, clocked: Clocked) -> Option<Held> {
    let reading = run.reading("initiative")?;
    let Value::Lean { toward, strength } = reading.value else {
        return None;
    };
    Some(Held {
        entry: entry.id.clone(),
        clocked,
        toward,
        strength,
        why: reading.why.clone(),
    })
}
