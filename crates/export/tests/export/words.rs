//! What people read is said with the same words as on the host's pages.

const WORDS: &str = include_str!("../../../../overlay/shared/trade-words.js");
const INDICATORS: &str = include_str!("../../../../overlay/shared/indicators.js");
const OUR_WORDS: &str = include_str!("../../src/words.rs");

/// The pairs `code: "words"` of a list in the page's source.
fn pairs(name: &str) -> Vec<(String, String)> {
    let start = WORDS
        .find(&format!("export const {name} = {{"))
        .expect(name);
    let list = &WORDS[start..start + WORDS[start..].find("};").unwrap()];
    list.lines()
        .filter_map(|line| {
            let (code, words) = line.split_once(": ")?;
            let words = words.strip_prefix('"')?.strip_suffix("\",")?;
            Some((code.trim().to_owned(), words.to_owned()))
        })
        .collect()
}

#[test]
fn reasons_strokes_cues_and_ends_are_called_as_on_the_pages() {
    for (list, least) in [("REASONS", 5), ("STROKES", 14), ("CUES", 4), ("FAULTS", 7)] {
        let pairs = pairs(list);
        assert!(pairs.len() >= least, "{list}");
        for (code, words) in pairs {
            let said = words == code || OUR_WORDS.contains(&format!("\"{words}\""));
            assert!(said, "{list}: `{words}` for `{code}`");
        }
    }
}

#[test]
fn every_number_of_the_booth_is_called_the_same() {
    let mut named = 0;
    for line in INDICATORS
        .lines()
        .filter(|line| line.contains("{ indicator: \""))
    {
        let field = |name: &str| {
            let (_, rest) = line.split_once(&format!("{name}: \""))?;
            rest.split('"').next()
        };
        let indicator = field("indicator").unwrap();
        let label = field("alone").or(field("label")).unwrap();
        let ours = rallytide_export::label(indicator, field("slot"));
        assert_eq!(ours, Some(label), "{line}");
        named += 1;
    }
    assert!(named > 15);
}
