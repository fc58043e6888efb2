//! Running plugins over many entries, stretch by stretch.
//!
//! A plugin that reads from nobody, or from plugins that have been over a stretch
//! of entries, can go over that stretch at once: its code and its memory then stay
//! in the processor's caches, and other plugins go over the same or the next
//! stretch at the same time. What comes out is the same as entry by entry, because
//! a plugin is handed at each entry what its sources changed at that entry, and
//! nothing else enters.

use std::ops::Range;
use std::sync::{Mutex, MutexGuard, OnceLock};

use crate::board::Delta;
use crate::handed::Handed;
use crate::interface::wit;
use crate::player::Player;
use crate::run::Step;
use crate::translate;

/// Fewer calls than this are made one after another: handing them to other
/// threads would take longer.
const CALLS_WORTH_SHARING: usize = 256;
/// Entries that a plugin goes over before others are asked whether they can go on.
/// Longer stretches keep the threads apart for less, but let the last in a row of
/// plugins that read from each other begin later.
const STRETCH: usize = 64;

/// The entries of a pass and what they share.
pub(crate) struct Entries<'a> {
    pub(crate) steps: &'a [Step<'a>],
    /// Whether each entry changed the score.
    pub(crate) scored: &'a [bool],
    pub(crate) handed: &'a Handed,
    /// How many entries were handed over before the first of these.
    pub(crate) before: usize,
}

/// What a plugin changed, each with the place of the entry; sorted by place.
pub(crate) type Track = Vec<(usize, Delta)>;

/// Runs each player over all entries, nowhere before those it reads from; the
/// tracks are in the order of the players. `sources` says whom each reads from:
/// players before it.
pub(crate) fn run_over(
    players: &mut [Player],
    sources: &[Vec<usize>],
    entries: &Entries<'_>,
) -> Vec<Track> {
    if players.len() * entries.steps.len() < CALLS_WORTH_SHARING {
        return one_by_one(players, sources, entries);
    }
    let work = Work::new(players, sources, entries);
    rayon::scope(|scope| work.begin(scope));
    let whole = |stretches: Vec<OnceLock<Track>>| {
        let tracks = stretches.into_iter().map(OnceLock::into_inner);
        let tracks = tracks.map(|track| track.expect("every player goes over every stretch"));
        tracks.flatten().collect()
    };
    work.tracks.into_iter().map(whole).collect()
}

fn one_by_one(players: &mut [Player], sources: &[Vec<usize>], entries: &Entries<'_>) -> Vec<Track> {
    let mut tracks: Vec<Track> = Vec::with_capacity(players.len());
    for (player, sources) in players.iter_mut().zip(sources) {
        let sources: Vec<&Track> = sources.iter().map(|source| &tracks[*source]).collect();
        let track = go_over(player, &sources, entries, 0..entries.steps.len());
        tracks.push(track);
    }
    tracks
}

/// Players on their way over the entries, those that can run at the same time.
struct Work<'w> {
    players: Vec<Mutex<&'w mut Player>>,
    sources: &'w [Vec<usize>],
    /// Who reads from each.
    followers: Vec<Vec<usize>>,
    stages: Mutex<Vec<Stage>>,
    /// What each player changed in each stretch it has been over.
    tracks: Vec<Vec<OnceLock<Track>>>,
    entries: &'w Entries<'w>,
}

/// How far a player has come.
#[derive(Clone, Copy, Default)]
struct Stage {
    /// The stretches it has been over.
    done: usize,
    /// It is on its way over the next one.
    busy: bool,
}

impl<'w> Work<'w> {
    fn new(players: &'w mut [Player], sources: &'w [Vec<usize>], entries: &'w Entries<'w>) -> Self {
        let mut followers = vec![Vec::new(); players.len()];
        for (index, sources) in sources.iter().enumerate() {
            for source in sources {
                followers[*source].push(index);
            }
        }
        let stretches = entries.steps.len().div_ceil(STRETCH);
        let unwritten = || (0..stretches).map(|_| OnceLock::new()).collect();
        Self {
            stages: Mutex::new(vec![Stage::default(); players.len()]),
            tracks: players.iter().map(|_| unwritten()).collect(),
            players: players.iter_mut().map(Mutex::new).collect(),
            sources,
            followers,
            entries,
        }
    }

    /// Begins with those that read from nobody. The one most wait for comes
    /// last: a thread takes up first what it put down last.
    fn begin<'s>(&'s self, scope: &rayon::Scope<'s>) {
        let mut first: Vec<usize> = (0..self.players.len()).collect();
        first.sort_by_key(|index| self.followers[*index].len());
        self.spawn(scope, &first);
    }

    /// Sends those of `players` on that can go over their next stretch.
    fn spawn<'s>(&'s self, scope: &rayon::Scope<'s>, players: &[usize]) {
        let mut stages = self.stages();
        for index in players {
            let Stage { done, busy } = stages[*index];
            let mut sources = self.sources[*index].iter();
            let is_left = done < self.tracks[*index].len();
            if is_left && !busy && sources.all(|source| stages[*source].done > done) {
                let index = *index;
                stages[index].busy = true;
                scope.spawn(move |scope| self.run(index, done, scope));
            }
        }
    }

    fn run<'s>(&'s self, index: usize, stretch: usize, scope: &rayon::Scope<'s>) {
        let sources: Vec<&Track> = self.sources[index]
            .iter()
            .map(|source| {
                let track = self.tracks[*source][stretch].get();
                track.expect("the sources of a player are ahead of it")
            })
            .collect();
        let begin = stretch * STRETCH;
        let end = self.entries.steps.len().min(begin + STRETCH);
        let track = {
            let player = self.players[index].lock();
            let mut player = player.expect("a thread that panics ends the pass");
            go_over(&mut player, &sources, self.entries, begin..end)
        };
        let written = self.tracks[index][stretch].set(track);
        written.expect("a player goes over a stretch once");
        self.stages()[index] = Stage {
            done: stretch + 1,
            busy: false,
        };
        self.spawn(scope, &[index]);
        self.spawn(scope, &self.followers[index]);
    }

    fn stages(&self) -> MutexGuard<'_, Vec<Stage>> {
        self.stages
            .lock()
            .expect("a thread that panics ends the pass")
    }
}

/// Runs one player over a stretch of the entries, of which `sources` are the
/// tracks.
fn go_over(
    player: &mut Player,
    sources: &[&Track],
    entries: &Entries<'_>,
    stretch: Range<usize>,
) -> Track {
    let mut track = Track::new();
    let mut unread: Vec<&[(usize, Delta)]> = sources.iter().map(|track| &track[..]).collect();
    for place in stretch {
        let step = &entries.steps[place];
        if !player.runs() {
            break;
        }
        let scored = entries.scored[place];
        let called = scored || player.manifest().is_called_for(step.entry.play.kind());
        if !called && !unread.iter().any(|unread| is_about(unread, place)) {
            continue;
        }
        let mut news = Vec::new();
        if scored {
            news.push(wit::News::Score(translate::score(step.score)));
        }
        for unread in unread.iter_mut().filter(|unread| is_about(unread, place)) {
            unread[0].1.hand_over(&player.manifest().reads, &mut news);
            *unread = &unread[1..];
        }
        // A source may have changed something else than what is read of it.
        if !called && news.is_empty() {
            continue;
        }
        let handed = entries.handed.first(entries.before + place + 1);
        let moment = wit::Moment {
            entry: translate::entry(step.entry, step.rally, handed),
            news: (!news.is_empty()).then_some(news),
        };
        let delta = player.step(&moment, step.entry, handed);
        if !delta.is_empty() {
            track.push((place, delta));
        }
    }
    track
}

/// Whether the next of a source's changes were made at this entry.
fn is_about(unread: &[(usize, Delta)], place: usize) -> bool {
    unread.first().is_some_and(|(changed, _)| *changed == place)
}
