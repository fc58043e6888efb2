//! Damaged files by the thousand: none of them may do more than be refused,
//! or run within its limits.

use std::collections::BTreeMap;

use rallytide_plugin_host::{PluginSet, Settings};

use crate::files::component_of;
use crate::support::{chart, guest, loader, steps};

/// How many damaged files a test tries.
const MUTANTS: usize = 2000;

/// A small generator of numbers (xorshift, 64 bits), so that a failure comes
/// again.
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, bound: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % bound as u64) as usize
    }
}

/// Damages a file as disks, networks and editors do.
fn damaged(file: &[u8], numbers: &mut Numbers) -> Vec<u8> {
    let mut mutant = file.to_vec();
    match numbers.below(4) {
        0 => mutant.truncate(numbers.below(file.len())),
        1 => {
            let start = numbers.below(file.len());
            let end = (start + 1 + numbers.below(64)).min(file.len());
            mutant.drain(start..end);
        }
        _ => {
            for _ in 0..=numbers.below(3) {
                let place = numbers.below(file.len());
                mutant[place] ^= 1 << numbers.below(8);
            }
        }
    }
    mutant
}

/// Tries damaged copies of a file; how many ended in which way.
fn try_mutants(file: &[u8], seed: u64) -> BTreeMap<&'static str, usize> {
    let chart = chart(1);
    let (start, steps) = steps(&chart);
    let mut numbers = Numbers(seed);
    let mut ends = BTreeMap::new();
    for _ in 0..MUTANTS {
        let end = match loader().load("mutant.wasm", &damaged(file, &mut numbers)) {
            Err(refused) => {
                if refused.reason.word() == "host_fault" {
                    println!("{refused}");
                }
                refused.reason.word()
            }
            Ok(code) => {
                let plugin_set = PluginSet::assemble(vec![code], &Settings::new()).unwrap();
                let mut run = plugin_set.start(chart.header(), &start);
                for step in &steps {
                    run.step(&step.entry, &step.rally, &step.score);
                }
                match run.faults() {
                    [] => "ran",
                    _ => "stopped",
                }
            }
        };
        *ends.entry(end).or_default() += 1;
    }
    ends
}

#[test]
fn thousands_of_damaged_core_modules_are_refused_or_run_within_their_limits() {
    let ends = try_mutants(&guest("counts"), 0x5eed);
    println!("{ends:?}");
    assert!(ends["malformed"] > MUTANTS / 4, "{ends:?}");
    assert!(!ends.contains_key("host_fault"), "{ends:?}");
    assert_eq!(ends.values().sum::<usize>(), MUTANTS);
}

#[test]
fn thousands_of_damaged_components_are_refused_or_run_within_their_limits() {
    let ends = try_mutants(&component_of("counts"), 0xbad);
    println!("{ends:?}");
    assert!(ends["malformed"] > MUTANTS / 4, "{ends:?}");
    assert!(!ends.contains_key("host_fault"), "{ends:?}");
    assert_eq!(ends.values().sum::<usize>(), MUTANTS);
}

/// The converter trusts the description of the interface more than the rest of
/// a file, so that is damaged on its own, too.
#[test]
fn thousands_of_damaged_descriptions_are_refused_or_run_within_their_limits() {
    let file = guest("counts");
    let name = b"component-type:";
    let start = file
        .windows(name.len())
        .position(|window| window == name)
        .expect("the guest carries a description");
    let mut numbers = Numbers(0xdead);
    let mut ends: BTreeMap<&str, usize> = BTreeMap::new();
    for _ in 0..MUTANTS {
        let mut mutant = file.clone();
        for _ in 0..=numbers.below(2) {
            let place = (start + numbers.below(6000)).min(file.len() - 1);
            mutant[place] = numbers.below(256) as u8;
        }
        let end = match loader().load("mutant.wasm", &mutant) {
            Err(refused) => {
                if refused.reason.word() == "host_fault" {
                    println!("{refused}");
                }
                refused.reason.word()
            }
            Ok(_) => "loaded",
        };
        *ends.entry(end).or_default() += 1;
    }
    println!("{ends:?}");
    assert!(!ends.contains_key("host_fault"), "{ends:?}");
    assert!(
        ends.len() > 3,
        "the damage shows in different ways: {ends:?}"
    );
}

/// Only a cut between two sections leaves a valid file: what is gone then is
/// no code but names and notes for people.
#[test]
fn a_file_cut_off_within_a_section_is_refused() {
    let file = guest("counts");
    let mut valid = 0;
    for length in (0..file.len()).step_by(37) {
        let cut = &file[..length];
        if wasmparser::validate(cut).is_ok() {
            valid += 1;
            continue;
        }
        assert!(loader().load("cut.wasm", cut).is_err(), "{length} bytes");
    }
    assert!(valid < 10, "{valid} of the cuts left a valid file");
}
