//! Built guests, a made-up chart, and a run of plugins over it.

use std::collections::HashMap;
use std::path::PathBuf;
use std::process::Command;
use std::sync::{LazyLock, Mutex, OnceLock};

use rallytide_chart::{Chart, Effective, Entry, Header, RallyReader, RallyStep};
use rallytide_plugin_host::{
    LoaderConfig, PluginCode, PluginFault, PluginHealth, PluginLoader, PluginSet, PluginSettings,
    Run, SettingValue, Settings, Step, StepOutcome,
};
use rallytide_scoring::{Score, ScoreKeeper};

/// The loader that tests share.
pub(crate) fn loader() -> &'static PluginLoader {
    static LOADER: LazyLock<PluginLoader> =
        LazyLock::new(|| PluginLoader::new(&LoaderConfig::default()).unwrap());
    &LOADER
}

/// The built file of a guest. Guests are built once a process; cargo's own lock
/// keeps processes apart.
pub(crate) fn guest(name: &str) -> Vec<u8> {
    static FOLDER: OnceLock<PathBuf> = OnceLock::new();
    let folder = FOLDER.get_or_init(build_guests);
    let path = folder.join(format!("{name}.wasm"));
    std::fs::read(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn build_guests() -> PathBuf {
    const TARGET: &str = "wasm32-unknown-unknown";
    let guests = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/guests");
    let target_dir = concat!(env!("CARGO_TARGET_TMPDIR"), "/plugin-host-guests");
    let output = Command::new(env!("CARGO"))
        .current_dir(guests)
        .args(["build", "--release", "--locked", "--examples"])
        .args(["--target", TARGET, "--target-dir", target_dir])
        // What is meant for the host's own build does not fit the guests'.
        .env_remove("RUSTFLAGS")
        .env_remove("CARGO_ENCODED_RUSTFLAGS")
        .env_remove("CARGO_BUILD_TARGET")
        .output()
        .expect("cargo can be started from a test that cargo started");
    assert!(
        output.status.success(),
        "the guests could not be built (is the target there? `rustup target add {TARGET}`):\n{}",
        String::from_utf8_lossy(&output.stderr)
    );
    PathBuf::from(target_dir)
        .join(TARGET)
        .join("release/examples")
}

/// A guest, loaded; each is compiled once a process.
pub(crate) fn load(name: &str) -> PluginCode {
    static LOADED: LazyLock<Mutex<HashMap<String, PluginCode>>> = LazyLock::new(Mutex::default);
    let mut loaded = LOADED.lock().unwrap();
    loaded
        .entry(name.to_owned())
        .or_insert_with(|| {
            let file = format!("{name}.wasm");
            loader().load(&file, &guest(name)).unwrap()
        })
        .clone()
}

/// The guests that behave and need nobody else.
pub(crate) fn benign() -> Vec<PluginCode> {
    vec![load("counts"), load("echoes")]
}

/// The settings of the guest that misbehaves.
pub(crate) fn behaviour(name: &str, at: i32) -> Settings {
    let settings = PluginSettings::from([
        ("behaviour".to_owned(), SettingValue::Text(name.to_owned())),
        ("at".to_owned(), SettingValue::Whole(at)),
    ]);
    Settings::from([("hostile".to_owned(), settings)])
}

const HEADER: &str = r#"{"kind":"match","chart":1,"id":"trial","title":"Trial",
    "teams":{"a":{"name":"Harbour","players":["Ada Reed","Bo Lund"]},
             "b":{"name":"Dunes","players":["Cy Marsh","Di Ford"]}},
    "format":{"discipline":"doubles","scoring":"side_out","points":11,"win_by":2,"games":3},
    "first_serve":"a"}"#;

/// What happens in one rally of the made-up chart.
const RALLY: [&str; 9] = [
    r#""kind":"shot","team":"SERVING","stroke":"serve""#,
    r#""kind":"shot","team":"OTHER","stroke":"return""#,
    r#""kind":"shot","team":"SERVING","stroke":"drop""#,
    r#""kind":"cue","cue":"attackable""#,
    r#""kind":"shot","team":"OTHER","stroke":"volley","cues":["awkward"]"#,
    r#""kind":"depth","team":"SERVING","depth":"line""#,
    r#""kind":"shot","team":"SERVING","stroke":"block""#,
    r#""kind":"note","text":"long rally""#,
    r#""kind":"rally_end","how":"net","by":"OTHER""#,
];

/// A made-up chart of that many rallies.
pub(crate) fn chart(rallies: usize) -> Chart {
    let header = Header::from_text(HEADER).unwrap();
    let format = header.format;
    let mut chart = Chart::new(header);
    for rally in 0..rallies {
        let (serving, other) = if rally % 3 == 2 {
            ("b", "a")
        } else {
            ("a", "b")
        };
        for (place, fields) in RALLY.iter().enumerate() {
            let fields = fields.replace("SERVING", serving).replace("OTHER", other);
            let number = rally * RALLY.len() + place;
            let minute = number / 60;
            let second = number % 60;
            let text = format!(
                r#"{{"id":"r{rally}-{place}","at":"2026-05-02T10:{minute:02}:{second:02}.000Z",{fields}}}"#
            );
            chart.push(Entry::from_text(&text, &format).unwrap());
        }
    }
    chart
}

/// An effective entry with all that a run is handed along with it.
pub(crate) struct Owned {
    pub(crate) entry: Effective,
    pub(crate) rally: RallyStep,
    pub(crate) score: Score,
}

impl Owned {
    fn borrowed(&self) -> Step<'_> {
        Step {
            entry: &self.entry,
            rally: &self.rally,
            score: &self.score,
        }
    }
}

/// The chart as a run is handed it, with the score at its start.
pub(crate) fn steps(chart: &Chart) -> (Score, Vec<Owned>) {
    let mut rally = RallyReader::default();
    let mut scoring = ScoreKeeper::new(chart.header());
    let start = scoring.score().clone();
    let step = |entry: Effective| {
        let rally = rally.step(&entry);
        scoring.step(&entry.play);
        Owned {
            entry,
            rally,
            score: scoring.score().clone(),
        }
    };
    (start, chart.effective().into_iter().map(step).collect())
}

/// A run from start to end.
pub(crate) struct Played {
    pub(crate) run: Run,
    /// The outcome of each entry.
    pub(crate) outcomes: Vec<StepOutcome>,
    /// All readings at the start and after each entry, as JSON, sorted.
    pub(crate) readings: Vec<Vec<String>>,
}

impl Played {
    /// The readings at the start and after each entry, without one plugin's.
    pub(crate) fn without(&self, plugin: &str) -> Vec<Vec<String>> {
        let other = format!(r#""plugin":"{plugin}""#);
        let keep = |line: &&String| !line.contains(&other);
        let moments = self.readings.iter();
        moments
            .map(|lines| lines.iter().filter(keep).cloned().collect())
            .collect()
    }

    /// The only fault.
    #[track_caller]
    pub(crate) fn fault(&self) -> &PluginFault {
        let [fault] = self.run.faults() else {
            panic!("not exactly one fault: {:?}", self.run.faults());
        };
        fault
    }
}

pub(crate) fn play(plugins: Vec<PluginCode>, settings: &Settings, chart: &Chart) -> Played {
    let plugin_set = PluginSet::assemble(plugins, settings).unwrap();
    play_plugin_set(&plugin_set, chart)
}

/// Plays the chart entry by entry, and beside it all at once: that has to come
/// to the same in everything.
#[track_caller]
pub(crate) fn play_plugin_set(plugin_set: &PluginSet, chart: &Chart) -> Played {
    let played = play_entry_by_entry(plugin_set, chart);
    let (start, steps) = steps(chart);
    let mut at_once = plugin_set.start(chart.header(), &start);
    let borrowed: Vec<Step<'_>> = steps.iter().map(Owned::borrowed).collect();
    let outcomes = at_once.step_all(&borrowed);
    assert_eq!(outcomes, played.outcomes, "all entries at once");
    assert_eq!(lines(&at_once), lines(&played.run), "all entries at once");
    assert_eq!(at_once.faults(), played.run.faults(), "all entries at once");
    assert_eq!(untimed(&at_once), untimed(&played.run), "all at once");
    played
}

pub(crate) fn play_entry_by_entry(plugin_set: &PluginSet, chart: &Chart) -> Played {
    let (start, steps) = steps(chart);
    let mut run = plugin_set.start(chart.header(), &start);
    let mut readings = vec![lines(&run)];
    let mut outcomes = Vec::new();
    for step in &steps {
        outcomes.push(run.step(&step.entry, &step.rally, &step.score));
        readings.push(lines(&run));
    }
    Played {
        run,
        outcomes,
        readings,
    }
}

/// How each plugin of a run is, but for the time it took.
pub(crate) fn untimed(run: &Run) -> Vec<PluginHealth> {
    let untimed = |health| PluginHealth {
        time_us: 0,
        most_time_us: 0,
        ..health
    };
    run.health().into_iter().map(untimed).collect()
}

/// All current readings of a run as JSON.
pub(crate) fn lines(run: &Run) -> Vec<String> {
    run.readings()
        .map(|reading| serde_json::to_string(reading).unwrap())
        .collect()
}
