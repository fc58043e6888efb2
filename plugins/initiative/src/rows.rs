//! The cue table: what speaks against which team after the latest shot.
//!
//! A row is a [`Reason`]; its entry is the one that shows it, so that every
//! judgement leads back to what was charted. Nothing is weighed here.

use rallytide_plugin_kit::{Contact, Cue, Reason, Shot, Stroke, Team};

use crate::depths::Depths;

/// A recorded shot with what has been marked on it so far.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Struck {
    /// The entry that recorded it.
    pub entry: String,
    /// Who struck it.
    pub team: Team,
    /// How.
    pub stroke: Stroke,
    /// How the ball was met, where that is known.
    pub contact: Option<Contact>,
    /// The entry that first marked the striker as off balance or awkward.
    body: Option<String>,
    /// The entry that first marked the ball as attackable.
    attackable: Option<String>,
}

impl Struck {
    /// The shot as it was recorded, with the cues recorded together with it.
    #[must_use]
    pub fn new(entry: &str, shot: &Shot) -> Self {
        let mut struck = Self {
            entry: entry.into(),
            team: shot.team,
            stroke: shot.stroke,
            contact: shot.contact,
            body: None,
            attackable: None,
        };
        for cue in &shot.cues {
            struck.mark(*cue, entry);
        }
        struck
    }

    /// Keeps a cue with the shot; the first entry to say so is the one named.
    pub fn mark(&mut self, cue: Cue, entry: &str) {
        let mark = match cue {
            Cue::OffBalance | Cue::Awkward => &mut self.body,
            Cue::Attackable => &mut self.attackable,
            Cue::NetCord => return,
        };
        mark.get_or_insert_with(|| entry.into());
    }

    /// Meant to calm the rally: whoever strikes it does not press.
    #[must_use]
    pub fn is_passive(&self) -> bool {
        matches!(self.stroke, Stroke::Block | Stroke::Reset)
    }

    /// Taken in the air by choice, and not given away by it.
    fn is_attack_in_the_air(&self) -> bool {
        self.contact == Some(Contact::Air) && !self.is_passive() && self.attackable.is_none()
    }
}

/// The rows to be read, sorted by code, then by the team they are against.
/// `before` is the shot before `last`, where none is assumed between them.
#[must_use]
pub fn rows(last: &Struck, before: Option<&Struck>, depths: &Depths) -> Vec<Reason> {
    let striker = last.team;
    let opponents = striker.other();
    let mut rows = Vec::new();
    let mut row = |code: &str, against: Team, entry: &str| rows.push(seen(code, against, entry));

    if last.is_attack_in_the_air() {
        row("air", opponents, &last.entry);
    }
    // The opponents were volleying too.
    if last.contact == Some(Contact::Air) && before.is_some_and(Struck::is_attack_in_the_air) {
        row("air", striker, &last.entry);
    }
    match (
        &last.attackable,
        before.and_then(|shot| shot.attackable.as_ref()),
    ) {
        (Some(entry), _) => row("attackable", striker, entry),
        (None, Some(entry)) => row("attackable", opponents, entry),
        (None, None) => {}
    }
    if let Some(entry) = &last.body {
        row("body", striker, entry);
    }
    if last.contact == Some(Contact::HalfVolley) {
        row("half_volley", striker, &last.entry);
    }
    rows.extend(depth_row(last, depths));
    rows.sort_by(|one, other| (&one.code, one.team).cmp(&(&other.code, other.team)));
    rows
}

/// The deeper team has the court against it.
fn depth_row(last: &Struck, depths: &Depths) -> Option<Reason> {
    let (a, b) = (depths.of(Team::A), depths.of(Team::B));
    let deeper = match a.cmp(&b) {
        std::cmp::Ordering::Greater => Team::A,
        std::cmp::Ordering::Less => Team::B,
        std::cmp::Ordering::Equal => return None,
    };
    let both_explicit = Team::BOTH.into_iter().all(|team| depths.is_explicit(team));
    Some(Reason {
        inferred: !both_explicit,
        ..seen("depth", deeper, &last.entry)
    })
}

fn seen(code: &str, against: Team, entry: &str) -> Reason {
    Reason {
        code: code.into(),
        team: Some(against),
        entry: entry.into(),
        inferred: false,
    }
}
