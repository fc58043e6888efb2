//! The score as plain text, for scoreboards that poll and for text files.

use rallytide_court::ChartedMatch;

/// Line 1: the call, or `final` and the games after the match. Lines 2 and 3:
/// the teams in the order of the header, the serving one first named as such.
pub(crate) fn score_lines(charted: &ChartedMatch) -> String {
    let score = charted.score();
    let teams = &charted.chart().header().teams;
    let call = score.call_or_final();
    let [a, b] = [&teams.a.name, &teams.b.name].map(|name| one_line(name));
    format!("{call}\n{a}\n{b}\n")
}

/// A name as it is written on a line of its own: a chart may hold line breaks and
/// other control characters in it, and who reads the text counts lines or shows
/// it in a terminal.
pub(crate) fn one_line(name: &str) -> String {
    let plain = |c: char| {
        let breaks = c.is_control() || matches!(c, '\u{2028}' | '\u{2029}');
        if breaks { ' ' } else { c }
    };
    name.chars().map(plain).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_with_line_breaks_or_an_escape_stays_on_its_line() {
        assert_eq!(one_line("Ada\r\nLind\u{1b}[2J\u{2028}x"), "Ada  Lind [2J x");
        assert_eq!(one_line("Adaeze Okafor-Łind"), "Adaeze Okafor-Łind");
    }
}
