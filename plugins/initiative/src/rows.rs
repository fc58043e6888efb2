//! The cue table: what speaks against which team after the latest shot.
//!
//! A row's entry is the one that shows it, so that every judgement leads back to
//! what was charted. Nothing is weighed here.

use rallytide_plugin_kit::{Contact, Cues, Shot, Stroke, Team};

use crate::depths::Depths;

/// A recorded shot with what has been marked on it so far.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JudgedShot {
    /// The entry that recorded it.
    pub entry: u32,
    /// Who struck it.
    pub team: Team,
    /// How.
    pub stroke: Stroke,
    /// How the ball was met, where that is known.
    pub contact: Option<Contact>,
    /// The entry that first marked the striker as off balance or awkward.
    body: Option<u32>,
    /// The entry that first marked the ball as attackable.
    attackable: Option<u32>,
}

impl JudgedShot {
    /// The shot as it was recorded, with the cues recorded together with it.
    #[must_use]
    pub fn new(entry: u32, shot: &Shot) -> Self {
        let mut struck = Self {
            entry,
            team: shot.team,
            stroke: shot.stroke,
            contact: shot.contact,
            body: None,
            attackable: None,
        };
        struck.mark(shot.cues, entry);
        struck
    }

    /// Keeps cues with the shot; the first entry to say so is the one named.
    pub fn mark(&mut self, cues: Cues, entry: u32) {
        if cues.intersects(Cues::OFF_BALANCE | Cues::AWKWARD) {
            self.body.get_or_insert(entry);
        }
        if cues.contains(Cues::ATTACKABLE) {
            self.attackable.get_or_insert(entry);
        }
    }

    /// Meant to calm the rally: whoever strikes it does not press.
    #[must_use]
    pub fn is_passive(&self) -> bool {
        matches!(self.stroke, Stroke::Block | Stroke::Reset)
    }

    /// Hit, not merely met: in the air, or with a stroke that is an attack
    /// however the ball came.
    fn is_hit(&self) -> bool {
        self.contact == Some(Contact::Air) || matches!(self.stroke, Stroke::Speedup | Stroke::Atp)
    }

    /// The code of its row, if the shot attacks: hit by choice, and not given
    /// away by it.
    fn attack(&self) -> Option<&'static str> {
        let attacks = self.is_hit() && !self.is_passive() && self.attackable.is_none();
        attacks.then_some(match self.contact {
            Some(Contact::Air) => "air",
            _ => "attack",
        })
    }

    /// A soft answer: whatever sat up before it was let go.
    fn lets_go(&self) -> bool {
        matches!(self.stroke, Stroke::Dink | Stroke::Drop | Stroke::Lob)
    }
}

/// Something that speaks against a team.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Row {
    /// Which line of the table.
    pub code: &'static str,
    /// The team it speaks against.
    pub against: Team,
    /// The entry that shows it.
    pub entry: u32,
    /// It was inferred, not seen.
    pub inferred: bool,
}

/// The rows to be read, sorted by code, then by the team they are against.
/// `before` is the shot before `last`, where none is assumed between them.
#[must_use]
pub fn rows(last: &JudgedShot, before: Option<&JudgedShot>, depths: &Depths) -> Vec<Row> {
    let striker = last.team;
    let opponents = striker.other();
    let mut rows = Vec::new();
    let mut row = |code, against, entry| rows.push(seen(code, against, entry));

    if let Some(code) = last.attack() {
        row(code, opponents, last.entry);
    }
    // The opponents were hitting too.
    if let Some(code) = before.and_then(JudgedShot::attack)
        && last.is_hit()
    {
        row(code, striker, last.entry);
    }
    match (last.attackable, before.and_then(|shot| shot.attackable)) {
        (Some(entry), _) => row("attackable", striker, entry),
        (None, Some(entry)) if !last.lets_go() => row("attackable", opponents, entry),
        (None, _) => {}
    }
    if let Some(entry) = last.body {
        row("body", striker, entry);
    }
    if last.contact == Some(Contact::HalfVolley) {
        row("half_volley", striker, last.entry);
    }
    let alone = rows.is_empty();
    rows.extend(depth_row(last, depths).filter(|depth| alone || !depth.inferred));
    rows.sort_by_key(|row| (row.code, row.against));
    rows
}

/// The deeper team has the court against it. Where that is inferred, it speaks
/// only if nothing was seen.
fn depth_row(last: &JudgedShot, depths: &Depths) -> Option<Row> {
    let (a, b) = (depths.of(Team::A), depths.of(Team::B));
    let deeper = match a.cmp(&b) {
        std::cmp::Ordering::Greater => Team::A,
        std::cmp::Ordering::Less => Team::B,
        std::cmp::Ordering::Equal => return None,
    };
    let both_explicit = Team::BOTH.into_iter().all(|team| depths.is_explicit(team));
    Some(Row {
        inferred: !both_explicit,
        ..seen("depth", deeper, last.entry)
    })
}

fn seen(code: &'static str, against: Team, entry: u32) -> Row {
    Row {
        code,
        against,
        entry,
        inferred: false,
    }
}
