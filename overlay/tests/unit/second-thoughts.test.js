// Undo, redo and fixes: what they record. Expectations are written by hand from the
// description of corrections in the chart file.
import assert from "node:assert/strict";
import test from "node:test";
import { doneBy } from "../../shared/charting/steps.js";
import { freshState, press } from "../../shared/charting/recorder.js";
import { HEADER, shot, soFar } from "../support/rally-so-far.js";

/** @import { Answer } from "../../shared/charting/local-chart.js" */
/** @import { Outcome } from "../../shared/charting/recorder.js" */

let count = 0;
/** @param {Answer} answer @param {Outcome["state"]} state @param {string} action @returns {Outcome} */
const act = (answer, state, action) =>
  press(state, action, { answer, header: HEADER, nextId: () => `n${(count += 1)}` });
/** @param {Answer} answer @param {string[]} actions */
const at = (answer, actions, state = freshState()) =>
  actions.reduce((last, action) => act(answer, last.state, action), /** @type {Outcome} */ ({ state, entries: [] }));
const content = (/** @type {Outcome} */ { entries }) => entries.map(({ id: _, ...rest }) => rest);

const RALLY = soFar(
  "a",
  shot("s1", 1, "a", "serve"),
  shot("s2", 2, "b", "return"),
  shot("s3", 3, "a", "drop", { cues: ["attackable"] }),
);
const ENDED = soFar(
  "b",
  { id: "s3", kind: "shot", team: "a", stroke: "drop" },
  { id: "e1", kind: "rally_end", how: "out", by: "a" },
);

test("undo retracts what was recorded last, redo retracts that retraction", () => {
  const state = { ...freshState(), done: ["s2", "s3"] };
  const undone = act(RALLY, state, "undo");
  assert.deepEqual(content(undone), [{ kind: "retract", target: "s3" }]);
  const again = act(RALLY, undone.state, "undo");
  assert.deepEqual(content(again), [{ kind: "retract", target: "s2" }]);
  const redone = act(RALLY, again.state, "redo");
  assert.deepEqual(content(redone), [{ kind: "retract", target: again.entries[0].id }]);
  assert.deepEqual(content(act(RALLY, redone.state, "redo")), [{ kind: "retract", target: undone.entries[0].id }]);
});

test("with nothing recorded there is nothing to undo, and after a new entry nothing to redo", () => {
  assert.match(act(RALLY, freshState(), "undo").say, /nothing to undo/);
  const undone = act(RALLY, { ...freshState(), done: ["s3"] }, "undo");
  const next = act(RALLY, undone.state, "stroke:dink");
  assert.match(act(RALLY, next.state, "redo").say, /nothing to redo/);
});

test("stepping back and a stroke key amend that shot with all of the rest of it", () => {
  const fixed = at(RALLY, ["older", "stroke:reset:air"]);
  assert.deepEqual(content(fixed), [
    {
      kind: "amend",
      target: "s3",
      with: { kind: "shot", team: "a", stroke: "reset", cues: ["attackable"], contact: "air" },
    },
  ]);
});

test("a fix ends after one change: the next stroke is the next shot", () => {
  for (const actions of [
    ["older", "older", "stroke:dink"],
    ["older", "older", "cue:awkward"],
    ["older", "older", "contact:air"],
    ["older", "older", "team:a"],
    ["older", "older", "missed"],
    ["older", "older", "insert", "stroke:dink"],
  ]) {
    const fixed = at(RALLY, actions);
    assert.equal(fixed.state.selected, null, String(actions));
    assert.deepEqual(content(act(RALLY, fixed.state, "stroke:block")), [{ kind: "shot", team: "b", stroke: "block" }]);
  }
});

test("the entry just fixed is the first that one steps to, until something is charted", () => {
  const fixed = at(RALLY, ["older", "older", "cue:awkward"]);
  assert.equal(act(RALLY, fixed.state, "older").state.selected, "s2");
  assert.equal(at(RALLY, ["older", "older"], fixed.state).state.selected, "s1");
  const charted = act(RALLY, fixed.state, "stroke:dink");
  assert.equal(act(RALLY, charted.state, "older").state.selected, "s3");
});

test("a fix that was left alone lapses, and what waits for a second key does not", () => {
  assert.equal(at(RALLY, ["older", "lapse"]).state.selected, null);
  assert.equal(at(RALLY, ["older", "insert", "lapse"]).state.inserting, false);
  assert.deepEqual(at(RALLY, ["older", "insert", "lapse"]).entries, []);
  assert.equal(at(RALLY, ["end:out", "lapse"]).state.armed, "out");
});

test("undo leaves an entry stepped to before it takes anything back", () => {
  const left = at(RALLY, ["older", "undo"], { ...freshState(), done: ["s3"] });
  assert.deepEqual([left.entries, left.state.selected], [[], null]);
  assert.deepEqual(content(act(RALLY, left.state, "undo")), [{ kind: "retract", target: "s3" }]);
});

test("a cue key adds a cue to the shot stepped to, or takes it away", () => {
  assert.deepEqual(content(at(RALLY, ["older", "cue:awkward"]))[0].with.cues, ["attackable", "awkward"]);
  assert.deepEqual(content(at(RALLY, ["older", "cue:attackable"]))[0].with, {
    kind: "shot",
    team: "a",
    stroke: "drop",
  });
});

test("a side key gives the shot stepped to the other team", () => {
  assert.deepEqual(content(at(RALLY, ["older", "older", "team:a"])), [
    { kind: "amend", target: "s2", with: { kind: "shot", team: "a", stroke: "return" } },
  ]);
});

test("an end can be changed in how and in who, and what it said of the winner goes with it", () => {
  assert.deepEqual(content(at(ENDED, ["older", "end:net"]))[0].with, { kind: "rally_end", how: "net", by: "a" });
  assert.deepEqual(content(at(ENDED, ["older", "team:b"]))[0].with, { kind: "rally_end", how: "out", by: "b" });
  const plain = soFar("a", { id: "e1", kind: "rally_end", won_by: "a" });
  assert.deepEqual(content(at(plain, ["older", "team:b"]))[0].with, { kind: "rally_end", won_by: "b" });
});

test("the key to remove retracts the entry stepped to, and leaves", () => {
  const removed = at(RALLY, ["older", "remove"]);
  assert.deepEqual(content(removed), [{ kind: "retract", target: "s3" }]);
  assert.equal(removed.state.selected, null);
  assert.match(act(RALLY, freshState(), "remove").say, /step back/);
});

test("a shot is inserted after the one stepped to, by the other team", () => {
  assert.deepEqual(content(at(RALLY, ["older", "insert", "stroke:dink"])), [
    { kind: "insert", after: "s3", entry: { kind: "shot", team: "b", stroke: "dink" } },
  ]);
  assert.deepEqual(content(at(RALLY, ["older", "older", "older", "insert", "next"]))[0], {
    kind: "insert",
    after: "s1",
    entry: { kind: "shot", team: "b", stroke: "return" },
  });
});

test("after an insert nothing is swallowed: what is typed next is the next shot, and undo takes that back first", () => {
  const inserted = at(RALLY, ["older", "older", "older", "insert", "next"]);
  const next = at(RALLY, ["stroke:dink", "stroke:block"], inserted.state);
  assert.deepEqual(content(next), [{ kind: "shot", team: "b", stroke: "block" }]);
  assert.equal(next.state.done.length, 3);
});

test("a shot inserted after something that is no shot is by the team whose turn it was", () => {
  const begun = soFar("b", { id: "e1", kind: "rally_end", won_by: "b" }, shot("s1", 1, "a", "return"));
  assert.deepEqual(content(at(begun, ["older", "older", "insert", "stroke:other"]))[0].entry.team, "b");
  const seen = soFar("a", shot("s1", 1, "a", "serve"), { id: "d1", kind: "depth", team: "b", depth: "line" });
  assert.deepEqual(content(at(seen, ["older", "insert", "next"]))[0].entry, {
    kind: "shot",
    team: "b",
    stroke: "return",
  });
});

test("the space bar leaves a fix that was forgotten and charts on", () => {
  const on = at(RALLY, ["older", "older", "next"]);
  assert.deepEqual(content(on), [{ kind: "shot", team: "b", stroke: "volley" }]);
  assert.equal(on.state.selected, null);
});

test("one steps back ten entries at most, to the oldest at last, and past the newest out again", () => {
  const many = soFar("a", ...Array.from({ length: 12 }, (_, n) => ({ id: `e${n}`, kind: "rally_end", won_by: "a" })));
  assert.equal(
    at(
      many,
      Array.from({ length: 30 }, () => "older"),
    ).state.selected,
    "e2",
  );
  assert.equal(at(many, ["older", "newer"]).state.selected, null);
  assert.match(at(soFar("a"), ["older"]).say, /nothing has been charted/);
});

test("past the last ten entries one steps from rally end to rally end, to the first of the match, and changes it", () => {
  const end = (n) => ({ entry: { id: `e${n}`, at: "", kind: "rally_end", how: "out", by: "a" }, flags: [] });
  const ends = () => [end(1), end(2), end(3)];
  const shots = Array.from({ length: 11 }, (_, n) => shot(`s${n}`, n + 1, "a", "dink"));
  const answer = soFar("a", { id: "e3", kind: "rally_end", how: "out", by: "a" }, ...shots);
  const back = (times) =>
    Array.from({ length: times }, () => "older").reduce(
      (last, action) => press(last.state, action, { answer, header: HEADER, nextId: () => "n", ends }),
      { state: freshState(), entries: [] },
    );
  assert.equal(back(10).state.selected, "s1");
  assert.deepEqual(
    [11, 12, 13, 20].map((times) => back(times).state.selected),
    ["e3", "e2", "e1", "e1"],
  );
  const on = press(back(12).state, "newer", { answer, header: HEADER, nextId: () => "n", ends });
  assert.equal(on.state.selected, "e3");
  const fixed = press(back(13).state, "end:net", { answer, header: HEADER, nextId: () => "n", ends });
  assert.deepEqual(content(fixed), [{ kind: "amend", target: "e1", with: { kind: "rally_end", how: "net", by: "a" } }]);
  const inserted = press(back(13).state, "insert", { answer, header: HEADER, nextId: () => "n", ends });
  assert.match(inserted.say, /only the end of a rally/);
});

test("where the score was taken over from another laptop, there is nothing to step back to", () => {
  const joined = soFar("a", { id: "joined-here", kind: "score_fix", points: { a: 3, b: 2 }, serving: "a" });
  assert.match(at(joined, ["older"]).say, /nothing has been charted/);
  assert.equal(
    at(soFar("a", joined.recent[0].entry, shot("s1", 1, "a", "serve")), ["older", "older"]).state.selected,
    "s1",
  );
});

test("what can be undone is the same after a reload as before", () => {
  const retract = (/** @type {string} */ id, target) => ({ id, kind: "retract", target });
  const entry = (/** @type {string} */ id) => ({ id, kind: "shot" });
  assert.deepEqual(doneBy([entry("x"), entry("y")]), { done: ["x", "y"], undone: [] });
  assert.deepEqual(doneBy([entry("x"), entry("y"), retract("r", "y")]), { done: ["x"], undone: ["y r"] });
  assert.deepEqual(doneBy([entry("x"), entry("y"), retract("r", "y"), retract("q", "r")]), {
    done: ["x", "y"],
    undone: [],
  });
  assert.deepEqual(doneBy([entry("x"), entry("y"), retract("r", "y"), entry("z")]), { done: ["x", "z"], undone: [] });
  // Removed by stepping back: that is undone like anything else.
  assert.deepEqual(doneBy([entry("x"), entry("y"), retract("r", "x")]), { done: ["x", "y", "r"], undone: [] });
  assert.deepEqual(doneBy([entry("x"), entry("y"), retract("r", "x"), retract("q", "r")]), {
    done: ["x", "y"],
    undone: ["r q"],
  });
});
