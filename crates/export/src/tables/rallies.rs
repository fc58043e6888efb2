//! The table of rallies: a line a rally.

use rallytide_chart::{Cue, PairOf, Team};
use rallytide_match_record::{ChartingDepth, MatchRecord, RecordedRally};
use rallytide_scoring::Score;

use super::cell::{call, list, maybe, team, text, yes_no};
use crate::words::{player_name, seconds, team_name, time_source};

pub(super) const COLUMNS: &[(&str, &str)] = &[
    ("match", "the match's id"),
    ("game", "the game, from 1"),
    (
        "rally",
        "the rally, from 1 over the match, replayed ones included",
    ),
    (
        "counted",
        "1 if the score counts it, 0 if it was replayed, cut off or not ended",
    ),
    (
        "match_seconds",
        "when it began, in seconds from the first entry of the match",
    ),
    ("seconds", "from its first entry to its end"),
    (
        "time",
        "`recorded`, or `estimated` if its first entry was put in later",
    ),
    (
        "shots",
        "how many shots, assumed ones included; empty where not every shot is charted",
    ),
    (
        "shots_recorded",
        "how many were recorded; like all that is about shots empty where none is charted",
    ),
    (
        "complete",
        "1 if it begins with a serve and no shot is assumed",
    ),
    (
        "call_before",
        "the score as called before the serve, after the word `call`",
    ),
    ("points_a_before", "team a's points before it"),
    ("points_b_before", "team b's points before it"),
    ("games_a_before", "games team a had won"),
    ("games_b_before", "games team b had won"),
    ("serving", "who served by the score: `a` or `b`"),
    ("serving_name", "that team's name"),
    ("server_number", "1 or 2; empty where a turn has one server"),
    ("server", "which player served by the score, `0` or `1`"),
    ("server_name", "that player's name"),
    ("court", "the court served from, `right` or `left`"),
    ("receiver", "which player received by the score, `0` or `1`"),
    ("receiver_name", "that player's name"),
    ("won_by", "who won it: `a` or `b`"),
    ("won_by_name", "that team's name"),
    (
        "how",
        "how it ended, in the chart's words, or `replay`, `cut_off`",
    ),
    ("fault", "which fault, in the chart's words"),
    ("by", "whose shot or fault ended it"),
    ("by_name", "that team's name"),
    (
        "by_player",
        "which player of that team, `0` or `1`, where known: as charted, else whoever struck the last ball, if that team did",
    ),
    ("by_player_name", "that player's name"),
    ("point_to", "who scored a point by it; empty if nobody"),
    (
        "side_out",
        "1 if the serve went to the other team, in the middle of a game",
    ),
    ("points_a_after", "team a's points as it left them"),
    ("points_b_after", "team b's points as it left them"),
    ("game_over", "1 if it ended the game"),
    ("match_over", "1 if it ended the match"),
    ("call_after", "the next call, after the word `call`"),
    ("third_stroke", "the stroke of the third shot"),
    ("last_stroke", "the stroke of the last shot"),
    (
        "first_holder",
        "who was the first to hold the initiative; empty if nobody ever did",
    ),
    (
        "last_holder",
        "who held it at the last shot: `a`, `b`, `nobody`",
    ),
    (
        "changes",
        "how often it went to another holder, to nobody or back",
    ),
    ("attackable_a", "high balls of team a"),
    ("attackable_b", "high balls of team b"),
    ("entry", "the id of the entry that ended it"),
    (
        "flags",
        "what the charter was told about it, separated by blanks, each once",
    ),
];

pub(super) fn rows(record: &MatchRecord) -> Vec<Vec<String>> {
    let depth = record.charting_depth();
    let rallies = record.rallies();
    rallies.map(|rally| row(record, rally, depth)).collect()
}

fn row(record: &MatchRecord, rally: &RecordedRally, depth: ChartingDepth) -> Vec<String> {
    let of_shots = |cell: String| charted(depth != ChartingDepth::Score, cell);
    let before = &rally.before;
    let shots = rally.shots.len();
    let last_entry = rally
        .end
        .as_ref()
        .map(|end| end.time)
        .or_else(|| rally.shots.iter().rev().find_map(|shot| shot.time))
        .unwrap_or(rally.began);
    let began = record.since_start(rally.began);
    let mut cells = vec![
        record.header.id.to_string(),
        before.game.to_string(),
        rally.number.to_string(),
        yes_no(rally.counted),
        seconds(began),
        seconds(record.since_start(last_entry) - began),
        time_source(rally.began).into(),
        charted(depth == ChartingDepth::Shots, shots.to_string()),
        of_shots(rally.recorded_shots().count().to_string()),
        of_shots(yes_no(rally.is_charted_in_full())),
        call(before),
        before.points.a.to_string(),
        before.points.b.to_string(),
        before.games.a.to_string(),
        before.games.b.to_string(),
    ];
    cells.extend(serve(record, before));
    cells.extend(end(record, rally));
    cells.extend(led_to(rally));
    cells.extend(initiative(rally).map(of_shots));
    let ended = rally.end.as_ref();
    cells.extend([
        text(&maybe(ended.map(|end| &end.shown.entry))),
        flags(rally),
    ]);
    cells
}

/// What was not charted is empty and not zero.
fn charted(was_charted: bool, cell: String) -> String {
    if was_charted { cell } else { String::new() }
}

fn serve(record: &MatchRecord, before: &Score) -> [String; 8] {
    let header = &record.header;
    let name = |team, player| text(&player_name(header, team, player).unwrap_or_default());
    [
        team(Some(before.serving)),
        text(&team_name(header, before.serving)),
        maybe(before.server),
        before.server_player.to_string(),
        name(before.serving, before.server_player),
        before.court.to_string(),
        before.receiver_player.to_string(),
        name(before.receiving(), before.receiver_player),
    ]
}

fn end(record: &MatchRecord, rally: &RecordedRally) -> [String; 8] {
    let header = &record.header;
    let Some(end) = &rally.end else {
        return Default::default();
    };
    let name =
        |team: Option<Team>| text(&team.map_or_else(String::new, |one| team_name(header, one)));
    let player = end.shown.by.zip(end.shown.player);
    [
        team(end.shown.won_by),
        name(end.shown.won_by),
        maybe(end.shown.how),
        maybe(end.fault),
        team(end.shown.by),
        name(end.shown.by),
        maybe(end.shown.player),
        text(
            &player
                .and_then(|(team, player)| player_name(header, team, player))
                .unwrap_or_default(),
        ),
    ]
}

/// What it did to the score. Points are those it left: of a game that it ended,
/// that game's.
fn led_to(rally: &RecordedRally) -> [String; 7] {
    let (before, after) = (&rally.before, &rally.after);
    let game_over = after.finished.len() > before.finished.len();
    let points = match after.finished.last() {
        Some(points) if game_over => *points,
        _ => after.points,
    };
    let scored = |team: Team| points.of(team) > before.points.of(team);
    let point_to = Team::ALL
        .iter()
        .copied()
        .find(|team| rally.counted && scored(*team));
    let side_out = rally.counted && !game_over && before.serving != after.serving;
    [
        team(point_to),
        yes_no(side_out),
        points.a.to_string(),
        points.b.to_string(),
        yes_no(game_over),
        yes_no(after.winner.is_some()),
        call(after),
    ]
}

fn initiative(rally: &RecordedRally) -> [String; 7] {
    let stroke = |shot: Option<&rallytide_match_record::RecordedShot>| {
        maybe(shot.and_then(|shot| shot.shown.stroke))
    };
    let third = rally.shots.iter().find(|shot| shot.shown.n == 3);
    let holders: Vec<Option<Team>> = rally.initiative.iter().map(|state| state.toward).collect();
    let changes = holders.windows(2).filter(|pair| pair[0] != pair[1]).count();
    let mut high = PairOf::<u32>::default();
    for shot in &rally.shots {
        *high.of_mut(shot.shown.team) += u32::from(shot.shown.cues.contains(&Cue::Attackable));
    }
    [
        stroke(third),
        stroke(rally.shots.last()),
        team(holders.iter().find_map(|holder| *holder)),
        match holders.last() {
            None => String::new(),
            Some(holder) => holder.map_or("nobody", Team::word).into(),
        },
        changes.to_string(),
        high.a.to_string(),
        high.b.to_string(),
    ]
}

fn flags(rally: &RecordedRally) -> String {
    let of_shots = rally.shots.iter().flat_map(|shot| &shot.flags);
    let mut words: Vec<&str> = of_shots
        .chain(&rally.flags)
        .map(|flag| flag.word())
        .collect();
    words.sort_unstable();
    words.dedup();
    list(words.into_iter())
}
