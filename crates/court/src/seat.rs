//! The seats of a court, and what each may send.
//!
//! Two people can chart one match: one strokes and ends, from the seat `chart`,
//! one cues and depths, from the seat `cues`. Neither needs the other. The
//! second seat is kept from everything that counts points: whatever goes wrong
//! there, the score is the first one's alone.

use std::sync::Arc;

use rallytide_chart::{Body, Chart, Correction, Entry, EntryId, Kind, Play};
use serde::Serialize;

/// What a charter's client sits on a court for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(
    feature = "ts",
    derive(serde::Deserialize, ts_rs::TS, schemars::JsonSchema)
)]
pub enum Seat {
    /// It charts the match: whatever a chart can hold.
    #[default]
    Chart,
    /// It marks what was seen about the shots, and how deep the teams stand.
    Cues,
}

impl Seat {
    /// Every seat of a court.
    pub const ALL: [Self; 2] = [Self::Chart, Self::Cues];

    /// The seat as it is written.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Chart => "chart",
            Self::Cues => "cues",
        }
    }

    /// The seat that is written so.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|seat| seat.word() == word)
    }
}

/// Who recorded an entry, and from which seat.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Recorder {
    /// The client's name.
    pub client: Arc<str>,
    /// `None` for the desk, which sits on none, and for lines of a log that was
    /// written before there were two.
    pub seat: Option<Seat>,
}

impl Recorder {
    /// A client on a seat.
    #[must_use]
    pub fn on(seat: Seat, client: &str) -> Self {
        Self {
            client: client.into(),
            seat: Some(seat),
        }
    }

    /// A client without a seat.
    #[must_use]
    pub fn without_seat(client: &str) -> Self {
        Self {
            client: client.into(),
            seat: None,
        }
    }
}

/// What the seat `cues` does not send.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum SeatRule {
    /// Something that is not seen from there.
    #[error("it sends `cue` `depth` `note` and corrections of its own, not `{kind}`")]
    OtherKind {
        /// What was sent.
        kind: Kind,
    },
    /// A cue about whichever shot is the latest.
    #[error("a `cue` from it names its `shot`: the latest one may be another by now")]
    CueWithoutShot,
    /// A correction of what another recorded.
    #[error("`{target}` was not recorded from it, so it is not corrected from it either")]
    NotRecordedThere {
        /// The entry.
        target: EntryId,
    },
    /// An insertion that belongs to no shot.
    #[error("what is inserted from it stands after an entry of the match, never before the first")]
    BeforeTheFirst,
}

/// Whether an entry may come from the seat `cues`: a `cue` with its `shot`, a
/// `depth` or a `note`; an `insert` of these after an entry; a `retract` of what
/// this seat recorded, or an `amend` of it that makes it one of these. A target
/// that does not exist is left to [`Chart::admit`].
///
/// # Errors
/// The rule that it breaks.
pub(crate) fn cues_may_send<'a>(
    entry: &Entry,
    chart: &Chart,
    recorder: impl Fn(&EntryId) -> Option<&'a Recorder>,
) -> Result<(), SeatRule> {
    let is_own = |target: &EntryId| {
        let by = recorder(target).and_then(|by| by.seat);
        if chart.entry(target.as_str()).is_none() || by == Some(Seat::Cues) {
            return Ok(());
        }
        Err(SeatRule::NotRecordedThere {
            target: target.clone(),
        })
    };
    match &entry.body {
        Body::Correction(Correction::Retract { target }) => is_own(target),
        Body::Correction(Correction::Amend { target, with }) => {
            is_seen_there(with)?;
            is_own(target)
        }
        Body::Correction(Correction::Insert { after: None, .. }) => Err(SeatRule::BeforeTheFirst),
        Body::Play(play) | Body::Correction(Correction::Insert { play, .. }) => is_seen_there(play),
    }
}

fn is_seen_there(play: &Play) -> Result<(), SeatRule> {
    match play {
        Play::Cue(mark) if mark.shot.is_some() => Ok(()),
        Play::Depth(_) | Play::Note { .. } => Ok(()),
        Play::Cue(_) => Err(SeatRule::CueWithoutShot),
        _ => Err(SeatRule::OtherKind { kind: play.kind() }),
    }
}

#[cfg(test)]
mod tests {
    use std::collections::HashMap;

    use rallytide_chart::Header;
    use serde_json::json;

    use super::*;

    fn header() -> Header {
        Header::from_text(
            &json!({"kind": "match", "chart": 1, "id": "m", "title": "T", "court": "1",
            "teams": {"a": {"name": "A", "players": ["1", "2"]},
                      "b": {"name": "B", "players": ["3", "4"]}},
            "format": {"discipline": "doubles", "scoring": "side_out", "points": 11,
                       "win_by": 2, "games": 1},
            "first_serve": "a"})
            .to_string(),
        )
        .unwrap()
    }

    /// A chart that both seats wrote: a shot of the first, a cue of the second,
    /// each with a correction.
    fn both() -> (Chart, HashMap<EntryId, Recorder>) {
        let mut chart = Chart::new(header());
        let mut recorders = HashMap::new();
        for (seat, line) in [
            (
                Seat::Chart,
                json!({"id": "s1", "kind": "shot", "team": "a", "stroke": "serve"}),
            ),
            (
                Seat::Cues,
                json!({"id": "c1", "kind": "cue", "cue": "awkward", "shot": "s1"}),
            ),
            (
                Seat::Cues,
                json!({"id": "r1", "kind": "retract", "target": "c1"}),
            ),
            (
                Seat::Chart,
                json!({"id": "i1", "kind": "insert", "after": "s1",
                       "entry": {"kind": "shot", "team": "b", "stroke": "return"}}),
            ),
        ] {
            let entry = read(line);
            recorders.insert(entry.id.clone(), Recorder::on(seat, "phone"));
            chart.push(entry);
        }
        (chart, recorders)
    }

    fn read(mut line: serde_json::Value) -> Entry {
        line["at"] = json!("2026-05-02T10:00:00.000Z");
        Entry::from_text(&line.to_string(), &header().format).unwrap()
    }

    #[track_caller]
    fn check(mut line: serde_json::Value, allowed: bool) {
        line["id"] = json!("x");
        let (chart, recorders) = both();
        let outcome = cues_may_send(&read(line), &chart, |id| recorders.get(id));
        assert_eq!(outcome.is_ok(), allowed, "{outcome:?}");
    }

    #[test]
    fn what_is_seen_about_shots_comes_from_the_second_seat_and_nothing_else() {
        check(json!({"kind": "cue", "cue": "awkward", "shot": "s1"}), true);
        check(json!({"kind": "depth", "team": "a", "depth": "line"}), true);
        check(json!({"kind": "note", "text": "loud"}), true);
        check(json!({"kind": "cue", "cue": "awkward"}), false);
        check(
            json!({"kind": "shot", "team": "a", "stroke": "dink"}),
            false,
        );
        check(json!({"kind": "rally_end", "won_by": "a"}), false);
        check(json!({"kind": "replay"}), false);
        check(json!({"kind": "time_out", "team": "a"}), false);
        check(json!({"kind": "penalty", "team": "a"}), false);
        check(json!({"kind": "retire", "team": "a"}), false);
        check(
            json!({"kind": "lineup", "team": "a", "starting_server": 1}),
            false,
        );
        check(
            json!({"kind": "score_fix", "points": {"a": 1, "b": 0}, "serving": "a"}),
            false,
        );
    }

    #[test]
    fn it_inserts_the_same_kinds_after_an_entry() {
        let insert = |after: serde_json::Value, entry: serde_json::Value| json!({"kind": "insert", "after": after, "entry": entry});
        let cue = json!({"kind": "cue", "cue": "awkward", "shot": "s1"});
        check(insert(json!("s1"), cue.clone()), true);
        check(
            insert(json!("i1"), json!({"kind": "note", "text": "x"})),
            true,
        );
        check(insert(json!(null), cue), false);
        check(
            insert(json!("s1"), json!({"kind": "cue", "cue": "awkward"})),
            false,
        );
        check(
            insert(json!("s1"), json!({"kind": "rally_end", "won_by": "a"})),
            false,
        );
    }

    #[test]
    fn it_corrects_its_own_entries_and_its_own_corrections() {
        let amend = |target, with: serde_json::Value| json!({"kind": "amend", "target": target, "with": with});
        let cue = json!({"kind": "cue", "cue": "off_balance", "shot": "s1"});
        check(json!({"kind": "retract", "target": "c1"}), true);
        check(json!({"kind": "retract", "target": "r1"}), true);
        check(amend("c1", cue.clone()), true);
        check(json!({"kind": "retract", "target": "s1"}), false);
        check(json!({"kind": "retract", "target": "i1"}), false);
        check(amend("s1", cue), false);
        check(
            amend("c1", json!({"kind": "cue", "cue": "off_balance"})),
            false,
        );
        check(
            amend("c1", json!({"kind": "shot", "team": "a", "stroke": "dink"})),
            false,
        );
        // Not there: the chart has a word for that.
        check(json!({"kind": "retract", "target": "nowhere"}), true);
    }
}
