//! `rallytide agree A B`: how well two charts of one match agree.

use std::io::{BufWriter, Write};
use std::path::Path;

use rallytide_agree::{Names, compare, in_words, objections};
use rallytide_court::match_record_and_run;

use crate::cli::Agree;
use crate::failure::Failure;
use crate::{input, plugins};

pub(crate) fn run(options: &Agree) -> Result<(), Failure> {
    let stdin = Path::new("-");
    if options.a == stdin && options.b == stdin {
        return Err(Failure::Usage(
            "the standard input holds one chart; name a file for the other".into(),
        ));
    }
    let a = input::read_chart(&options.a)?;
    let b = input::read_chart(&options.b)?;
    let objections = objections(a.header(), b.header());
    for objection in &objections {
        let grade = if options.anyway { "warning" } else { "error" };
        eprintln!("{grade}: {objection}");
    }
    if !objections.is_empty() && !options.anyway {
        eprintln!("hint: `--anyway` compares them all the same");
        return Err(Failure::input("the charts are not of one match"));
    }
    let plugin_set =
        plugins::plugin_set(options.plugins.as_deref(), &plugins::Settings::default())?;
    let (a, run_of_a) = match_record_and_run(&a, &plugin_set);
    let (b, run_of_b) = match_record_and_run(&b, &plugin_set);
    let agreement = compare(&a, &b);
    let mut out = BufWriter::new(std::io::stdout().lock());
    if options.json {
        serde_json::to_writer(&mut out, &agreement).map_err(std::io::Error::from)?;
        writeln!(out)?;
    } else {
        let (name_a, name_b) = (options.a.display(), options.b.display());
        let names = Names {
            a: &name_a.to_string(),
            b: &name_b.to_string(),
        };
        out.write_all(in_words(&agreement, names, options.places).as_bytes())?;
    }
    out.flush()?;
    plugins::report_faults(&run_of_a)?;
    plugins::report_faults(&run_of_b)
}
