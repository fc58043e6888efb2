//! What a call into a plugin costs, beside the same logic called natively.
//!
//! `cargo run --release -p rallytide-plugin-host --example call_cost [--on CHART]
//! [GUEST…]` takes the built files of plugins; without one it takes the test
//! guest that counts, if the tests have built it. Medians of many passes over a
//! chart, made up unless one is named, in one process; then what 50 such matches
//! at the same time take of memory. Numbers of other machines are other numbers.

use std::collections::BTreeMap;
use std::error::Error;
use std::hint::black_box;
use std::time::Instant;

use rallytide_chart::{Chart, Effective, Entry, Header, RallyReader, RallyStep};
use rallytide_plugin_host::{
    LoaderConfig, PluginCode, PluginLoader, PluginSet, Run, Settings, Step,
};
use rallytide_plugin_kit::{self as kit, Plugin, Readings};
use rallytide_scoring::{Score, ScoreKeeper};

#[allow(
    dead_code,
    unreachable_pub,
    reason = "a guest's own file, of which natively only the logic is used"
)]
#[path = "../tests/guests/src/counts.rs"]
mod counts;

const RALLIES: usize = 250;
const PASSES: usize = 41;
/// Matches held at the same time: a large event's courts.
const MATCHES: usize = 50;

const HEADER: &str = r#"{"kind":"match","chart":1,"id":"trial","title":"Trial",
    "teams":{"a":{"name":"Harbour","players":["Ada Reed","Bo Lund"]},
             "b":{"name":"Dunes","players":["Cy Marsh","Di Ford"]}},
    "format":{"discipline":"doubles","scoring":"side_out","points":99,"win_by":2,"games":5},
    "first_serve":"a"}"#;

const RALLY: [&str; 8] = [
    r#""kind":"shot","team":"a","stroke":"serve""#,
    r#""kind":"shot","team":"b","stroke":"return""#,
    r#""kind":"shot","team":"a","stroke":"drop""#,
    r#""kind":"shot","team":"b","stroke":"dink","cues":["attackable"]"#,
    r#""kind":"shot","team":"a","stroke":"speedup""#,
    r#""kind":"shot","team":"b","stroke":"block""#,
    r#""kind":"shot","team":"a","stroke":"volley""#,
    r#""kind":"rally_end","won_by":"a""#,
];

struct Played {
    entry: Effective,
    rally: RallyStep,
    score: Score,
}

impl Played {
    fn step(&self) -> Step<'_> {
        Step {
            entry: &self.entry,
            rally: &self.rally,
            score: &self.score,
        }
    }
}

fn chart() -> Result<Chart, Box<dyn Error>> {
    let header = Header::from_text(HEADER)?;
    let format = header.format;
    let mut chart = Chart::new(header);
    for rally in 0..RALLIES {
        for (place, fields) in RALLY.iter().enumerate() {
            let text =
                format!(r#"{{"id":"r{rally}-{place}","at":"2026-05-02T10:00:00.000Z",{fields}}}"#);
            chart.push(Entry::from_text(&text, &format)?);
        }
    }
    Ok(chart)
}

/// The median of `PASSES` passes, in nanoseconds for each of `calls`.
fn median(calls: usize, mut pass: impl FnMut()) -> f64 {
    let mut times: Vec<f64> = (0..PASSES)
        .map(|_| {
            let start = Instant::now();
            pass();
            start.elapsed().as_nanos() as f64 / calls as f64
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times[PASSES / 2]
}

/// The chart to run over and the plugins' files, as the command line has them.
fn typed() -> Result<(Chart, Vec<String>), Box<dyn Error>> {
    let mut words: Vec<String> = std::env::args().skip(1).collect();
    if words.first().is_none_or(|word| word != "--on") {
        return Ok((chart()?, words));
    }
    let file = words.get(1).ok_or("`--on` needs a chart")?.clone();
    let files = words.split_off(2);
    let read = rallytide_chart::read_chart_file(std::fs::read(&file)?.as_slice());
    Ok((read.chart.ok_or("the chart cannot be read")?, files))
}

fn guests(
    loader: &PluginLoader,
    mut files: Vec<String>,
) -> Result<Vec<PluginCode>, Box<dyn Error>> {
    if files.is_empty() {
        files.push(
            "target/tmp/plugin-host-guests/wasm32-unknown-unknown/release/examples/counts.wasm"
                .into(),
        );
    }
    let load = |file: &String| {
        let bytes = std::fs::read(file).map_err(|error| format!("`{file}`: {error}"))?;
        let start = Instant::now();
        let code = loader.load(file, &bytes)?;
        println!("{}: loaded in {:?}", code.id(), start.elapsed());
        Ok(code)
    };
    files.iter().map(load).collect()
}

fn main() -> Result<(), Box<dyn Error>> {
    let (chart, files) = typed()?;
    let mut reader = RallyReader::default();
    let mut scoring = ScoreKeeper::new(chart.header());
    let opening = scoring.score().clone();
    let steps: Vec<Played> = chart
        .effective()
        .into_iter()
        .map(|entry| {
            let rally = reader.step(&entry);
            scoring.step(&entry.play);
            let score = scoring.score().clone();
            Played {
                entry,
                rally,
                score,
            }
        })
        .collect();
    let calls = steps.len();
    let run = |plugin_set: &PluginSet| {
        median(calls, || {
            let mut run = plugin_set.start(chart.header(), &opening);
            for step in &steps {
                black_box(run.step(&step.entry, &step.rally, &step.score));
            }
            assert!(run.faults().is_empty(), "{:?}", run.faults());
        })
    };
    let borrowed: Vec<Step<'_>> = steps.iter().map(Played::step).collect();
    let at_once = |plugin_set: &PluginSet| {
        median(calls, || {
            let mut run = plugin_set.start(chart.header(), &opening);
            black_box(run.step_all(&borrowed));
            assert!(run.faults().is_empty(), "{:?}", run.faults());
        })
    };

    let loader = PluginLoader::new(&LoaderConfig::default())?;
    let guests = guests(&loader, files)?;
    let none = run(&PluginSet::assemble(Vec::new(), &Settings::new())?);
    let plugin_set = PluginSet::assemble(guests, &Settings::new())?.complete()?;
    let all = run(&plugin_set);
    println!("entries: {calls}");
    println!("an entry without plugins: {none:.0} ns");
    println!("an entry with these plugins: {all:.0} ns");
    let whole_ms = |each: f64| each * calls as f64 / 1e6;
    println!("a pass entry by entry: {:.2} ms", whole_ms(all));
    println!("a pass at once: {:.2} ms", whole_ms(at_once(&plugin_set)));
    println!("the test guest's logic, natively: {:.0} ns", native());
    let whole = || {
        let mut run = plugin_set.start(chart.header(), &opening);
        for step in &steps {
            run.step(&step.entry, &step.rally, &step.score);
        }
        run
    };
    print_each_plugin(whole);
    print_each_plugin(|| {
        let mut run = plugin_set.start(chart.header(), &opening);
        run.step_all(&borrowed);
        run
    });
    let before = resident();
    let matches: Vec<Run> = (0..MATCHES).map(|_| whole()).collect();
    let added = resident().zip(before).map(|(now, before)| now - before);
    if let Some(kibibytes) = added {
        let mebibytes = kibibytes as f64 / 1024.0;
        println!(
            "{} such matches: {mebibytes:.1} MiB more resident",
            matches.len()
        );
    }
    Ok(())
}

/// The median time of each plugin's calls over a pass, and their fuel.
fn print_each_plugin(whole: impl Fn() -> Run) {
    let mut times: BTreeMap<String, Vec<u64>> = BTreeMap::new();
    let mut fuel: BTreeMap<String, u64> = BTreeMap::new();
    for _ in 0..PASSES {
        for health in whole().health() {
            let id = health.plugin.to_string();
            times.entry(id.clone()).or_default().push(health.time_us);
            fuel.insert(id, health.fuel);
        }
    }
    for (plugin, mut times) in times {
        times.sort_unstable();
        let time = times[PASSES / 2];
        println!("  {plugin}: {time} us a pass, fuel {}", fuel[&plugin]);
    }
}

/// The resident memory of this process in kibibytes, where the system says so.
fn resident() -> Option<u64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status
        .lines()
        .find_map(|line| line.strip_prefix("VmRSS:"))?;
    line.trim().strip_suffix(" kB")?.trim().parse().ok()
}

/// The logic of the test guest on a shot, with what a plugin is handed ready.
fn native() -> f64 {
    let score = kit::testing::opening_score();
    let opening = kit::Opening {
        header: kit::testing::header(),
        settings: Vec::new(),
        score: score.clone(),
        upstream: kit::Upstream::default(),
    };
    let moment = kit::Moment {
        entry: kit::Entry {
            place: 1,
            at_ms: 0.0,
            inserted: false,
            play: kit::Play::Shot(kit::Shot {
                team: kit::Team::A,
                stroke: kit::Stroke::Drop,
                number: 3,
                contact: Some(kit::Contact::Bounce),
                player: None,
                cues: kit::Cues::empty(),
                missed_before: false,
            }),
        },
        score,
        upstream: kit::Upstream::default(),
    };
    let calls = RALLIES * RALLY.len();
    let mut readings = Readings::default();
    let Ok(mut counts) = counts::Counts::start(&opening) else {
        unreachable!("the guest that counts refuses nothing");
    };
    median(calls, || {
        for _ in 0..calls {
            counts.step(black_box(&moment));
            counts.readings(&mut readings);
            black_box(readings.changes());
        }
    })
}
