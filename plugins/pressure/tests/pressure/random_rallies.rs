//! Random matches as text: mostly alternating shots, now and then a missed one,
//! cues about the latest or an older shot, depths, words that mean nothing here,
//! and every way to end a rally.

use proptest::prelude::*;

/// Soft strokes more often, or the teams would seldom meet at the line.
const STROKES: [&str; 20] = [
    "serve", "return", "drive", "drop", "drop", "dink", "dink", "dink", "dink", "lob", "reset",
    "reset", "volley", "volley", "block", "speedup", "overhead", "erne", "atp", "other",
];
const CONTACTS: [&str; 3] = [" bounce", " air", " half_volley"];
const CUES: [&str; 4] = ["+off_balance", "+awkward", "+attackable", "+net_cord"];
const DEPTHS: [&str; 4] = ["line", "line", "transition", "back"];
const PLAYERS: [&str; 3] = ["", "0", "1"];
const ENDINGS: [&str; 6] = ["wins", "winner", "ace", "net", "out", "fault"];

/// What the next step is made of: its kind and three free choices.
type Dice = (u8, u8, u8, u8);

/// A match of whole rallies.
pub(crate) fn matches() -> impl Strategy<Value = String> {
    prop::collection::vec(any::<Dice>(), 1..250).prop_map(|throws| {
        let mut rally = Rally::default();
        let mut steps: Vec<String> = throws.into_iter().map(|dice| rally.step(dice)).collect();
        steps.push("a wins".into());
        steps.join(" | ")
    })
}

/// The shots so far: the team of the latest, and the recorded numbers.
#[derive(Default)]
struct Rally {
    latest: usize,
    numbers: Vec<u32>,
}

impl Rally {
    fn step(&mut self, (kind, one, two, three): Dice) -> String {
        let team = ["a", "b"][usize::from(one % 2)];
        match kind % 24 {
            0..=12 => self.shot(1 - self.latest, two, three),
            13 => self.shot(self.latest, two, three),
            14..=16 if !self.numbers.is_empty() => pick(&CUES, two).into(),
            17 if !self.numbers.is_empty() => {
                let about = pick(&self.numbers, three);
                format!("{} @{about}", pick(&CUES, two))
            }
            18 | 19 => format!("{team}{} at {}", pick(&PLAYERS, two), pick(&DEPTHS, three)),
            22 => {
                self.numbers.clear();
                format!("{team} {}", pick(&ENDINGS, two))
            }
            23 if three % 4 == 0 => {
                self.numbers.clear();
                "replay".into()
            }
            20 => format!("{team} time_out"),
            _ => "note word".into(),
        }
    }

    fn shot(&mut self, team: usize, two: u8, three: u8) -> String {
        let missed = !self.numbers.is_empty() && team == self.latest;
        let number = self.numbers.last().copied().unwrap_or(0) + 1 + u32::from(missed);
        self.numbers.push(number);
        self.latest = team;
        let contact = match three % 8 {
            given @ 0..=2 => CONTACTS[usize::from(given)],
            _ => "",
        };
        let cue = match three / 8 % 8 {
            given @ 0..=3 => format!(" {}", CUES[usize::from(given)]),
            _ => String::new(),
        };
        format!("{} {}{contact}{cue}", ["a", "b"][team], pick(&STROKES, two))
    }
}

fn pick<T: Copy>(from: &[T], by: u8) -> T {
    from[usize::from(by) % from.len()]
}
