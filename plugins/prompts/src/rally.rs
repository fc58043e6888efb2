//! What has happened in one rally, as far as prompts speak of it: who was pressed
//! for long and what came of it, fast exchanges, and which shots show what.
//!
//! A spell is what the plugin that counts escapes takes for one; here it is only
//! followed within a rally, to tell its story. Nothing is counted across rallies.

use rallytide_plugin_kit::{
    Contact, Lean, Play, RallyShots, Reading, Reason, Shot, Stroke, Struck, Team, Value,
};

/// Shots of a team under pressure, from which on a spell is long enough to be spoken of.
const LONG_SPELL_SHOTS: u32 = 2;
/// Balls in a row in the air that make a fast exchange.
const FAST_BALLS: u32 = 6;

/// Who holds the initiative, by which rows.
#[derive(Debug, Clone, Default)]
pub struct Held {
    by: Option<Team>,
    rows: Vec<Reason>,
}

impl Held {
    /// Takes the reading; one that does not lean says nothing.
    pub fn take(&mut self, reading: &Reading) {
        *self = match &reading.value {
            Value::Lean(Lean { toward, .. }) => Self {
                by: *toward,
                rows: reading.why.clone(),
            },
            _ => Self::default(),
        };
    }

    /// The team on defense.
    #[must_use]
    pub fn on_defense(&self) -> Option<Team> {
        self.by.map(Team::other)
    }

    /// The rows against a team that press it, which depth alone does not.
    pub fn pressing(&self, team: Team) -> impl Iterator<Item = &Reason> {
        self.rows
            .iter()
            .filter(move |row| row.team == Some(team) && row.code != "depth")
    }
}

/// How a long pressed spell came out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outcome {
    /// The team got out of it while the rally went on.
    Escaped,
    /// The rally ended in it.
    StillPressed,
}

/// The story of a pressed spell that was long, or was spoken of.
#[derive(Debug, Clone)]
pub struct Story {
    /// The team that was pressed.
    pub team: Team,
    /// How it came out.
    pub outcome: Outcome,
    /// A ball it struck from defense had to bounce.
    pub bounced: bool,
    /// How some ball of it was met is not known.
    pub unsure: bool,
    /// Its last shot.
    pub entry: Option<u32>,
    /// What the team needs was said while it lasted.
    pub was_told: bool,
}

#[derive(Debug)]
struct Spell {
    team: Team,
    pressed: bool,
    shots: u32,
    last_shot: Option<u32>,
    answers: Answers,
    was_told: bool,
}

/// How the opponents met the balls of a spell.
#[derive(Debug, Default)]
struct Answers {
    awaited: bool,
    bounced: bool,
    unsure: bool,
}

impl Answers {
    /// The opponents' next shot.
    fn take(&mut self, shot: &Shot) {
        if !std::mem::take(&mut self.awaited) {
            return;
        }
        match shot.contact.filter(|_| !shot.missed_before) {
            None => self.unsure = true,
            Some(Contact::Bounce | Contact::HalfVolley) => self.bounced = true,
            Some(Contact::Air) => {}
        }
    }
}

impl Spell {
    fn of(team: Team) -> Self {
        Self {
            team,
            pressed: false,
            shots: 0,
            last_shot: None,
            answers: Answers::default(),
            was_told: false,
        }
    }

    /// A shot of the rally while the spell lasts.
    fn shot(&mut self, entry: u32, shot: &Shot) {
        if shot.team == self.team {
            self.shots += u32::from(self.pressed);
            self.answers.awaited = true;
            self.last_shot = Some(entry);
        } else {
            self.answers.take(shot);
        }
    }

    fn story(self, outcome: Outcome) -> Option<Story> {
        let is_long = self.pressed && self.shots >= LONG_SPELL_SHOTS;
        (is_long || self.was_told).then_some(Story {
            team: self.team,
            outcome,
            bounced: self.answers.bounced,
            unsure: self.answers.unsure,
            entry: self.last_shot,
            was_told: self.was_told,
        })
    }
}

/// One rally on its way.
#[derive(Debug, Default)]
pub struct Rally {
    shots: RallyShots,
    spell: Option<Spell>,
    story: Option<Story>,
    in_the_air: u32,
    ends_fast: bool,
}

impl Rally {
    /// Takes an entry within the rally, with who holds the initiative after it.
    pub fn take(&mut self, entry: u32, play: &Play, held: &Held) {
        self.shots.take(entry, play);
        if let Play::Shot(shot) = play {
            self.count_air(shot);
            if let Some(spell) = &mut self.spell {
                spell.shot(entry, shot);
            }
        }
        if !self.is_on() {
            return;
        }
        let on_defense = held.on_defense();
        if self.spell.as_ref().map(|spell| spell.team) != on_defense {
            self.end_spell(Outcome::Escaped);
            self.spell = on_defense.map(Spell::of);
        }
        if let Some(spell) = &mut self.spell {
            spell.pressed |= held.pressing(spell.team).next().is_some();
        }
    }

    /// The rally has ended.
    pub fn end(&mut self) {
        self.end_spell(Outcome::StillPressed);
    }

    /// A plugin upstream has stopped: what is open cannot be told to its end.
    pub fn lose_sight(&mut self) {
        self.spell = None;
    }

    fn end_spell(&mut self, outcome: Outcome) {
        let story = self.spell.take().and_then(|spell| spell.story(outcome));
        let owed = self.story.as_ref().is_some_and(|told| told.was_told);
        match story {
            Some(story) if story.was_told || !owed => self.story = Some(story),
            _ => {}
        }
    }

    fn count_air(&mut self, shot: &Shot) {
        let is_air = shot.contact == Some(Contact::Air) && !shot.missed_before;
        self.in_the_air = if is_air { self.in_the_air + 1 } else { 0 };
        self.ends_fast = self.in_the_air >= FAST_BALLS;
    }

    /// A shot has been struck.
    #[must_use]
    pub fn is_on(&self) -> bool {
        !self.shots.all().is_empty()
    }

    /// The team that is pressed right now and has the next ball to strike, after
    /// one under pressure that did not help.
    #[must_use]
    pub fn needs(&self, held: &Held) -> Option<Team> {
        let spell = self.spell.as_ref()?;
        let last = self.shots.all().last()?;
        let pressed = held.pressing(spell.team).next().is_some();
        (pressed && spell.shots > 0 && last.team != spell.team).then_some(spell.team)
    }

    /// What the pressed team needs was said: its story is owed an end.
    pub fn need_was_told(&mut self) {
        if let Some(spell) = &mut self.spell {
            spell.was_told = true;
        }
    }

    /// The latest pressed spell that has ended and is worth a word.
    #[must_use]
    pub fn story(&self) -> Option<&Story> {
        self.story.as_ref()
    }

    /// It came to a fast exchange in the air, up to the latest shot.
    #[must_use]
    pub fn ends_fast(&self) -> bool {
        self.ends_fast
    }

    /// The latest shot.
    #[must_use]
    pub fn last_shot(&self) -> Option<&Struck> {
        self.shots.all().last()
    }

    /// The shot of this number.
    #[must_use]
    pub fn shot(&self, number: u32) -> Option<&Struck> {
        self.shots.all().iter().find(|shot| shot.number == number)
    }

    /// The first speedup of a team.
    #[must_use]
    pub fn speedup(&self, team: Team) -> Option<&Struck> {
        let mut shots = self.shots.all().iter();
        shots.find(|shot| shot.team == team && shot.stroke == Stroke::Speedup)
    }

    /// The latest ball that a team left sitting up.
    #[must_use]
    pub fn sat_up(&self, team: Team) -> Option<&Struck> {
        let mut shots = self.shots.all().iter().rev();
        shots.find(|shot| shot.team == team && shot.attackable)
    }
}
