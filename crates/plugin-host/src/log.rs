//! What plugins say for people: a bounded log for each plugin of a run.

use std::collections::VecDeque;

use rallytide_chart::Seq;
use serde::Serialize;

use crate::interface::wit;
use crate::limits::{
    LOG_BYTES_PER_CALL, LOG_CALLS_PER_CALL, LOG_LINE_BYTES, LOG_LINES_KEPT, LOG_LINES_PER_CALL,
};

/// A line that a plugin wrote.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub struct LogLine {
    /// The position of the entry that the plugin was handed, 0 at the start.
    pub seq: Seq,
    /// How serious it is.
    pub severity: Severity,
    /// One line, cut off where it was too long.
    pub text: String,
}

/// How serious a line is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "ts", derive(ts_rs::TS, schemars::JsonSchema))]
pub enum Severity {
    /// For the plugin's author.
    Debug,
    /// Nothing to do.
    Info,
    /// Something is odd.
    Warn,
    /// Something is wrong.
    Error,
}

/// The log of one plugin over one run.
#[derive(Debug, Clone, Default)]
pub(crate) struct PluginLog {
    lines: VecDeque<LogLine>,
    dropped: u64,
    seq: Seq,
    calls: usize,
    bytes: usize,
    panic: Option<String>,
}

/// A guest wrote more than it may in one call.
#[derive(Debug, thiserror::Error)]
#[error("it wrote more log in one call than is allowed")]
pub(crate) struct TooMuchLogged;

impl PluginLog {
    /// A call begins.
    pub(crate) fn begin(&mut self, seq: Seq) {
        self.seq = seq;
        self.calls = 0;
        self.bytes = 0;
        self.panic = None;
    }

    /// Takes a line.
    pub(crate) fn write(
        &mut self,
        severity: wit::Severity,
        text: &str,
    ) -> Result<(), TooMuchLogged> {
        self.calls += 1;
        self.bytes += text.len();
        if self.calls > LOG_CALLS_PER_CALL || self.bytes > LOG_BYTES_PER_CALL {
            return Err(TooMuchLogged);
        }
        let severity = match severity {
            wit::Severity::Debug => Severity::Debug,
            wit::Severity::Info => Severity::Info,
            wit::Severity::Warn => Severity::Warn,
            wit::Severity::Error => Severity::Error,
        };
        // What Rust's standard library says of a panic; `plugin-kit` hands it on.
        if severity == Severity::Error && text.starts_with("panicked at ") {
            self.panic = Some(one_line(text));
        }
        if self.calls > LOG_LINES_PER_CALL {
            self.dropped += 1;
            return Ok(());
        }
        if self.lines.len() == LOG_LINES_KEPT {
            self.lines.pop_front();
            self.dropped += 1;
        }
        self.lines.push_back(LogLine {
            seq: self.seq,
            severity,
            text: one_line(text),
        });
        Ok(())
    }

    /// The panic that was reported during this call.
    pub(crate) fn panic(&self) -> Option<&str> {
        self.panic.as_deref()
    }

    /// The lines that are kept, oldest first.
    pub(crate) fn lines(&self) -> impl Iterator<Item = &LogLine> {
        self.lines.iter()
    }

    /// How many lines were not kept.
    pub(crate) fn dropped(&self) -> u64 {
        self.dropped
    }
}

/// The text as one line of bounded length.
fn one_line(text: &str) -> String {
    let end = text.floor_char_boundary(LOG_LINE_BYTES);
    let kept = text[..end].trim_end();
    kept.chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_cut_at_a_character_and_holds_no_line_breaks() {
        let mut log = PluginLog::default();
        log.write(wit::Severity::Info, &"é".repeat(400)).unwrap();
        log.write(wit::Severity::Warn, "two\nlines\n").unwrap();
        let texts: Vec<&str> = log.lines().map(|line| line.text.as_str()).collect();
        assert_eq!(texts, ["é".repeat(250).as_str(), "two lines"]);
    }

    #[test]
    fn the_latest_lines_are_kept_and_the_others_counted() {
        let mut log = PluginLog::default();
        for seq in 0..20 {
            log.begin(Seq(seq));
            for _ in 0..20 {
                log.write(wit::Severity::Debug, "x").unwrap();
            }
        }
        assert_eq!(log.lines().count(), LOG_LINES_KEPT);
        assert_eq!(log.dropped(), 400 - LOG_LINES_KEPT as u64);
        assert_eq!(log.lines().last().unwrap().seq, Seq(19));
    }

    #[test]
    fn a_call_that_goes_on_writing_is_an_error() {
        let mut log = PluginLog::default();
        for _ in 0..LOG_CALLS_PER_CALL {
            log.write(wit::Severity::Debug, "x").unwrap();
        }
        assert!(log.write(wit::Severity::Debug, "x").is_err());
        log.begin(Seq(1));
        let large = "x".repeat(LOG_BYTES_PER_CALL);
        log.write(wit::Severity::Debug, &large).unwrap();
        assert!(log.write(wit::Severity::Debug, "x").is_err());
    }
}
