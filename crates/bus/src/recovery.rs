//! Reads a log back: what is sound, what is damaged, where to go on.
//!
//! Rules:
//! - The first line must be intact, or the log cannot be opened.
//! - Whatever stands after the last intact line is the *tail*: a write that a
//!   crash cut short. It is reported, and taken off before the next append.
//! - A damaged line with an intact one after it is no cut-short write. It is
//!   reported and stays in the file; nothing is renumbered.
//! - A sound record whose number is not above the one before it is reported,
//!   left out and stays in the file.
//!
//! Pure: bytes in, findings out. It neither reads nor mends a file.

use crate::bus::Stored;
use crate::damage::{Damage, DamagePlace};
use crate::line::{Flaw, read_head, read_record};

/// What a file holds.
#[derive(Debug)]
pub(crate) struct Recovered {
    pub(crate) head: String,
    pub(crate) records: Vec<Stored>,
    pub(crate) damage: Vec<Damage>,
    /// Where the next record goes; what the file holds beyond is the tail.
    pub(crate) end: u64,
}

impl Recovered {
    /// The number of the last record, 0 if there is none.
    pub(crate) fn last_seq(&self) -> u64 {
        self.records.last().map_or(0, |record| record.seq)
    }
}

/// Reads a whole file; fails only if the head is damaged.
pub(crate) fn recover(bytes: &[u8]) -> Result<Recovered, Flaw> {
    let mut lines = Lines {
        bytes,
        offset: 0,
        number: 0,
    };
    let first = lines.next().ok_or(Flaw::NoLineEnd)?;
    let head = read_head(first.ended_text()?)?;
    let mut reading = LogReader {
        recovered: Recovered {
            head,
            records: Vec::new(),
            damage: Vec::new(),
            end: first.end(),
        },
        undecided: Vec::new(),
        hole: false,
    };
    for line in lines {
        reading.take(&line);
    }
    reading.recovered.damage.append(&mut reading.undecided);
    Ok(reading.recovered)
}

/// The state between two lines of a file.
struct LogReader {
    recovered: Recovered,
    /// Damage with no intact line after it so far: the tail, as far as is known.
    undecided: Vec<Damage>,
    /// Whether a damaged line stands since the last record, which explains a
    /// jump of the numbers.
    hole: bool,
}

impl LogReader {
    fn take(&mut self, line: &FoundLine<'_>) {
        let record = match line.ended_text().and_then(read_record) {
            Ok(record) => record,
            Err(flaw) => {
                self.undecided.push(line.damage(flaw, DamagePlace::Tail));
                return;
            }
        };
        self.settle();
        self.recovered.end = line.end();
        let (seq, after) = (record.seq, self.recovered.last_seq());
        if seq <= after {
            let flaw = Flaw::OutOfOrder { seq, after };
            let damage = line.damage(flaw, DamagePlace::Middle);
            self.recovered.damage.push(damage);
            return;
        }
        if seq > after + 1 && !self.hole {
            let flaw = Flaw::Gap { seq, after };
            let damage = line.damage(flaw, DamagePlace::Before);
            self.recovered.damage.push(damage);
        }
        self.hole = false;
        self.recovered.records.push(Stored {
            seq,
            received: record.received,
            text: record.text,
        });
    }

    /// An intact line came: the damage before it is no tail.
    fn settle(&mut self) {
        self.hole |= !self.undecided.is_empty();
        for mut damage in self.undecided.drain(..) {
            damage.place = DamagePlace::Middle;
            self.recovered.damage.push(damage);
        }
    }
}

/// A line of a file, with where it stands.
struct FoundLine<'a> {
    /// With its line break, if it has one.
    bytes: &'a [u8],
    offset: u64,
    number: u64,
}

impl<'a> FoundLine<'a> {
    fn ended_text(&self) -> Result<&'a [u8], Flaw> {
        self.bytes.strip_suffix(b"\n").ok_or(Flaw::NoLineEnd)
    }

    fn end(&self) -> u64 {
        self.offset + self.bytes.len() as u64
    }

    fn damage(&self, flaw: Flaw, place: DamagePlace) -> Damage {
        Damage {
            line: self.number,
            offset: self.offset,
            length: self.bytes.len() as u64,
            flaw,
            place,
        }
    }
}

/// The lines of a file; the last may lack its line break.
struct Lines<'a> {
    bytes: &'a [u8],
    offset: u64,
    number: u64,
}

impl<'a> Iterator for Lines<'a> {
    type Item = FoundLine<'a>;

    fn next(&mut self) -> Option<FoundLine<'a>> {
        if self.bytes.is_empty() {
            return None;
        }
        let length = self
            .bytes
            .iter()
            .position(|&b| b == b'\n')
            .map_or(self.bytes.len(), |at| at + 1);
        let (bytes, rest) = self.bytes.split_at(length);
        let offset = self.offset;
        self.bytes = rest;
        self.offset += length as u64;
        self.number += 1;
        Some(FoundLine {
            bytes,
            offset,
            number: self.number,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Timestamp;
    use crate::line::Fields;

    const HEAD: &str = r#"{"kind":"match","id":"pier-cup-final"}"#;

    fn text(seq: u64) -> String {
        format!(r#"{{"id":"e{seq}","kind":"note","text":"a line of some length"}}"#)
    }

    fn record(seq: u64) -> Vec<u8> {
        let mut out = Vec::new();
        let time = Timestamp::from_millisecond(1_777_000_000_000).unwrap();
        let text = text(seq);
        let fields = Fields::of_record(&text).unwrap();
        fields.write_record(&mut out, seq, time);
        out
    }

    fn log(seqs: impl IntoIterator<Item = u64>) -> Vec<u8> {
        let mut out = Vec::new();
        Fields::of_head(HEAD).unwrap().write_head(&mut out);
        for seq in seqs {
            out.extend(record(seq));
        }
        out
    }

    fn seqs(recovered: &Recovered) -> Vec<u64> {
        recovered.records.iter().map(|record| record.seq).collect()
    }

    #[test]
    fn a_sound_log_reads_back_whole() {
        let bytes = log(1..=3);
        let recovered = recover(&bytes).unwrap();
        assert_eq!(recovered.head, HEAD);
        assert_eq!(seqs(&recovered), [1, 2, 3]);
        assert_eq!(recovered.records[1].text, text(2));
        assert_eq!(recovered.damage, []);
        assert_eq!(recovered.end, bytes.len() as u64);
    }

    #[test]
    fn a_file_cut_anywhere_gives_the_intact_prefix() {
        let bytes = log(1..=6);
        let head_end = log([]).len();
        for cut in head_end..bytes.len() {
            let recovered = recover(&bytes[..cut]).unwrap();
            let whole = (1..=6).take_while(|&n| log(1..=n).len() <= cut).count() as u64;
            assert_eq!(recovered.last_seq(), whole, "cut at {cut}");
            assert_eq!(recovered.end, log(1..=whole).len() as u64, "cut at {cut}");
            let tail = cut as u64 - recovered.end;
            let reported: u64 = recovered.damage.iter().map(|d| d.length).sum();
            assert_eq!(reported, tail, "cut at {cut}");
        }
        for cut in 0..head_end {
            assert!(recover(&bytes[..cut]).is_err(), "cut at {cut}");
        }
    }

    #[test]
    fn every_flipped_bit_of_the_last_record_is_found() {
        let whole = log(1..=3);
        let last = log(1..=2).len();
        for bit in last * 8..whole.len() * 8 {
            let mut bytes = whole.clone();
            bytes[bit / 8] ^= 1 << (bit % 8);
            let recovered = recover(&bytes).unwrap();
            assert_eq!(seqs(&recovered), [1, 2], "bit {bit}");
            assert_eq!(recovered.end, last as u64, "bit {bit}");
            let is_tail = |d: &Damage| d.place == DamagePlace::Tail;
            assert!(recovered.damage.iter().all(is_tail), "bit {bit}");
            assert!(!recovered.damage.is_empty(), "bit {bit}");
        }
    }

    #[test]
    fn every_flipped_bit_of_the_head_is_found() {
        let whole = log(1..=2);
        for bit in 0..log([]).len() * 8 {
            let mut bytes = whole.clone();
            bytes[bit / 8] ^= 1 << (bit % 8);
            assert!(recover(&bytes).is_err(), "bit {bit}");
        }
    }

    #[test]
    fn every_flipped_bit_in_the_middle_costs_its_own_records_only() {
        let whole = log(1..=4);
        let (start, end) = (log(1..=1).len(), log(1..=2).len());
        for bit in start * 8..end * 8 {
            let mut bytes = whole.clone();
            bytes[bit / 8] ^= 1 << (bit % 8);
            let recovered = recover(&bytes).unwrap();
            let line_break = bit / 8 == end - 1;
            let expected: &[u64] = if line_break { &[1, 4] } else { &[1, 3, 4] };
            assert_eq!(seqs(&recovered), expected, "bit {bit}");
            assert_eq!(recovered.damage[0].line, 3, "bit {bit}");
            assert_eq!(recovered.damage[0].offset, start as u64, "bit {bit}");
            let in_middle = |d: &Damage| d.place == DamagePlace::Middle;
            assert!(recovered.damage.iter().all(in_middle), "bit {bit}");
            assert_eq!(recovered.end, whole.len() as u64, "bit {bit}");
        }
    }

    #[test]
    fn a_tail_of_zeros_is_taken_for_a_write_cut_short() {
        let mut bytes = log(1..=2);
        let end = bytes.len() as u64;
        bytes.extend([0; 4096]);
        let recovered = recover(&bytes).unwrap();
        assert_eq!((seqs(&recovered), recovered.end), (vec![1, 2], end));
        let expected = Damage {
            line: 4,
            offset: end,
            length: 4096,
            flaw: Flaw::NoLineEnd,
            place: DamagePlace::Tail,
        };
        assert_eq!(recovered.damage, [expected]);
    }

    #[test]
    fn a_removed_line_is_reported_at_the_record_after_it() {
        let recovered = recover(&log([1, 2, 5])).unwrap();
        assert_eq!(seqs(&recovered), [1, 2, 5]);
        assert_eq!(recovered.damage.len(), 1);
        assert_eq!(recovered.damage[0].flaw, Flaw::Gap { seq: 5, after: 2 });
        assert_eq!(recovered.damage[0].place, DamagePlace::Before);
    }

    #[test]
    fn a_damaged_line_explains_the_numbers_missing_at_its_place_only() {
        let mut bytes = log([1, 2, 3, 5]);
        bytes[log(1..=1).len() + 9] ^= 1;
        let recovered = recover(&bytes).unwrap();
        assert_eq!(seqs(&recovered), [1, 3, 5]);
        let lines: Vec<u64> = recovered.damage.iter().map(|d| d.line).collect();
        assert_eq!(lines, [3, 5]);
        assert_eq!(recovered.damage[1].flaw, Flaw::Gap { seq: 5, after: 3 });
    }

    #[test]
    fn a_repeated_line_is_reported_left_out_and_not_taken_off() {
        let bytes = log([1, 2, 2]);
        let recovered = recover(&bytes).unwrap();
        assert_eq!(seqs(&recovered), [1, 2]);
        let flaw = Flaw::OutOfOrder { seq: 2, after: 2 };
        assert_eq!(recovered.damage[0].flaw, flaw);
        assert_eq!(recovered.damage[0].place, DamagePlace::Middle);
        assert_eq!(recovered.end, bytes.len() as u64);
    }

    #[test]
    fn a_report_says_where_what_and_what_follows() {
        let mut bytes = log(1..=1);
        bytes.extend(b"{\"kind\":\"note\"}\n");
        let recovered = recover(&bytes).unwrap();
        let offset = log(1..=1).len();
        assert_eq!(
            recovered.damage[0].to_string(),
            format!(
                "line 3 (byte {offset}, 16 long): it does not end in a checksum; \
                 left out, taken off before the next append"
            )
        );
    }
}
