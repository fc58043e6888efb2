//! Running plugins over many entries, chunk by chunk.
//!
//! A plugin that reads from nobody, or from plugins that have been over a chunk
//! of entries, can go over that chunk at once: its code and its memory then stay
//! in the processor's caches, and other plugins go over the same or the next
//! chunk at the same time. What comes out is the same as entry by entry, because
//! a plugin is handed at each entry what its sources changed at that entry, and
//! nothing else enters.

use std::ops::Range;
use std::sync::{Mutex, MutexGuard, OnceLock};

use crate::current_readings::Delta;
use crate::handed_entries::HandedEntries;
use crate::interface::wit;
use crate::plugin_instance::PluginInstance;
use crate::step::Step;
use crate::translate;

/// Fewer calls than this are made one after another: handing them to other
/// threads would take longer.
const CALLS_WORTH_SHARING: usize = 256;
/// Entries that a plugin goes over before others are asked whether they can go on.
/// Longer chunks keep the threads apart for less, but let the last in a row of
/// plugins that read from each other begin later.
const CHUNK: usize = 64;

/// The entries of a batch and what they share.
pub(crate) struct Batch<'a> {
    pub(crate) steps: &'a [Step<'a>],
    /// Whether each entry changed the score.
    pub(crate) scored: &'a [bool],
    pub(crate) handed: &'a HandedEntries,
    /// How many entries were handed over before the first of these.
    pub(crate) before: usize,
}

/// What a plugin changed, each with the place of the entry; sorted by place.
pub(crate) type DeltasByEntry = Vec<(usize, Delta)>;

/// Runs each instance over all entries, nowhere before those it reads from; the
/// deltas are in the order of the instances. `sources` says whom each reads from:
/// instances before it.
pub(crate) fn run_over(
    instances: &mut [PluginInstance],
    sources: &[Vec<usize>],
    batch: &Batch<'_>,
) -> Vec<DeltasByEntry> {
    if instances.len() * batch.steps.len() < CALLS_WORTH_SHARING {
        return one_by_one(instances, sources, batch);
    }
    let schedule = Schedule::new(instances, sources, batch);
    rayon::scope(|scope| schedule.begin(scope));
    let whole = |chunks: Vec<OnceLock<DeltasByEntry>>| {
        let deltas = chunks.into_iter().map(OnceLock::into_inner);
        let deltas = deltas.map(|deltas| deltas.expect("every instance goes over every chunk"));
        deltas.flatten().collect()
    };
    schedule.deltas.into_iter().map(whole).collect()
}

fn one_by_one(
    instances: &mut [PluginInstance],
    sources: &[Vec<usize>],
    batch: &Batch<'_>,
) -> Vec<DeltasByEntry> {
    let mut all: Vec<DeltasByEntry> = Vec::with_capacity(instances.len());
    for (instance, sources) in instances.iter_mut().zip(sources) {
        let sources: Vec<&DeltasByEntry> = sources.iter().map(|source| &all[*source]).collect();
        all.push(go_over(instance, &sources, batch, 0..batch.steps.len()));
    }
    all
}

/// Plugin instances on their way over the entries, those that can run at the same time.
struct Schedule<'w> {
    instances: Vec<Mutex<&'w mut PluginInstance>>,
    sources: &'w [Vec<usize>],
    /// Who reads from each.
    followers: Vec<Vec<usize>>,
    progress: Mutex<Vec<Progress>>,
    /// What each instance changed in each chunk it has been over.
    deltas: Vec<Vec<OnceLock<DeltasByEntry>>>,
    batch: &'w Batch<'w>,
}

/// How far an instance has come.
#[derive(Clone, Copy, Default)]
struct Progress {
    /// The chunks it has been over.
    done: usize,
    /// It is on its way over the next one.
    busy: bool,
}

impl<'w> Schedule<'w> {
    fn new(
        instances: &'w mut [PluginInstance],
        sources: &'w [Vec<usize>],
        batch: &'w Batch<'w>,
    ) -> Self {
        let mut followers = vec![Vec::new(); instances.len()];
        for (index, sources) in sources.iter().enumerate() {
            for source in sources {
                followers[*source].push(index);
            }
        }
        let chunks = batch.steps.len().div_ceil(CHUNK);
        let unwritten = || (0..chunks).map(|_| OnceLock::new()).collect();
        Self {
            progress: Mutex::new(vec![Progress::default(); instances.len()]),
            deltas: instances.iter().map(|_| unwritten()).collect(),
            instances: instances.iter_mut().map(Mutex::new).collect(),
            sources,
            followers,
            batch,
        }
    }

    /// Begins with those that read from nobody. The one most wait for comes
    /// last: a thread takes up first what it put down last.
    fn begin<'s>(&'s self, scope: &rayon::Scope<'s>) {
        let mut first: Vec<usize> = (0..self.instances.len()).collect();
        first.sort_by_key(|index| self.followers[*index].len());
        self.spawn(scope, &first);
    }

    /// Sends those of `instances` on that can go over their next chunk.
    fn spawn<'s>(&'s self, scope: &rayon::Scope<'s>, instances: &[usize]) {
        let mut progress = self.progress();
        for index in instances {
            let Progress { done, busy } = progress[*index];
            let mut sources = self.sources[*index].iter();
            let is_left = done < self.deltas[*index].len();
            if is_left && !busy && sources.all(|source| progress[*source].done > done) {
                let index = *index;
                progress[index].busy = true;
                scope.spawn(move |scope| self.run(index, done, scope));
            }
        }
    }

    fn run<'s>(&'s self, index: usize, chunk: usize, scope: &rayon::Scope<'s>) {
        let sources: Vec<&DeltasByEntry> = self.sources[index]
            .iter()
            .map(|source| {
                let deltas = self.deltas[*source][chunk].get();
                deltas.expect("the sources of an instance are ahead of it")
            })
            .collect();
        let begin = chunk * CHUNK;
        let end = self.batch.steps.len().min(begin + CHUNK);
        let deltas = {
            let instance = self.instances[index].lock();
            let mut instance = instance.expect("a thread that panics ends the batch");
            go_over(&mut instance, &sources, self.batch, begin..end)
        };
        let written = self.deltas[index][chunk].set(deltas);
        written.expect("an instance goes over a chunk once");
        self.progress()[index] = Progress {
            done: chunk + 1,
            busy: false,
        };
        self.spawn(scope, &[index]);
        self.spawn(scope, &self.followers[index]);
    }

    fn progress(&self) -> MutexGuard<'_, Vec<Progress>> {
        self.progress
            .lock()
            .expect("a thread that panics ends the batch")
    }
}

/// Runs one instance over a chunk of the entries, of which `sources` are the
/// deltas.
fn go_over(
    instance: &mut PluginInstance,
    sources: &[&DeltasByEntry],
    batch: &Batch<'_>,
    chunk: Range<usize>,
) -> DeltasByEntry {
    let mut deltas = DeltasByEntry::new();
    let mut unread: Vec<&[(usize, Delta)]> = sources.iter().map(|deltas| &deltas[..]).collect();
    for place in chunk {
        let step = &batch.steps[place];
        if !instance.runs() {
            break;
        }
        let scored = batch.scored[place];
        let called = scored || instance.manifest().is_called_for(step.entry.play.kind());
        if !called && !unread.iter().any(|unread| is_about(unread, place)) {
            continue;
        }
        let mut news = Vec::new();
        if scored {
            news.push(wit::News::Score(translate::score(step.score)));
        }
        for unread in unread.iter_mut().filter(|unread| is_about(unread, place)) {
            unread[0].1.hand_over(&instance.manifest().reads, &mut news);
            *unread = &unread[1..];
        }
        // A source may have changed something else than what is read of it.
        if !called && news.is_empty() {
            continue;
        }
        let handed = batch.handed.first(batch.before + place + 1);
        let moment = wit::Moment {
            entry: translate::entry(step.entry, step.rally, handed),
            news: (!news.is_empty()).then_some(news),
        };
        let delta = instance.step(&moment, step.entry, handed);
        if !delta.is_empty() {
            deltas.push((place, delta));
        }
    }
    deltas
}

/// Whether the next of a source's changes were made at this entry.
fn is_about(unread: &[(usize, Delta)], place: usize) -> bool {
    unread.first().is_some_and(|(changed, _)| *changed == place)
}
