//! `rallytide export FILE --as …`: the chart in another form.

use std::io::{BufWriter, Write};

use clap::ValueEnum;
use rallytide_chart::At;
use rallytide_court::{Chronicle, feed_lines};
use rallytide_export::html;
use rallytide_export::tables::{self, Mark, Table};
use rallytide_export::webvtt::{Track, VideoStart, webvtt};

use crate::cli::{Export, ExportForm, ExportPart};
use crate::failure::Failure;
use crate::{input, plugins};

/// What is to be written, once the options fit together.
enum Wanted {
    Table(Table, Mark),
    Subtitles(Track, VideoStart),
    Page,
    Feed,
}

pub(crate) fn run(options: &Export) -> Result<(), Failure> {
    let wanted = wanted(options)?;
    let chart = input::read_chart(&options.file)?;
    let ensemble = plugins::ensemble(options.plugins.as_deref(), &plugins::Settings::default())?;
    let mut out = BufWriter::new(std::io::stdout().lock());
    if matches!(wanted, Wanted::Feed) {
        for line in feed_lines(&chart, &ensemble) {
            writeln!(out, "{line}")?;
        }
        return Ok(out.flush()?);
    }
    let (chronicle, run) = Chronicle::with_run(&chart, &ensemble);
    match wanted {
        Wanted::Table(table, mark) => tables::write(&chronicle, table, mark, &mut out)?,
        Wanted::Subtitles(track, start) => {
            let subtitles = webvtt(&chronicle, track, start);
            out.write_all(subtitles.text.as_bytes())?;
            if subtitles.before_video > 0 {
                eprintln!(
                    "note: {} of {} cues end before the video begins and are left out",
                    subtitles.before_video,
                    subtitles.before_video + subtitles.cues
                );
            }
        }
        Wanted::Page => out.write_all(html::page(&chronicle).as_bytes())?,
        Wanted::Feed => {}
    }
    out.flush()?;
    plugins::report_faults(&run)
}

/// Judges whether the options fit the form.
fn wanted(options: &Export) -> Result<Wanted, Failure> {
    let form = options.form;
    let only_for = |given: bool, option: &str, right: ExportForm| {
        if given && form != right {
            let right = word(&right);
            return Err(Failure::Usage(format!(
                "`{option}` belongs to `--as {right}`, not to `--as {}`",
                word(&form)
            )));
        }
        Ok(())
    };
    only_for(options.bom, "--bom", ExportForm::Csv)?;
    only_for(options.start.is_some(), "--start", ExportForm::Webvtt)?;
    only_for(options.offset.is_some(), "--offset", ExportForm::Webvtt)?;
    let mark = if options.bom {
        Mark::ByteOrder
    } else {
        Mark::None
    };
    Ok(match (form, options.what) {
        (ExportForm::Csv, None | Some(ExportPart::Shots)) => Wanted::Table(Table::Shots, mark),
        (ExportForm::Csv, Some(ExportPart::Rallies)) => Wanted::Table(Table::Rallies, mark),
        (ExportForm::Csv, Some(ExportPart::Events)) => Wanted::Table(Table::Events, mark),
        (ExportForm::Csv, Some(ExportPart::Readings)) => Wanted::Table(Table::Readings, mark),
        (ExportForm::Webvtt, None | Some(ExportPart::Captions)) => {
            Wanted::Subtitles(Track::Captions, video_start(options)?)
        }
        (ExportForm::Webvtt, Some(ExportPart::Chapters)) => {
            Wanted::Subtitles(Track::Chapters, video_start(options)?)
        }
        (ExportForm::Html, None) => Wanted::Page,
        (ExportForm::Json, None) => Wanted::Feed,
        (_, Some(part)) => {
            let parts = match form {
                ExportForm::Csv => "`shots`, `rallies`, `events` or `readings`",
                ExportForm::Webvtt => "`captions` or `chapters`",
                ExportForm::Html | ExportForm::Json => "no `--what`: it is the whole match",
            };
            return Err(Failure::Usage(format!(
                "`--what {}` does not go with `--as {}`, which takes {parts}",
                word(&part),
                word(&form)
            )));
        }
    })
}

fn word(value: &impl ValueEnum) -> String {
    let value = value.to_possible_value();
    value.map_or_else(String::new, |value| value.get_name().to_owned())
}

fn video_start(options: &Export) -> Result<VideoStart, Failure> {
    match &options.start {
        None => Ok(VideoStart::FirstEntryAt(options.offset.unwrap_or(0))),
        Some(text) => At::parse(text).map(VideoStart::At).ok_or_else(|| {
            Failure::Usage(format!(
                "`--start {text}` is no RFC 3339 time in UTC, like `2026-05-02T09:58:30Z`"
            ))
        }),
    }
}
