//! What the log costs, next to a bare loop of `write` and `fdatasync` on the
//! same disk, in the same run, the two taking turns.
//!
//! `cargo run --release -p rallytide-bus --example append_to_durable [FOLDER]`
//!
//! Prints medians and ratios. It is no test: a disk's speed changes by the
//! minute, so only the ratios of one run say anything. FOLDER (default: the
//! current one) must be on the disk to be measured; a memory file system gives
//! meaningless ratios.

use std::error::Error;
use std::fs::OpenOptions;
use std::io::Write;
use std::path::PathBuf;
use std::time::{Duration, Instant};

use rallytide_bus::{Bus, EmbeddedBus, TopicName, system_clock};

/// Each way of writing gets this many turns.
const ROUNDS: usize = 20;
/// Records a turn, one at a time.
const RECORDS: usize = 100;
/// Records of a burst, all appended before the first is waited for.
const BURST: usize = 10_000;
/// The length of a line, with what the log adds; about that of a shot with cues.
const LINE: usize = 300;

type Outcome<T> = Result<T, Box<dyn Error>>;

fn main() -> Outcome<()> {
    let folder = std::env::args_os().nth(1).map_or(".".into(), PathBuf::from);
    let folder = tempfile::Builder::new()
        .prefix("append-to-durable-")
        .tempdir_in(folder)?;
    let bus = EmbeddedBus::start(folder.path(), system_clock())?;
    let topic = TopicName::new("measured")?;
    bus.create(&topic, "{}")?;
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(1)
        .build()?;
    let mut raw_file = OpenOptions::new()
        .append(true)
        .create_new(true)
        .open(folder.path().join("raw"))?;
    let raw_line = vec![b'x'; LINE];
    // `,"seq":1234,"received":"…","crc":"…"` makes 74 of the bytes.
    let record = format!(r#"{{"text":"{}"}}"#, "x".repeat(LINE - 74 - 12));

    let (mut raw, mut blocking, mut awaited) = (Vec::new(), Vec::new(), Vec::new());
    for _ in 0..ROUNDS {
        for _ in 0..RECORDS {
            let begin = Instant::now();
            raw_file.write_all(&raw_line)?;
            raw_file.sync_data()?;
            raw.push(begin.elapsed());
        }
        for _ in 0..RECORDS {
            let begin = Instant::now();
            bus.append(&topic, &record)?.ticket.wait()?;
            blocking.push(begin.elapsed());
        }
        runtime.block_on(async {
            for _ in 0..RECORDS {
                let begin = Instant::now();
                bus.append(&topic, &record)?.ticket.durable().await?;
                awaited.push(begin.elapsed());
            }
            Outcome::Ok(())
        })?;
    }
    let begin = Instant::now();
    let mut last = bus.append(&topic, &record)?;
    for _ in 1..BURST {
        last = bus.append(&topic, &record)?;
    }
    last.ticket.wait()?;
    let burst = begin.elapsed();

    println!(
        "{} records of {LINE} bytes each way, one at a time, taking turns every {RECORDS}:",
        ROUNDS * RECORDS
    );
    println!(
        "{:34} {:>10} {:>10} {:>12}",
        "", "p50 µs", "p99 µs", "p50 / raw"
    );
    let raw_median = percentile(&mut raw, 50);
    for (name, times) in [
        ("write + fdatasync, bare loop", &mut raw),
        ("append until durable, blocking", &mut blocking),
        ("append until durable, awaited", &mut awaited),
    ] {
        let (p50, p99) = (percentile(times, 50), percentile(times, 99));
        println!(
            "{name:34} {:>10.0} {:>10.0} {:>12.2}",
            microseconds(p50),
            microseconds(p99),
            p50.as_secs_f64() / raw_median.as_secs_f64()
        );
    }
    println!(
        "a burst of {BURST} records, durable after {:.1} ms: {:.0} times the records a second of the bare loop",
        burst.as_secs_f64() * 1e3,
        BURST as f64 * raw_median.as_secs_f64() / burst.as_secs_f64(),
    );
    Ok(())
}

fn percentile(times: &mut [Duration], percent: usize) -> Duration {
    times.sort_unstable();
    times[(times.len() - 1) * percent / 100]
}

fn microseconds(time: Duration) -> f64 {
    time.as_secs_f64() * 1e6
}
