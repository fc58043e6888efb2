//! Simulated matches, told. Plugins do not run here: who holds the initiative is
//! made up from the shots, so that every form has something to say.

use proptest::prelude::*;
use rallytide_chart::{Chart, Discipline, PairOf, Team, TeamSheet, read_chart_file};
use rallytide_court::match_record;
use rallytide_match_record::{MatchRecord, RecordItem, RecordedInitiative};
use rallytide_plugin_host::{PluginSet, Settings};
use rallytide_readings::Reason;
use rallytide_simulate::{Billing, Detail, Plan, simulate};

/// Texts that mean something to one of the forms.
pub(crate) const HOSTILE: &[&str] = &[
    "=HYPERLINK(\"http://example.invalid\")",
    "+1",
    "-1-2",
    "@SUM(A1)",
    "\t=1",
    "\r\n=1",
    "a,b;\"c\"",
    "line\nbreak\r\n\r\nand --> arrow",
    "<script>alert(1)</script>",
    "</style><b>&amp;\"'",
    "NOTE --> ]]>",
    "\0\u{7}\u{202e}",
    "Åsa Łuczak 木",
];

pub(crate) fn told(chart: &Chart) -> MatchRecord {
    let plugin_set = PluginSet::assemble(Vec::new(), &Settings::new()).unwrap();
    let mut record = match_record(chart, &plugin_set);
    for part in &mut record.items {
        let RecordItem::Rally(rally) = part else {
            continue;
        };
        for shot in &mut rally.shots {
            let (Some(entry), Some(time)) = (shot.shown.entry.clone(), shot.time) else {
                continue;
            };
            let toward = [None, Some(Team::A), Some(Team::B)][shot.shown.n as usize % 3];
            let why = toward.map(|team| Reason {
                code: "attackable".into(),
                team: Some(team.other()),
                entry: entry.clone(),
                inferred: shot.shown.n % 2 == 0,
                place: shot.shown.n,
            });
            shot.shown.toward = toward;
            shot.shown.strength = toward.map_or(0.0, |_| 0.5);
            shot.shown.why = why.into_iter().collect();
            rally.initiative.push(RecordedInitiative {
                entry,
                time,
                toward,
                strength: shot.shown.strength,
                why: shot.shown.why.clone(),
            });
        }
    }
    record
}

pub(crate) fn chart(plan: &Plan) -> Chart {
    read(&simulate(plan).unwrap().join("\n"))
}

pub(crate) fn read(text: &str) -> Chart {
    let file = read_chart_file(text.as_bytes());
    assert_eq!(file.problems, [], "the chart is sound");
    file.chart.unwrap()
}

/// A simulated match under these names, with this note in it.
pub(crate) fn with_texts(seed: u64, detail: Detail, texts: &[String]) -> MatchRecord {
    let text = |place: usize| texts[place % texts.len()].clone();
    let plan = Plan {
        detail,
        billing: Billing {
            title: Some(text(0)),
            court: Some(text(1)),
            teams: Some(PairOf {
                a: TeamSheet {
                    name: text(2),
                    players: vec![text(3), text(4)],
                },
                b: TeamSheet {
                    name: text(5),
                    players: vec![text(6), text(7)],
                },
            }),
            ..Billing::default()
        },
        ..Plan::new(seed)
    };
    assert_eq!(plan.format.discipline, Discipline::Doubles);
    let mut lines = simulate(&plan).unwrap();
    let note = serde_json_string(&text(8));
    lines.push(format!(
        r#"{{"id":"-last-note","at":"2026-05-09T23:00:00.000Z","kind":"note","text":{note}}}"#
    ));
    told(&read(&lines.join("\n")))
}

fn serde_json_string(text: &str) -> String {
    let escaped: String = text
        .chars()
        .flat_map(|c| {
            let plain = !c.is_control() && c != '"' && c != '\\' && c.is_ascii();
            if plain {
                vec![c]
            } else {
                let mut units = [0; 2];
                let units = c.encode_utf16(&mut units);
                units
                    .iter()
                    .flat_map(|unit| format!("\\u{unit:04x}").chars().collect::<Vec<_>>())
                    .collect()
            }
        })
        .collect();
    format!("\"{escaped}\"")
}

/// Nine texts, hostile or of any characters.
pub(crate) fn texts() -> impl Strategy<Value = Vec<String>> {
    let hostile = proptest::sample::select(HOSTILE).prop_map(str::to_owned);
    proptest::collection::vec(prop_oneof![hostile, "\\PC{0,12}", any::<String>()], 9).prop_map(
        |texts| {
            let short = |text: String| text.chars().take(60).collect();
            texts.into_iter().map(short).collect()
        },
    )
}

pub(crate) fn details() -> impl Strategy<Value = Detail> {
    proptest::sample::select(Detail::ALL)
}
