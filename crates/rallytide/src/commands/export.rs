//! `rallytide export FILE --as json`: the feed as it would have been sent.

use std::io::{BufWriter, Write};

use rallytide_court::{Role, play_back};

use crate::cli::{Export, ExportForm};
use crate::failure::Failure;
use crate::{input, plugins};

pub(crate) fn run(options: &Export) -> Result<(), Failure> {
    let chart = input::read_chart(&options.file)?;
    let ensemble = plugins::ensemble(options.plugins.as_deref(), &plugins::Settings::default())?;
    let mut out = BufWriter::new(std::io::stdout().lock());
    match options.form {
        ExportForm::Json => {
            let mut start = None;
            let mut at_ms = 0;
            for (at, message) in play_back(&chart, &ensemble) {
                if let Some(at) = at {
                    let start = *start.get_or_insert(at.milliseconds());
                    // An inserted entry carries the time at which it was put
                    // in; the tape does not run ahead for it, nor backwards.
                    at_ms = at_ms.max(at.milliseconds() - start);
                }
                let text = message.text(Role::Booth);
                writeln!(out, "{{\"at_ms\":{at_ms},\"message\":{text}}}")?;
            }
        }
    }
    Ok(out.flush()?)
}
