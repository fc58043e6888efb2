//! `rallytide check FILE`: what would be refused, what is flagged.

use std::io::Write;

use rallytide_chart::Flag;
use rallytide_court::{Inspection, inspect};

use crate::cli::Check;
use crate::failure::Failure;
use crate::input;

pub(crate) fn run(options: &Check) -> Result<(), Failure> {
    let Inspection {
        chart,
        mut problems,
        late,
        notes,
        flagged,
    } = inspect(&input::read(&options.file)?);
    problems.extend(late);
    problems.sort_by_key(|problem| problem.line);
    let mut out = std::io::stdout().lock();
    for note in &notes {
        writeln!(out, "line {}: note: {}", note.line, note.message)?;
    }
    for found in &flagged {
        let meaning = meaning(found.flag);
        writeln!(
            out,
            "line {}: flag {}: entry `{}`: {meaning}",
            found.line, found.flag, found.entry
        )?;
    }
    for problem in &problems {
        let code = problem.refusal.code().word();
        writeln!(
            out,
            "line {}: refused {code}: {}",
            problem.line, problem.refusal
        )?;
    }
    let entries = chart.map_or(0, |chart| chart.entries().len());
    eprintln!(
        "{entries} entries taken, {} flagged, {} refused",
        flagged.len(),
        problems.len()
    );
    if problems.is_empty() {
        Ok(())
    } else {
        Err(Failure::Input(None))
    }
}

fn meaning(flag: Flag) -> &'static str {
    match flag {
        Flag::NoShot => "the cue is about no shot of this rally and has no effect",
        Flag::NoServe => "no serve has been struck in this rally",
        Flag::NoTimeOutLeft => "the team has no time-out left in this game",
        Flag::MissedShot => "the same team struck twice; a shot of the other is assumed between",
        Flag::ServeByReceivers => "the receiving team served",
    }
}
