//! The command line.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

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
    /// Make up a lifelike match; the same one for the same seed and version.
    Simulate(Simulate),
    /// For plugin authors: start a plugin, check it, try it on a chart.
    Plugin(crate::commands::plugin::Plugin),
}

#[derive(Debug, Args)]
pub(crate) struct Serve {
    /// A configuration file (TOML) with `listen`, `data`, `plugins`, `pages`;
    /// what is said here counts more.
    #[arg(long, value_name = "FILE")]
    pub(crate) config: Option<PathBuf>,
    /// Where to listen [default: 127.0.0.1:7447; `0.0.0.0:7447` lets other
    /// machines in].
    #[arg(long, value_name = "ADDR")]
    pub(crate) listen: Option<String>,
    /// The folder for the matches' logs [default: `rallytide-data` here, made if
    /// it is missing].
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
    /// `json`: the feed as it would have been sent, a line a message with its
    /// time; the pages play it with `?recorded=`.
    #[arg(long = "as", value_name = "FORM")]
    pub(crate) form: ExportForm,
    /// A folder with plugins (`*.wasm`) to run besides the first-party ones.
    #[arg(long, value_name = "DIR")]
    pub(crate) plugins: Option<PathBuf>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum ExportForm {
    Json,
}

#[derive(Debug, Args)]
pub(crate) struct Simulate {
    /// Decides the match: the same seed gives the same match.
    #[arg(long, value_name = "N")]
    pub(crate) seed: u64,
    /// So many matches; more than one needs `--out`.
    #[arg(long, value_name = "M", default_value_t = 1)]
    pub(crate) matches: u32,
    /// A folder to write `match-N.jsonl` files to instead of the standard output.
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) plan: crate::commands::simulate::PlanOptions,
}

fn pace(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(pace) if pace.is_finite() && pace >= 0.0 => Ok(pace),
        _ => Err("a number from 0 up, like `1`, `2.5` or `0` (as fast as it goes)".into()),
    }
}
