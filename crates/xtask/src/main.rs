//! What developers and CI run. `cargo verify` is everything; the parts can be
//! run alone with `cargo xtask PART`.

mod arrows;
mod build;
mod deny;
mod examples;
mod limits;
mod modules;
mod reads;
mod reference;
mod rooms;
mod steps;
mod tidy;
mod tools;
mod types;
mod verify;

use std::path::{Path, PathBuf};
use std::process::ExitCode;

const HELP: &str = "\
cargo xtask COMMAND

  verify         everything that has to pass: style, lints, tidiness, tests of
                 crates, pages and the whole, documentation
  verify PART    one part of it: style, tidy, deny, lints, types, reference,
                 crates, docs, pages, whole
  types          write the pages' types and the served documents out of the
                 Rust types
  plugin-reference
                 write the plugin authors' reference
  examples       build and test the example plugins in other languages
  tidy           directions of crates and modules, READMEs, links, file sizes,
                 words
  deny           licenses, duplicates and origins of what is built in
";

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let done = match words.as_slice() {
        ["verify"] => verify::everything(&root()),
        ["verify", part] => verify::part(&root(), part),
        ["types"] => types::write(&root()),
        ["plugin-reference"] => reference::write(&root()),
        ["examples"] => examples::check(&root()),
        ["deny"] => deny::check(&root()),
        ["tidy"] => tidy::check(&root()),
        ["help" | "--help" | "-h"] => {
            print!("{HELP}");
            return ExitCode::SUCCESS;
        }
        _ => {
            eprint!("{HELP}");
            return ExitCode::from(2);
        }
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("error: {error:#}");
            ExitCode::FAILURE
        }
    }
}

/// The top of the checkout.
fn root() -> PathBuf {
    let own = Path::new(env!("CARGO_MANIFEST_DIR"));
    own.ancestors().nth(2).unwrap_or(own).to_owned()
}
