// What a key means, given the rally so far. Expectations are written by hand from
// the description of the chart file and the keys' own description (chart/README.md).
import assert from "node:assert/strict";
import test from "node:test";
import { freshState, press } from "../../shared/charting/recorder.js";
import { HEADER, shot, soFar } from "../support/rally-so-far.js";

/** @import { Answer } from "../../shared/charting/local-chart.js" */
/** @import { Outcome } from "../../shared/charting/recorder.js" */

/** Presses keys one after another on the same rally so far. @param {Answer} answer @param {string[]} actions */
function pressed(answer, actions, state = freshState()) {
  let count = 0;
  /** @type {Outcome} */
  let last = { state, entries: [] };
  /** @type {Outcome["entries"]} */
  const entries = [];
  for (const action of actions) {
    last = press(last.state, action, { answer, header: HEADER, nextId: () => `n${(count += 1)}` });
    entries.push(...last.entries);
  }
  return { ...last, all: entries };
}

/** @param {Answer} answer @param {string[]} actions @param {object[]} expected the entries of all of them, without ids @param {Outcome["state"]} [state] */
function check(answer, actions, expected, state) {
  const { all } = pressed(answer, actions, state);
  assert.deepEqual(
    all.map(({ id: _, ...content }) => content),
    expected,
  );
}

const SERVED = soFar("a", shot("s1", 1, "a", "serve"));
const RETURNED = soFar("a", shot("s1", 1, "a", "serve"), shot("s2", 2, "b", "return"));
const DINKED = soFar("a", shot("s3", 3, "a", "drop"), shot("s4", 4, "b", "dink"));

test("the first tap of the space bar is the serve of the team that serves", () => {
  check(soFar("a"), ["next"], [{ kind: "shot", team: "a", stroke: "serve" }]);
  check(soFar("b"), ["next"], [{ kind: "shot", team: "b", stroke: "serve" }]);
});

test("the second tap is the other team's return, every later one the next team's volley", () => {
  check(SERVED, ["next"], [{ kind: "shot", team: "b", stroke: "return" }]);
  check(RETURNED, ["next"], [{ kind: "shot", team: "a", stroke: "volley" }]);
  check(DINKED, ["next"], [{ kind: "shot", team: "a", stroke: "volley" }]);
});

test("teams take turns, and a stroke key carries the contact that is in it", () => {
  check(RETURNED, ["stroke:drop"], [{ kind: "shot", team: "a", stroke: "drop" }]);
  check(DINKED, ["stroke:dink:air"], [{ kind: "shot", team: "a", stroke: "dink", contact: "air" }]);
  check(DINKED, ["stroke:dink:half_volley"], [{ kind: "shot", team: "a", stroke: "dink", contact: "half_volley" }]);
});

test("a stroke key right after the serve is the third shot, the return comes along", () => {
  check(
    SERVED,
    ["stroke:drop"],
    [
      { kind: "shot", team: "b", stroke: "return" },
      { kind: "shot", team: "a", stroke: "drop" },
    ],
  );
});

test("a stroke key after anything but a serve brings no return along", () => {
  const first = soFar("a", shot("s1", 1, "a", "drive"));
  check(first, ["stroke:block"], [{ kind: "shot", team: "b", stroke: "block" }]);
});

test("after the key for the same side the next shot is by the team that hit last, so that the host sees a missed one", () => {
  check(DINKED, ["missed", "stroke:dink"], [{ kind: "shot", team: "b", stroke: "dink" }]);
  check(SERVED, ["missed", "stroke:drop"], [{ kind: "shot", team: "a", stroke: "drop" }]);
  check(soFar("a"), ["missed", "next"], [{ kind: "shot", team: "b", stroke: "serve" }]);
});

test("the key for the same side counts for one shot and can be taken back", () => {
  assert.equal(pressed(DINKED, ["missed", "stroke:dink"]).state.sameSide, false);
  check(DINKED, ["missed", "missed", "stroke:dink"], [{ kind: "shot", team: "a", stroke: "dink" }]);
  check(DINKED, ["missed", "cancel", "stroke:dink"], [{ kind: "shot", team: "a", stroke: "dink" }]);
});

test("a cue is about the latest shot and names none", () => {
  check(DINKED, ["cue:off_balance"], [{ kind: "cue", cue: "off_balance" }]);
  check(DINKED, ["cue:attackable"], [{ kind: "cue", cue: "attackable" }]);
});

for (const stroke of ["overhead", "speedup", "erne", "atp"]) {
  test(`attackable right after an ${stroke} is about the ball before and names its shot`, () => {
    const attacked = soFar("a", shot("s4", 4, "b", "dink"), shot("s5", 5, "a", stroke));
    check(attacked, ["cue:attackable"], [{ kind: "cue", cue: "attackable", shot: "s4" }]);
    check(attacked, ["cue:awkward"], [{ kind: "cue", cue: "awkward" }]);
    check(attacked, ["before", "cue:attackable"], [{ kind: "cue", cue: "attackable" }]);
  });
}

test("attackable after an attack on a ball that is marked already is about the attack itself", () => {
  const within = soFar("a", shot("s4", 4, "b", "dink", { cues: ["attackable"] }), shot("s5", 5, "a", "overhead"));
  check(within, ["cue:attackable"], [{ kind: "cue", cue: "attackable" }]);
  const apart = soFar(
    "a",
    shot("s4", 4, "b", "dink"),
    { id: "c1", kind: "cue", cue: "attackable" },
    shot("s5", 5, "a", "overhead"),
  );
  check(apart, ["cue:attackable"], [{ kind: "cue", cue: "attackable" }]);
  const named = soFar("a", shot("s4", 4, "b", "dink"), shot("s5", 5, "a", "overhead"), {
    id: "c1",
    kind: "cue",
    cue: "attackable",
    shot: "s4",
  });
  check(named, ["cue:attackable"], [{ kind: "cue", cue: "attackable" }]);
});

test("the key for the ball before turns one cue round, whichever it is", () => {
  check(DINKED, ["before", "cue:awkward"], [{ kind: "cue", cue: "awkward", shot: "s3" }]);
  assert.equal(pressed(DINKED, ["before", "cue:awkward"]).state.before, false);
  check(SERVED, ["before", "cue:net_cord"], [{ kind: "cue", cue: "net_cord" }]);
});

test("a cue before any shot is recorded as nothing, and said", () => {
  const { all, say } = pressed(soFar("a"), ["cue:attackable"]);
  assert.deepEqual(all, []);
  assert.match(say, /there is none yet/);
});

test("a contact key changes the latest shot, and a second tap takes it back", () => {
  check(
    DINKED,
    ["contact:half_volley"],
    [{ kind: "amend", target: "s4", with: { kind: "shot", team: "b", stroke: "dink", contact: "half_volley" } }],
  );
  const half = soFar("a", shot("s4", 4, "b", "dink", { contact: "half_volley" }));
  check(
    half,
    ["contact:half_volley"],
    [{ kind: "amend", target: "s4", with: { kind: "shot", team: "b", stroke: "dink" } }],
  );
});

test("an end is two keys: how, then Enter for the side that hit last", () => {
  check(DINKED, ["end:out", "confirm"], [{ kind: "rally_end", how: "out", by: "b" }]);
  check(DINKED, ["end:winner", "confirm"], [{ kind: "rally_end", how: "winner", by: "b" }]);
  check(DINKED, ["end:net", "team:a"], [{ kind: "rally_end", how: "net", by: "a" }]);
  check(DINKED, ["end:fault", "team:b"], [{ kind: "rally_end", how: "fault", by: "b" }]);
});

test("a winner with nothing but the serve struck is an ace", () => {
  check(SERVED, ["end:winner", "confirm"], [{ kind: "rally_end", how: "ace", by: "a" }]);
  check(RETURNED, ["end:winner", "confirm"], [{ kind: "rally_end", how: "winner", by: "b" }]);
  // Where only the last shots are charted, the first one is no serve.
  check(
    soFar("a", shot("s1", 1, "a", "overhead")),
    ["end:winner", "confirm"],
    [{ kind: "rally_end", how: "winner", by: "a" }],
  );
});

test("an arrow alone says who won, without how", () => {
  check(soFar("a"), ["team:b"], [{ kind: "rally_end", won_by: "b" }]);
  check(DINKED, ["team:a"], [{ kind: "rally_end", won_by: "a" }]);
});

test("one key of an end records nothing, and Escape forgets it", () => {
  check(DINKED, ["end:out"], []);
  check(DINKED, ["end:out", "cancel", "team:a"], [{ kind: "rally_end", won_by: "a" }]);
  check(DINKED, ["confirm"], []);
});

test("an end for the side that hit last needs somebody who hit", () => {
  const { all, say } = pressed(soFar("a"), ["end:out", "confirm"]);
  assert.deepEqual(all, []);
  assert.match(say, /which team/);
});

test("a replay is confirmed by any second key of an end, a time-out needs its team", () => {
  check(DINKED, ["replay", "confirm"], [{ kind: "replay" }]);
  check(soFar("a"), ["replay", "confirm"], [{ kind: "replay" }]);
  check(soFar("a"), ["time_out", "team:b"], [{ kind: "time_out", team: "b" }]);
  assert.match(pressed(soFar("a"), ["time_out", "confirm"]).say, /needs a team/);
});

test("depth: first tap in transition, tapped again at the line, again back: one entry, changed", () => {
  check(DINKED, ["depth:a"], [{ kind: "depth", team: "a", depth: "transition" }]);
  const once = soFar("a", shot("s4", 4, "b", "dink"), { id: "d1", kind: "depth", team: "a", depth: "transition" });
  check(once, ["depth:a"], [{ kind: "amend", target: "d1", with: { kind: "depth", team: "a", depth: "line" } }]);
  const twice = soFar("a", { id: "d1", kind: "depth", team: "a", depth: "line" });
  check(twice, ["depth:a"], [{ kind: "amend", target: "d1", with: { kind: "depth", team: "a", depth: "back" } }]);
});

test("how much is charted goes round between rallies and not within one", () => {
  assert.deepEqual(
    ["detail"].map((one) => pressed(soFar("a"), [one]).state.detail),
    ["ends"],
  );
  assert.equal(pressed(soFar("a"), ["detail", "detail"]).state.detail, "score");
  assert.equal(pressed(soFar("a"), ["detail", "detail", "detail"]).state.detail, "shots");
  assert.equal(pressed(DINKED, ["detail"]).state.detail, "shots");
});

test("with the score only, shots are not charted, and ends are", () => {
  const state = { ...freshState(), detail: "score" };
  check(soFar("a"), ["next", "stroke:dink", "team:a"], [{ kind: "rally_end", won_by: "a" }], state);
  assert.match(pressed(soFar("a"), ["next"], state).say, /not charted/);
});

test("with ends and cues the first key is the last shot of the rally, not a serve with a return to come", () => {
  const state = { ...freshState(), detail: "ends" };
  check(soFar("a"), ["stroke:overhead"], [{ kind: "shot", team: "a", stroke: "overhead" }], state);
});

const ENDS = { ...freshState(), detail: "ends" };

test("with ends and cues alone the space bar is no serve, and a stroke brings no return along", () => {
  check(soFar("a"), ["next"], [{ kind: "shot", team: "a", stroke: "volley" }], ENDS);
  check(SERVED, ["stroke:drop"], [{ kind: "shot", team: "b", stroke: "drop" }], ENDS);
});

test("with ends and cues alone Enter ends nothing: no side is known before the end names one", () => {
  const { all, say, state } = pressed(DINKED, ["end:out", "confirm"], ENDS);
  assert.deepEqual(all, []);
  assert.match(say, /which team/);
  assert.equal(state.armed, "out");
});

for (const how of ["winner", "out", "net", "fault"]) {
  for (const team of ["a", "b"]) {
    test(`with ends and cues alone ${how} by ${team} says that ${team} struck last, and the sides follow backwards`, () => {
      const { all } = pressed(
        DINKED,
        [`end:${how}`, `team:${team}`, ...(how === "fault" ? [`team:${team}`] : [])],
        ENDS,
      );
      const [end] = all.slice(-1);
      assert.deepEqual({ ...end, id: "" }, { id: "", kind: "rally_end", how, by: team });
      // As charted a hit the drop and b, last, the dink.
      const sides = new Map([
        ["s3", "a"],
        ["s4", "b"],
      ]);
      for (const { target, with: content } of all.slice(0, -1)) sides.set(target, content.team);
      assert.deepEqual([sides.get("s4"), sides.get("s3")], [team, team === "a" ? "b" : "a"]);
    });
  }
}

test("what waits for another key goes first: undo takes it back and no entry", () => {
  for (const action of ["end:out", "missed", "before", "time_out"]) {
    const { all, state } = pressed(DINKED, [action, "undo"], { ...freshState(), done: ["s4"] });
    assert.deepEqual(all, [], action);
    assert.deepEqual([state.armed, state.sameSide, state.before, state.done], [null, false, false, ["s4"]]);
  }
});

test("a depth key goes on from where the page thinks the team stands", () => {
  // A dink stands at the line: the next one is back.
  check(DINKED, ["depth:b"], [{ kind: "depth", team: "b", depth: "back" }]);
  check(RETURNED, ["depth:a"], [{ kind: "depth", team: "a", depth: "transition" }]);
});

/** Presses at these times. */
function timed(answer, presses, state = freshState()) {
  let last = { state, entries: [] };
  const entries = [];
  for (const [action, now] of presses) {
    last = press(last.state, action, { answer, header: HEADER, nextId: () => `n${now}`, now });
    entries.push(...last.entries);
  }
  return { ...last, all: entries };
}

test("the same arrow twice within half a second is one rally, another one or a later one is another", () => {
  const twice = timed(soFar("a"), [
    ["team:a", 1000],
    ["team:a", 1499],
  ]);
  assert.equal(twice.all.length, 1);
  assert.match(twice.say, /counted once/);
  assert.equal(
    timed(soFar("a"), [
      ["team:a", 1000],
      ["team:a", 1500],
    ]).all.length,
    2,
  );
  assert.equal(
    timed(soFar("a"), [
      ["team:a", 1000],
      ["team:b", 1100],
    ]).all.length,
    2,
  );
  // The arrow that names a team for an end is not alone.
  assert.equal(
    timed(DINKED, [
      ["team:a", 1000],
      ["end:out", 1100],
      ["team:a", 1200],
    ]).all.length,
    2,
  );
});

test("a finger that presses an arrow twice ends no second rally, whatever the arrow was for", () => {
  const kinds = ({ all }) => all.map(({ kind, target }) => target ?? kind);
  const armed = (...first) => [...first.map((action) => [action, 1000]), ["team:a", 1100], ["team:a", 1200]];
  assert.deepEqual(kinds(timed(DINKED, armed("end:out"))), ["rally_end"]);
  assert.deepEqual(kinds(timed(DINKED, armed("time_out"))), ["time_out"]);
  // Stepped to the dink, the arrow gives it to the other side.
  assert.deepEqual(kinds(timed(DINKED, armed("older"))), ["s4"]);
  // With rally results and cues alone a fault asks for two arrows, which may be the same one.
  const fault = timed(DINKED, [...armed("end:fault"), ["team:a", 1300]], { ...freshState(), detail: "ends" });
  assert.deepEqual(kinds(fault).at(-1), "rally_end");
  assert.equal(kinds(fault).filter((kind) => kind === "rally_end").length, 1);
});

const JUST_OVER = soFar(
  "a",
  { id: "s4", kind: "shot", team: "b", stroke: "dink" },
  { id: "e1", kind: "rally_end", how: "out", by: "b" },
  { id: "d1", kind: "depth", team: "a", depth: "line" },
);

test("a replay right after a rally's end annuls that rally, once it is confirmed", () => {
  check(JUST_OVER, ["replay", "confirm"], [{ kind: "amend", target: "e1", with: { kind: "replay" } }]);
  check(JUST_OVER, ["replay", "cancel"], []);
  check(JUST_OVER, ["replay", "team:a"], []);
  check(DINKED, ["replay", "confirm"], [{ kind: "replay" }]);
  check(soFar("a"), ["replay", "confirm"], [{ kind: "replay" }]);
});

test("an ace has a key: it is the server's, and brings the serve along where that has none", () => {
  check(SERVED, ["end:ace", "confirm"], [{ kind: "rally_end", how: "ace", by: "a" }]);
  check(RETURNED, ["end:ace", "confirm"], [{ kind: "rally_end", how: "ace", by: "a" }]);
  check(
    soFar("b"),
    ["end:ace", "confirm"],
    [
      { kind: "shot", team: "b", stroke: "serve" },
      { kind: "rally_end", how: "ace", by: "b" },
    ],
  );
  check(soFar("b"), ["end:ace", "confirm"], [{ kind: "rally_end", how: "ace", by: "b" }], ENDS);
  check(SERVED, ["end:ace", "team:a"], [{ kind: "rally_end", how: "ace", by: "a" }]);
});

test("a look away is one key: a note, and what is charted next leaves a gap in the rally", () => {
  const note = { kind: "note", text: "looked away" };
  check(DINKED, ["gap", "stroke:dink"], [note, { kind: "shot", team: "b", stroke: "dink" }]);
  // Two shots in a row by one team: the host counts one between them as missed.
  check(
    DINKED,
    ["gap", "end:out", "confirm"],
    [note, { kind: "shot", team: "b", stroke: "other" }, { kind: "rally_end", how: "out", by: "b" }],
  );
  check(
    DINKED,
    ["gap", "team:a"],
    [note, { kind: "shot", team: "b", stroke: "other" }, { kind: "rally_end", won_by: "a" }],
  );
  // Before the serve: the rally then begins with another stroke.
  check(soFar("a"), ["gap", "next"], [note, { kind: "shot", team: "b", stroke: "volley" }]);
  assert.equal(pressed(DINKED, ["gap", "stroke:dink"]).state.away, false);
});
