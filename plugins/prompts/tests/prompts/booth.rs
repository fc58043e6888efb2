//! A booth for tests: plays entries with readings beside them, and keeps what is
//! said.

use std::collections::BTreeMap;

use rallytide_plugin_kit::testing::{Script, Trial, header, name, place};
use rallytide_plugin_kit::{
    Change, Entry, Key, MatchHeader, Pair, Reading, Reason, Score, Setting, SettingValue, Share,
    Team, Value, about, key,
};
use rallytide_prompts::Prompts;

/// A prompt, with the entry it was said at.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Said {
    pub(crate) entry: String,
    pub(crate) at_ms: f64,
    pub(crate) reading: Reading,
}

impl Said {
    pub(crate) fn text(&self) -> &str {
        text_of(&self.reading)
    }

    /// The last part of its key.
    pub(crate) fn kind(&self) -> &str {
        let slot = self.reading.key.slot.as_deref().unwrap();
        slot.rsplit('.').next().unwrap()
    }

    pub(crate) fn codes(&self) -> Vec<&str> {
        let why = self.reading.why.iter();
        why.map(|reason| reason.code.as_str()).collect()
    }
}

pub(crate) struct Booth {
    trial: Trial<Prompts>,
    script: Script,
    upstream: BTreeMap<String, Reading>,
    coming: Vec<Reading>,
    /// Everything said so far.
    pub(crate) said: Vec<Said>,
    /// Every entry handed over.
    pub(crate) entries: Vec<u32>,
}

impl Booth {
    pub(crate) fn open() -> Self {
        Self::on(header(), Vec::new())
    }

    pub(crate) fn with(name: &str, value: SettingValue) -> Self {
        let name = name.to_owned();
        Self::on(header(), vec![Setting { name, value }])
    }

    pub(crate) fn on(header: MatchHeader, settings: Vec<Setting>) -> Self {
        Self {
            trial: Trial::start_on(header, settings, Vec::new()).unwrap(),
            script: Script::default(),
            upstream: BTreeMap::new(),
            coming: Vec::new(),
            said: Vec::new(),
            entries: Vec::new(),
        }
    }

    /// A reading that comes with the last entry of the next line.
    pub(crate) fn reads(&mut self, reading: Reading) -> &mut Self {
        self.coming.push(reading);
        self
    }

    pub(crate) fn count(&mut self, indicator: &'static str, team: Team, count: u32) -> &mut Self {
        self.reads(read(about(indicator, team), Value::Count(count)))
    }

    pub(crate) fn share(
        &mut self,
        indicator: &'static str,
        team: Team,
        part: u32,
        whole: u32,
    ) -> &mut Self {
        self.reads(read(about(indicator, team), share(part, whole)))
    }

    pub(crate) fn chance(&mut self, indicator: &'static str, team: Team, chance: f64) -> &mut Self {
        self.reads(read(about(indicator, team), Value::Chance(chance)))
    }

    /// Every rally so far was charted whole.
    pub(crate) fn charted(&mut self, rallies: u32) -> &mut Self {
        self.reads(read(key("charting.coverage"), share(rallies, rallies)))
    }

    /// The score from the next entry on.
    pub(crate) fn stands(&mut self, a: u32, b: u32) -> &mut Self {
        self.score().points = Pair { a, b };
        self
    }

    /// The next entry ends a game; the score is that of the next game.
    pub(crate) fn game_over(&mut self, a: u32, b: u32) -> &mut Self {
        let score = self.trial.score();
        score.finished.push(Pair { a, b });
        if a > b {
            score.games.a += 1;
        } else {
            score.games.b += 1;
        }
        score.game += 1;
        score.game_point = None;
        score.match_point = None;
        self.stands(0, 0)
    }

    /// The same, and the match is won.
    pub(crate) fn match_over(&mut self, a: u32, b: u32) -> &mut Self {
        self.game_over(a, b);
        let score = self.trial.score();
        score.game -= 1;
        score.winner = Some(if a > b { Team::A } else { Team::B });
        self.stands(a, b)
    }

    /// Plays a line of the script; the readings put before come with its last
    /// entry.
    pub(crate) fn play(&mut self, line: &str) -> &mut Self {
        let entries = self.script.read(line);
        let last = entries.len() - 1;
        for (place, entry) in entries.into_iter().enumerate() {
            let changed = if place == last {
                std::mem::take(&mut self.coming)
            } else {
                Vec::new()
            };
            self.hand_over(entry, changed);
        }
        self
    }

    pub(crate) fn hand_over(&mut self, entry: Entry, changed: Vec<Reading>) {
        for reading in &changed {
            let name = format!("{:?}", reading.key);
            self.upstream.insert(name, reading.clone());
        }
        let (place, at_ms) = (entry.place, entry.at_ms);
        self.entries.push(place);
        for change in self.trial.entry(entry, changed) {
            if let Change::Set(reading) = change {
                let entry = name(place);
                self.said.push(Said {
                    entry,
                    at_ms,
                    reading,
                });
            }
        }
    }

    pub(crate) fn score(&mut self) -> &mut Score {
        self.trial.score()
    }

    /// What can be said now.
    pub(crate) fn current(&self) -> Vec<Reading> {
        self.trial.readings()
    }

    pub(crate) fn texts(&self) -> Vec<String> {
        self.current()
            .iter()
            .map(|reading| text_of(reading).to_owned())
            .collect()
    }

    pub(crate) fn last(&self) -> &Said {
        self.said.last().expect("nothing was said")
    }

    /// The latest reading that a reason names: the indicator, with its slot behind a
    /// slash, and the team.
    pub(crate) fn cited(&self, reason: &Reason) -> Option<&Reading> {
        let (indicator, slot) = match reason.code.split_once('/') {
            Some((indicator, slot)) => (indicator, Some(slot)),
            None => (reason.code.as_str(), None),
        };
        self.upstream.values().find(|reading| {
            let key = &reading.key;
            key.indicator == indicator && key.slot.as_deref() == slot && key.team == reason.team
        })
    }
}

pub(crate) fn text_of(reading: &Reading) -> &str {
    match &reading.value {
        Value::Text(text) => text,
        other => panic!("a prompt is a text, not {other:?}"),
    }
}

pub(crate) fn read(key: Key, value: Value) -> Reading {
    Reading {
        key,
        value,
        why: Vec::new(),
        flags: Vec::new(),
    }
}

pub(crate) fn share(part: u32, whole: u32) -> Value {
    Value::Share(Share { part, whole })
}

pub(crate) fn row(code: &str, team: Team, entry: &str) -> Reason {
    Reason {
        code: code.into(),
        team: Some(team),
        entry: place(entry),
        inferred: false,
    }
}
