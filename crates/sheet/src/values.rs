//! What the cells of a match say: times, courts, numbers, colors, words. What cannot
//! be read is a sentence for whoever filled in the sheet.

mod color;

pub(crate) use color::color;

/// The most characters of a round and of a time.
const SHORT_LIMIT: usize = 40;
/// The most characters of a title.
const TITLE_LIMIT: usize = 500;
/// The most characters of a team's and of a player's name.
const NAME_LIMIT: usize = 60;
/// The most characters of a court's name.
const COURT_LIMIT: usize = 64;

/// A round: `QF 2`.
pub(crate) fn round(cell: &str) -> Result<String, String> {
    short("round", &whole(cell))
}

/// A title.
pub(crate) fn title(cell: &str) -> Result<String, String> {
    let text = one_line(cell)?;
    within("title", &text, TITLE_LIMIT)?;
    Ok(text)
}

/// A time of day as it is written. A share of a day, which is what spreadsheets
/// hold, becomes hours and minutes; a day and seconds are left out.
pub(crate) fn time(cell: &str) -> Result<String, String> {
    if let Ok(days) = cell.replace(',', ".").parse::<f64>()
        && cell.contains(['.', ','])
        && ((0.0..1.0).contains(&days) || (20_000.0..80_000.0).contains(&days))
    {
        return Ok(time_of_day(days));
    }
    let text = cell.replacen(
        'T',
        " ",
        usize::from(cell.starts_with(|c: char| c.is_ascii_digit())),
    );
    let mut words: Vec<&str> = text.split_whitespace().collect();
    let is_day = |word: &&str| {
        word.starts_with(|c: char| c.is_ascii_digit())
            && word.contains(['-', '/', '.'])
            && !word.contains(':')
    };
    if words.len() > 1 && is_day(&words[0]) {
        words.remove(0);
    }
    let words: Vec<String> = words.into_iter().map(without_seconds).collect();
    short("time", &words.join(" "))
}

/// The time of day in a count of days: `0.375` is `09:00`.
pub(crate) fn time_of_day(days: f64) -> String {
    let minutes = ((days - days.floor()) * 24.0 * 60.0).round() as u32 % (24 * 60);
    format!("{:02}:{:02}", minutes / 60, minutes % 60)
}

/// `9:30:00` as `9:30`, `9:30:00 AM` as `9:30 AM`.
fn without_seconds(word: &str) -> String {
    let is_number = |text: &str| !text.is_empty() && text.bytes().all(|c| c.is_ascii_digit());
    let digits = word.trim_end_matches(|c: char| !c.is_ascii_digit());
    match digits.split(':').collect::<Vec<_>>()[..] {
        [hours, minutes, seconds]
            if is_number(hours) && is_number(minutes) && seconds.starts_with("00") =>
        {
            format!("{hours}:{minutes}{}", &word[digits.len()..])
        }
        _ => word.to_owned(),
    }
}

/// A court's name, as links have it: `Court 3` is `3`, `Center Court` is `Center`.
pub(crate) fn court(cell: &str) -> Result<String, String> {
    let text = whole(&one_line(cell)?);
    let small = |word: &str| {
        word.trim_matches(|c: char| !c.is_alphanumeric())
            .to_ascii_lowercase()
    };
    let words = text.split([' ', '#', '.']).filter(|word| !word.is_empty());
    let named: Vec<&str> = words
        .clone()
        .filter(|word| !["court", "ct", "crt", "no"].contains(&&*small(word)))
        .collect();
    let name = if named.is_empty() {
        words.collect::<Vec<_>>().join("-")
    } else {
        named.join("-")
    };
    let fits = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
    if name.is_empty() || name.len() > COURT_LIMIT || !name.chars().all(fits) {
        return Err(format!(
            "“{text}” cannot be a court's name, which stands in links: use letters a to z, digits, - or _, like 3 or Center."
        ));
    }
    Ok(name)
}

/// A team's or a player's name.
pub(crate) fn name(cell: &str, whose: &str) -> Result<String, String> {
    let lines: Vec<&str> = cell
        .split('\n')
        .map(str::trim)
        .filter(|line| !line.is_empty())
        .collect();
    let text = one_line(&lines.join(" / "))?;
    let length = text.chars().count();
    if length > NAME_LIMIT {
        return Err(format!(
            "The name of {whose} has {length} characters; more than {NAME_LIMIT} cannot be read on the graphic. Shorten it."
        ));
    }
    Ok(text)
}

/// The players of a team in one cell, separated by `/`, `;`, `&`, `+`, `and` or a
/// line break.
pub(crate) fn players(cell: &str) -> Vec<&str> {
    let parts = cell.split(['/', ';', '&', '+', '\n']);
    let parts = parts.flat_map(|part| part.split(" and "));
    parts
        .map(str::trim)
        .filter(|part| !part.is_empty())
        .collect()
}

/// Whether nothing is said by a name: `TBD`.
pub(crate) fn is_unknown(name: &str) -> bool {
    let small = name.trim().to_ascii_lowercase();
    ["tbd", "tba", "tbc", "?", "-", "–"].contains(&&*small)
}

/// Whether a name stands for a team or player that another match decides, or that
/// is not known yet: `winner of QF 2`, `TBD`.
pub(crate) fn is_open(name: &str) -> bool {
    let small = name.trim().to_ascii_lowercase();
    let begins = ["winner ", "loser ", "winners ", "losers ", "runner-up "];
    is_unknown(name) || begins.iter().any(|begin| small.starts_with(begin))
}

/// The one whole number of a cell, from `from` to `to`: `11`, `11.0`, `to 11`,
/// `best of 3`.
pub(crate) fn number(cell: &str, from: u32, to: u32) -> Result<u32, String> {
    let text = whole(cell);
    let mut numbers = text
        .split(|c: char| !c.is_ascii_digit())
        .filter(|part| !part.is_empty());
    let has_fraction = text
        .parse::<f64>()
        .is_ok_and(|number| number.fract() != 0.0 || number < 0.0);
    let number = match (numbers.next(), numbers.next()) {
        (Some(one), None) if !has_fraction => one.parse::<u32>().ok(),
        _ => None,
    };
    number
        .filter(|number| (from..=to).contains(number))
        .ok_or_else(|| {
            format!(
                "“{}” is no whole number from {from} to {to}.",
                one_line_for_people(cell)
            )
        })
}

/// `doubles` or `singles`, also `mixed doubles`, `WD`, `MS`.
pub(crate) fn discipline(cell: &str) -> Result<&'static str, String> {
    let small = cell.to_ascii_lowercase();
    let words: Vec<&str> = small.split(|c: char| !c.is_alphanumeric()).collect();
    let has = |any: &[&str]| any.iter().any(|one| words.contains(one));
    let is_doubles = small.contains("double") || has(&["d", "md", "wd", "xd", "mxd", "mixed"]);
    let is_singles = small.contains("single") || has(&["s", "ms", "ws"]);
    match (is_doubles, is_singles) {
        (true, false) => Ok("doubles"),
        (false, true) => Ok("singles"),
        _ => Err(format!(
            "“{}” is neither doubles nor singles. Write one of these words.",
            one_line_for_people(cell)
        )),
    }
}

/// `side_out` or `rally`.
pub(crate) fn scoring(cell: &str) -> Result<&'static str, String> {
    let letters = cell.chars().filter(char::is_ascii_alphabetic);
    let key: String = letters.map(|c| c.to_ascii_lowercase()).collect();
    if key.starts_with("sideout") || key == "traditional" || key == "regular" {
        Ok("side_out")
    } else if key.starts_with("rally") {
        Ok("rally")
    } else {
        Err(format!(
            "“{}” is no way of scoring. Write side-out or rally.",
            one_line_for_people(cell)
        ))
    }
}

/// The team that serves first, by its letter, its number, its place or its name.
pub(crate) fn first_serve(cell: &str, names: [&str; 2]) -> Result<&'static str, String> {
    let small = cell.trim().to_lowercase();
    let is_name = |name: &str| name.to_lowercase() == small;
    let word = small.strip_prefix("team").unwrap_or(&small);
    let word = word.strip_suffix("team").unwrap_or(word).trim();
    match word {
        _ if is_name(names[0]) => Ok("a"),
        _ if is_name(names[1]) => Ok("b"),
        "a" | "1" | "1.0" | "first" | "home" => Ok("a"),
        "b" | "2" | "2.0" | "second" | "away" => Ok("b"),
        _ => Err(format!(
            "“{}” is neither of the two teams. Write 1 or 2, or the name of the team that serves first.",
            one_line_for_people(cell)
        )),
    }
}

/// A number that a spreadsheet wrote with a fraction it does not have: `3.0` as `3`.
fn whole(cell: &str) -> String {
    let cut = cell.strip_suffix(".0").or_else(|| cell.strip_suffix(",0"));
    let is_number = |text: &&str| !text.is_empty() && text.bytes().all(|c| c.is_ascii_digit());
    cut.filter(is_number).unwrap_or(cell).to_owned()
}

fn short(what: &str, text: &str) -> Result<String, String> {
    let text = one_line(text)?;
    within(what, &text, SHORT_LIMIT)?;
    Ok(text)
}

fn within(what: &str, text: &str, limit: usize) -> Result<(), String> {
    let length = text.chars().count();
    if length > limit {
        return Err(format!(
            "The {what} has {length} characters, at most {limit} fit. Shorten it."
        ));
    }
    Ok(())
}

/// A text on one line.
fn one_line(text: &str) -> Result<String, String> {
    let joined = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if joined.chars().any(char::is_control) {
        return Err(
            "The cell holds a character that cannot be shown. Type the cell again.".to_owned(),
        );
    }
    Ok(joined)
}

/// A cell in a sentence about it.
pub(crate) fn one_line_for_people(cell: &str) -> String {
    let shown: String = cell
        .chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .take(60)
        .collect();
    shown.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_kept_as_written_and_shares_of_a_day_become_times() {
        for (cell, expected) in [
            ("9:30", "9:30"),
            ("09:30:00", "09:30"),
            ("9:30:00 AM", "9:30 AM"),
            ("9:30:00PM", "9:30PM"),
            ("2026-05-03 09:30", "09:30"),
            ("2026-05-03T09:30:00", "09:30"),
            ("5/3/2026 2:05 PM", "2:05 PM"),
            ("0.395833333333333", "09:30"),
            ("0,75", "18:00"),
            ("46145.375", "09:00"),
            ("after QF 2", "after QF 2"),
            ("14.30", "14.30"),
            ("Today", "Today"),
        ] {
            assert_eq!(time(cell).as_deref(), Ok(expected), "{cell}");
        }
        assert!(time(&"x".repeat(41)).is_err());
    }

    #[test]
    fn courts_are_called_as_links_need_it() {
        for (cell, expected) in [
            ("3", "3"),
            ("3.0", "3"),
            ("Court 3", "3"),
            ("Court #3", "3"),
            ("Ct. 12", "12"),
            ("Center Court", "Center"),
            ("Court", "Court"),
            ("North 2", "North-2"),
        ] {
            assert_eq!(court(cell).as_deref(), Ok(expected), "{cell}");
        }
        assert!(court("Plätze").unwrap_err().contains("“Plätze”"));
    }

    #[test]
    fn numbers_are_whole_and_within_what_the_game_allows() {
        for cell in ["11", "11.0", "to 11", "11 points"] {
            assert_eq!(number(cell, 1, 99), Ok(11), "{cell}");
        }
        for cell in ["many", "11.5", "-11", "0", "100", "11 or 15", ""] {
            assert!(number(cell, 1, 99).is_err(), "{cell}");
        }
    }

    #[test]
    fn words_are_understood_as_people_write_them() {
        assert_eq!(discipline("Mixed Doubles"), Ok("doubles"));
        assert_eq!(discipline("WS"), Ok("singles"));
        assert!(discipline("triples").is_err());
        assert_eq!(scoring("Side-out"), Ok("side_out"));
        assert_eq!(scoring("rally scoring"), Ok("rally"));
        assert!(scoring("best").is_err());
        assert_eq!(first_serve("Owl", ["Heron", "Owl"]), Ok("b"));
        assert_eq!(first_serve("Team 1", ["Heron", "Owl"]), Ok("a"));
        assert!(first_serve("Kite", ["Heron", "Owl"]).is_err());
    }

    #[test]
    fn a_place_that_is_open_is_no_player() {
        for name in ["TBD", "Winner of QF 2", "loser of semifinal 1"] {
            assert!(is_open(name), "{name}");
        }
        assert!(!is_open("Winnerman"));
        assert!(is_unknown("tbd") && !is_unknown("Winner of QF 2"));
    }

    #[test]
    fn players_are_separated_as_people_do_it() {
        for cell in [
            "Ana / Bo",
            "Ana;Bo",
            "Ana & Bo",
            "Ana and Bo",
            "Ana\nBo",
            "Ana + Bo",
        ] {
            assert_eq!(players(cell), ["Ana", "Bo"], "{cell}");
        }
        assert_eq!(players("Quill, Ana"), ["Quill, Ana"]);
    }
}
