//! Running a plugin natively, as the host would, to test its logic.

mod script;

use crate::{
    Change, Court, Discipline, Entry, Key, MatchHeader, Moment, Opening, Pair, Play, PlayKind,
    Plugin, Positions, Reading, Readings, Score, Scoring, Setting, SettingType, SettingValue, Team,
    TeamSheet, Upstream, Value, WinningPoint,
};

pub use script::{Script, name, place};

/// A plugin under test with the readings it has published.
pub struct Trial<P> {
    plugin: P,
    provides: Vec<String>,
    readings: Readings,
    upstream: Upstream,
    score: Score,
    /// The score as the plugin knows it.
    told: Score,
    called_for: Option<Vec<PlayKind>>,
    entries: u32,
}

impl<P: Plugin> Trial<P> {
    /// Starts the plugin on a side-out doubles match to 11, best of three.
    ///
    /// # Errors
    /// What the plugin says against its settings.
    ///
    /// # Panics
    /// If it publishes an indicator that its manifest does not declare.
    #[track_caller]
    pub fn start(settings: Vec<Setting>, upstream: Vec<Reading>) -> Result<Self, String> {
        Self::start_on(header(), settings, upstream)
    }

    /// Starts the plugin on a match of the caller's. Settings that are left out
    /// have their default, as on the host.
    ///
    /// # Errors
    /// What the plugin says against its settings.
    ///
    /// # Panics
    /// If it publishes an indicator that its manifest does not declare.
    #[track_caller]
    pub fn start_on(
        header: MatchHeader,
        settings: Vec<Setting>,
        upstream: Vec<Reading>,
    ) -> Result<Self, String> {
        let score = opening_score();
        let opening = Opening {
            header,
            settings: completed::<P>(settings),
            score: score.clone(),
            upstream: upstream.into_iter().collect(),
        };
        let plugin = P::start(&opening)?;
        let mut trial = Self {
            plugin,
            provides: P::manifest().provides,
            readings: Readings::default(),
            upstream: opening.upstream,
            told: score.clone(),
            score,
            called_for: P::manifest().called_for,
            entries: 0,
        };
        trial.state();
        Ok(trial)
    }

    /// Hands over an entry at which no upstream reading changes.
    ///
    /// # Panics
    /// As [`Trial::entry`].
    #[track_caller]
    pub fn play(&mut self, play: Play) -> Vec<Change> {
        self.play_with(play, Vec::new())
    }

    /// Hands over an entry together with the upstream readings it changed.
    ///
    /// # Panics
    /// As [`Trial::entry`].
    #[track_caller]
    pub fn play_with(&mut self, play: Play, changed: Vec<Reading>) -> Vec<Change> {
        self.entries += 1;
        let entry = Entry {
            place: self.entries,
            at_ms: f64::from(self.entries) * 1000.0,
            inserted: false,
            play,
        };
        self.entry(entry, changed)
    }

    /// Hands over an entry of the caller's; as on the host, only if the plugin is
    /// called for it. As in a match, a team that retires leaves the match to the
    /// other.
    ///
    /// # Panics
    /// If the plugin publishes an indicator that its manifest does not declare,
    /// for which the host would stop it.
    #[track_caller]
    pub fn entry(&mut self, entry: Entry, changed: Vec<Reading>) -> Vec<Change> {
        if let Play::Retire(team) = entry.play {
            self.score.winner = Some(team.other());
        }
        self.entry_without(entry, changed, Vec::new())
    }

    /// Hands over an entry at which upstream readings change or, where the plugin
    /// that they come from is stopped, are withdrawn.
    ///
    /// # Panics
    /// As [`Trial::entry`].
    #[track_caller]
    pub fn entry_without(
        &mut self,
        entry: Entry,
        changed: Vec<Reading>,
        gone: Vec<Key>,
    ) -> Vec<Change> {
        let kinds = self.called_for.as_ref();
        let called = kinds.is_none_or(|kinds| kinds.contains(&entry.play.kind()));
        let news = !changed.is_empty() || !gone.is_empty() || self.told != self.score;
        if !called && !news {
            return Vec::new();
        }
        self.told.clone_from(&self.score);
        self.upstream.next_call();
        for key in gone {
            self.upstream.withdraw(key);
        }
        for reading in changed {
            self.upstream.set(reading);
        }
        let moment = Moment {
            entry,
            score: self.score.clone(),
            upstream: std::mem::take(&mut self.upstream),
        };
        self.plugin.step(&moment);
        self.upstream = moment.upstream;
        self.state()
    }

    /// The score that goes with the next entries, to change it.
    pub fn score(&mut self) -> &mut Score {
        &mut self.score
    }

    /// All readings, in order.
    #[must_use]
    pub fn readings(&self) -> Vec<Reading> {
        let mut readings = self.readings.current().to_vec();
        readings.sort_by(|one, other| one.key.cmp(&other.key));
        readings
    }

    /// The reading under `key`.
    #[must_use]
    pub fn reading(&self, key: &Key) -> Option<&Reading> {
        let mut readings = self.readings.current().iter();
        readings.find(|reading| reading.key == *key)
    }

    /// The value of the reading under `key`.
    #[must_use]
    pub fn value(&self, key: &Key) -> Option<&Value> {
        self.reading(key).map(|reading| &reading.value)
    }

    #[track_caller]
    fn state(&mut self) -> Vec<Change> {
        self.plugin.readings(&mut self.readings);
        let changes = self.readings.changes();
        for change in &changes {
            let (Change::Set(Reading { key, .. }) | Change::Gone(key)) = change;
            assert!(
                self.provides.iter().any(|name| *name == key.indicator),
                "the plugin published `{}`, which its manifest does not declare; \
                 add it to `.provides(&[…])`",
                key.indicator
            );
        }
        changes
    }
}

/// All settings of the manifest, in its order: the given ones, else the defaults.
/// Given ones that the manifest does not offer come last, for the plugin to
/// ignore.
fn completed<P: Plugin>(mut given: Vec<Setting>) -> Vec<Setting> {
    let mut all = Vec::new();
    for offer in P::manifest().settings {
        let place = given.iter().position(|setting| setting.name == offer.name);
        all.push(match place {
            Some(place) => given.remove(place),
            None => Setting {
                value: default_value(offer.form),
                name: offer.name,
            },
        });
    }
    all.extend(given);
    all
}

fn default_value(form: SettingType) -> SettingValue {
    match form {
        SettingType::Number((_, _, default)) => SettingValue::Number(default),
        SettingType::Whole((_, _, default)) => SettingValue::Whole(default),
        SettingType::Truth(default) => SettingValue::Truth(default),
        SettingType::Choice(choices) => {
            SettingValue::Text(choices.into_iter().next().unwrap_or_default())
        }
        SettingType::Text((_, default)) => SettingValue::Text(default),
    }
}

/// A made-up side-out doubles match to 11, best of three.
#[must_use]
pub fn header() -> MatchHeader {
    let team = |name: &str, first: &str, second: &str| TeamSheet {
        name: name.into(),
        players: vec![first.into(), second.into()],
    };
    MatchHeader {
        id: "trial".into(),
        title: "Trial match".into(),
        team_a: team("Harbour", "Ada Reed", "Bo Lund"),
        team_b: team("Dunes", "Cy Marsh", "Di Ford"),
        discipline: Discipline::Doubles,
        scoring: Scoring::SideOut,
        points: 11,
        win_by: 2,
        games: 3,
        winning_point: WinningPoint::Any,
        positions: Positions::Swap,
        first_serve: Team::A,
    }
}

/// The score at the start of [`header`]'s match.
#[must_use]
pub fn opening_score() -> Score {
    let nil = Pair { a: 0, b: 0 };
    Score {
        game: 1,
        games: nil,
        points: nil,
        call: Some("0-0-2".into()),
        serving: Team::A,
        server: Some(2),
        server_player: 0,
        receiver_player: 0,
        court: Court::Right,
        finished: Vec::new(),
        change_ends: false,
        near: Team::A,
        time_outs_left: Pair { a: 2, b: 2 },
        game_point: None,
        match_point: None,
        winner: None,
        rallies: 0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Manifest, key};

    struct Slip;

    impl Plugin for Slip {
        fn manifest() -> Manifest {
            Manifest::new("slip", "0.1.0", "Forgets to declare.").provides(&["slip.one"])
        }

        fn start(_: &Opening) -> Result<Self, String> {
            Ok(Self)
        }

        fn step(&mut self, _: &Moment) {}

        fn readings(&self, readings: &mut Readings) {
            readings.set(key("slip.two"), Value::Count(1));
        }
    }

    #[test]
    #[should_panic(
        expected = "the plugin published `slip.two`, which its manifest does not declare"
    )]
    fn what_the_host_would_stop_it_for_fails_its_test_by_name() {
        let _trial = Trial::<Slip>::start(vec![], vec![]);
    }

    /// Is called for notes, and counts its calls.
    struct Rests(u32);

    impl Plugin for Rests {
        fn manifest() -> Manifest {
            Manifest::new("rests", "0.1.0", "Rests.")
                .provides(&["rests"])
                .reads(&["tilt"])
                .called_for(&[PlayKind::Note])
        }

        fn start(_: &Opening) -> Result<Self, String> {
            Ok(Self(0))
        }

        fn step(&mut self, _: &Moment) {
            self.0 += 1;
        }

        fn readings(&self, readings: &mut Readings) {
            readings.set(key("rests"), Value::Count(self.0));
        }
    }

    #[test]
    fn a_plugin_is_called_for_its_kinds_a_new_score_and_a_changed_source_only() {
        let mut trial = Trial::<Rests>::start(vec![], vec![]).unwrap();
        assert_eq!(trial.play(Play::Replay), []);
        assert_eq!(trial.play(Play::Note("long rally".into())).len(), 1);
        trial.score().points.a = 1;
        assert_eq!(trial.play(Play::Replay).len(), 1, "the score is new");
        assert_eq!(trial.play(Play::Replay), [], "and now it is known");
        let tilt = Reading {
            key: key("tilt"),
            value: Value::Count(1),
            why: Vec::new(),
            flags: Vec::new(),
        };
        assert_eq!(trial.play_with(Play::Replay, vec![tilt]).len(), 1);
    }
}
