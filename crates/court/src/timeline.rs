//! When each effective entry happened: the recorder's clock where it can be
//! believed, an estimate where it cannot.
//!
//! An inserted entry carries the time at which it was put in, and clocks of
//! several charters may differ, so times of the effective chart can go back.
//! The longest run of times that never go back is believed; whatever stands
//! between two believed entries is spread evenly between them. So one clock set
//! wrong for one entry moves nothing but that entry.

use rallytide_chart::{At, Effective};
use rallytide_match_record::MatchTime;

/// When each of `entries`, in the order of the effective chart, happened.
pub(crate) fn timeline(entries: &[Effective]) -> Vec<MatchTime> {
    let believed = longest_run(entries);
    let Some((first, last)) = believed.first().zip(believed.last()) else {
        // Inserted entries alone: the time of the first of them is all there is.
        let at = entries.first().map(|entry| entry.at);
        let known = at.map(|at| MatchTime {
            at,
            estimated: true,
        });
        return entries.iter().filter_map(|_| known).collect();
    };
    let mut times: Vec<MatchTime> = entries
        .iter()
        .enumerate()
        .map(|(place, entry)| MatchTime {
            at: if place < *first {
                entries[*first].at
            } else if place > *last {
                entries[*last].at
            } else {
                entry.at
            },
            estimated: place < *first || place > *last,
        })
        .collect();
    for pair in believed.windows(2) {
        spread(pair[0], pair[1], &mut times);
    }
    times
}

/// Spreads what stands between two believed entries evenly between them.
fn spread(from: usize, to: usize, times: &mut [MatchTime]) {
    let start = times[from].at.milliseconds();
    let length = times[to].at.milliseconds() - start;
    let steps = times[from..to].iter().map(|_| 1_i64).sum::<i64>();
    for (step, time) in (1..).zip(&mut times[from + 1..to]) {
        let passed = length.saturating_mul(step) / steps;
        *time = MatchTime {
            at: At::from_milliseconds(start + passed),
            estimated: true,
        };
    }
}

/// The places of the longest run of recorded times that never go back
/// (patience sorting: `ends[n]` is the earliest end of a run of n + 1).
fn longest_run(entries: &[Effective]) -> Vec<usize> {
    let mut ends: Vec<usize> = Vec::new();
    let mut before: Vec<Option<usize>> = vec![None; entries.len()];
    for (place, entry) in entries.iter().enumerate() {
        if entry.inserted {
            continue;
        }
        let length = ends.partition_point(|end| entries[*end].at <= entry.at);
        before[place] = length.checked_sub(1).map(|shorter| ends[shorter]);
        match ends.get_mut(length) {
            Some(end) => *end = place,
            None => ends.push(place),
        }
    }
    let mut run = Vec::with_capacity(ends.len());
    let mut next = ends.last().copied();
    while let Some(place) = next {
        run.push(place);
        next = before[place];
    }
    run.reverse();
    run
}

#[cfg(test)]
mod tests {
    use rallytide_chart::read_chart_file;

    use super::*;

    const HEADER: &str = r#"{"kind":"match","chart":1,"id":"m","teams":{"a":{"name":"A"},"b":{"name":"B"}},"format":{"discipline":"doubles","scoring":"side_out","points":11,"win_by":2,"games":1},"first_serve":"a"}"#;

    /// `seconds`: when each entry was recorded; `expected`: when it happened, `~`
    /// before what is estimated. An insert after the entry before it is written
    /// with a `+`.
    #[track_caller]
    fn check(recorded: &str, expected: &str) {
        let mut lines = vec![HEADER.to_owned()];
        for (place, word) in recorded.split(' ').enumerate() {
            let seconds: u32 = word.trim_start_matches('+').parse().unwrap();
            let at = format!("2026-05-02T10:00:{seconds:02}.000Z");
            let note = r#""kind":"note","text":"n""#;
            let line = if word.starts_with('+') {
                let after = match place {
                    0 => "null".to_owned(),
                    _ => format!("\"e{}\"", place - 1),
                };
                format!(
                    r#"{{"id":"e{place}","at":"{at}","kind":"insert","after":{after},"entry":{{{note}}}}}"#
                )
            } else {
                format!(r#"{{"id":"e{place}","at":"{at}",{note}}}"#)
            };
            lines.push(line);
        }
        let file = read_chart_file(lines.join("\n").as_bytes());
        assert_eq!(file.problems, []);
        let entries = file.chart.unwrap().effective();
        let told: Vec<String> = timeline(&entries)
            .iter()
            .map(|one| {
                let text = one.at.to_string();
                let mark = if one.estimated { "~" } else { "" };
                format!(
                    "{mark}{}",
                    text[17..23].trim_end_matches('0').trim_end_matches('.')
                )
            })
            .collect();
        assert_eq!(told.join(" "), expected);
    }

    #[test]
    fn recorded_times_are_believed_as_long_as_they_never_go_back() {
        check("01 02 02 05", "01 02 02 05");
    }

    #[test]
    fn an_inserted_entry_stands_between_its_neighbours() {
        check("01 +30 03", "01 ~02 03");
        check("01 +30 +31 04", "01 ~02 ~03 04");
    }

    #[test]
    fn inserted_entries_at_the_ends_take_the_time_of_the_nearest() {
        check("+30 02 04", "~02 02 04");
        check("02 04 +30", "02 04 ~04");
        check("+30 +31", "~30 ~30");
    }

    #[test]
    fn a_clock_that_is_wrong_once_moves_nothing_else() {
        check("01 59 03 04", "01 ~02 03 04");
        check("10 11 02 13", "10 11 ~12 13");
    }
}
