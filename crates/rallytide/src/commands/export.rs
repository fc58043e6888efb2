//! `rallytide export FILE --as …`: the chart in another form.

use std::io::{BufWriter, Write};

use clap::ValueEnum;
use rallytide_court::{feed_lines, match_record_and_run};
use rallytide_export::Form;
use rallytide_export::tables::{ByteOrderMark, Table};
use rallytide_export::webvtt::{Track, VideoStart};

use crate::cli::{Export, ExportForm, ExportPart};
use crate::failure::Failure;
use crate::{input, plugins};

/// What is to be written, once the options fit together.
enum Wanted {
    Told(Form),
    Feed,
}

pub(crate) fn run(options: &Export) -> Result<(), Failure> {
    let wanted = wanted(options)?;
    let chart = input::read_chart(&options.file)?;
    let plugin_set =
        plugins::plugin_set(options.plugins.as_deref(), &plugins::Settings::default())?;
    let mut out = BufWriter::new(std::io::stdout().lock());
    let form = match wanted {
        Wanted::Told(form) => form,
        Wanted::Feed => {
            for line in feed_lines(&chart, &plugin_set) {
                writeln!(out, "{line}")?;
            }
            return Ok(out.flush()?);
        }
    };
    let (record, run) = match_record_and_run(&chart, &plugin_set);
    let cues = form.write(&record, &mut out)?;
    if cues.before_video > 0 {
        eprintln!(
            "note: {} of {} cues end before the video begins and are left out",
            cues.before_video,
            cues.before_video + cues.written
        );
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
        ByteOrderMark::With
    } else {
        ByteOrderMark::Without
    };
    let table = |table| Ok(Wanted::Told(Form::Table(table, mark)));
    let subtitles = |track| Ok(Wanted::Told(Form::Subtitles(track, video_start(options)?)));
    match (form, options.what) {
        (ExportForm::Csv, None | Some(ExportPart::Shots)) => table(Table::Shots),
        (ExportForm::Csv, Some(ExportPart::Rallies)) => table(Table::Rallies),
        (ExportForm::Csv, Some(ExportPart::Events)) => table(Table::Events),
        (ExportForm::Csv, Some(ExportPart::Readings)) => table(Table::Readings),
        (ExportForm::Webvtt, None | Some(ExportPart::Captions)) => subtitles(Track::Captions),
        (ExportForm::Webvtt, Some(ExportPart::Chapters)) => subtitles(Track::Chapters),
        (ExportForm::Html, None) => Ok(Wanted::Told(Form::Page)),
        (ExportForm::Json, None) => Ok(Wanted::Feed),
        (_, Some(part)) => {
            let parts = match form {
                ExportForm::Csv => "`shots`, `rallies`, `events` or `readings`",
                ExportForm::Webvtt => "`captions` or `chapters`",
                ExportForm::Html | ExportForm::Json => "no `--what`: it is the whole match",
            };
            Err(Failure::Usage(format!(
                "`--what {}` does not go with `--as {}`, which takes {parts}",
                word(&part),
                word(&form)
            )))
        }
    }
}

fn word(value: &impl ValueEnum) -> String {
    let value = value.to_possible_value();
    value.map_or_else(String::new, |value| value.get_name().to_owned())
}

fn video_start(options: &Export) -> Result<VideoStart, Failure> {
    match &options.start {
        None => Ok(options.offset.unwrap_or(VideoStart::FirstEntryAt(0))),
        Some(text) => VideoStart::read_time(text).ok_or_else(|| {
            Failure::Usage(format!(
                "`--start {text}` is no RFC 3339 time in UTC, like `2026-05-02T09:58:30Z`"
            ))
        }),
    }
}
