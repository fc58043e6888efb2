// A return nobody typed is said to be one, as long as nobody has looked at it.
import assert from "node:assert/strict";
import test from "node:test";
import { freshState, press } from "../../shared/charting/recorder.js";

const serve = { id: "s1", number: 1, team: "a", contact: null, missed_before: false };
const answer = {
  rally: [serve],
  recent: [{ entry: { id: "s1", at: "", kind: "shot", team: "a", stroke: "serve" }, shot: serve, flags: [] }],
  score: { serving: "a" },
};
const context = () => {
  let count = 0;
  return { answer, header: {}, nextId: () => `n${(count += 1)}` };
};

test("a stroke right after the serve brings the return along and says so", () => {
  const { state, entries, say } = press(freshState(), "stroke:drop", context());
  assert.deepEqual(
    entries.map(({ id, team, stroke }) => [id, team, stroke]),
    [
      ["n1", "b", "return"],
      ["n2", "a", "drop"],
    ],
  );
  assert.equal(say, "return assumed");
  assert.deepEqual(state.assumed, ["n1"]);
});

test("a return that was typed is not assumed", () => {
  const { state, entries, say } = press(freshState(), "next", context());
  assert.deepEqual(
    entries.map(({ stroke }) => stroke),
    ["return"],
  );
  assert.equal(say, undefined);
  assert.deepEqual(state.assumed, []);
});

test("an assumed return that is fixed is no longer assumed", () => {
  const returned = { id: "n1", at: "", kind: "shot", team: "b", stroke: "return" };
  const after = { ...context(), answer: { ...answer, recent: [...answer.recent, { entry: returned, flags: [] }] } };
  const { state } = press({ ...freshState(), assumed: ["n1"], selected: "n1" }, "cue:awkward", after);
  assert.deepEqual(state.assumed, []);
});
