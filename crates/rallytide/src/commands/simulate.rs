//! `rallytide simulate --seed N`: a made-up but lifelike chart.

use std::io::{BufWriter, Write};
use std::path::{Path, PathBuf};

use anyhow::Context;
use clap::{Args, ValueEnum};
use rallytide_chart::{Discipline, Format, Positions, Scoring, WinningPoint};
use rallytide_simulate::{Detail, Incidents, Mistakes, NamedPlayers, Plan, simulate};

use crate::failure::Failure;

#[derive(Debug, Args)]
pub(crate) struct Simulate {
    /// Decides the match: the same seed gives the same match.
    #[arg(long, value_name = "N")]
    seed: u64,
    /// How many matches to make up; more than one needs `--out`.
    #[arg(long, value_name = "M", default_value_t = 1)]
    matches: u32,
    /// A folder to write `match-N.jsonl` files to instead of the standard output.
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    #[command(flatten)]
    plan: PlanOptions,
}

/// What the match should be like.
#[derive(Debug, Args)]
struct PlanOptions {
    /// One or two players a team.
    #[arg(long, value_enum, default_value = "doubles")]
    discipline: DisciplineOption,
    /// Who can score.
    #[arg(long, value_enum, default_value = "side-out")]
    scoring: ScoringOption,
    /// Points that win a game.
    #[arg(long, value_name = "N", default_value_t = 11, value_parser = clap::value_parser!(u32).range(1..=99))]
    points: u32,
    /// The lead that wins a game.
    #[arg(long, value_name = "N", default_value_t = 2, value_parser = clap::value_parser!(u32).range(1..=2))]
    win_by: u32,
    /// How many games at most: the match is best of 1, 3 or 5.
    #[arg(long, value_name = "N", default_value_t = 3, value_parser = odd_games)]
    games: u32,
    /// Rally scoring: who may score the point that wins a game.
    #[arg(long, value_enum, default_value = "any")]
    winning_point: WinningPointOption,
    /// Rally scoring in doubles: whether partners swap when they score.
    #[arg(long, value_enum, default_value = "swap")]
    positions: PositionsOption,
    /// How much is charted.
    #[arg(long, value_enum, default_value = "shots")]
    detail: DetailOption,
    /// Doubles: whose shots, from the third of a rally on, and whose errors are named.
    #[arg(long, value_enum, default_value = "some")]
    players: PlayersOption,
    /// A charter who makes no mistakes, a match without incidents.
    #[arg(long)]
    plain: bool,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum DisciplineOption {
    Doubles,
    Singles,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum ScoringOption {
    #[value(alias = "side_out")]
    SideOut,
    Rally,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum WinningPointOption {
    Any,
    Server,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum PositionsOption {
    Swap,
    Static,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum PlayersOption {
    All,
    Some,
    None,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum DetailOption {
    /// Who won each rally.
    Score,
    /// How rallies ended, with the cues of their last shots.
    Ends,
    /// Every shot.
    Shots,
}

pub(crate) fn run(options: &Simulate) -> Result<(), Failure> {
    match &options.out {
        None if options.matches != 1 => Err(Failure::Usage(
            "more than one match needs `--out DIR` to be written to".into(),
        )),
        None => {
            let mut out = BufWriter::new(std::io::stdout().lock());
            for line in match_lines(options, options.seed)? {
                writeln!(out, "{line}")?;
            }
            Ok(out.flush()?)
        }
        Some(folder) => {
            for place in 0..options.matches {
                let lines = match_lines(options, options.seed.wrapping_add(u64::from(place)))?;
                write_file(folder, place + 1, &lines)?;
            }
            Ok(())
        }
    }
}

fn match_lines(options: &Simulate, seed: u64) -> Result<Vec<String>, Failure> {
    let plan = options.plan.plan(seed);
    simulate(&plan).map_err(|error| Failure::Usage(format!("{:#}", anyhow::Error::new(error))))
}

fn write_file(folder: &Path, number: u32, lines: &[String]) -> Result<(), Failure> {
    let file = folder.join(format!("match-{number}.jsonl"));
    std::fs::write(&file, lines.join("\n") + "\n")
        .with_context(|| format!("could not write `{}`", file.display()))
        .map_err(|error| Failure::outside_with(error, Some("name a folder that exists")))
}

impl PlanOptions {
    fn plan(&self, seed: u64) -> Plan {
        let (mistakes, incidents) = if self.plain {
            (Mistakes::None, Incidents::None)
        } else {
            (Mistakes::Lifelike, Incidents::Lifelike)
        };
        Plan {
            format: self.format(),
            detail: match self.detail {
                DetailOption::Score => Detail::ScoreOnly,
                DetailOption::Ends => Detail::EndsAndCues,
                DetailOption::Shots => Detail::EveryShot,
            },
            mistakes,
            players: match self.players {
                PlayersOption::All => NamedPlayers::All,
                PlayersOption::Some => NamedPlayers::Some,
                PlayersOption::None => NamedPlayers::None,
            },
            incidents,
            ..Plan::new(seed)
        }
    }

    fn format(&self) -> Format {
        Format {
            discipline: match self.discipline {
                DisciplineOption::Doubles => Discipline::Doubles,
                DisciplineOption::Singles => Discipline::Singles,
            },
            scoring: match self.scoring {
                ScoringOption::SideOut => Scoring::SideOut,
                ScoringOption::Rally => Scoring::Rally {
                    winning_point: match self.winning_point {
                        WinningPointOption::Any => WinningPoint::Any,
                        WinningPointOption::Server => WinningPoint::Server,
                    },
                    positions: match self.positions {
                        PositionsOption::Swap => Positions::Swap,
                        PositionsOption::Static => Positions::Static,
                    },
                },
            },
            points: self.points,
            win_by: self.win_by,
            games: self.games,
        }
    }
}

fn odd_games(text: &str) -> Result<u32, String> {
    match text.parse() {
        Ok(games @ (1 | 3 | 5)) => Ok(games),
        _ => Err("1, 3 or 5".into()),
    }
}
