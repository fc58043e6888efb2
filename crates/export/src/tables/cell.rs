//! Cells: how each kind of value is written.

use rallytide_chart::Team;
use rallytide_scoring::Score;

/// What makes a spreadsheet take a text for a formula, when it comes first; the
/// wide forms too, because some programs read them alike. (Common practice, as
/// the OWASP page on CSV injection lists it.)
const FORMULA_STARTS: &[char] = &['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠'];

/// Text out of a chart. A text that a spreadsheet would take for a formula gets
/// an apostrophe in front, which spreadsheets read as "this is text".
pub(super) fn text(text: &str) -> String {
    let kept: String = text.chars().filter(|c| *c != '\0').collect();
    if kept.starts_with(FORMULA_STARTS) {
        format!("'{kept}")
    } else {
        kept
    }
}

pub(super) fn yes_no(yes: bool) -> String {
    if yes { "1" } else { "0" }.into()
}

pub(super) fn team(team: Option<Team>) -> String {
    team.map_or("", Team::word).into()
}

/// A value that may not be there.
pub(super) fn maybe(value: Option<impl ToString>) -> String {
    value.map(|value| value.to_string()).unwrap_or_default()
}

/// The call, with a word in front: spreadsheets take `3-5-1` for a date.
pub(super) fn call(score: &Score) -> String {
    match score.call {
        Some(call) => format!("call {call}"),
        None => String::new(),
    }
}

/// Words in one cell.
pub(super) fn list<'a>(words: impl Iterator<Item = &'a str>) -> String {
    words.collect::<Vec<_>>().join(" ")
}

/// From 0 to 1 with six decimals, without those that say nothing.
pub(super) fn fraction(value: f64) -> String {
    let text = format!("{value:.6}");
    text.trim_end_matches('0').trim_end_matches('.').into()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_that_would_be_a_formula_gets_an_apostrophe() {
        for start in ["=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠"] {
            let written = text(&format!("{start}1+1"));
            assert_eq!(written, format!("'{start}1+1"));
        }
        assert_eq!(text("\0=1+1"), "'=1+1", "what is dropped hides nothing");
    }

    #[test]
    fn an_ordinary_text_is_left_as_it_is() {
        for ordinary in ["", "Okafor / Lind", "a=b", "3-5", "'quoted'", "Åsa"] {
            assert_eq!(text(ordinary), ordinary);
        }
    }

    #[test]
    fn fractions_have_no_decimals_that_say_nothing() {
        for (value, expected) in [
            (0.0, "0"),
            (1.0, "1"),
            (0.5, "0.5"),
            (2.0 / 3.0, "0.666667"),
        ] {
            assert_eq!(fraction(value), expected);
        }
    }
}
