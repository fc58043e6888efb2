// One key too few or too many, noticed later: what becomes of the sides of the shots
// after it. Expectations are written by hand.
import assert from "node:assert/strict";
import test from "node:test";
import { freshState, press } from "../../shared/charting/recorder.js";
import { doneBy } from "../../shared/charting/steps.js";
import { entryWords } from "../../shared/charting/words.js";
import { linesOf } from "../../shared/charting/lines.js";
import { HEADER, shot, soFar } from "../support/rally-so-far.js";

let count = 0;
const act = (answer, state, action) =>
  press(state, action, { answer, header: HEADER, nextId: () => `n${(count += 1)}` });
const at = (answer, actions, state = freshState()) =>
  actions.reduce((last, action) => act(answer, last.state, action), { state, entries: [] });
const content = ({ entries }) => entries.map(({ id: _, ...rest }) => rest);
/** Whose each shot is that was amended, by id. */
const turned = ({ entries }) =>
  Object.fromEntries(entries.filter(({ kind }) => kind === "amend").map((amend) => [amend.target, amend.with.team]));
const selected = (id) => ({ ...freshState(), selected: id });

/** A shot of a rally, on whichever side is said. */
const rally = (...sides) =>
  sides.map((team, place) =>
    shot(`s${place + 1}`, place + 1, team, place === 0 ? "serve" : place === 1 ? "return" : "dink"),
  );
const end = { id: "e1", kind: "rally_end", how: "out", by: "a" };

test("an inserted shot turns the later ones of the rally over", () => {
  const inserted = act(
    soFar("a", ...rally("a", "b", "a", "b", "a")),
    { ...selected("s3"), inserting: true },
    "stroke:dink",
  );
  assert.equal(inserted.entries[0].kind, "insert");
  assert.equal(inserted.entries[0].entry.team, "b");
  assert.deepEqual(turned(inserted), { s4: "a", s5: "b" });
  assert.equal(inserted.say, "inserted: dink, Bo; 2 later shots switched to the other team");
});

test("a gap noticed while charting takes up the turn: what stands after it was right all along", () => {
  // The charter missed one after s3, and said so at s6.
  const answer = soFar("a", ...rally("a", "b", "a", "b", "a", "a", "b"));
  assert.deepEqual(turned(act(answer, { ...selected("s3"), inserting: true }, "stroke:dink")), { s4: "a", s5: "b" });
});

test("a shot inserted into a gap turns nothing over", () => {
  const inserted = act(
    soFar("a", ...rally("a", "b", "a", "a", "b")),
    { ...selected("s3"), inserting: true },
    "stroke:dink",
  );
  assert.deepEqual(content(inserted), [
    { kind: "insert", after: "s3", entry: { kind: "shot", team: "b", stroke: "dink" } },
  ]);
  assert.equal(inserted.say, "inserted: dink, Bo");
});

test("the end of a rally and the next rally stay as they are, and that the end stays is said", () => {
  const inserted = act(
    soFar("a", ...rally("a", "b", "a"), end, shot("t1", 1, "a", "serve"), shot("t2", 2, "b", "return")),
    { ...selected("s2"), inserting: true },
    "stroke:drop",
  );
  assert.deepEqual(turned(inserted), { s3: "b" });
  assert.equal(inserted.say, "inserted: drop, Ada; 1 later shot switched to the other team; the end stays out by Ada");
  assert.deepEqual(
    turned(act(soFar("a", ...rally("a", "b", "a"), end), { ...selected("e1"), inserting: true }, "next")),
    {},
  );
});

test("a player of the other side does not go along with a shot that is turned over", () => {
  const inserted = act(
    soFar("a", shot("s1", 1, "a", "serve"), shot("s2", 2, "b", "return", { player: 1, cues: ["awkward"] })),
    { ...selected("s1"), inserting: true },
    "next",
  );
  assert.deepEqual(inserted.entries[1].with, { kind: "shot", team: "a", stroke: "return", cues: ["awkward"] });
});

test("a removed shot turns the later ones over, and takes what was marked on it along", () => {
  const answer = soFar(
    "a",
    ...rally("a", "b", "a"),
    { id: "c1", kind: "cue", cue: "awkward" },
    ...rally("b", "a").map((one, place) => ({ ...one, id: `s${place + 4}`, number: place + 4 })),
  );
  const removed = act(answer, selected("s3"), "remove");
  assert.deepEqual(
    removed.entries.slice(0, 2).map(({ kind, target }) => [kind, target]),
    [
      ["retract", "s3"],
      ["retract", "c1"],
    ],
  );
  assert.deepEqual(turned(removed), { s4: "a", s5: "b" });
  assert.equal(removed.say, "removed: dink, Ada, awkward; 2 later shots switched to the other team");
});

test("a shot too many that had been put right at once turns nothing when it is removed", () => {
  assert.deepEqual(turned(act(soFar("a", ...rally("a", "b", "a", "b", "b", "a")), selected("s4"), "remove")), {});
});

test("the first shot of a rally removed leaves the serve with the side that had it", () => {
  assert.deepEqual(turned(act(soFar("a", ...rally("a", "b", "a")), selected("s1"), "remove")), { s2: "a", s3: "b" });
});

test("stepped to right after its insert, the key for the same side turns the later ones back, and over again", () => {
  const answer = soFar("a", ...rally("a", "b", "a", "b"));
  const inserted = act(answer, { ...selected("s2"), inserting: true }, "stroke:drop");
  const amends = inserted.entries.slice(1).map(({ id }) => id);
  const back = at(
    soFar("a", ...rally("a", "b"), shot(inserted.entries[0].id, 3, "a", "drop"), ...rally("a", "b", "b", "a").slice(2)),
    ["older", "missed"],
    inserted.state,
  );
  assert.deepEqual(
    back.entries.map(({ kind, target }) => [kind, target]),
    amends.map((id) => ["retract", id]),
  );
  const again = at(
    soFar("a", ...rally("a", "b"), shot(inserted.entries[0].id, 3, "a", "drop"), ...rally("a", "b", "a", "b").slice(2)),
    ["older", "missed"],
    back.state,
  );
  assert.deepEqual(turned(again), { s3: "b", s4: "a" });
  assert.equal(again.state.turned.amends.length, 2);
});

test("the key for the same side turns the shot stepped to and the later ones, where it was noticed late that one was missed", () => {
  const turning = act(soFar("a", ...rally("a", "b", "a", "b", "a")), selected("s3"), "missed");
  assert.deepEqual(turned(turning), { s3: "b", s4: "a", s5: "b" });
  assert.equal(turning.say, "other side: dink, Bo; 2 later shots switched to the other team");
  assert.match(act(soFar("a", ...rally("a"), end), selected("e1"), "missed").say, /only a shot/);
});

test("an insert and all that it turned are one step back and one step forward", () => {
  const answer = soFar("a", ...rally("a", "b", "a", "b", "a"));
  const inserted = act(answer, { ...selected("s3"), inserting: true }, "stroke:dink");
  const undone = act(answer, inserted.state, "undo");
  assert.deepEqual(content(undone), inserted.entries.map(({ id }) => ({ kind: "retract", target: id })).reverse());
  assert.match(undone.say, /^undone: .*, with 2 changes that went with it$/);
  assert.equal(undone.state.done.length, 0);
  const redone = act(answer, undone.state, "redo");
  assert.deepEqual(content(redone), undone.entries.map(({ id }) => ({ kind: "retract", target: id })).reverse());
  assert.match(redone.say, /^done again, with 2 changes/);
  // The same after a reload, whatever was done last.
  const all = [inserted, undone, redone].map(({ entries }) => entries);
  for (const [
    length,
    {
      state: { done, undone: back },
    },
  ] of [
    [1, inserted],
    [2, undone],
    [3, redone],
  ]) {
    assert.deepEqual(doneBy(all.slice(0, length).flat()), { done, undone: back });
  }
});

test("ids of other makers that happen to be numbered are no step", () => {
  const entry = (id) => ({ id, kind: "shot" });
  assert.deepEqual(doneBy([entry("x"), entry("x_1"), entry("x_2")]).done, ["x", "x_1", "x_2"]);
});

test("a cue stays with its shot when one is inserted after that", () => {
  const answer = soFar(
    "a",
    ...rally("a", "b", "a"),
    { id: "c1", kind: "cue", cue: "attackable" },
    { id: "c2", kind: "cue", cue: "awkward", shot: "s2" },
  );
  assert.equal(act(answer, { ...selected("s3"), inserting: true }, "stroke:dink").entries[0].after, "c1");
});

test("a cue reads the same, and goes by the same key, whether it came with its shot, after it or by a fix", () => {
  const lineOf = (...entries) =>
    linesOf(soFar("a", ...entries).recent).map(({ seen, marks }) => entryWords(HEADER, seen, marks));
  const live = [shot("s1", 1, "a", "dink"), { id: "c1", kind: "cue", cue: "awkward" }];
  assert.deepEqual(lineOf(...live), lineOf(shot("s1", 1, "a", "dink", { cues: ["awkward"] })));
  assert.deepEqual(
    lineOf(shot("s1", 1, "a", "dink"), shot("s2", 2, "b", "overhead"), {
      id: "c1",
      kind: "cue",
      cue: "attackable",
      shot: "s1",
    }),
    ["dink, Ada, high ball", "overhead, Bo"],
  );
  assert.deepEqual(lineOf({ id: "c1", kind: "cue", cue: "awkward" }), ["awkward"]);
  const answer = soFar("a", ...live);
  assert.deepEqual(content(at(answer, ["older", "cue:awkward"])), [{ kind: "retract", target: "c1" }]);
  assert.deepEqual(content(at(answer, ["older", "cue:net_cord"]))[0].with, {
    kind: "shot",
    team: "a",
    stroke: "dink",
    cues: ["net_cord"],
  });
});
