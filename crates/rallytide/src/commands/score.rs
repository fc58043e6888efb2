//! `rallytide score FILE`: the score after every counted rally and every other
//! entry that changes it.

use std::io::{BufWriter, Write};

use rallytide_chart::{Chart, EntryId};
use rallytide_scoring::{PlayByPlay, Score, ScoreRow};
use serde::Serialize;

use crate::cli;
use crate::failure::Failure;
use crate::input;
use crate::json_lines::print_line;

#[derive(Serialize)]
struct EntryScore<'a> {
    entry: &'a EntryId,
    score: &'a Score,
}

pub(crate) fn run(options: &cli::Score) -> Result<(), Failure> {
    let chart = input::read_chart(&options.file)?;
    let mut out = BufWriter::new(std::io::stdout().lock());
    if options.json {
        print_json(&chart, &mut out)?;
    } else {
        print_table(&chart, &mut out)?;
    }
    out.flush()?;
    Ok(())
}

fn print_json(chart: &Chart, out: &mut impl Write) -> Result<(), Failure> {
    let mut play = PlayByPlay::new(chart.header());
    for entry in chart.effective() {
        let turn = play.step(&entry);
        if turn.counted || turn.score_changed {
            let line = EntryScore {
                entry: &entry.id,
                score: play.score(),
            };
            print_line(&line, out)?;
        }
    }
    Ok(())
}

fn print_table(chart: &Chart, out: &mut impl Write) -> Result<(), Failure> {
    let header = chart.header();
    let mut play = PlayByPlay::new(header);
    let mut rows = vec![ScoreRow::opening(header, play.score())];
    for entry in chart.effective() {
        let before = play.score().clone();
        let turn = play.step(&entry);
        if turn.counted || turn.score_changed {
            rows.push(ScoreRow::new(header, &before, &entry.play, play.score()));
        }
    }
    let mut lines = vec![ScoreRow::HEADINGS.map(str::to_owned)];
    lines.extend(rows.iter().map(|row| row.cells().map(str::to_owned)));
    let width = |column: usize| {
        let cells = lines.iter().map(|line| line[column].chars().count());
        cells.max().unwrap_or_default()
    };
    let widths: Vec<usize> = (0..ScoreRow::HEADINGS.len()).map(width).collect();
    for line in &lines {
        let cells: Vec<String> = line
            .iter()
            .zip(&widths)
            .map(|(cell, width)| format!("{cell:<width$}"))
            .collect();
        writeln!(out, "{}", cells.join("  ").trim_end())?;
    }
    Ok(())
}
