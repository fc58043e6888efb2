//! The JSON of entries, field by field in the order in which the file format lists
//! them. A charter's page sends JSON, so a simulated charter writes JSON: what
//! reads it is tested with it.

use rallytide_chart::{At, Cue, Play, Shot};
use serde_json::{Map, Value, json};

use crate::rally::Ending;

/// An entry as a line of the file.
pub(super) fn line(id: &str, at: At, fields: Map<String, Value>) -> String {
    let mut entry = Map::new();
    entry.insert("id".into(), id.into());
    entry.insert("at".into(), at.to_string().into());
    entry.extend(fields);
    Value::Object(entry).to_string()
}

/// The fields of something that happens between rallies.
pub(super) fn play_fields(play: &Play) -> Map<String, Value> {
    let kind = play.kind().word();
    match play {
        Play::TimeOut(time_out) if time_out.medical => {
            fields(json!({"kind": kind, "team": time_out.team, "medical": true}))
        }
        Play::TimeOut(time_out) => fields(json!({"kind": kind, "team": time_out.team})),
        Play::Penalty { team } | Play::Retire { team } => {
            fields(json!({"kind": kind, "team": team}))
        }
        Play::ScoreFix(fix) => {
            let mut fix_fields = fields(json!({
                "kind": kind, "points": fix.points, "serving": fix.serving,
            }));
            if let Some(server) = fix.server {
                fix_fields.insert("server".into(), server.into());
            }
            fix_fields
        }
        Play::Lineup(lineup) => fields(json!({
            "kind": kind, "team": lineup.team, "starting_server": lineup.starting_server,
        })),
        Play::Note { text } => fields(json!({"kind": kind, "text": text})),
        Play::Shot(shot) => shot_fields(shot),
        Play::Cue(_) | Play::Depth(_) | Play::RallyEnd(_) | Play::Replay => {
            unreachable!("`{kind}` belongs to a rally and is written there")
        }
    }
}

/// The fields of a shot; what is not known is left out.
pub(super) fn shot_fields(shot: &Shot) -> Map<String, Value> {
    let mut made = fields(json!({"kind": "shot", "team": shot.team, "stroke": shot.stroke}));
    if let Some(contact) = shot.contact {
        made.insert("contact".into(), contact.word().into());
    }
    if let Some(player) = shot.player {
        made.insert("player".into(), player.into());
    }
    let cues: Vec<_> = shot.cues.iter().map(Cue::word).collect();
    if !cues.is_empty() {
        made.insert("cues".into(), cues.into());
    }
    made
}

/// The fields of a rally's end with everything that is known about it but the
/// player.
pub(super) fn end_fields(ending: Ending) -> Map<String, Value> {
    let mut made = fields(json!({"kind": "rally_end", "how": ending.how, "by": ending.by}));
    if let Some(fault) = ending.fault {
        made.insert("fault".into(), fault.word().into());
    }
    made
}

/// The fields of a JSON object that was just written down.
pub(super) fn fields(object: Value) -> Map<String, Value> {
    match object {
        Value::Object(fields) => fields,
        _ => unreachable!("called with objects only"),
    }
}
