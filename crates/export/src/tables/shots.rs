//! The table of shots: a line a shot.

use rallytide_chart::{Cue, Header, Team};
use rallytide_match_record::{MatchRecord, RecordedDepth, RecordedRally, RecordedShot};

use super::cell::{fraction, list, maybe, team, text, yes_no};
use crate::words::{player_name, reasons_against, seconds, team_name, time_source};

pub(super) const COLUMNS: &[(&str, &str)] = &[
    ("match", "the match's id"),
    ("game", "the game, from 1"),
    (
        "rally",
        "the rally, from 1 over the match, replayed ones included",
    ),
    (
        "counted",
        "1 if the score counts the rally, 0 if it was replayed, cut off or not ended",
    ),
    (
        "shot",
        "the shot's number in its rally, from 1; assumed ones count",
    ),
    (
        "entry",
        "the id of the entry that recorded it; empty for an assumed shot",
    ),
    ("match_seconds", "seconds from the first entry of the match"),
    ("rally_seconds", "seconds from the first entry of the rally"),
    (
        "time",
        "`recorded`, or `estimated` for an entry put in later",
    ),
    (
        "recorded_at",
        "the recorder's clock, UTC, as recorded (of an entry put in later: when it was put in)",
    ),
    ("team", "who struck it: `a` or `b`"),
    ("team_name", "that team's name"),
    (
        "player",
        "which player, `0` or `1` as in the chart: as charted, else as the score tells; empty where not known",
    ),
    ("player_name", "that player's name"),
    (
        "stroke",
        "the stroke, in the chart's words; empty for an assumed shot",
    ),
    (
        "contact",
        "`bounce`, `air`, `half_volley`; empty where not known",
    ),
    (
        "contact_source",
        "`given` by the charter or `assumed` from stroke and number",
    ),
    (
        "off_balance",
        "1 if the cue was seen about this shot; empty for an assumed one",
    ),
    (
        "awkward",
        "1 if the cue was seen about this shot; empty for an assumed one",
    ),
    (
        "attackable",
        "1 if the ball it sent was high, up to be attacked",
    ),
    ("net_cord", "1 if it touched the net"),
    (
        "depth_a",
        "where team a stood: `back`, `transition`, `line`",
    ),
    ("depth_a_source", "`seen` by the charter or `inferred`"),
    ("depth_b", "where team b stood"),
    ("depth_b_source", "`seen` by the charter or `inferred`"),
    (
        "holder",
        "who held the initiative after it: `a`, `b`, `nobody`; empty where not available",
    ),
    ("strength", "how clearly, 0 to 1"),
    ("contested", "1 if something spoke against both teams"),
    (
        "unchanged",
        "1 if it decided nothing: the holder is the one from before",
    ),
    (
        "reasons_against_a_count",
        "how many things spoke against team a",
    ),
    (
        "reasons_against_b_count",
        "how many things spoke against team b",
    ),
    ("why_against_a", "what, in words"),
    ("why_against_b", "what, in words"),
    (
        "assumed",
        "1 if nobody recorded it: the same team struck twice",
    ),
    ("flags", "what the charter was told, separated by blanks"),
    ("points_a", "team a's points before the rally"),
    ("points_b", "team b's points before the rally"),
    ("serving", "who served by the score: `a` or `b`"),
    ("last_shot", "1 if it is the last shot of its rally"),
    (
        "won",
        "1 if its team won the rally, 0 if not; empty if nobody did",
    ),
    ("how", "how the rally ended, in the chart's words"),
    (
        "player_source",
        "`given` by the charter or `score`, which tells who serves and returns",
    ),
];

pub(super) fn rows(record: &MatchRecord) -> Vec<Vec<String>> {
    let rallies = record.rallies();
    rallies
        .flat_map(|rally| rally.shots.iter().map(move |shot| row(record, rally, shot)))
        .collect()
}

fn row(record: &MatchRecord, rally: &RecordedRally, shot: &RecordedShot) -> Vec<String> {
    let header = &record.header;
    let shown = &shot.shown;
    let cue = |cue: Cue| seen(!shown.assumed, yes_no(shown.cues.contains(&cue)));
    let has_holder = has_holder(rally, shot);
    let flag = |word: &str| {
        let is_set = shown.flags.iter().any(|flag| flag == word);
        seen(has_holder, yes_no(is_set))
    };
    let against = |team: Team| {
        let against = shown.why.iter().filter(|reason| reason.team == Some(team));
        seen(has_holder, against.count().to_string())
    };
    let is_last = rally
        .shots
        .last()
        .is_some_and(|last| last.shown.n == shown.n);
    let end = rally.end.as_ref().map(|end| &end.shown);
    let winner = end.and_then(|end| end.won_by);
    let mut cells = vec![
        header.id.to_string(),
        rally.before.game.to_string(),
        rally.number.to_string(),
        yes_no(rally.counted),
        shown.n.to_string(),
        text(&maybe(shown.entry.as_ref())),
    ];
    cells.extend(times(record, rally, shot));
    cells.extend(striker(header, shot));
    cells.extend([
        maybe(shown.stroke),
        maybe(shown.contact),
        match (shown.contact, shot.contact_given) {
            (None, _) => "",
            (Some(_), true) => "given",
            (Some(_), false) => "assumed",
        }
        .into(),
        cue(Cue::OffBalance),
        cue(Cue::Awkward),
        cue(Cue::Attackable),
        cue(Cue::NetCord),
    ]);
    for one in Team::ALL {
        cells.extend(depth(shot.depths.of(*one).as_ref()));
    }
    cells.extend(holder(rally, shot));
    cells.extend([
        flag("contested"),
        flag("carried"),
        against(Team::A),
        against(Team::B),
        reasons_against(Team::A, &shown.why, &rally.shots),
        reasons_against(Team::B, &shown.why, &rally.shots),
        yes_no(shown.assumed),
        list(shot.flags.iter().map(|flag| flag.word())),
        rally.before.points.a.to_string(),
        rally.before.points.b.to_string(),
        team(Some(rally.before.serving)),
        yes_no(is_last),
        winner.map_or_else(String::new, |winner| yes_no(winner == shown.team)),
        maybe(end.and_then(|end| end.how)),
        match (shown.player, shot.recorded_player) {
            (None, _) => "",
            (Some(_), Some(_)) => "given",
            (Some(_), None) => "score",
        }
        .into(),
    ]);
    cells
}

fn times(record: &MatchRecord, rally: &RecordedRally, shot: &RecordedShot) -> [String; 4] {
    let Some(time) = shot.time else {
        return Default::default();
    };
    let since_start = record.since_start(time);
    [
        seconds(since_start),
        seconds(since_start - record.since_start(rally.began)),
        time_source(time).into(),
        maybe(shot.recorded),
    ]
}

fn striker(header: &Header, shot: &RecordedShot) -> [String; 4] {
    let one = shot.shown.team;
    let player = shot.shown.player;
    let name = player.and_then(|player| player_name(header, one, player));
    [
        team(Some(one)),
        text(&team_name(header, one)),
        maybe(player),
        text(&name.unwrap_or_default()),
    ]
}

fn depth(depth: Option<&RecordedDepth>) -> [String; 2] {
    match depth {
        None => Default::default(),
        Some(told) => [
            text(&told.depth),
            if told.inferred { "inferred" } else { "seen" }.into(),
        ],
    }
}

/// What was looked at; empty where there was nothing to look at.
fn seen(was_there: bool, cell: String) -> String {
    if was_there { cell } else { String::new() }
}

/// Whether it is known who held: not after a shot that nobody recorded, nor
/// where the plugin that says so was not there.
fn has_holder(rally: &RecordedRally, shot: &RecordedShot) -> bool {
    !rally.initiative.is_empty() && !shot.shown.assumed
}

fn holder(rally: &RecordedRally, shot: &RecordedShot) -> [String; 2] {
    if !has_holder(rally, shot) {
        return Default::default();
    }
    [
        shot.shown.toward.map_or("nobody", Team::word).into(),
        fraction(shot.shown.strength),
    ]
}
