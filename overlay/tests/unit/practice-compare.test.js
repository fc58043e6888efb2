// Practice: what a volunteer is told about a rally. All expected values were worked
// out by hand from the costs: missed or extra 4, stroke 3, side, contact and cue 1,
// a key before its stroke 2, and a hundredth for every second between them.
import assert from "node:assert/strict";
import test from "node:test";
import { compare, lagOf } from "../../practice/compare.js";
import { tally } from "../../practice/tally.js";

const USUAL = { serve: null, volley: "air", block: "air", overhead: "air" };
/** `a serve 0`, `b dink/half_volley+awkward 2.5`: team, stroke, contact, cues, seconds. */
function shots(text) {
  return text
    .trim()
    .split("\n")
    .map((line) => {
      const [team, told, at] = line.trim().split(" ");
      const [rest, ...cues] = told.split("+");
      const [stroke, contact] = rest.split("/");
      return {
        team,
        stroke,
        contact: contact ?? (stroke in USUAL ? USUAL[stroke] : "bounce"),
        cues,
        at: at === undefined || at === "-" ? null : Number(at),
      };
    });
}
const END = { how: "out", by: "a", won_by: "b" };
const RALLY = `a serve 0
  b return 1.2
  a drop 2.6
  b volley 3.6
  a reset/half_volley 4.4
  b dink+awkward 5.4`;
const check = (played, charted, expected, { end = END, ends = 1, detail } = {}) => {
  const found = compare({ shots: shots(played), end: END }, { shots: shots(charted), end, ends }, detail);
  const rows = found.rows.map(
    (row) =>
      `${row.played?.stroke ?? "-"} ${row.charted?.stroke ?? "-"}${row.swapped ? " swapped" : ""}${row.findings.map(({ kind, what, instead }) => ` ${[kind, what, instead].filter(Boolean).join(":")}`).join("")}`,
  );
  assert.deepEqual(rows, expected.rows ?? rows);
  assert.deepEqual(
    found.end.map(({ kind, what, instead }) => [kind, what, instead].filter(Boolean).join(":")),
    expected.end ?? [],
  );
  return found;
};

test("a rally charted as it was played has no findings, and the lag is each key's own", () => {
  const { rows } = check(
    RALLY,
    RALLY.replaceAll(/[\d.]+$/gm, (at) => String(Number(at) + 0.5)),
    {
      rows: ["serve serve", "return return", "drop drop", "volley volley", "reset reset", "dink dink"],
    },
  );
  assert.deepEqual(
    rows.map(({ lag }) => Math.round(lag * 10) / 10),
    [0.5, 0.5, 0.5, 0.5, 0.5, 0.5],
  );
});

test("a missed shot is one mistake: the sides it turns are not held against the volunteer", () => {
  // Missing the volley: 4 + two on the wrong side 0.4 = 4.4; pairing on without a gap
  // would be reset for volley 3, dink for reset 3 and a missed dink 4 = 10.
  check(
    RALLY,
    `a serve 0.5
    b return 1.7
    a drop 3.1
    b reset/half_volley 5
    a dink+awkward 6`,
    {
      rows: [
        "serve serve",
        "return return",
        "drop drop",
        "volley - missed:volley",
        "reset reset swapped",
        "dink dink swapped",
      ],
    },
  );
});

test("a missed shot put right by `same side again` turns nothing", () => {
  check(
    RALLY,
    `a serve 0.5
    b return 1.7
    a drop 3.1
    a reset/half_volley 5
    b dink+awkward 6`,
    {
      rows: ["serve serve", "return return", "drop drop", "volley - missed:volley", "reset reset", "dink dink"],
    },
  );
});

test("an extra key is found between its neighbours", () => {
  check(
    RALLY,
    `a serve 0.5
    b return 1.7
    a drop 3.1
    b volley 4
    a lob 4.2
    b reset/half_volley 5
    a dink+awkward 6`,
    {
      rows: [
        "serve serve",
        "return return",
        "drop drop",
        "volley volley",
        "- lob extra:lob",
        "reset reset swapped",
        "dink dink swapped",
      ],
    },
  );
});

test("a wrong stroke is one mistake, its contact is not a second one", () => {
  check(
    RALLY,
    `a serve 0.5
    b return 1.7
    a drive 3.1
    b volley 4
    a block 5
    b dink+awkward 6`,
    {
      rows: [
        "serve serve",
        "return return",
        "drop drive stroke:drop:drive",
        "volley volley",
        "reset block stroke:reset:block",
        "dink dink",
      ],
    },
  );
});

test("a wrong contact, a missed cue and one nobody could see are told apart", () => {
  check(
    RALLY,
    `a serve 0.5
    b return+off_balance 1.7
    a drop 3.1
    b volley 4
    a reset/air 5
    b dink 6`,
    {
      rows: [
        "serve serve",
        "return return cue_extra:off_balance",
        "drop drop",
        "volley volley",
        "reset reset contact:half_volley:air",
        "dink dink cue_missed:awkward",
      ],
    },
  );
});

test("the wrong side without a gap before it is one mistake, however long it lasts", () => {
  check(
    RALLY,
    `a serve 0.5
    b return 1.7
    b drop 3.1
    a volley 4
    b reset/half_volley 5
    b dink+awkward 6`,
    {
      rows: [
        "serve serve",
        "return return",
        "drop drop side:a:b",
        "volley volley swapped",
        "reset reset swapped",
        "dink dink",
      ],
    },
  );
});

test("of equal strokes the one without a key near it is the missed one", () => {
  // Three volleys a second apart, keys at 0.4 and 2.4, the usual lag 0.4: the second key
  // is 1 s off the second volley, 0.5; on the wrong side for the third one, 0.2.
  check("a volley 0\nb volley 1\na volley 2", "a volley 0.4\nb volley 2.4", {
    rows: ["volley volley", "volley - missed:volley", "volley volley swapped"],
  });
  // A key that came before its stroke cannot be meant for it.
  check("a volley 0\nb volley 1\na volley 2", "b volley 0.4\na volley 1.4", {
    rows: ["volley volley side:a:b", "volley volley swapped", "volley - missed:volley"],
  });
  check("a volley 0\nb volley 5\na volley 10", "b volley 5.4\na volley 10.4", {
    rows: ["volley - missed:volley", "volley volley", "volley volley"],
  });
});

test("in a long run of one stroke the missed one is where the keys fall behind", () => {
  // Ten dinks a second apart, the fourth missed, every key 0.5 s late. Laid on without a
  // gap the sides would be right and six keys 1 s off, 3; with it six sides are wrong, 1.2.
  const line = (at, lag, turned) => `${(at % 2 === 0) === turned ? "b" : "a"} dink ${at + lag}`;
  const times = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9];
  const charted = times.filter((at) => at !== 3).map((at) => line(at, 0.5, at > 3));
  check(times.map((at) => line(at, 0, false)).join("\n"), charted.join("\n"), {
    rows: [...Array(3).fill("dink dink"), "dink - missed:dink", ...Array(6).fill("dink dink swapped")],
  });
});

test("nothing charted is everything missed, and no end", () => {
  const found = compare({ shots: shots("a serve 0\nb return 1"), end: END }, { shots: [], end: null, ends: 0 });
  assert.deepEqual(
    found.rows.map(({ findings }) => findings[0].kind),
    ["missed", "missed"],
  );
  assert.deepEqual(found.end, [{ kind: "end_missed", what: "out" }]);
});

test("an end is wrong in how it came, in its side, or in coming twice", () => {
  check(RALLY, RALLY, { end: ["end_how:out:net"] }, { end: { how: "net", by: "a", won_by: "b" } });
  check(RALLY, RALLY, { end: ["end_side:a:b"] }, { end: { how: "out", by: "b", won_by: "a" } });
  check(RALLY, RALLY, { end: ["end_how:out:winner"] }, { end: { how: "winner", by: "a", won_by: "a" } });
  check(RALLY, RALLY, { end: ["end_how:out:nothing"] }, { end: { how: null, by: null, won_by: "b" } });
  check(RALLY, RALLY, { end: ["end_how:out:nothing", "end_side:b:a"] }, { end: { how: null, by: null, won_by: "a" } });
  check(RALLY, RALLY, { end: ["end_extra:out"] }, { end: END, ends: 2 });
});

test("an ace is a winner", () => {
  const end = { how: "winner", by: "a", won_by: "a" };
  assert.deepEqual(
    compare({ shots: shots("a serve 0"), end }, { shots: shots("a serve 1"), end: { ...end, how: "ace" }, ends: 1 })
      .end,
    [],
  );
});

test("what the depth of charting does not ask for is no mistake", () => {
  check(
    RALLY,
    "b dink+awkward 6",
    { rows: ["serve -", "return -", "drop -", "volley -", "reset -", "dink dink"] },
    { detail: "ends" },
  );
  const ends = tally([
    compare({ shots: shots(RALLY), end: END }, { shots: shots("b dink+awkward 6"), end: END, ends: 1 }, "ends"),
  ]);
  assert.deepEqual([ends.shots, ends.right, ends.clean], [1, 1, 1]);
  const score = compare(
    { shots: shots(RALLY), end: END },
    { shots: [], end: { how: null, by: null, won_by: "b" }, ends: 1 },
    "score",
  );
  assert.deepEqual(score, { rows: [], end: [] });
});

test("the lag's median lies in the middle, and what nobody timed is left out", () => {
  const rows = (lags) => lags.map((lag) => ({ lag }));
  assert.deepEqual(lagOf(rows([0.25, null, 2, 0.5, 1])), { median: 0.75, worst: 2, of: 4 });
  assert.deepEqual(lagOf(rows([3, 1, 2])), { median: 2, worst: 3, of: 3 });
  assert.equal(lagOf(rows([null])), null);
  const { rows: paired } = compare(
    { shots: shots("a serve 0\nb return -"), end: END },
    { shots: shots("a serve -\nb return 2"), end: END, ends: 1 },
  );
  assert.deepEqual(
    paired.map(({ lag }) => lag),
    [null, null],
  );
});

test("a set adds up, the most often mistaken stroke first", () => {
  const one = compare(
    { shots: shots(RALLY), end: END },
    {
      shots: shots("a serve 0.5\nb return 1.7\na drive 3.1\nb volley 4\na reset/half_volley 5\nb dink 6"),
      end: END,
      ends: 1,
    },
  );
  const two = compare(
    { shots: shots(RALLY), end: END },
    {
      shots: shots("a serve 1\nb return 2\na drive 3.6\nb volley 4.6\na reset/air 5.4\nb dink+awkward 6.4"),
      end: null,
      ends: 0,
    },
  );
  const sum = tally([one, two]);
  assert.equal(sum.shots, 12);
  // Wrong: the drop twice, the awkward dink once, the reset once.
  assert.equal(sum.right, 8);
  assert.deepEqual([sum.rallies, sum.clean], [2, 0]);
  const { stroke, contact, cue_missed, end_missed, missed } = sum.found;
  assert.deepEqual(
    { stroke, contact, cue_missed, end_missed, missed },
    { stroke: 2, contact: 1, cue_missed: 1, end_missed: 1, missed: 0 },
  );
  assert.deepEqual(sum.strokes, [
    { name: "drop", of: 2, mistaken: 2, instead: "drive" },
    { name: "reset", of: 2, mistaken: 1, instead: null },
  ]);
  assert.deepEqual(sum.cues, [{ name: "awkward", of: 2, mistaken: 1, instead: null }]);
  // 0.5 0.5 0.5 0.4 0.6 0.6 and 1 0.8 1 1 1 1: the middle two of twelve are 0.6 and 0.8.
  assert.deepEqual([sum.lag.median.toFixed(2), sum.lag.worst.toFixed(2), sum.lag.of], ["0.70", "1.00", 12]);
});
