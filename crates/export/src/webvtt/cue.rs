//! One cue of a WebVTT file, and how it is written.

/// A cue on the clock of the match, in milliseconds from its first entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Cue {
    /// Unique in the file.
    pub(super) id: String,
    pub(super) start: i64,
    /// After `start`.
    pub(super) end: i64,
    /// Escaped lines, none of them empty.
    lines: Vec<String>,
}

impl Cue {
    /// A caption: what is special in WebVTT is written as a character reference.
    pub(super) fn caption(id: String, start: i64, end: i64, lines: &[String]) -> Self {
        let shown = lines.iter().filter(|line| !line.is_empty());
        Self {
            id,
            start,
            end,
            lines: shown.map(|line| escaped(line)).collect(),
        }
    }

    /// A chapter. Players show a title as it is written, references included, so
    /// what is special is said in another way.
    pub(super) fn chapter(id: String, start: i64, end: i64, title: &str) -> Self {
        let plain = title
            .replace('&', "and")
            .replace('<', "‹")
            .replace('>', "›");
        Self {
            id,
            start,
            end,
            lines: vec![plain],
        }
    }

    /// The cue that much later; cut where the video begins, `None` if it ends
    /// before that.
    pub(super) fn shifted(self, shift: i64) -> Option<Self> {
        let end = self.end.saturating_add(shift);
        (end > 0).then(|| Self {
            start: self.start.saturating_add(shift).max(0),
            end,
            ..self
        })
    }

    /// The cue as it stands in the file.
    pub(super) fn block(&self) -> String {
        let lines = self.lines.join("\n");
        let (start, end) = (time(self.start), time(self.end));
        format!("{}\n{start} --> {end}\n{lines}\n", self.id)
    }
}

/// `hh:mm:ss.ttt`; hours have two digits or more.
fn time(milliseconds: i64) -> String {
    let seconds = milliseconds / 1000;
    format!(
        "{:02}:{:02}:{:02}.{:03}",
        seconds / 3600,
        seconds / 60 % 60,
        seconds % 60,
        milliseconds % 1000
    )
}

/// Cue text: `-->` cannot come about, because `>` is a reference.
fn escaped(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_have_two_digits_or_more_and_three_decimals() {
        // W3C WebVTT (Candidate Recommendation of April 2019), timestamps: two
        // digits or more of hours, two of minutes and seconds, three decimals;
        // memory.
        for (milliseconds, expected) in [
            (0, "00:00:00.000"),
            (59_999, "00:00:59.999"),
            (3_600_000, "01:00:00.000"),
            (363_723_004, "101:02:03.004"),
        ] {
            assert_eq!(time(milliseconds), expected);
        }
    }

    #[test]
    fn no_caption_can_end_its_cue_or_begin_a_tag() {
        // W3C WebVTT (Candidate Recommendation of April 2019), cue text: no arrow,
        // no empty line, `<` and `&` as references; memory.
        let lines = ["A --> B".to_owned(), String::new(), "<b>&amp;".to_owned()];
        let cue = Cue::caption("c".into(), 0, 1, &lines);
        assert_eq!(
            cue.block(),
            "c\n00:00:00.000 --> 00:00:00.001\nA --&gt; B\n&lt;b&gt;&amp;amp;\n"
        );
    }

    #[test]
    fn a_chapter_holds_nothing_that_would_need_a_reference() {
        // That players show references in chapters as they stand: common practice.
        let cue = Cue::chapter("c".into(), 0, 1, "Reed & Lund --> <win>");
        assert!(cue.block().ends_with("\nReed and Lund --› ‹win›\n"));
    }

    #[test]
    fn a_cue_is_cut_where_the_video_begins() {
        let cue = Cue::chapter("c".into(), 1_000, 3_000, "t");
        let cut = cue.clone().shifted(-2_000).unwrap();
        assert_eq!((cut.start, cut.end), (0, 1_000));
        assert_eq!(cue.shifted(-3_000), None);
    }
}
