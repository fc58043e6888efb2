//! How far a charter's clock is off the host's, and how late its entries come.
//!
//! A beat carries the client's time, so `client − host` when it arrives is the
//! difference of the clocks less the delay on the way: the greatest of the last
//! minute had the least delay, and stands for the difference. An entry's lateness
//! is then `received − at`, put right by that difference.
//!
//! Only entries recorded while the client was connected tell how good its
//! connection is: one that was recorded before waited in the laptop, for the
//! network or for this host, and says nothing about now. Times are milliseconds;
//! nothing here reads a clock.

use std::collections::VecDeque;

/// How long a beat counts.
const MINUTE_MS: i64 = 60_000;
/// Beats kept: more than a client sends in a minute.
const BEATS: usize = 64;
/// Entries that the median is taken of.
const ENTRIES: usize = 15;

/// What is known of one client's clock.
#[derive(Debug, Default, Clone)]
pub(crate) struct ClientClock {
    /// When each beat came, and what its time was ahead of the host's.
    beats: VecDeque<(i64, i64)>,
    /// Of the last entries: the time each says, and when it was received.
    entries: VecDeque<(i64, i64)>,
    /// When the client last said hello, by the host's clock.
    since: i64,
}

impl ClientClock {
    /// The client says hello at `now`: what it recorded before was waiting.
    pub(crate) fn hello(&mut self, now: i64) {
        self.since = now;
    }

    /// A beat that says `at`, heard at `now`.
    pub(crate) fn beat(&mut self, at: i64, now: i64) {
        keep(&mut self.beats, BEATS, (now, at - now));
    }

    /// An entry of the time `at`, received at `received`.
    pub(crate) fn entry(&mut self, at: i64, received: i64) {
        keep(&mut self.entries, ENTRIES, (at, received));
    }

    /// The client's clock minus the host's; `None` without a beat of the last
    /// minute.
    pub(crate) fn clock_ms(&self, now: i64) -> Option<i64> {
        let recent = self
            .beats
            .iter()
            .filter(|(heard, _)| now - heard <= MINUTE_MS);
        recent.map(|(_, ahead)| *ahead).max()
    }

    /// The median lateness of those of the last entries that were not waiting;
    /// `None` where there are none, or the clock is not known.
    pub(crate) fn late_ms(&self, now: i64) -> Option<i64> {
        let clock = self.clock_ms(now)?;
        let live = self
            .entries
            .iter()
            .filter(|(at, _)| at - clock >= self.since);
        let mut delays: Vec<i64> = live.map(|(at, received)| received - at).collect();
        delays.sort_unstable();
        let middle = delays.get(delays.len() / 2)?;
        Some((middle + clock).max(0))
    }
}

fn keep<T>(queue: &mut VecDeque<T>, limit: usize, value: T) {
    if queue.len() == limit {
        queue.pop_front();
    }
    queue.push_back(value);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_beat_with_the_least_delay_tells_the_clock() {
        let mut clock = ClientClock::default();
        // 200 ms ahead; on the way for 90, 5 and 40 ms.
        for (sent, delay) in [(1_000, 90), (2_000, 5), (3_000, 40)] {
            clock.beat(sent + 200, sent + delay);
        }
        assert_eq!(clock.clock_ms(3_000), Some(195));
    }

    #[test]
    fn lateness_is_put_right_by_the_clock() {
        let mut clock = ClientClock::default();
        clock.beat(1_200, 1_000);
        for (at, delay) in [(5_000, 30), (6_000, 900), (7_000, 40)] {
            clock.entry(at + 200, at + delay);
        }
        assert_eq!(clock.late_ms(8_000), Some(40));
    }

    #[test]
    fn entries_that_waited_for_the_connection_tell_nothing_about_it() {
        let mut clock = ClientClock::default();
        // A clock 200 ms ahead; hello at 60_000, then all that was waiting.
        clock.hello(60_000);
        clock.beat(60_210, 60_010);
        for at in 0..10 {
            clock.entry(4_000 + at, 60_020);
        }
        assert_eq!(clock.late_ms(60_030), None);
        clock.entry(61_200, 61_035);
        assert_eq!(clock.late_ms(61_035), Some(35));
        clock.hello(62_000);
        assert_eq!(clock.late_ms(62_000), None);
    }

    #[test]
    fn without_a_beat_of_the_last_minute_nothing_is_known() {
        let mut clock = ClientClock::default();
        clock.entry(0, 50);
        assert_eq!((clock.clock_ms(10), clock.late_ms(10)), (None, None));
        clock.beat(0, 0);
        assert_eq!(clock.late_ms(60_000), Some(50));
        assert_eq!(clock.late_ms(60_001), None);
    }
}
