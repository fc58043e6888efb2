//! Colors of teams: `#0072B2`, `0072b2`, `#07b`, or a color's English name.

/// Names and values: W3C, CSS Color Module Level 4, section 6.1 (named colors).
const NAMED: &[(&str, &str)] = &[
    ("aqua", "#00FFFF"),
    ("black", "#000000"),
    ("blue", "#0000FF"),
    ("brown", "#A52A2A"),
    ("coral", "#FF7F50"),
    ("crimson", "#DC143C"),
    ("cyan", "#00FFFF"),
    ("darkblue", "#00008B"),
    ("darkgreen", "#006400"),
    ("darkred", "#8B0000"),
    ("fuchsia", "#FF00FF"),
    ("gold", "#FFD700"),
    ("gray", "#808080"),
    ("green", "#008000"),
    ("grey", "#808080"),
    ("indigo", "#4B0082"),
    ("lightblue", "#ADD8E6"),
    ("lightgreen", "#90EE90"),
    ("lime", "#00FF00"),
    ("magenta", "#FF00FF"),
    ("maroon", "#800000"),
    ("navy", "#000080"),
    ("olive", "#808000"),
    ("orange", "#FFA500"),
    ("pink", "#FFC0CB"),
    ("purple", "#800080"),
    ("red", "#FF0000"),
    ("royalblue", "#4169E1"),
    ("salmon", "#FA8072"),
    ("silver", "#C0C0C0"),
    ("skyblue", "#87CEEB"),
    ("teal", "#008080"),
    ("turquoise", "#40E0D0"),
    ("violet", "#EE82EE"),
    ("white", "#FFFFFF"),
    ("yellow", "#FFFF00"),
];

/// A color as a match's header has it.
pub(crate) fn color(cell: &str) -> Result<String, String> {
    let letters = cell.chars().filter(|c| c.is_alphanumeric());
    let key: String = letters.map(|c| c.to_ascii_lowercase()).collect();
    if let Some((_, value)) = NAMED.iter().find(|(name, _)| *name == key) {
        return Ok((*value).to_owned());
    }
    let digits = cell.trim().strip_prefix('#').unwrap_or(cell.trim());
    let is_hex = digits.bytes().all(|c| c.is_ascii_hexdigit());
    match digits.len() {
        6 if is_hex => Ok(format!("#{}", digits.to_ascii_uppercase())),
        3 if is_hex => {
            let doubled: String = digits.chars().flat_map(|c| [c, c]).collect();
            Ok(format!("#{}", doubled.to_ascii_uppercase()))
        }
        _ => Err(format!(
            "“{}” is not a color this program knows. Write a simple name like blue, or a value like #0072B2.",
            super::one_line_for_people(cell)
        )),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// CSS Color Module Level 4, section 5.2: `#rgb` stands for `#rrggbb`.
    #[test]
    fn colors_are_names_or_values() {
        for (cell, expected) in [
            ("#0072b2", "#0072B2"),
            ("0072B2", "#0072B2"),
            ("#07b", "#0077BB"),
            ("Navy", "#000080"),
            ("light blue", "#ADD8E6"),
        ] {
            assert_eq!(color(cell).as_deref(), Ok(expected), "{cell}");
        }
        for cell in ["stripes", "#12", "#12345g", "éé"] {
            assert!(color(cell).is_err(), "{cell}");
        }
    }
}
