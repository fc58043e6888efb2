//! One value that says which form a match is wanted in, so that whoever asks, the
//! command line or the host, gets the same bytes.

use std::io::{self, Write};

use rallytide_match_record::MatchRecord;

use crate::html;
use crate::tables::{self, ByteOrderMark, Table};
use crate::webvtt::{Track, VideoStart, webvtt};

/// A form of a match.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// A table for spreadsheets.
    Table(Table, ByteOrderMark),
    /// Subtitles or chapters for a video.
    Subtitles(Track, VideoStart),
    /// The whole match in one page.
    Page,
}

/// How many cues of subtitles found a place in the video; none in other forms.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Cues {
    /// Those in the file.
    pub written: usize,
    /// Those left out because they end before the video begins.
    pub before_video: usize,
}

impl Form {
    /// Writes the match in this form.
    ///
    /// # Errors
    /// What `out` says when it cannot take more.
    pub fn write(self, record: &MatchRecord, mut out: impl Write) -> io::Result<Cues> {
        match self {
            Self::Table(table, mark) => tables::write(record, table, mark, out)?,
            Self::Page => out.write_all(html::page(record).as_bytes())?,
            Self::Subtitles(track, start) => {
                let subtitles = webvtt(record, track, start);
                out.write_all(subtitles.text.as_bytes())?;
                return Ok(Cues {
                    written: subtitles.cues,
                    before_video: subtitles.before_video,
                });
            }
        }
        Ok(Cues::default())
    }

    /// The media type of what is written.
    #[must_use]
    pub fn media_type(self) -> &'static str {
        match self {
            Self::Table(..) => "text/csv; charset=utf-8; header=present",
            Self::Subtitles(..) => "text/vtt; charset=utf-8",
            Self::Page => "text/html; charset=utf-8",
        }
    }
}
