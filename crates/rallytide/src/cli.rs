//! The command line.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use rallytide_export::webvtt::VideoStart;

/// Shows which team is on offense in a pickleball match, and why: a volunteer
/// charts, plugins compute, a graphic on the stream and a page for the
/// commentator show it.
#[derive(Debug, Parser)]
#[command(name = "rallytide", version, about)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    pub(crate) command: Command,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Run the host: it serves the pages and keeps every match.
    Serve(Serve),
    /// Run the host with a demo match that is charted live, and print the links.
    Demo(Demo),
    /// Send a chart into a running host, at the pace it was recorded.
    Feed(Feed),
    /// Print the score after every counted rally and whatever else changed it.
    Score(Score),
    /// Print the statistics that plugins compute from a chart.
    Readings(Readings),
    /// Check a chart: what the host would refuse, what it would flag.
    Check(Check),
    /// Write a chart in another form.
    Export(Export),
    /// Say how well two charts of one match agree.
    Agree(Agree),
    /// Invent a lifelike match; the same one for the same seed and version.
    Simulate(crate::commands::simulate::Simulate),
    /// For plugin authors: start a plugin, check it, try it on a chart.
    Plugin(crate::commands::plugin::Plugin),
}

#[derive(Debug, Args)]
pub(crate) struct Serve {
    /// A configuration file (TOML) with `listen`, `data`, `plugins`, `pages`,
    /// `text_files`, `[settings.PLUGIN]`; options given here win over it.
    #[arg(long, value_name = "FILE")]
    pub(crate) config: Option<PathBuf>,
    /// Where to listen [default: 127.0.0.1:7447, this machine only, until the desk
    /// lets other devices in; `0.0.0.0:7447` lets them in from the start. They need
    /// links from the desk].
    #[arg(long, value_name = "ADDR")]
    pub(crate) listen: Option<String>,
    /// The folder for all matches [default: `rallytide-data` here]. It is created if
    /// it is missing, the folders above it are not.
    #[arg(long, value_name = "DIR")]
    pub(crate) data: Option<PathBuf>,
    /// A folder with plugins (`*.wasm`) to run besides the first-party ones.
    #[arg(long, value_name = "DIR")]
    pub(crate) plugins: Option<PathBuf>,
    /// A folder with pages, styles or elements that win over the built-in ones.
    #[arg(long, value_name = "DIR")]
    pub(crate) pages: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(crate) struct Demo {
    /// How fast: 2 is twice the recorded pace, 0 as fast as possible.
    #[arg(long, value_name = "X", default_value_t = 1.0, value_parser = pace)]
    pub(crate) pace: f64,
    /// Where to listen.
    #[arg(long, value_name = "ADDR", default_value = "127.0.0.1:7447")]
    pub(crate) listen: String,
    /// Stop when the match has been charted, instead of serving until stopped.
    #[arg(long)]
    pub(crate) once: bool,
}

#[derive(Debug, Args)]
pub(crate) struct Feed {
    /// The chart (JSON Lines); `-` reads the standard input.
    pub(crate) file: PathBuf,
    /// The host, like `http://127.0.0.1:7447`, or a court's intake, like
    /// `ws://127.0.0.1:7447/courts/1/intake`. Without a court: the header's.
    /// From another machine: the charters' link, with its key, from the desk.
    #[arg(long, value_name = "URL")]
    pub(crate) to: String,
    /// How fast: 2 is twice the recorded pace, 0 as fast as possible.
    #[arg(long, value_name = "X", default_value_t = 1.0, value_parser = pace)]
    pub(crate) pace: f64,
    /// Replace a match that is still being played on that court.
    #[arg(long)]
    pub(crate) replace: bool,
}

#[derive(Debug, Args)]
pub(crate) struct Score {
    /// The chart (JSON Lines); `-` reads the standard input.
    pub(crate) file: PathBuf,
    /// One JSON object a line: {"entry": id, "score": {…}}.
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
pub(crate) struct Readings {
    /// The chart (JSON Lines); `-` reads the standard input.
    pub(crate) file: PathBuf,
    /// Print all readings after each entry, one line per entry, not only the final ones.
    #[arg(long)]
    pub(crate) each: bool,
    /// A folder with plugins (`*.wasm`) to run besides the first-party ones.
    #[arg(long, value_name = "DIR")]
    pub(crate) plugins: Option<PathBuf>,
    /// Print only these indicators.
    #[arg(long, value_name = "INDICATOR", value_delimiter = ',')]
    pub(crate) only: Vec<String>,
}

#[derive(Debug, Args)]
pub(crate) struct Check {
    /// The chart (JSON Lines); `-` reads the standard input.
    pub(crate) file: PathBuf,
}

#[derive(Debug, Args)]
pub(crate) struct Export {
    /// The chart (JSON Lines); `-` reads the standard input.
    pub(crate) file: PathBuf,
    /// The form to write.
    #[arg(long = "as", value_name = "FORM")]
    pub(crate) form: ExportForm,
    /// Which part of the match [default: `shots` for csv, `captions` for webvtt].
    #[arg(long, value_name = "PART")]
    pub(crate) what: Option<ExportPart>,
    /// webvtt: when the video begins, on the charter's clock, like
    /// `2026-05-02T09:58:30Z`.
    #[arg(long, value_name = "TIME", conflicts_with = "offset")]
    pub(crate) start: Option<String>,
    /// webvtt: how many seconds into the video the first entry of the chart is;
    /// below zero if the video begins later [default: 0].
    #[arg(long, value_name = "SECONDS", allow_negative_numbers = true, value_parser = VideoStart::read_seconds)]
    pub(crate) offset: Option<VideoStart>,
    /// csv: begin with a byte order mark, for spreadsheet programs that show accents
    /// wrongly without it.
    #[arg(long)]
    pub(crate) bom: bool,
    /// A folder with plugins (`*.wasm`) to run besides the first-party ones.
    #[arg(long, value_name = "DIR")]
    pub(crate) plugins: Option<PathBuf>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum ExportForm {
    /// A table for spreadsheets (RFC 4180, UTF-8).
    Csv,
    /// Captions or chapters for video players (W3C WebVTT).
    Webvtt,
    /// The whole match for people, in one page to read or print.
    Html,
    /// The feed as viewers would get it, one line per message with its time; the
    /// pages play it with `?recorded=`.
    Json,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum ExportPart {
    /// csv: one line per shot.
    Shots,
    /// csv: one line per rally.
    Rallies,
    /// csv: one line for everything beside the rallies, like time-outs and notes.
    Events,
    /// csv: one line per statistic, as it stands at the end.
    Readings,
    /// webvtt: the score, who is on offense and why.
    Captions,
    /// webvtt: the rallies, to find them in the video.
    Chapters,
}

#[derive(Debug, Args)]
pub(crate) struct Agree {
    /// A chart (JSON Lines); `-` reads the standard input.
    pub(crate) a: PathBuf,
    /// Another chart of the same match.
    pub(crate) b: PathBuf,
    /// Print everything as one JSON object.
    #[arg(long)]
    pub(crate) json: bool,
    /// How many differences to list.
    #[arg(long, value_name = "N", default_value_t = 20, conflicts_with = "json")]
    pub(crate) places: usize,
    /// Compare even if teams or formats differ.
    #[arg(long)]
    pub(crate) anyway: bool,
    /// A folder with plugins (`*.wasm`) to run besides the first-party ones.
    #[arg(long, value_name = "DIR")]
    pub(crate) plugins: Option<PathBuf>,
}

fn pace(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(pace) if pace.is_finite() && pace >= 0.0 => Ok(pace),
        _ => Err("a number from 0 up, like `1`, `2.5` or `0` (as fast as possible)".into()),
    }
}
