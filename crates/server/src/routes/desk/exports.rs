//! A match in other forms to take away: tables, subtitles, a page. What is in
//! them is the `export` crate's business, so the bytes are the command's.

use axum::extract::{Path, Query, State};
use axum::response::Response;
use rallytide_court::match_record;
use rallytide_export::Form;
use rallytide_export::tables::{ByteOrderMark, Table};
use rallytide_export::webvtt::{Track, VideoStart};
use rallytide_match_record::MatchRecord;
use serde::Deserialize;

use super::downloads;
use crate::rejection::Rejection;
use crate::state::AppState;

/// Every file there is, by name.
const FILES: &[(&str, FileKind)] = &[
    ("shots.csv", FileKind::Table(Table::Shots)),
    ("rallies.csv", FileKind::Table(Table::Rallies)),
    ("events.csv", FileKind::Table(Table::Events)),
    ("readings.csv", FileKind::Table(Table::Readings)),
    ("captions.vtt", FileKind::Subtitles(Track::Captions)),
    ("chapters.vtt", FileKind::Subtitles(Track::Chapters)),
    ("match.html", FileKind::Page),
];

#[derive(Debug, Clone, Copy)]
enum FileKind {
    Table(Table),
    Subtitles(Track),
    Page,
}

/// What can be asked of a file besides its name.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct Options {
    /// `true`: a table begins with the byte order mark.
    bom: Option<String>,
    /// When the video begins, on the charter's clock.
    start: Option<String>,
    /// How many seconds into the video the first entry is.
    offset: Option<String>,
}

pub(crate) async fn file(
    State(state): State<AppState>,
    Path((id, file)): Path<(String, String)>,
    Query(options): Query<Options>,
) -> Result<Response, Rejection> {
    let (name, kind) = known(&file)?;
    let form = form(kind, &options)?;
    let attachment = format!("{id}.{name}");
    let courts = state.courts;
    let bytes = state
        .match_jobs
        .run(move || {
            let record = match_record(&courts.chart_of(&id)?, &courts.plugin_set());
            written(form, &record)
        })
        .await?;
    Ok(downloads::attached(&attachment, form.media_type(), bytes))
}

fn known(file: &str) -> Result<(&'static str, FileKind), Rejection> {
    let found = FILES.iter().find(|(name, _)| *name == file);
    found.copied().ok_or_else(|| {
        let names: Vec<String> = FILES.iter().map(|(name, _)| format!("`{name}`")).collect();
        Rejection::not_found(format!(
            "a match has no file `{file}` to take away; there are {}",
            names.join(", ")
        ))
    })
}

/// Judges whether the options fit the file.
fn form(kind: FileKind, options: &Options) -> Result<Form, Rejection> {
    let unfit = |sentence: String| Err(Rejection::unfit(sentence));
    let mark = match options.bom.as_deref() {
        None | Some("false") => ByteOrderMark::Without,
        Some("true") => ByteOrderMark::With,
        Some(other) => return unfit(format!("`bom` is `true` or `false`, not `{other}`")),
    };
    let for_a_video = options.start.is_some() || options.offset.is_some();
    match kind {
        FileKind::Table(_) | FileKind::Page if for_a_video => {
            unfit("`start` and `offset` are for `captions.vtt` and `chapters.vtt` alone".into())
        }
        FileKind::Subtitles(_) | FileKind::Page if options.bom.is_some() => {
            unfit("`bom` is for the tables (`.csv`) alone".into())
        }
        FileKind::Table(table) => Ok(Form::Table(table, mark)),
        FileKind::Subtitles(track) => match video_start(options) {
            Ok(start) => Ok(Form::Subtitles(track, start)),
            Err(sentence) => unfit(sentence),
        },
        FileKind::Page => Ok(Form::Page),
    }
}

fn video_start(options: &Options) -> Result<VideoStart, String> {
    match (&options.start, &options.offset) {
        (None, None) => Ok(VideoStart::FirstEntryAt(0)),
        (None, Some(text)) => VideoStart::read_seconds(text)
            .map_err(|allowed| format!("`offset` is {allowed}, not `{text}`")),
        (Some(text), None) => VideoStart::read_time(text).ok_or_else(|| {
            format!("`start` is an RFC 3339 time in UTC, like `2026-05-02T09:58:30Z`, not `{text}`")
        }),
        (Some(_), Some(_)) => Err("`start` and `offset` say the same twice: name one".into()),
    }
}

fn written(form: Form, record: &MatchRecord) -> Result<Vec<u8>, Rejection> {
    let mut bytes = Vec::new();
    let cues = form.write(record, &mut bytes).map_err(|error| {
        tracing::error!(%error, "could not write a match in another form");
        Rejection::unavailable("this file could not be written; the host's log says why")
    })?;
    if cues.written == 0 && cues.before_video > 0 {
        return Err(Rejection::unfit(format!(
            "all {} cues end before the video begins, so nothing is left; look at when it begins",
            cues.before_video
        )));
    }
    Ok(bytes)
}

#[cfg(test)]
mod tests {
    use axum::http::StatusCode;

    use super::*;

    fn refusal(file: &str, options: &Options) -> (StatusCode, String) {
        let chosen = known(file).and_then(|(_, kind)| form(kind, options));
        let Err(Rejection { status, sentence }) = chosen else {
            panic!("`{file}` goes with {options:?}");
        };
        (status, sentence)
    }

    #[test]
    fn an_unknown_file_is_answered_with_those_there_are() {
        let (status, sentence) = refusal("umpire.csv", &Options::default());
        assert_eq!(status, StatusCode::NOT_FOUND);
        for (name, _) in FILES {
            assert!(sentence.contains(name), "{sentence}");
        }
    }

    #[test]
    fn an_option_that_does_not_fit_the_file_is_named() {
        let bom = Options {
            bom: Some("true".into()),
            ..Options::default()
        };
        let offset = Options {
            offset: Some("3".into()),
            ..Options::default()
        };
        for (file, options, named) in [
            ("captions.vtt", &bom, "`bom`"),
            ("match.html", &bom, "`bom`"),
            ("shots.csv", &offset, "`offset`"),
            ("match.html", &offset, "`offset`"),
        ] {
            let (status, sentence) = refusal(file, options);
            assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
            assert!(sentence.contains(named), "{file}: {sentence}");
        }
    }

    #[test]
    fn a_value_that_cannot_be_is_answered_with_what_can() {
        for (options, named) in [
            (("maybe", "", ""), "`true` or `false`"),
            (("", "noon", ""), "RFC 3339"),
            (("", "", "soon"), "number of seconds"),
            (("", "", "inf"), "number of seconds"),
            (("", "2026-05-02T09:58:30Z", "3"), "name one"),
        ] {
            let (bom, start, offset) = options;
            let part = |text: &str| (!text.is_empty()).then(|| text.to_owned());
            let file = if bom.is_empty() {
                "captions.vtt"
            } else {
                "shots.csv"
            };
            let options = Options {
                bom: part(bom),
                start: part(start),
                offset: part(offset),
            };
            let (_, sentence) = refusal(file, &options);
            assert!(sentence.contains(named), "{sentence}");
        }
    }

    #[test]
    fn every_file_has_its_place_in_the_document_for_http() {
        let document: serde_json::Value =
            serde_json::from_str(crate::routes::documents::OPENAPI).unwrap();
        let path = &document["paths"]["/matches/{id}/export/{file}"]["get"]["parameters"];
        let file = path
            .as_array()
            .unwrap()
            .iter()
            .find(|one| one["name"] == "file")
            .unwrap();
        let names: Vec<&str> = FILES.iter().map(|(name, _)| *name).collect();
        assert_eq!(file["schema"]["enum"], serde_json::json!(names));
    }
}
