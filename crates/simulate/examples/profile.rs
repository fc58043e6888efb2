//! Prints what many made-up matches look like in numbers, to tune the model by:
//! `cargo run -p rallytide-simulate --example profile -- [doubles|singles] [matches]`.

use rallytide_chart::Discipline;
use rallytide_simulate::{Mistakes, Plan, simulate};

#[path = "../tests/measure/mod.rs"]
mod measure;

use measure::{Measure, mean, share_within};

fn main() {
    let mut arguments = std::env::args().skip(1);
    let discipline = match arguments.next().as_deref() {
        Some("singles") => Discipline::Singles,
        _ => Discipline::Doubles,
    };
    let matches = arguments
        .next()
        .and_then(|text| text.parse().ok())
        .unwrap_or(200);
    let mut measure = Measure::default();
    for seed in 1..=matches {
        let mut plan = Plan::new(seed);
        plan.format.discipline = discipline;
        plan.mistakes = Mistakes::None;
        match simulate(&plan) {
            Ok(lines) => measure.add(&lines),
            Err(error) => eprintln!("seed {seed}: {error}"),
        }
    }
    print(&measure);
}

fn print(measure: &Measure) {
    let shots = &measure.shots_per_rally;
    println!(
        "matches {}, entries {:.0}",
        measure.matches,
        mean(&measure.entries)
    );
    println!(
        "rallies per match   {:.1}",
        mean(&measure.rallies_per_match)
    );
    println!(
        "minutes per match   {:.1}",
        mean(&measure.minutes_per_match)
    );
    println!(
        "shots per rally     {:.2}, longest {}",
        mean(shots),
        measure.longest
    );
    for (low, high) in [(1.0, 2.0), (3.0, 10.0), (11.0, 20.0), (21.0, 500.0)] {
        println!(
            "  {low:>3}..{high:<3}          {:.3}",
            share_within(shots, low, high)
        );
    }
    let seconds = &measure.seconds_per_rally;
    println!("seconds per rally   {:.2}", mean(seconds));
    println!("  3..9 s            {:.3}", share_within(seconds, 3.0, 9.0));
    println!("shots per second    {:.3}", measure.shots_per_second());
    println!("gap                 {:.2}", mean(&measure.gaps));
    println!(
        "  9..15 s           {:.3}",
        share_within(&measure.gaps, 9.0, 15.0)
    );
    println!(
        "hands battle gap    {:.3}",
        mean(&measure.hands_battle_gaps)
    );
    println!("serving team won    {:.3}", measure.serving_won());
    println!("shots with cue      {:.3}", measure.cue_share());
    let counts = [
        &measure.strokes,
        &measure.thirds,
        &measure.hows,
        &measure.cues,
        &measure.kinds,
    ];
    for (name, count) in ["strokes", "thirds", "hows", "cues", "kinds"]
        .iter()
        .zip(counts)
    {
        let all: usize = count.values().sum();
        println!("{name}");
        for (word, n) in count {
            println!("  {word:<12} {n:>7} {:.4}", *n as f64 / all as f64);
        }
    }
}
