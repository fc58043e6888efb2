// The drawn court: true proportions, sides, and what the keys' hints say.
import assert from "node:assert/strict";
import test from "node:test";
import { COURT, plan, sceneAt, steppedBack } from "../../practice/choreography.js";
import { cueActions, endActions, keysToRemember, shotActions } from "../../practice/hints.js";
import { lagWords, tempoAdvice } from "../../practice/words.js";

const shot = (team, stroke, contact, at, cues = []) => ({ team, stroke, contact, at, cues, player: null });
const RALLY = {
  score: { serving: "b", court: "right", server_player: 0, receiver_player: 1 },
  shots: [
    shot("b", "serve", null, 0),
    shot("a", "return", "bounce", 1200),
    shot("b", "drop", "bounce", 2500, ["attackable"]),
    shot("a", "volley", "air", 3400),
  ],
  end: { how: "winner", by: "a", won_by: "a" },
};

test("the court has the proportions of the rulebook", () => {
  // 44 by 20 feet, non-volley zone 7 feet (USA Pickleball rulebook 2026, 3.A.1 and 3.A.4.c).
  assert.deepEqual([2 * COURT.half, 2 * COURT.side, COURT.kitchen], [44, 20, 7]);
});

test("a serve goes crosswise and bounces behind the receivers' kitchen", () => {
  const laid = plan(RALLY);
  const [{ start, stop, bounce }] = laid.legs;
  assert.ok(
    start.x > COURT.half && stop.x < 0 && Math.sign(start.y) !== Math.sign(stop.y),
    JSON.stringify({ start, stop }),
  );
  assert.ok(bounce.spot.x < -COURT.kitchen && bounce.spot.x > -COURT.half);
});

test("every ball starts on the side of who struck it, and one met in the air does not bounce", () => {
  const laid = plan(RALLY);
  for (const [place, { team }] of RALLY.shots.entries())
    assert.equal(Math.sign(laid.legs[place].start.x), team === "a" ? -1 : 1);
  assert.equal(laid.legs[2].bounce, null);
  assert.deepEqual(
    laid.marks.map(({ kind }) => kind),
    ["bounce", "bounce", "air", "landing"],
  );
});

test("a stroke's word comes when it is struck, a ball that sits up is seen on its way", () => {
  const laid = plan(RALLY);
  const words = (ms) => sceneAt(laid, ms).tags.map(({ word }) => word);
  assert.deepEqual(words(-1), []);
  assert.deepEqual(words(0), ["serve"]);
  assert.deepEqual(words(2500), ["return", "drop"]);
  assert.deepEqual(words(3000), ["return", "drop", "attackable"]);
  assert.deepEqual(words(laid.until), ["volley", "winner"]);
  assert.equal(sceneAt(laid, 2500).struck, 3);
});

test("without gliding a scene is that of the last event", () => {
  const laid = plan(RALLY);
  assert.equal(steppedBack(laid, -700), laid.from);
  assert.equal(steppedBack(laid, 500), 0);
  assert.equal(steppedBack(laid, 1300), 1200);
});

test("hints are the fewest keys the recorder needs", () => {
  assert.deepEqual(shotActions(shot("a", "serve", null, 0), 1), ["next"]);
  assert.deepEqual(shotActions(shot("a", "volley", "air", 0), 5), ["next"]);
  assert.deepEqual(shotActions(shot("a", "volley", "air", 0), 2), ["stroke:volley"]);
  assert.deepEqual(shotActions(shot("a", "dink", "air", 0), 6), ["stroke:dink:air"]);
  assert.deepEqual(shotActions(shot("a", "drop", "half_volley", 0), 3), ["stroke:drop", "contact:half_volley"]);
  assert.deepEqual(shotActions(shot("a", "lob", "air", 0), 5), ["stroke:lob:bounce", "contact:air"]);
  const attacked = [shot("a", "dink", "bounce", 0), shot("b", "speedup", "bounce", 1, ["attackable"])];
  assert.deepEqual(cueActions(attacked, 1, "attackable"), ["before", "cue:attackable"]);
  assert.deepEqual(cueActions(attacked, 0, "attackable"), ["cue:attackable"]);
  assert.deepEqual(endActions("ace", "a", "a"), ["end:winner", "confirm"]);
  assert.deepEqual(endActions("fault", "b", "a"), ["end:fault", "team:b"]);
});

test("what was mistaken is remembered by its key", () => {
  const drop = RALLY.shots[2];
  const row = (findings) => ({ played: drop, charted: drop, findings, lag: null, swapped: false });
  assert.deepEqual(
    keysToRemember({
      rows: [row([{ kind: "cue_missed", what: "attackable" }]), row([{ kind: "missed", what: "drop" }])],
      end: [],
    }),
    [
      { word: "attackable", actions: ["cue:attackable"] },
      { word: "drop", actions: ["stroke:drop"] },
    ],
  );
});

test("who keeps up is sent on, who does not is sent back", () => {
  const sum = (right, median) => ({ shots: 10, right, lag: { median, worst: 3, of: 10 } });
  assert.equal(tempoAdvice(sum(9, 0.8), 0.6), "You keep up: try 0.75 × real speed next");
  assert.equal(tempoAdvice(sum(9, 1.4), 0.6), "");
  assert.match(tempoAdvice(sum(6, 0.8), 0.75), /^Try 0.6 × real speed next/);
  assert.equal(tempoAdvice(sum(10, 0.2), 1.5), "");
});

test("keys that came before the ball are not called behind it", () => {
  assert.equal(lagWords({ median: 0.4, worst: 1.2, of: 5 }), "Behind by 0.4 s usually, 1.2 s at worst");
  assert.equal(
    lagWords({ median: -1.1, worst: -0.7, of: 5 }),
    "Ahead of the ball: 1.1 s early usually, the latest key 0.7 s early",
  );
  assert.equal(
    lagWords({ median: -1.1, worst: 0.3, of: 5 }),
    "Ahead of the ball: 1.1 s early usually, the latest key 0.3 s behind",
  );
});
