//! The host's limits as a section of the authors' reference: every constant
//! with its value and all that its documentation says.

use std::fmt::Write as _;
use std::path::Path;

use anyhow::{Context, bail};

const FILE: &str = "crates/plugin-host/src/limits.rs";

/// The section.
pub(crate) fn section(root: &Path) -> anyhow::Result<String> {
    let text = std::fs::read_to_string(root.join(FILE))
        .with_context(|| format!("could not read `{FILE}`"))?;
    let mut out = String::from(
        "## Limits\n\nAll but the clock behind them are counted, so the same plugin and chart fare alike on\n\
         every machine. Each says what it does not cover.\n",
    );
    for limit in read(&text)? {
        let Limit { name, value, words } = limit;
        write!(out, "\n### `{name}` = {}\n\n{words}\n", grouped(value))?;
    }
    Ok(out)
}

/// One constant.
#[derive(Debug, PartialEq)]
struct Limit {
    name: String,
    value: u64,
    /// Its documentation, in Markdown.
    words: String,
}

fn read(text: &str) -> anyhow::Result<Vec<Limit>> {
    let mut limits = Vec::new();
    let mut words: Vec<&str> = Vec::new();
    for line in text.lines() {
        if let Some(word) = line.strip_prefix("///") {
            words.push(word.strip_prefix(' ').unwrap_or(word));
            continue;
        }
        if let Some(constant) = line.strip_prefix("pub const ") {
            let parts = constant.trim_end_matches(';').split_once(" = ");
            let named = parts.and_then(|(left, value)| Some((left.split_once(':')?.0, value)));
            let Some((name, value)) = named else {
                bail!("`{FILE}`: `{line}` is no constant on one line");
            };
            let value = worth(value)
                .with_context(|| format!("`{FILE}`: `{name}` is neither a number nor a shift"))?;
            limits.push(Limit {
                name: name.into(),
                value,
                // Links between constants, as rustdoc writes them, mean nothing here.
                words: words.join("\n").replace("[`", "`").replace("`]", "`"),
            });
        }
        words.clear();
    }
    if limits.is_empty() {
        bail!("`{FILE}` holds no constants");
    }
    Ok(limits)
}

/// `12`, `1_000` or `4 << 20`.
fn worth(text: &str) -> Option<u64> {
    let number = |text: &str| text.replace('_', "").trim().parse::<u64>().ok();
    match text.split_once("<<") {
        Some((left, right)) => number(left)?.checked_shl(u32::try_from(number(right)?).ok()?),
        None => number(text),
    }
}

/// The number with a comma after every three digits.
fn grouped(number: u64) -> String {
    let digits = number.to_string();
    let mut out = String::new();
    for (place, digit) in digits.chars().enumerate() {
        if place > 0 && (digits.len() - place).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_limit_stands_with_its_value_and_words() {
        let text = "//! All.\n\n/// The most.\n///\n/// Not [`B`].\npub const A: usize = 4 << 20;\n\
                    /// Few.\npub const B: u64 = 1_000;\n";
        let limit = |name: &str, value, words: &str| Limit {
            name: name.into(),
            value,
            words: words.into(),
        };
        let expected = vec![
            limit("A", 4_194_304, "The most.\n\nNot `B`."),
            limit("B", 1000, "Few."),
        ];
        assert_eq!(read(text).unwrap(), expected);
    }

    #[test]
    fn a_constant_that_cannot_be_read_is_an_error() {
        let error = read("pub const A: usize = B + 1;").unwrap_err();
        assert!(error.to_string().contains("`A`"), "{error}");
    }

    #[test]
    fn numbers_are_grouped_by_three() {
        assert_eq!(
            [grouped(7), grouped(512), grouped(4_194_304)],
            ["7", "512", "4,194,304"]
        );
    }
}
