// What a charting page takes back beside the second seat: what was recorded from its own seat,
// never another person's cues. The answer stands for the host's, as its README describes it.
import assert from "node:assert/strict";
import { afterEach, test } from "node:test";
import { chartedSoFar, ofThisSeat } from "../../chart/line/charted-so-far.js";
import { doneBy } from "../../shared/charting/steps.js";

const HEADER = { kind: "match", id: "m1" };
const entry = (seq, id, seat, more = { kind: "shot" }) => ({ id, at: "2026-05-09T10:00:00.000Z", ...more, seq, seat });
const cue = (seq, id) => entry(seq, id, "cues", { kind: "cue", cue: "attackable" });

const { fetch: asked, location: place } = globalThis;
afterEach(() => Object.assign(globalThis, { fetch: asked, location: place }));

/** The chart as the page fetches it, and the addresses it asked. */
async function fetched(...lines) {
  const addresses = [];
  globalThis.location = { href: "http://host.example/courts/1/chart?key=k" };
  globalThis.fetch = async (address) => {
    addresses.push(String(address));
    return new Response([HEADER, ...lines].map((line) => `${JSON.stringify(line)}\n`).join(""));
  };
  return { charted: await chartedSoFar("1", "m1"), addresses };
}

test("the chart so far is asked with the seats, which are no part of an entry", async () => {
  const { charted, addresses } = await fetched(entry(1, "x", "chart"), cue(2, "c"));
  assert.deepEqual(addresses, ["http://host.example/courts/1/chart.jsonl?seats=true&key=k"]);
  assert.deepEqual(
    charted.map(({ entry: { id, ...rest }, seq, seat, state }) => [id, Object.keys(rest), seq, seat, state]),
    [
      ["x", ["at", "kind"], 1, "chart", "stored"],
      ["c", ["at", "kind", "cue"], 2, "cues", "stored"],
    ],
  );
});

test("a cue of the second seat is nothing to undo, wherever it stands", async () => {
  const { charted } = await fetched(entry(1, "x", "chart"), cue(2, "c"), entry(3, "y", "chart"), cue(4, "d"));
  assert.deepEqual(doneBy(ofThisSeat(charted)), { done: ["x", "y"], undone: [] });
});

test("what was undone here can be done again though a cue came between", async () => {
  const back = entry(4, "r", "chart", { kind: "retract", target: "y" });
  const { charted } = await fetched(entry(1, "x", "chart"), entry(2, "y", "chart"), cue(3, "c"), back, cue(5, "d"));
  assert.deepEqual(doneBy(ofThisSeat(charted)), { done: ["x"], undone: ["y r"] });
});

test("what is kept here without a seat was recorded here", async () => {
  const { charted } = await fetched(entry(1, "x", "chart"), cue(2, "c"));
  const waiting = { entry: { id: "y", at: "", kind: "shot" }, state: "waiting", court: "1", place: 2 };
  assert.deepEqual(doneBy(ofThisSeat([...charted, waiting])).done, ["x", "y"]);
});
