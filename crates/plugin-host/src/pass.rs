//! Running plugins over many entries, plugin by plugin.
//!
//! A plugin that reads from nobody, or from plugins that have been over all the
//! entries, can go over all of them at once: its code and its memory then stay
//! in the processor's caches, and plugins that do not read from each other run
//! at the same time. What comes out is the same as entry by entry, because a
//! plugin is handed at each entry what its sources changed at that entry, and
//! nothing else enters.

use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, OnceLock};

use crate::board::Delta;
use crate::handed::Handed;
use crate::interface::wit;
use crate::player::Player;
use crate::run::Step;
use crate::translate;

/// Fewer calls than this are made one after another: handing them to other
/// threads would take longer.
const CALLS_WORTH_SHARING: usize = 256;

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

/// Runs each player over all entries, after those it reads from; the tracks are
/// in the order of the players. `sources` says whom each reads from: players
/// before it.
pub(crate) fn run_over(
    players: &mut [Player],
    sources: &[Vec<usize>],
    entries: &Entries<'_>,
) -> Vec<Track> {
    let tracks: Vec<OnceLock<Track>> = players.iter().map(|_| OnceLock::new()).collect();
    if players.len() * entries.steps.len() < CALLS_WORTH_SHARING {
        for (index, player) in players.iter_mut().enumerate() {
            let track = go_over(player, &read(&tracks, &sources[index]), entries);
            put(&tracks[index], track);
        }
    } else {
        let work = Work::new(players, sources, &tracks, entries);
        rayon::scope(|scope| work.begin(scope));
    }
    let finished = tracks.into_iter().map(OnceLock::into_inner);
    finished
        .map(|track| track.expect("each player is run once its sources have been"))
        .collect()
}

/// Players on their way over the entries, those that can run at the same time.
struct Work<'w> {
    players: Vec<Mutex<&'w mut Player>>,
    sources: &'w [Vec<usize>],
    /// Who reads from each.
    followers: Vec<Vec<usize>>,
    /// How many sources each still waits for.
    waiting: Vec<AtomicUsize>,
    tracks: &'w [OnceLock<Track>],
    entries: &'w Entries<'w>,
}

impl<'w> Work<'w> {
    fn new(
        players: &'w mut [Player],
        sources: &'w [Vec<usize>],
        tracks: &'w [OnceLock<Track>],
        entries: &'w Entries<'w>,
    ) -> Self {
        let mut followers = vec![Vec::new(); players.len()];
        for (index, sources) in sources.iter().enumerate() {
            for source in sources {
                followers[*source].push(index);
            }
        }
        let waiting = sources.iter().map(|sources| sources.len().into());
        Self {
            players: players.iter_mut().map(Mutex::new).collect(),
            sources,
            followers,
            waiting: waiting.collect(),
            tracks,
            entries,
        }
    }

    /// Begins with those that read from nobody. The one most wait for comes
    /// last: a thread takes up first what it put down last.
    fn begin<'s>(&'s self, scope: &rayon::Scope<'s>) {
        let mut first: Vec<usize> = (0..self.players.len())
            .filter(|index| self.sources[*index].is_empty())
            .collect();
        first.sort_by_key(|index| self.followers[*index].len());
        for index in first {
            scope.spawn(move |scope| self.run(index, scope));
        }
    }

    fn run<'s>(&'s self, index: usize, scope: &rayon::Scope<'s>) {
        let track = {
            let sources = read(self.tracks, &self.sources[index]);
            let mut player = self.players[index]
                .lock()
                .expect("a player is run once, by one thread");
            go_over(&mut player, &sources, self.entries)
        };
        put(&self.tracks[index], track);
        for follower in &self.followers[index] {
            if self.waiting[*follower].fetch_sub(1, Ordering::AcqRel) == 1 {
                let follower = *follower;
                scope.spawn(move |scope| self.run(follower, scope));
            }
        }
    }
}

fn put(place: &OnceLock<Track>, track: Track) {
    place
        .set(track)
        .expect("a player is run over the entries once");
}

fn read<'t>(tracks: &'t [OnceLock<Track>], sources: &[usize]) -> Vec<&'t Track> {
    let track = |source: &usize| {
        tracks[*source]
            .get()
            .expect("a source has been over the entries before its readers")
    };
    sources.iter().map(track).collect()
}

/// Runs one player over all entries.
fn go_over(player: &mut Player, sources: &[&Track], entries: &Entries<'_>) -> Track {
    let mut track = Track::new();
    let mut unread: Vec<&[(usize, Delta)]> = sources.iter().map(|track| &track[..]).collect();
    for (place, step) in entries.steps.iter().enumerate() {
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
