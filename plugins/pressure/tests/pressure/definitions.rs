//! The definitions of the README, written down once more over the whole course of
//! a rally (the plugin goes through it once, entry by entry), and compared on
//! random matches. The rules are common practice of the trade; there is no
//! published standard.

use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::{Config, TestRunner};
use rallytide_plugin_kit::testing::Script;
use rallytide_plugin_kit::{
    Contact, Ending, PerTeam, Play, RallyEnd, Shot, Tally, Team, Value, about, key,
};

use crate::charted::{Charted, INDICATORS, share};
use crate::random_rallies::matches;

/// An entry of a rally, from its first shot on, with how things stand after it.
struct Stage {
    shot: Option<Shot>,
    holder: Option<Team>,
    /// The teams that rows other than `depth` are against.
    rows: Vec<Team>,
    both_at_line: bool,
}

impl Stage {
    fn of(play: &Play, charted: &Charted) -> Self {
        let initiative = charted.initiative.reading(&key("initiative")).unwrap();
        let Value::Lean(lean) = &initiative.value else {
            panic!("{initiative:?}");
        };
        let rows = initiative.why.iter().filter(|row| row.code != "depth");
        let line = Value::Text("line".into());
        let mut teams = Team::BOTH.into_iter();
        Self {
            shot: match play {
                Play::Shot(shot) => Some(*shot),
                _ => None,
            },
            holder: lean.toward,
            rows: rows.map(|row| row.team.unwrap()).collect(),
            both_at_line: teams
                .all(|team| charted.initiative.value(&about("depth", team)) == Some(&line)),
        }
    }

    fn attacked_by(&self, team: Team) -> bool {
        self.holder == Some(team) && self.rows.contains(&team.other())
    }
}

/// `offense.finished`: every pair of an entry and the one at which the spell that
/// begins there is over.
fn offense_finished(rally: &[Stage], winner: Team, team: Team, tally: &mut Tally) {
    let held = |place: usize| rally.get(place).is_some_and(|s| s.holder == Some(team));
    for begin in 0..rally.len() {
        let begins = held(begin) && (begin == 0 || !held(begin - 1));
        if begins {
            let over = (begin..=rally.len()).find(|place| !held(*place)).unwrap();
            if rally[begin..over].iter().any(|s| s.attacked_by(team)) {
                tally.count(over == rally.len() && winner == team);
            }
        }
    }
}

/// `neutral.first`
fn neutral_first(rally: &[Stage], team: Team, tally: &mut Tally) {
    let neutral = |place: usize| rally[place].both_at_line && rally[place].holder.is_none();
    let first = (0..rally.len())
        .filter(|place| (0..*place).any(neutral))
        .find(|place| Team::BOTH.into_iter().any(|t| rally[*place].attacked_by(t)));
    if let Some(place) = first {
        tally.count(rally[place].attacked_by(team));
    }
}

/// `defense.bounced`
fn defense_bounced(rally: &[Stage], team: Team, tally: &mut Tally) {
    for (place, stage) in rally.iter().enumerate() {
        let Some(shot) = &stage.shot else { continue };
        let before = place.checked_sub(1).and_then(|before| rally[before].holder);
        if shot.team != team || before != Some(team.other()) {
            continue;
        }
        let answer = rally
            .iter()
            .filter_map(|other| other.shot.as_ref())
            .find(|other| other.number == shot.number + 1);
        match answer.and_then(|answer| answer.contact) {
            Some(Contact::Bounce | Contact::HalfVolley) => tally.count(true),
            Some(Contact::Air) => tally.count(false),
            None => {}
        }
    }
}

/// `gift.share`
fn gift_share(rally: &[Stage], end: &RallyEnd, team: Team, tally: &mut Tally) {
    if end.winner != team {
        if matches!(end.how, None | Some(Ending::Unknown)) {
            return;
        }
        let on_defense = rally.last().and_then(|s| s.holder) == Some(team.other());
        let error = matches!(end.how, Some(Ending::Net | Ending::Out | Ending::Fault));
        tally.count(error && end.by == Some(team) && !on_defense);
    }
}

/// `pressed.won` and `unpressed.won`
fn won(rally: &[Stage], winner: Team, team: Team, pressed: &mut Tally, unpressed: &mut Tally) {
    if rally.is_empty() {
        return;
    }
    let by_rows = rally.iter().any(|s| s.attacked_by(team.other()));
    let tally = if by_rows { pressed } else { unpressed };
    tally.count(winner == team);
}

/// Both teams' tallies of a match, by the definitions alone, and the match.
fn defined(text: &str) -> (PerTeam<[Tally; 6]>, Charted) {
    let mut charted = Charted::start();
    let mut tallies: PerTeam<[Tally; 6]> = PerTeam::default();
    let mut rally: Vec<Stage> = Vec::new();
    for entry in Script::default().read(text) {
        charted.entry(entry.clone());
        match &entry.play {
            Play::RallyEnd(end) => {
                for team in Team::BOTH {
                    let [finished, first, bounced, gifts, pressed, unpressed] = &mut tallies[team];
                    offense_finished(&rally, end.winner, team, finished);
                    neutral_first(&rally, team, first);
                    defense_bounced(&rally, team, bounced);
                    gift_share(&rally, end, team, gifts);
                    won(&rally, end.winner, team, pressed, unpressed);
                }
                rally.clear();
            }
            Play::Replay => rally.clear(),
            play if !rally.is_empty() || matches!(play, Play::Shot(_)) => {
                rally.push(Stage::of(play, &charted));
            }
            _ => {}
        }
    }
    (tallies, charted)
}

proptest! {
    #![proptest_config(Config::with_cases(200))]

    #[test]
    fn the_plugin_counts_what_the_definitions_say(text in matches()) {
        let (tallies, charted) = defined(&text);
        for team in Team::BOTH {
            for (indicator, tally) in INDICATORS.into_iter().zip(tallies[team]) {
                let found = charted.share(indicator, team);
                prop_assert!(found.part <= found.whole);
                prop_assert_eq!(Value::Share(found), tally.value(), "{} of {:?}", indicator, team);
            }
        }
    }

    /// One team's offense is the other's defense, which another plugin counts.
    #[test]
    fn the_attacks_of_a_team_are_the_pressed_defense_of_the_other(text in matches()) {
        let charted = Charted::read(&text);
        for team in Team::BOTH {
            let attacks = charted.share("offense.finished", team);
            let escapes = share(&charted.escape, "escape.share", team.other());
            prop_assert_eq!(attacks.whole, escapes.whole);
            prop_assert_eq!(attacks.part, escapes.whole - escapes.part);
        }
    }

    #[test]
    fn one_team_is_first_in_each_rally_that_has_a_first(text in matches()) {
        let charted = Charted::read(&text);
        let a = charted.share("neutral.first", Team::A);
        let b = charted.share("neutral.first", Team::B);
        prop_assert_eq!(a.whole, b.whole);
        prop_assert_eq!(a.part + b.part, a.whole);
    }
}

#[test]
fn the_random_matches_hold_both_outcomes_of_each_indicator() {
    let mut runner = TestRunner::deterministic();
    let mut sums = [Tally::default(); 6];
    for _ in 0..60 {
        let text = matches().new_tree(&mut runner).unwrap().current();
        let (tallies, _) = defined(&text);
        for (sum, tally) in sums.iter_mut().zip(tallies.a) {
            sum.part += tally.part;
            sum.whole += tally.whole;
        }
    }
    for (indicator, sum) in INDICATORS.into_iter().zip(sums) {
        assert!(
            sum.part >= 5 && sum.whole - sum.part >= 5,
            "`{indicator}` is {sum:?}"
        );
    }
}
