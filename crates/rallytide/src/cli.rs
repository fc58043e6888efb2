//! The command line.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use rallytide_export::webvtt::VideoStart;

/// Shows who holds the initiative in a pickleball match: a volunteer charts,
/// plugins compute, a stream graphic and a commentator's page show it.
#[derive(Debug, Parser)]
#[command(name = "rallytide", version, about)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    pub(crate) command: Command,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Run the host: intake, plugins, feed and pages.
    Serve(Serve),
    /// Run the host with a demo match being charted live, and print the links.
    Demo(Demo),
    /// Chart a file into a running host, at the tempo it was recorded.
    Feed(Feed),
    /// Print the score after every counted rally and whatever else changed it.
    Score(Score),
    /// Print what the plugins make of a chart.
    Readings(Readings),
    /// Check a chart: what would be refused, what is flagged.
    Check(Check),
    /// Write a chart in another form.
    Export(Export),
    /// Say how well two charts of one match agree.
    Agree(Agree),
    /// Make up a lifelike match; the same one for the same seed and version.
    Simulate(crate::commands::simulate::Simulate),
    /// For plugin authors: start a plugin, check it, try it on a chart.
    Plugin(crate::commands::plugin::Plugin),
}

#[derive(Debug, Args)]
pub(crate) struct Serve {
    /// A configuration file (TOML) with `listen`, `data`, `plugins`, `pages`,
    /// `text_files`, `[settings.PLUGIN]`; what is said here counts more.
    #[arg(long, value_name = "FILE")]
    pub(crate) config: Option<PathBuf>,
    /// Where to listen [default: 127.0.0.1:7447, which the desk can open to other
    /// machines; `0.0.0.0:7447` lets them in from the start. They need links with
    /// keys from the desk].
    #[arg(long, value_name = "ADDR")]
    pub(crate) listen: Option<String>,
    /// The folder for the matches' logs [default: `rallytide-data` here]. Where it
    /// is missing it is made, which is said; the folders above it are not.
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
    /// How fast: 2 is twice the recorded tempo, 0 as fast as it goes.
    #[arg(long, value_name = "X", default_value_t = 1.0, value_parser = pace)]
    pub(crate) pace: f64,
    /// Where to listen.
    #[arg(long, value_name = "ADDR", default_value = "127.0.0.1:7447")]
    pub(crate) listen: String,
    /// Stop when the match has been charted instead of serving on.
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
    /// How fast: 2 is twice the recorded tempo, 0 as fast as it goes.
    #[arg(long, value_name = "X", default_value_t = 1.0, value_parser = pace)]
    pub(crate) pace: f64,
    /// Take a match that is still being played off the court.
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
    /// All readings after each entry, a line an entry, instead of the final ones.
    #[arg(long)]
    pub(crate) each: bool,
    /// A folder with plugins (`*.wasm`) to run besides the first-party ones.
    #[arg(long, value_name = "DIR")]
    pub(crate) plugins: Option<PathBuf>,
    /// Only these indicators.
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
    /// In which form.
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
    /// csv: begin with the byte order mark, for a spreadsheet program that shows
    /// accents wrongly without it.
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
    /// The feed as it would have been sent, a line a message with its time; the
    /// pages play it with `?recorded=`.
    Json,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum ExportPart {
    /// csv: a line a shot.
    Shots,
    /// csv: a line a rally.
    Rallies,
    /// csv: a line for whatever happened beside the rallies.
    Events,
    /// csv: a line for every reading at the end.
    Readings,
    /// webvtt: the score, who holds the initiative and why.
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
    /// Everything found, as one JSON object.
    #[arg(long)]
    pub(crate) json: bool,
    /// So many of the places that differ are listed.
    #[arg(long, value_name = "N", default_value_t = 20, conflicts_with = "json")]
    pub(crate) places: usize,
    /// Compare although teams or formats differ.
    #[arg(long)]
    pub(crate) anyway: bool,
    /// A folder with plugins (`*.wasm`) to run besides the first-party ones.
    #[arg(long, value_name = "DIR")]
    pub(crate) plugins: Option<PathBuf>,
}

fn pace(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(pace) if pace.is_finite() && pace >= 0.0 => Ok(pace),
        _ => Err("a number from 0 up, like `1`, `2.5` or `0` (as fast as it goes)".into()),
    }
}
