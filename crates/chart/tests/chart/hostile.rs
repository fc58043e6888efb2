//! Whatever the bytes, reading ends with an answer.

use proptest::prelude::*;
use rallytide_chart::read_chart_file;

use crate::file::{file_text, note};
use crate::notation::script;

fn sound() -> Vec<u8> {
    let entries = script("x y c=-x i=y+new d=-c e=i~other")
        .into_iter()
        .map(|mut entry| {
            entry["at"] = crate::notation::NOON.into();
            entry
        });
    file_text(&entries.chain([note("z")]).collect::<Vec<_>>()).into_bytes()
}

proptest! {
    #[test]
    fn arbitrary_bytes_are_read_without_panic(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        let file = read_chart_file(&bytes);
        prop_assert!(file.chart.is_some() || !file.problems.is_empty());
    }

    #[test]
    fn a_sound_file_with_slips_in_it_is_read_without_panic(
        slips in proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..8),
    ) {
        let mut bytes = sound();
        for (place, byte) in slips {
            let place = place.index(bytes.len());
            bytes[place] = byte;
        }
        let file = read_chart_file(&bytes);
        if let Some(chart) = file.chart {
            // What was taken in can be laid out.
            prop_assert!(chart.effective().len() <= chart.entries().len());
        }
    }

    #[test]
    fn lines_left_out_or_doubled_are_read_without_panic(
        picks in proptest::collection::vec(any::<prop::sample::Index>(), 0..12),
    ) {
        let bytes = sound();
        let lines: Vec<&[u8]> = bytes.split_inclusive(|byte| *byte == b'\n').collect();
        let mut text = lines[0].to_vec();
        for pick in picks {
            text.extend(lines[pick.index(lines.len())]);
        }
        let file = read_chart_file(&text);
        prop_assert!(file.chart.is_some());
    }
}
