//! A cell of a workbook as the text that somebody would type for it.

use calamine::{Data, DataRef, ExcelDateTime};

use crate::values::time_of_day;

pub(super) fn of_xlsx(cell: &DataRef<'_>) -> String {
    match cell {
        DataRef::SharedString(text) => unescaped(text),
        DataRef::String(text) => unescaped(text),
        DataRef::Int(number) => number.to_string(),
        DataRef::Float(number) => float(*number),
        DataRef::Bool(is) => truth(*is),
        DataRef::DateTime(time) => date_time(time),
        DataRef::DateTimeIso(text) => text.clone(),
        DataRef::DurationIso(text) => duration(text),
        DataRef::Error(_) | DataRef::Empty => String::new(),
    }
}

pub(super) fn of_ods(cell: &Data) -> String {
    match cell {
        Data::String(text) | Data::DateTimeIso(text) => text.clone(),
        Data::Int(number) => number.to_string(),
        Data::Float(number) => float(*number),
        Data::Bool(is) => truth(*is),
        Data::DateTime(time) => date_time(time),
        Data::DurationIso(text) => duration(text),
        Data::Error(_) | Data::Empty => String::new(),
    }
}

fn float(number: f64) -> String {
    // The shortest form that means the same number: `3`, not `3.0`.
    format!("{number}")
}

fn truth(is: bool) -> String {
    if is { "true" } else { "false" }.to_owned()
}

/// A time of day, a day, or both.
fn date_time(time: &ExcelDateTime) -> String {
    let days = time.as_f64();
    if (0.0..1.0).contains(&days) {
        return time_of_day(days);
    }
    let (year, month, day, ..) = time.to_ymd_hms_milli();
    let date = format!("{year:04}-{month:02}-{day:02}");
    if days.fract() == 0.0 {
        date
    } else {
        format!("{date} {}", time_of_day(days))
    }
}

/// `PT09H30M00S`, which is how `OpenDocument` keeps a time of day (part 3, 18.2,
/// XML Schema's duration), as `09:30`.
fn duration(text: &str) -> String {
    let parts = || {
        let (hours, rest) = text.strip_prefix("PT")?.split_once('H')?;
        let (minutes, _) = rest.split_once('M')?;
        Some((hours.parse::<u32>().ok()?, minutes.parse::<u32>().ok()?))
    };
    match parts() {
        Some((hours, minutes)) if hours < 24 && minutes < 60 => format!("{hours:02}:{minutes:02}"),
        _ => text.to_owned(),
    }
}

/// `_x000D_` stands for a character that XML cannot hold (ECMA-376 part 1, 22.4.2.4):
/// line breaks of some programs.
fn unescaped(text: &str) -> String {
    text.replace("_x000D_", "").replace("_x000A_", "\n")
}

#[cfg(test)]
mod tests {
    use calamine::ExcelDateTimeType;

    use super::*;

    #[test]
    fn times_and_days_are_written_as_people_do() {
        let written = |days| {
            date_time(&ExcelDateTime::new(
                days,
                ExcelDateTimeType::DateTime,
                false,
            ))
        };
        assert_eq!(written(0.395_833_333_333_333), "09:30");
        // Microsoft, "Date systems in Excel": 1900-01-01 is 1; from memory: 2026-05-03 is 46145.
        assert_eq!(written(46_145.0), "2026-05-03");
        assert_eq!(written(46_145.75), "2026-05-03 18:00");
        assert_eq!(duration("PT09H05M00S"), "09:05");
        assert_eq!(duration("P1D"), "P1D");
    }

    #[test]
    fn numbers_without_a_fraction_have_none() {
        assert_eq!(of_xlsx(&DataRef::Float(3.0)), "3");
        assert_eq!(of_ods(&Data::Float(11.5)), "11.5");
    }
}
