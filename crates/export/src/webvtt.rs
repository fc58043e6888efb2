//! Subtitles and chapters for video players, as W3C WebVTT.
//!
//! *Captions* run in one lane: at any moment one cue at most, so players stack
//! nothing. Each carries the call, so that it can be understood alone; a new one
//! begins whenever the holder of the initiative changes. *Chapters* are the
//! rallies, one after the other. Notes of the charter are never shown: they were
//! not written for viewers.

mod captions;
mod chapters;
mod cue;

use rallytide_chart::At;
use rallytide_match_record::MatchRecord;

use cue::Cue;

/// What the cues are for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Track {
    /// To be read over the picture.
    Captions,
    /// To find a rally in the video.
    Chapters,
}

/// Where the video begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum VideoStart {
    /// At this moment on the charter's clock.
    At(At),
    /// So that the first entry of the chart is this many milliseconds into it;
    /// below zero: the video begins after the first entry.
    FirstEntryAt(i64),
}

/// No video is longer than some days.
const MOST_SECONDS: f64 = 1_000_000.0;

impl VideoStart {
    /// Reads how many seconds into the video the first entry of the chart is,
    /// like `12.5` or `-90`.
    ///
    /// # Errors
    /// What can be read, where `text` cannot.
    pub fn read_seconds(text: &str) -> Result<Self, String> {
        match text.parse::<f64>() {
            Ok(seconds) if seconds.abs() <= MOST_SECONDS => {
                Ok(Self::FirstEntryAt((seconds * 1000.0).round() as i64))
            }
            _ => Err(format!(
                "a number of seconds, like `12.5` or `-90`, at most {MOST_SECONDS}"
            )),
        }
    }

    /// Reads when the video begins on the charter's clock; `None` if it is no
    /// RFC 3339 time in UTC.
    #[must_use]
    pub fn read_time(text: &str) -> Option<Self> {
        At::parse(text).map(Self::At)
    }
}

/// A WebVTT file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Subtitles {
    /// The file's text.
    pub text: String,
    /// How many cues it holds.
    pub cues: usize,
    /// How many were left out because they end before the video begins.
    pub before_video: usize,
}

/// The match as a WebVTT file for a video that begins at `start`.
#[must_use]
pub fn webvtt(record: &MatchRecord, track: Track, start: VideoStart) -> Subtitles {
    let cues = match track {
        Track::Captions => captions::cues(record),
        Track::Chapters => chapters::cues(record),
    };
    let shift = match (start, record.begins) {
        (_, None) => 0,
        (VideoStart::FirstEntryAt(into), Some(_)) => into,
        (VideoStart::At(at), Some(begins)) => {
            begins.milliseconds().saturating_sub(at.milliseconds())
        }
    };
    let all = cues.len();
    let shown: Vec<Cue> = cues
        .into_iter()
        .filter_map(|cue| cue.shifted(shift))
        .collect();
    let mut text = String::from("WEBVTT\n");
    for cue in &shown {
        text.push('\n');
        text.push_str(&cue.block());
    }
    Subtitles {
        text,
        cues: shown.len(),
        before_video: all - shown.len(),
    }
}
