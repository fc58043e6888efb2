//! The plugin behind the initiative plugin, on charted rallies.
//! The rules are common practice of the trade; there is no published standard.

use rallytide_escape::Escape;
use rallytide_initiative::Initiative;
use rallytide_plugin_kit::testing::{Script, Trial};
use rallytide_plugin_kit::{Change, Entry, Key, Lean, Plugin, Reading, Team, Value, about, key};

/// A match charted through both plugins, as the host runs them.
struct Charted {
    script: Script,
    initiative: Trial<Initiative>,
    escape: Trial<Escape>,
}

impl Charted {
    fn start() -> Self {
        let initiative = Trial::<Initiative>::start(Vec::new(), Vec::new());
        let initiative = initiative.expect("it has no settings");
        let upstream = initiative.readings();
        Self {
            script: Script::default(),
            escape: Trial::start(Vec::new(), upstream).expect("it has no settings"),
            initiative,
        }
    }

    /// Charts the line and returns what the escape plugin published by its last
    /// entry.
    #[track_caller]
    fn chart(&mut self, line: &str) -> Vec<Change> {
        let mut changes = Vec::new();
        for entry in self.script.read(line) {
            changes = self.entry(entry);
        }
        changes
    }

    fn entry(&mut self, entry: Entry) -> Vec<Change> {
        let changed = self.initiative.entry(entry.clone(), Vec::new());
        let changed = changed.into_iter().filter_map(|change| match change {
            Change::Set(reading) => Some(reading),
            Change::Gone(_) => None,
        });
        let changed = changed.filter(|reading| reading.key.indicator == "initiative");
        self.escape.entry(entry, changed.collect())
    }

    /// `1 best 2 of 3/4 reached 0/1`.
    fn shown(&self, team: Team) -> String {
        let value = |indicator| {
            let value = self.escape.value(&about(indicator, team));
            match value.expect("it exists from the start") {
                Value::Count(count) => count.to_string(),
                Value::Share(share) => format!("{}/{}", share.part, share.whole),
                other => panic!("`{indicator}` is {other:?}"),
            }
        };
        format!(
            "{} best {} of {} reached {}",
            value("escape.streak"),
            value("escape.best"),
            value("escape.share"),
            value("approach.reached")
        )
    }

    #[track_caller]
    fn check(&self, a: &str, b: &str) {
        assert_eq!((&*self.shown(Team::A), &*self.shown(Team::B)), (a, b));
    }
}

const NONE: &str = "0 best 0 of 0/0 reached 0/0";

/// a serves, b volleys the third shot's answer: a is on defense from shot 2 on
/// and pressed from shot 4 on.
const A_PRESSED: &str = "a serve | b return | a drive | b volley";

#[test]
fn everything_exists_from_the_start() {
    Charted::start().check(NONE, NONE);
}

#[test]
fn a_pressed_spell_that_recovers_counts_the_moment_it_ends() {
    let mut charted = Charted::start();
    charted.chart(A_PRESSED);
    charted.check(NONE, NONE);
    // Both at the line and a ball that bounced: nobody holds.
    charted.chart("a dink");
    charted.check("1 best 1 of 1/1 reached 1/1", NONE);
}

#[test]
fn a_pressed_spell_that_is_turned_counts_for_the_streak() {
    let mut charted = Charted::start();
    charted.chart(A_PRESSED);
    charted.chart("+attackable | +awkward");
    charted.check("1 best 1 of 1/1 reached 1/1", NONE);
}

#[test]
fn a_pressed_spell_in_a_rally_that_is_won_counts_for_the_streak() {
    let mut charted = Charted::start();
    charted.chart(A_PRESSED);
    charted.chart("a wins");
    charted.check("1 best 1 of 1/1 reached 1/1", NONE);
}

#[test]
fn a_pressed_spell_in_a_rally_that_is_lost_ends_the_streak_but_not_the_best() {
    let mut charted = Charted::start();
    for end in ["a wins", "a wins", "b wins", "a wins"] {
        charted.chart(A_PRESSED);
        charted.chart(end);
    }
    charted.check("1 best 2 of 3/4 reached 3/4", NONE);
}

#[test]
fn three_rallies_worked_by_hand() {
    // The example of the README, with a replay before its third rally.
    let mut charted = Charted::start();
    charted.chart(&format!("{A_PRESSED} | a dink"));
    charted.check("1 best 1 of 1/1 reached 1/1", NONE);
    charted.chart(&format!("b wins | {A_PRESSED} | a wins"));
    charted.check("2 best 2 of 2/2 reached 2/2", NONE);
    charted.chart(&format!("{A_PRESSED} | replay"));
    charted.check("2 best 2 of 2/2 reached 2/2", NONE);
    charted.chart(&format!("{A_PRESSED} | b wins"));
    charted.check("0 best 2 of 2/3 reached 2/3", NONE);
}

#[test]
fn a_spell_of_depth_alone_is_an_approach_and_no_escape() {
    let mut charted = Charted::start();
    charted.chart("a serve | b return | a drop | b dink");
    charted.check("0 best 0 of 0/0 reached 1/1", NONE);
    charted.chart("a out | a serve | b return | a out");
    charted.check("0 best 0 of 0/0 reached 1/2", NONE);
}

#[test]
fn an_approach_is_a_spell_that_begins_while_the_second_shot_is_the_latest() {
    let mut charted = Charted::start();
    // Begun by a depth entry after shot 2.
    charted.chart("b at back | a serve | b return | b at line | b wins");
    charted.check("0 best 0 of 0/0 reached 0/1", NONE);
    // Begun at shot 3: both teams are back until then.
    charted.chart("b at back | a serve | b return | a drop +attackable | a wins");
    charted.check("1 best 1 of 1/1 reached 0/1", NONE);
    // Begun at shot 1.
    charted.chart("b at line | a serve | b return | b wins");
    charted.check("1 best 1 of 1/1 reached 0/1", NONE);
}

#[test]
fn a_missed_second_shot_leaves_no_approach() {
    let mut charted = Charted::start();
    charted.chart("a serve | a drive +awkward | b wins");
    charted.check("0 best 0 of 0/1 reached 0/0", NONE);
}

#[test]
fn a_carried_spell_goes_on() {
    let mut charted = Charted::start();
    charted.chart("a at line | b at line | a serve | b return | a drive | b volley");
    // Of unknown contact: carried, and a stays on defense.
    charted.chart("a lob");
    charted.check(NONE, NONE);
    charted.chart("b wins");
    charted.check("0 best 0 of 0/1 reached 0/0", NONE);
}

#[test]
fn an_entry_without_a_new_initiative_reading_goes_on_with_the_old_one() {
    let mut charted = Charted::start();
    charted.chart(A_PRESSED);
    assert!(
        charted
            .chart("+net_cord | a time_out | note loud")
            .is_empty()
    );
    charted.chart("a wins");
    charted.check("1 best 1 of 1/1 reached 1/1", NONE);
}

#[test]
fn a_replayed_rally_takes_back_what_it_contributed() {
    let mut charted = Charted::start();
    charted.chart(&format!("{A_PRESSED} | a wins"));
    charted.chart(&format!("{A_PRESSED} | a dink"));
    charted.check("2 best 2 of 2/2 reached 2/2", NONE);
    charted.chart("replay");
    charted.check("1 best 1 of 1/1 reached 1/1", NONE);
    charted.chart(&format!("{A_PRESSED} | replay"));
    charted.check("1 best 1 of 1/1 reached 1/1", NONE);
    charted.chart("replay");
    charted.check("1 best 1 of 1/1 reached 1/1", NONE);
}

#[test]
fn a_cut_off_rally_keeps_its_ended_spells_and_drops_the_open_one() {
    let mut charted = Charted::start();
    charted.chart(A_PRESSED);
    charted.chart("a dink | b dink +awkward | b retires");
    charted.check("1 best 1 of 1/1 reached 1/1", NONE);
}

#[test]
fn both_teams_can_be_pressed_in_one_rally() {
    let mut charted = Charted::start();
    charted.chart(A_PRESSED);
    charted.chart("a dink | b dink +awkward | a dink | b dink +awkward | b out");
    charted.check("1 best 1 of 1/1 reached 1/1", "0 best 1 of 1/2 reached 0/0");
}

/// Begins an approach of a, hands these over with shot 3, and ends the rally;
/// returns what was published.
fn with_the_third_entry(changed: &[Reading], gone: &[Key]) -> Vec<Change> {
    let held = Reading {
        key: key("initiative"),
        value: Value::Lean(Lean {
            toward: Some(Team::B),
            strength: 1.0,
        }),
        why: Vec::new(),
        flags: Vec::new(),
    };
    let mut escape = Trial::<Escape>::start(Vec::new(), Vec::new()).expect("it has no settings");
    let line = "a serve | b return | a drop | b wins";
    let mut published = Vec::new();
    for (number, entry) in (1..).zip(Script::default().read(line)) {
        let (changed, gone) = match number {
            2 => (vec![held.clone()], Vec::new()),
            3 => (changed.to_vec(), gone.to_vec()),
            _ => (Vec::new(), Vec::new()),
        };
        published.extend(escape.entry_without(entry, changed, gone));
    }
    published
}

#[test]
fn without_the_initiative_an_open_spell_is_not_counted() {
    let counted = with_the_third_entry(&[], &[]);
    assert_eq!(counted.len(), 1, "an approach is counted: {counted:?}");
    let gone = with_the_third_entry(&[], &[key("initiative")]);
    assert_eq!(gone, [], "the initiative was withdrawn");
    let flag = Reading::plain(key("initiative"), Value::Flag(true));
    let wrong = with_the_third_entry(&[flag], &[]);
    assert_eq!(wrong, [], "the initiative is not a lean");
}

#[test]
fn everything_published_is_declared() {
    let provides = Escape::manifest().provides;
    let mut charted = Charted::start();
    charted.chart(A_PRESSED);
    let changes = charted.chart("a wins");
    assert_eq!(changes.len(), 4, "all four of a have changed: {changes:?}");
    for change in changes {
        let Change::Set(reading) = change else {
            panic!("nothing is taken back: {change:?}");
        };
        assert!(
            provides.iter().any(|name| *name == reading.key.indicator),
            "{reading:?}"
        );
    }
}
