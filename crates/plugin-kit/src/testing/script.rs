//! A rally written as one line, for tests: `a serve | b return | a drop`.
//!
//! Steps are separated by `|` or line breaks:
//!
//! | step | meaning |
//! |---|---|
//! | `a drop`, `b0 volley` | a shot, with or without the player |
//! | `b return half_volley` | the contact, where it does not follow from the stroke |
//! | `a drop +attackable` | a shot recorded together with a cue |
//! | `+awkward`, `+awkward @2` | a cue entry about the latest shot, about shot 2 |
//! | `+awkward nowhere` | a cue entry whose shot is not in the rally |
//! | `a at line`, `a0 at back` | a depth entry for both players, for one |
//! | `a wins`, `b out`, `a winner` | the rally ends |
//! | `replay`, `a time_out`, `a penalty`, `a retires`, `note` | as they say |
//!
//! Before a shot, `inserted` says that it was put in later, and `850ms` (or
//! `-20ms`) how long after the entry before it was recorded; left out, 1000 ms.
//! Entries are called after their rally: `r1s3` is shot 3 of rally 1, `r1e4` any
//! other entry, the fourth of its rally. Their places in the chart tell this
//! ([`place`], [`name`]), so they leave numbers out, and an entry beside shots that
//! were missed may have a smaller one than the shot before it.
//!
//! The script numbers shots and resolves contacts as the host does. It does not
//! keep score, and it panics on anything else: it is meant for tests.

use crate::{
    Contact, Cue, CueMark, Cues, Depth, DepthMark, Ending, Entry, Play, RallyEnd, Shot, Stroke,
    Team, TimeOut,
};

/// Reads lines into the entries of one match.
#[derive(Debug, Clone)]
pub struct Script {
    rally: u32,
    entries_of_rally: u32,
    shots: Vec<(Team, u32)>,
    at_ms: f64,
}

impl Default for Script {
    fn default() -> Self {
        Self {
            rally: 1,
            entries_of_rally: 0,
            shots: Vec::new(),
            at_ms: 0.0,
        }
    }
}

impl Script {
    /// Reads the next lines of the match.
    ///
    /// # Panics
    /// On a step that is not in the table above.
    #[track_caller]
    pub fn read(&mut self, text: &str) -> Vec<Entry> {
        text.split(['|', '\n'])
            .map(str::trim)
            .filter(|step| !step.is_empty())
            .map(|step| self.step(step))
            .collect()
    }

    #[track_caller]
    fn step(&mut self, step: &str) -> Entry {
        let mut words: Vec<&str> = step.split_whitespace().collect();
        let inserted = words.first() == Some(&"inserted");
        if inserted {
            words.remove(0);
        }
        let later = words.first().and_then(|word| word.strip_suffix("ms"));
        let later: Option<f64> = later.and_then(|number| number.parse().ok());
        if later.is_some() {
            words.remove(0);
        }
        self.at_ms += later.unwrap_or(1000.0);
        self.entries_of_rally += 1;
        let Some(play) = self.play(&words) else {
            panic!(
                "the script does not know the step `{step}`; \
                 all that it knows stand in the kit's `src/testing/script.rs`"
            );
        };
        let place = match &play {
            Play::Shot(shot) => shot_place(self.rally, shot.number),
            _ => entry_place(self.rally, self.entries_of_rally),
        };
        match &play {
            Play::Shot(shot) => self.shots.push((shot.team, shot.number)),
            Play::RallyEnd(_) | Play::Replay => {
                self.rally += 1;
                self.entries_of_rally = 0;
                self.shots.clear();
            }
            _ => {}
        }
        Entry {
            place,
            at_ms: self.at_ms,
            inserted,
            play,
        }
    }

    fn play(&self, words: &[&str]) -> Option<Play> {
        let (first, rest) = words.split_first()?;
        match (*first, rest) {
            ("replay", []) => return Some(Play::Replay),
            ("note", _) => return Some(Play::Note(rest.join(" "))),
            (word, _) if word.starts_with('+') => return self.cue(word, rest),
            _ => {}
        }
        let (team, player) = side(first)?;
        match rest {
            ["at", depth] => Some(Play::Depth(DepthMark {
                team,
                depth: Depth::from_word(depth)?,
                player,
            })),
            ["wins"] => Some(Play::RallyEnd(won_by(team))),
            ["time_out"] => Some(Play::TimeOut(TimeOut {
                team,
                medical: false,
            })),
            ["penalty"] => Some(Play::Penalty(team)),
            ["retires"] => Some(Play::Retire(team)),
            [word] if ending(word).is_some() => {
                let how = ending(word)?;
                let winner = match how {
                    Ending::Winner | Ending::Ace => team,
                    _ => team.other(),
                };
                Some(Play::RallyEnd(RallyEnd {
                    how: Some(how),
                    by: Some(team),
                    player,
                    ..won_by(winner)
                }))
            }
            [stroke, details @ ..] => self.shot(team, player, stroke, details),
            [] => None,
        }
    }

    fn shot(&self, team: Team, player: Option<u32>, word: &str, details: &[&str]) -> Option<Play> {
        let stroke = Stroke::from_word(word)?;
        let before = self.shots.last();
        let missed_before = before.is_some_and(|(struck_by, _)| *struck_by == team);
        let number = before.map_or(0, |(_, number)| *number) + 1 + u32::from(missed_before);
        let mut recorded = None;
        let mut cues = Cues::empty();
        for detail in details {
            match detail.strip_prefix('+') {
                Some(word) => cues |= Cue::from_word(word)?.into(),
                None => recorded = Some(Contact::from_word(detail)?),
            }
        }
        Some(Play::Shot(Shot {
            team,
            stroke,
            number,
            contact: resolved(stroke, recorded, number),
            player,
            cues,
            missed_before,
        }))
    }

    fn cue(&self, word: &str, about: &[&str]) -> Option<Play> {
        let number = match about {
            [] => self.shots.last().map(|(_, number)| *number),
            ["nowhere"] => None,
            [number] => {
                let number: u32 = number.strip_prefix('@')?.parse().ok()?;
                let mut shots = self.shots.iter();
                shots.any(|(_, struck)| *struck == number).then_some(())?;
                Some(number)
            }
            _ => return None,
        };
        let shot = number.map(|number| shot_place(self.rally, number));
        Some(Play::Cue(CueMark {
            cue: Cue::from_word(word.strip_prefix('+')?)?,
            shot,
        }))
    }
}

/// Places of a rally's entries: room for fifty thousand shots and as many others.
const PLACES_OF_A_RALLY: u32 = 100_000;

fn shot_place(rally: u32, number: u32) -> u32 {
    assert!(
        number < PLACES_OF_A_RALLY / 2,
        "a rally of a script is shorter"
    );
    rally * PLACES_OF_A_RALLY + number * 2
}

fn entry_place(rally: u32, count: u32) -> u32 {
    assert!(
        count < PLACES_OF_A_RALLY / 2,
        "a rally of a script is shorter"
    );
    rally * PLACES_OF_A_RALLY + count * 2 + 1
}

/// What the entry of a script at this place is called: `r1s3`, `r1e4`.
#[must_use]
pub fn name(place: u32) -> String {
    let (rally, within) = (place / PLACES_OF_A_RALLY, place % PLACES_OF_A_RALLY);
    let kind = if within % 2 == 0 { 's' } else { 'e' };
    format!("r{rally}{kind}{}", within / 2)
}

/// The place of the entry of a script that is called like this.
///
/// # Panics
/// If no entry can be called like this.
#[must_use]
#[track_caller]
pub fn place(name: &str) -> u32 {
    let numbers = |kind: char, place: fn(u32, u32) -> u32| {
        let (rally, number) = name.strip_prefix('r')?.split_once(kind)?;
        Some(place(rally.parse().ok()?, number.parse().ok()?))
    };
    let Some(place) = numbers('s', shot_place).or_else(|| numbers('e', entry_place)) else {
        panic!("`{name}` is no name of an entry: `r1s3` and `r1e4` are");
    };
    place
}

fn won_by(winner: Team) -> RallyEnd {
    RallyEnd {
        winner,
        how: None,
        by: None,
        player: None,
        fault: None,
    }
}

/// A recorded contact, else the one that follows from the stroke, else from the
/// two-bounce rule.
fn resolved(stroke: Stroke, recorded: Option<Contact>, number: u32) -> Option<Contact> {
    match (stroke, recorded) {
        (Stroke::Serve, _) => None,
        (_, Some(contact)) => Some(contact),
        (Stroke::Volley | Stroke::Block | Stroke::Overhead | Stroke::Erne, None) => {
            Some(Contact::Air)
        }
        (Stroke::Dink | Stroke::Drop | Stroke::Drive | Stroke::Atp, None) => Some(Contact::Bounce),
        (_, None) if number == 2 || number == 3 => Some(Contact::Bounce),
        _ => None,
    }
}

fn side(word: &str) -> Option<(Team, Option<u32>)> {
    Some(match word {
        "a" => (Team::A, None),
        "a0" => (Team::A, Some(0)),
        "a1" => (Team::A, Some(1)),
        "b" => (Team::B, None),
        "b0" => (Team::B, Some(0)),
        "b1" => (Team::B, Some(1)),
        _ => return None,
    })
}

fn ending(word: &str) -> Option<Ending> {
    Some(match word {
        "winner" => Ending::Winner,
        "ace" => Ending::Ace,
        "net" => Ending::Net,
        "out" => Ending::Out,
        "fault" => Ending::Fault,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn shots(line: &str) -> Vec<(String, Option<Contact>, bool)> {
        let entries = Script::default().read(line);
        let shots = entries.into_iter().filter_map(|entry| match entry.play {
            Play::Shot(shot) => Some((name(entry.place), shot.contact, shot.missed_before)),
            _ => None,
        });
        shots.collect()
    }

    #[test]
    fn two_shots_in_a_row_by_one_team_leave_out_a_number() {
        let shots = shots("a serve | a drop | b volley");
        assert_eq!(shots[1], ("r1s3".into(), Some(Contact::Bounce), true));
        assert_eq!(shots[2], ("r1s4".into(), Some(Contact::Air), false));
    }

    #[test]
    fn a_contact_follows_from_the_stroke_or_from_the_two_bounce_rule() {
        let shots = shots("a serve bounce | b return | a other | b other | a speedup air");
        let contacts: Vec<_> = shots.into_iter().map(|(_, contact, _)| contact).collect();
        let bounce = Some(Contact::Bounce);
        assert_eq!(contacts, [None, bounce, bounce, None, Some(Contact::Air)]);
    }

    /// The host's rule is `chart`'s; scripts must not teach authors another one.
    #[test]
    fn a_script_implies_the_contacts_that_the_host_does() {
        for known in rallytide_chart::Stroke::ALL {
            for number in 1..=5 {
                let by_host = rallytide_chart::implied_contact(*known, number);
                let by_script =
                    Stroke::from_word(known.word()).map(|one| resolved(one, None, number));
                let by_host = by_host.map(|one| Contact::from_word(one.word()).unwrap());
                assert_eq!(by_script, Some(by_host), "{known} as shot {number}");
            }
        }
    }

    #[test]
    fn entries_are_called_after_their_rally_and_timed() {
        let mut script = Script::default();
        let entries = script.read("a serve | 850ms b return +awkward | +attackable @1 | a out");
        assert_eq!(name(entries[1].place), "r1s2");
        assert!((entries[1].at_ms - 1850.0).abs() < 1e-9);
        assert_eq!(entries[2].place, place("r1e3"));
        let Play::Cue(mark) = &entries[2].play else {
            panic!("not a cue: {:?}", entries[2]);
        };
        assert_eq!(mark.shot.map(name).as_deref(), Some("r1s1"));
        let Play::RallyEnd(end) = &entries[3].play else {
            panic!("not an end: {:?}", entries[3]);
        };
        assert_eq!(end.winner, Team::B);
        assert_eq!(script.read("inserted b serve")[0].place, place("r2s1"));
    }

    #[test]
    #[should_panic(expected = "does not know the step `a smash`")]
    fn an_unknown_step_is_named() {
        Script::default().read("a smash");
    }
}
