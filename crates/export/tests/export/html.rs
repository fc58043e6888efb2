//! The page: whole, escaped, without anything from outside.

use proptest::prelude::*;
use rallytide_chart::Team;
use rallytide_export::html::page;
use rallytide_simulate::{Detail, Plan};

use crate::support::{chart, details, read, texts, told, with_texts};

/// What stands between tags: a reader of tags and quotes that takes nothing else
/// for markup. Gives the names of all elements.
fn elements(page: &str) -> Vec<String> {
    let mut names = Vec::new();
    let mut rest = page;
    while let Some(at) = rest.find('<') {
        let tag = &rest[at + 1..];
        let name: String = tag
            .chars()
            .take_while(|c| c.is_ascii_alphanumeric() || *c == '/' || *c == '!')
            .collect();
        assert!(!name.is_empty(), "a stray `<`: {tag:.40}");
        let mut quoted = false;
        let end = tag
            .find(|c| {
                quoted ^= c == '"';
                c == '>' && !quoted
            })
            .expect("a tag that ends");
        if !name.starts_with(['/', '!']) {
            names.push(name);
        }
        rest = &tag[end + 1..];
    }
    names
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn whatever_the_names_are_the_page_holds_the_same_elements(
        seed in 0u64..1000, detail in details(), texts in texts(),
    ) {
        let plain: Vec<String> = (0..9).map(|n| format!("N{n}")).collect();
        let plain = elements(&page(&with_texts(seed, detail, &plain)));
        let kinds = |all: Vec<String>| {
            let mut all = all;
            all.sort_unstable();
            all.dedup();
            all
        };
        let hostile = page(&with_texts(seed, detail, &texts));
        prop_assert!(!hostile.contains("<script"));
        // A list of players can be missing where there are no names.
        let found = kinds(elements(&hostile));
        prop_assert!(found.iter().all(|one| kinds(plain.clone()).contains(one)), "{:?}", found);
    }
}

#[test]
fn the_page_brings_everything_along() {
    let page = page(&told(&chart(&Plan::new(2))));
    for outside in [
        "http:", "https:", "url(", "@import", "<script", "<link", "<img", " src=",
    ] {
        assert!(!page.contains(outside), "`{outside}`");
    }
    assert!(!elements(&page).iter().any(|one| one == "script"));
}

#[test]
fn every_rally_can_be_reached_and_every_shot_stands_in_words() {
    for detail in Detail::ALL {
        let record = told(&chart(&Plan {
            detail: *detail,
            ..Plan::new(3)
        }));
        let page = page(&record);
        for rally in record.rallies() {
            assert!(page.contains(&format!("id=\"rally-{}\"", rally.number)));
            assert!(page.contains(&format!("href=\"#rally-{}\"", rally.number)));
        }
        let shots: usize = record.rallies().map(|rally| rally.shots.len()).sum();
        assert_eq!(page.matches("<li value=").count(), shots);
    }
}

#[test]
fn the_score_by_game_and_the_winner_stand_at_the_top() {
    for seed in 0..6 {
        let record = told(&chart(&Plan::new(seed)));
        let page = page(&record);
        let top = &page[..page.find("Team statistics").unwrap()];
        let closing = &record.closing;
        for game in closing.finished.iter() {
            for team in Team::ALL {
                assert!(
                    top.contains(&format!(">{}</td>", game.of(*team))),
                    "seed {seed}"
                );
            }
        }
        assert!(top.contains("won the match"), "seed {seed}");
    }
}

#[test]
fn a_chart_without_entries_makes_a_page_too() {
    let header = r#"{"kind":"match","chart":1,"id":"h","teams":{"a":{"name":""},"b":{"name":""}},"format":{"discipline":"singles","scoring":"rally","points":21,"win_by":1,"games":1},"first_serve":"b"}"#;
    let page = page(&told(&read(header)));
    assert!(page.contains("Team A against Team B"));
    assert!(page.contains("Nothing has been charted yet."));
}
