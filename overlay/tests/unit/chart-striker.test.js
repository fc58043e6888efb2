// Which player it was: what the one key for it records. Expectations are written by hand
// from chart/README.md.
import assert from "node:assert/strict";
import test from "node:test";
import { defaultKeys, actionFor, parseKeys, remap } from "../../shared/charting/keys.js";
import { freshState, press } from "../../shared/charting/recorder.js";
import { entryWords } from "../../shared/charting/words.js";
import { HEADER, shot, soFar } from "../support/rally-so-far.js";

let count = 0;
const act = (answer, state, action, header = HEADER) =>
  press(state, action, { answer, header, nextId: () => `n${(count += 1)}` });
const tap = (...entries) => act(soFar("a", ...entries), freshState(), "player");
const SERVE = shot("s1", 1, "a", "serve", { known: 1 });
const RETURN = shot("s2", 2, "b", "return", { known: 0 });

/** Taps the key until somebody who was named is named no more. @returns the players it named in turn */
function round(...entries) {
  const players = [];
  let now = entries;
  for (let taps = 0; taps < 4; taps += 1) {
    const [{ target, with: content }] = tap(...now).entries;
    players.push(content.player);
    if (content.player === undefined) return players;
    now = now.map((entry) => (entry.id === target ? { ...entry, player: content.player } : entry));
  }
  throw new Error(`the key goes round without an end: ${players}`);
}

test("the key names the partner of whoever of the team hit before, then that one, then nobody", () => {
  assert.deepEqual(round(SERVE, RETURN, shot("s3", 3, "a", "drop")), [0, 1, undefined]);
  assert.deepEqual(round(SERVE, RETURN, shot("s3", 3, "a", "drop"), shot("s4", 4, "b", "dink")), [1, 0, undefined]);
  const named = shot("s3", 3, "a", "drop", { player: 0 });
  assert.deepEqual(round(SERVE, RETURN, named, shot("s4", 4, "b", "dink"), shot("s5", 5, "a", "dink")), [
    1,
    0,
    undefined,
  ]);
});

test("where nobody of the team is known yet it begins with the first player", () => {
  assert.deepEqual(round(shot("s1", 1, "a", "drive")), [0, 1, undefined]);
});

test("on a serve or a return whose player the score tells, the first tap is the partner", () => {
  assert.equal(tap(SERVE).entries[0].with.player, 0);
  assert.equal(tap(SERVE, RETURN).entries[0].with.player, 1);
});

test("a tap is one amend of the latest shot with all that it says, told aloud, and undone by one key", () => {
  const cued = shot("s3", 3, "a", "dink", { contact: "air", cues: ["awkward"] });
  const answer = soFar("a", SERVE, RETURN, cued, { id: "c1", kind: "cue", cue: "attackable" });
  const { entries, state, say } = act(answer, freshState(), "player");
  const [{ id, ...content }] = entries;
  assert.deepEqual(content, {
    kind: "amend",
    target: "s3",
    with: { kind: "shot", team: "a", stroke: "dink", contact: "air", cues: ["awkward"], player: 0 },
  });
  assert.equal(say, "player: A0");
  const [undone] = act(answer, state, "undo").entries;
  assert.deepEqual([undone.kind, undone.target], ["retract", id]);
});

test("between rallies the key is about the end, while fixing about the entry stepped to", () => {
  const dinked = shot("s3", 3, "a", "dink");
  const end = { id: "e1", kind: "rally_end", how: "net", by: "a" };
  const over = { ...soFar("a", SERVE, RETURN, dinked, end), rally: [] };
  assert.deepEqual(act(over, freshState(), "player").entries[0].with, {
    kind: "rally_end",
    how: "net",
    by: "a",
    player: 0,
  });
  const fixing = { ...freshState(), selected: "s3" };
  const { entries, state } = act(over, fixing, "player");
  assert.deepEqual([entries[0].target, state.selected], ["s3", "s3"]);
});

test("it names nobody, and says why, without a shot, in singles, and at an end of no known team", () => {
  for (const [answer, header, words] of [
    [soFar("a"), HEADER, /no shot yet/],
    [soFar("a", SERVE), { ...HEADER, format: { ...HEADER.format, discipline: "singles" } }, /singles/],
    [soFar("a", { id: "e1", kind: "rally_end", won_by: "a" }), HEADER, /by which team/],
  ]) {
    const { entries, say } = act(answer, freshState(), "player", header);
    assert.deepEqual(entries, []);
    assert.match(say, words);
  }
  const { say } = act(
    soFar("a", { id: "t1", kind: "time_out", team: "a" }),
    { ...freshState(), selected: "t1" },
    "player",
  );
  assert.match(say, /only a shot/);
});

test("a name stays with another stroke, contact, cue or end, and goes with another team", () => {
  const named = shot("s3", 3, "a", "drop", { player: 1 });
  const fixing = { ...freshState(), selected: "s3" };
  const answer = soFar("a", SERVE, RETURN, named);
  for (const action of ["stroke:dink", "contact:air", "cue:awkward"])
    assert.equal(act(answer, fixing, action).entries[0].with.player, 1, action);
  for (const action of ["team:b", "missed"])
    assert.equal(act(answer, fixing, action).entries[0].with.player, undefined, action);
  const end = soFar("a", { id: "e1", kind: "rally_end", how: "net", by: "a", player: 1 });
  const atEnd = { ...freshState(), selected: "e1" };
  assert.equal(act(end, atEnd, "end:out").entries[0].with.player, 1);
  assert.equal(act(end, atEnd, "team:b").entries[0].with.player, undefined);
});

test("with ends and cues alone a shot turned over by the end loses the player of the other side", () => {
  const answer = soFar("a", shot("s1", 1, "a", "dink", { player: 1 }));
  const ended = act(answer, { ...freshState(), detail: "ends", armed: "out" }, "team:b");
  assert.deepEqual(ended.entries[0].with, { kind: "shot", team: "b", stroke: "dink" });
});

test("the last entries name the player where charted or told by the score", () => {
  const { recent } = soFar("a", SERVE, RETURN, shot("s3", 3, "a", "drop"), shot("s4", 4, "b", "dink", { player: 1 }));
  assert.deepEqual(
    recent.map((seen) => entryWords(HEADER, seen)),
    ["serve, Ada (A1)", "return, Bo (B0)", "drop, Ada", "dink, Bo (B1)"],
  );
  const [end] = soFar("a", { id: "e1", kind: "rally_end", how: "net", by: "a", player: 1 }).recent;
  assert.equal(entryWords(HEADER, end), "net by Ada (A1)");
});

test("a key file from before the player key is still understood, also where it gave T away", () => {
  const own = remap(defaultKeys(), "undo", "KeyT");
  const { player: _, ...codes } = own.codes;
  const keys = parseKeys(JSON.stringify({ on: true, codes }));
  assert.equal(actionFor(keys, "KeyT"), "undo");
  assert.equal(actionFor(keys, "Backspace"), "player");
});
