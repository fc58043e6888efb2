// The reducer: snapshots, updates, patches of a rally, moments, and what it
// leaves alone.

import assert from "node:assert/strict";
import { test } from "node:test";
import { initialState, readingOf, reduce } from "../../shared/state.js";
import { SCORE, held, initiative, rally, reading, shot, snapshot, update } from "../support/states.js";

function fold(...messages) {
  return messages.reduce(freezeAndReduce, initialState());
}

/** A reducer that changed what it was given would throw here. */
function freezeAndReduce(state, message) {
  deepFreeze(state);
  deepFreeze(message);
  return reduce(state, message);
}

function deepFreeze(value) {
  if (value === null || typeof value !== "object" || Object.isFrozen(value)) return;
  Object.freeze(value);
  Object.values(value).forEach(deepFreeze);
}

const streak = (team, n) => reading("escape.streak", team, { type: "count", n });

test("a_snapshot_is_taken_whole", () => {
  const state = fold(snapshot());
  assert.equal(state.seq, 41);
  assert.equal(state.match.id, "invented");
  assert.equal(state.rally.shots.length, 3);
  assert.deepEqual(readingOf(state, "escape.share", "b").value, { type: "share", part: 9, whole: 14 });
});

test("a_snapshot_without_a_match_forgets_the_one_before", () => {
  const state = fold(snapshot(), snapshot({ match: null, score: null, readings: [], rally: null }));
  assert.equal(state.match, null);
  assert.deepEqual(state.readings, {});
});

test("an_update_changes_what_it_names_and_nothing_else", () => {
  const before = fold(snapshot());
  const state = freezeAndReduce(before, update(42, { readings: [initiative("a")] }));
  assert.equal(state.seq, 42);
  assert.equal(readingOf(state, "initiative").value.toward, "a");
  assert.equal(state.score, before.score);
  assert.equal(state.rally, before.rally);
});

test("play_is_paused_for_as_long_as_messages_say_so", () => {
  assert.equal(fold(snapshot()).paused, false);
  assert.equal(fold(snapshot({ paused: true })).paused, true);
  assert.equal(fold(snapshot(), update(41, { paused: true })).paused, true);
  assert.equal(fold(snapshot({ paused: true }), update(42)).paused, false);
  assert.equal(fold(snapshot({ paused: true }), snapshot()).paused, false);
  for (const wrong of [1, "true", null]) assert.equal(fold(snapshot({ paused: wrong })).paused, false);
});

test("readings_that_are_gone_are_gone", () => {
  const state = fold(
    snapshot(),
    update(42, { gone: [{ indicator: "escape.streak", team: "a", player: null, slot: null }] }),
  );
  assert.equal(readingOf(state, "escape.streak", "a"), null);
  assert.notEqual(readingOf(state, "escape.streak", "b"), null);
});

test("the_same_update_again_changes_nothing", () => {
  const message = update(42, { readings: [streak("a", 1)], rally: { number: 12, shots: [shot(4, "a", "reset")] } });
  const once = fold(snapshot(), message);
  assert.deepEqual(freezeAndReduce(once, message), once);
});

test("an_older_update_is_left_alone", () => {
  const state = fold(snapshot(), update(45));
  assert.equal(freezeAndReduce(state, update(44, { readings: [initiative("a")] })), state);
});

test("an_update_of_an_older_revision_is_left_alone", () => {
  const state = fold(snapshot({ revision: 2, seq: 50 }));
  assert.equal(freezeAndReduce(state, update(51, { revision: 1, readings: [initiative("a")] })), state);
});

test("an_update_of_a_revision_without_its_snapshot_asks_for_one", () => {
  const state = fold(snapshot(), update(42, { revision: 1 }));
  assert.equal(state.outOfStep, true);
  assert.equal(state.seq, 41);
  assert.equal(freezeAndReduce(state, snapshot({ revision: 1, seq: 42 })).outOfStep, false);
});

test("an_update_before_any_snapshot_asks_for_one", () => {
  assert.equal(fold(update(1)).outOfStep, true);
});

test("faults_change_where_an_update_says_so", () => {
  const faults = [{ plugin: "escape", message: "stopped" }];
  const state = fold(snapshot(), update(42, { unavailable: faults }), update(43));
  assert.deepEqual(state.unavailable, faults);
  assert.deepEqual(freezeAndReduce(state, update(44, { unavailable: [] })).unavailable, []);
});

test("shots_are_put_in_by_number", () => {
  const patch = { number: 12, shots: [shot(5, "a", "dink"), shot(4, "a", null, { assumed: true, entry: null })] };
  const state = fold(snapshot(), update(42, { rally: patch }));
  assert.deepEqual(
    state.rally.shots.map((one) => one.n),
    [1, 2, 3, 4, 5],
  );
  const marked = update(43, { rally: { number: 12, shots: [shot(5, "a", "dink", { cues: ["attackable"] })] } });
  assert.deepEqual(freezeAndReduce(state, marked).rally.shots[4].cues, ["attackable"]);
});

test("a_higher_number_begins_a_rally_and_keeps_the_old_one", () => {
  const end = { entry: "r12e", won_by: "a", how: "winner", by: "a" };
  const state = fold(
    snapshot(),
    update(42, { rally: { number: 12, shots: [], end } }),
    update(43, { rally: { number: 13, shots: [shot(1, "a", "serve")] } }),
  );
  assert.equal(state.rally.number, 13);
  assert.equal(state.rally.end, null);
  assert.deepEqual(
    state.rally.earlier.map((one) => one.number),
    [12],
  );
  assert.deepEqual(state.rally.earlier[0].end, end);
});

test("a_page_keeps_five_earlier_rallies", () => {
  const patches = Array.from({ length: 9 }, (_, at) =>
    update(42 + at, { rally: { number: 13 + at, shots: [shot(1, "a", "serve")] } }),
  );
  const state = fold(snapshot(), ...patches);
  assert.deepEqual(
    state.rally.earlier.map((one) => one.number),
    [20, 19, 18, 17, 16],
  );
});

test("a_rally_in_which_nothing_happened_is_not_kept", () => {
  const empty = rally(null, { shots: [] });
  const state = fold(snapshot({ rally: empty }), update(42, { rally: { number: 13, shots: [shot(1, "a", "serve")] } }));
  assert.deepEqual(state.rally.earlier, []);
});

test("a_first_rally_begins_out_of_nothing", () => {
  const state = fold(snapshot({ rally: null }), update(42, { rally: { number: 1, shots: [shot(1, "a", "serve")] } }));
  assert.equal(state.rally.number, 1);
  assert.deepEqual(state.rally.earlier, []);
});

test("a_streak_that_grows_is_a_moment", () => {
  const state = fold(
    snapshot(),
    update(42, { readings: [streak("b", 1)] }),
    update(43, { readings: [streak("b", 2)] }),
  );
  assert.deepEqual(state.moment, { id: 2, kind: "escape", team: "b", streak: 2 });
});

test("a_streak_that_ends_is_no_moment", () => {
  const state = fold(
    snapshot(),
    update(42, { readings: [streak("b", 2)] }),
    update(43, { readings: [streak("b", 0)] }),
  );
  assert.equal(state.moments, 1);
  assert.equal(state.moment, null);
});

const escaped = update(42, { readings: [initiative(null), streak("a", 2)] });
const endedFor = (team) =>
  update(43, { rally: { number: 12, shots: [], end: { entry: "r12e", won_by: team, how: "out", by: null } } });

for (const [what, later, stays] of [
  ["the_team_loses_the_rally_from_level", endedFor("b"), false],
  ["the_team_is_under_pressure_again", update(43, { readings: [initiative("b")] }), false],
  ["the_rally_is_replayed_and_the_streak_taken_back", update(43, { readings: [streak("a", 1)] }), false],
  ["the_team_goes_on_to_attack", update(43, { readings: [initiative("a")] }), true],
  ["the_team_wins_the_rally", endedFor("a"), true],
  ["the_next_shot_is_struck", update(43, { rally: { number: 12, shots: [shot(5, "b", "dink")] } }), true],
]) {
  test(`out_of_pressure_${stays ? "stays" : "gives_way"}_when_${what}`, () => {
    assert.equal(fold(held("b"), escaped, later).moment?.kind ?? null, stays ? "escape" : null);
  });
}

test("a_game_point_gives_way_once_it_is_gone", () => {
  const point = update(42, { score: { ...SCORE, game_point: "b" } });
  assert.equal(fold(snapshot(), point, update(43)).moment.kind, "game point");
  assert.equal(fold(snapshot(), point, update(43, { score: SCORE })).moment, null);
});

test("a_streak_that_appears_with_its_plugin_is_no_moment", () => {
  const state = fold(snapshot({ readings: [] }), update(42, { readings: [streak("b", 3)] }));
  assert.equal(state.moment, null);
});

test("a_correction_takes_back_a_moment_that_was_none", () => {
  const escaped = update(42, { readings: [streak("b", 1)] });
  const readings = [streak("a", 0), streak("b", 0)];
  const corrected = fold(snapshot(), escaped, snapshot({ seq: 43, revision: 1, reason: "corrected", readings }));
  assert.equal(corrected.moment, null);
  const kept = fold(
    snapshot(),
    escaped,
    snapshot({ seq: 43, revision: 1, reason: "corrected", readings: [streak("b", 1)] }),
  );
  assert.equal(kept.moment.id, 1);
});

test("a_beat_changes_nothing", () => {
  const state = fold(snapshot());
  assert.equal(freezeAndReduce(state, { type: "beat" }), state);
});

for (const message of [
  { type: "weather", rain: true },
  { type: "unreadable" },
  { type: "snapshot", seq: 1 },
  { type: "snapshot", seq: 1, revision: 0, readings: [], rally: { number: 1 } },
  { type: "update", seq: 42, revision: 0 },
  { type: "update", seq: 42, revision: 0, readings: [], rally: { shots: [] } },
]) {
  test(`${JSON.stringify(message)}_is_counted_and_left_alone`, () => {
    const before = fold(snapshot());
    const after = freezeAndReduce(before, message);
    assert.deepEqual(after, { ...before, ignored: 1 });
  });
}

const scored = (seq, extra) => update(seq, { score: { ...SCORE, ...extra } });
const momentAfter = (...messages) => {
  const { moment } = fold(snapshot(), ...messages);
  return moment === null ? null : [moment.kind, moment.team, moment.streak];
};

test("a_change_of_ends_is_no_moment_for_the_plate_says_it", () => {
  assert.equal(momentAfter(scored(42, { change_ends: true })), null);
});

for (const [what, extra, expected] of [
  ["a_game_point", { game_point: "b" }, ["game point", "b", 0]],
  ["a_match_point_over_its_game_point", { game_point: "a", match_point: "a" }, ["match point", "a", 0]],
  [
    "a_game_won_over_its_change_of_ends",
    { finished: [...SCORE.finished, { a: 9, b: 11 }], game: 3, change_ends: true },
    ["game", "b", 2],
  ],
  [
    "the_match_won_over_its_last_game",
    { winner: "a", finished: [...SCORE.finished, { a: 11, b: 5 }] },
    ["match", "a", 0],
  ],
]) {
  test(`${what}_is_a_moment_once_and_not_again_while_it_lasts`, () => {
    assert.deepEqual(momentAfter(scored(42, extra)), expected);
    assert.equal(fold(snapshot(), scored(42, extra), scored(43, extra)).moments, 1);
  });

  test(`${what}_that_stood_when_the_page_opened_is_no_moment`, () => {
    assert.equal(fold(snapshot({ score: { ...SCORE, ...extra } }), scored(42, extra)).moment, null);
  });

  test(`${what}_stays_through_a_correction_only_if_it_still_holds`, () => {
    const corrected = (score) => snapshot({ seq: 43, revision: 1, reason: "corrected", score });
    assert.deepEqual(momentAfter(scored(42, extra), corrected({ ...SCORE, ...extra })), expected);
    assert.equal(momentAfter(scored(42, extra), corrected(SCORE)), null);
  });
}

test("out_of_pressure_straight_on_to_offense_is_turned", () => {
  const grown = (toward) => update(42, { readings: [initiative(toward), streak("a", 2)] });
  const kind = (toward) => fold(held("b"), grown(toward)).moment.kind;
  assert.equal(kind("a"), "turned");
  assert.equal(kind(null), "escape");
  assert.equal(kind("b"), "escape");
});
