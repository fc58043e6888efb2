//! A shot and the end of a rally as viewers are shown them.

use rallytide_chart::{Contact, Cue, EntryId, Stroke, Team};
use rallytide_readings::Reason;
use serde::Serialize;

/// A shot with who held the initiative after it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(
    feature = "ts",
    derive(ts_rs::TS, schemars::JsonSchema),
    ts(rename = "ShotView")
)]
pub struct ShownShot {
    /// Its number in the rally, from 1; assumed shots count.
    pub n: u32,
    /// The entry that recorded it; `None` for an assumed one.
    pub entry: Option<EntryId>,
    /// Who struck it.
    pub team: Team,
    /// Which player, where known: as recorded, else as the score tells.
    pub player: Option<u32>,
    /// How; `None` for an assumed one.
    pub stroke: Option<Stroke>,
    /// How the ball was met, where known.
    pub contact: Option<Contact>,
    /// The cues seen about it.
    pub cues: Vec<Cue>,
    /// Nobody recorded it: it must have been there.
    pub assumed: bool,
    /// Who held the initiative, by the latest entry about this moment.
    pub toward: Option<Team>,
    /// How strongly, 0 to 1.
    pub strength: f64,
    /// Why.
    pub why: Vec<Reason>,
    /// What else was said of it.
    pub flags: Vec<String>,
}

/// How a rally ended.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(
    feature = "ts",
    derive(ts_rs::TS, schemars::JsonSchema),
    ts(rename = "RallyEndView")
)]
pub struct ShownRallyEnd {
    /// The entry that recorded the end.
    pub entry: EntryId,
    /// Who won it; `None` if it is replayed or cut off.
    pub won_by: Option<Team>,
    /// How it ended: a word of `rally_end`, `replay` or `cut_off`.
    pub how: Option<&'static str>,
    /// Whose shot or fault ended it.
    pub by: Option<Team>,
    /// Which player of `by`, where known: as recorded, else whoever struck the
    /// last ball, if `by` did.
    pub player: Option<u32>,
}

impl ShownShot {
    /// A shot that nobody recorded: it must have been there.
    #[must_use]
    pub fn assumed(n: u32, team: Team) -> Self {
        Self {
            n,
            entry: None,
            team,
            player: None,
            stroke: None,
            contact: None,
            cues: Vec::new(),
            assumed: true,
            toward: None,
            strength: 0.0,
            why: Vec::new(),
            flags: Vec::new(),
        }
    }
}
