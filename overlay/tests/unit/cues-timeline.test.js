// The strokes of a chart, as its corrections leave it.

import assert from "node:assert/strict";
import { test } from "node:test";
import { effective, timelineOf } from "../../cues/timeline.js";

const AT = Date.UTC(2026, 4, 2, 10);
let seq = 0;
/** @import { Stored } from "../../cues/timeline.js" */

/** @param {string} id @param {Record<string, unknown> & { kind: string }} content @returns {Stored} */
const entry = (id, content, second = (seq += 1)) => ({
  id,
  seq: second,
  at: new Date(AT + second * 1_000).toISOString(),
  ...content,
});
const shot = (/** @type {"a" | "b"} */ team) => ({ kind: "shot", team, stroke: "dink" });
const order = (/** @type {Stored[]} */ entries) =>
  effective(entries).map(({ id, play }) => `${id}:${play.team ?? play.cue ?? play.kind}`);

test("corrections_leave_what_the_format_says", () => {
  const s1 = entry("s1", shot("a"));
  const s2 = entry("s2", shot("b"));
  const insert = (/** @type {string} */ id, /** @type {string | null} */ after, content = shot("a")) =>
    entry(id, { kind: "insert", after, entry: content });
  const retract = (/** @type {string} */ id, /** @type {string} */ target) => entry(id, { kind: "retract", target });
  const amend = (/** @type {string} */ id, /** @type {string} */ target, /** @type {object} */ content) =>
    entry(id, { kind: "amend", target, with: content });
  for (const [entries, expected] of /** @type {[Stored[], string[]][]} */ ([
    [
      [s1, s2],
      ["s1:a", "s2:b"],
    ],
    [
      [s1, s2, insert("i1", "s1"), insert("i2", "s1")],
      ["s1:a", "i2:a", "i1:a", "s2:b"],
    ],
    [
      [s1, s2, insert("i1", "s1"), insert("i2", "i1", shot("b"))],
      ["s1:a", "i1:a", "i2:b", "s2:b"],
    ],
    [
      [s1, insert("i1", null)],
      ["i1:a", "s1:a"],
    ],
    [[s1, s2, retract("r1", "s1")], ["s2:b"]],
    [
      [s1, s2, retract("r1", "s1"), insert("i1", "s1")],
      ["i1:a", "s2:b"],
    ],
    [
      [s1, s2, retract("r1", "s1"), retract("r2", "r1")],
      ["s1:a", "s2:b"],
    ],
    [[s1, retract("r1", "s1"), amend("a1", "s1", shot("b"))], ["s1:b"]],
    [[s1, amend("a1", "s1", shot("b")), retract("r1", "a1")], ["s1:a"]],
    [[s1, insert("i1", "s1"), retract("r1", "i1")], ["s1:a"]],
  ]))
    assert.deepEqual(order(entries), expected);
});

test("shots_are_counted_by_rally_and_every_entry_stands_behind_one", () => {
  seq = 0;
  const entries = [
    entry("s1", shot("a")),
    entry("c1", { kind: "cue", cue: "awkward", shot: "s1" }),
    entry("s2", shot("b")),
    entry("e1", { kind: "rally_end", won_by: "a" }),
    entry("d1", { kind: "depth", team: "a", depth: "line" }),
    entry("s3", shot("b")),
  ];
  const { moments, behind } = timelineOf(entries);
  assert.deepEqual(
    moments.map(({ id, rally, n }) => `${id} ${rally}/${n}`),
    ["s1 1/1", "s2 1/2", "e1 1/0", "s3 2/1"],
  );
  assert.deepEqual(
    [...behind],
    [
      ["s1", null],
      ["c1", "s1"],
      ["s2", "s1"],
      ["e1", "s2"],
      ["d1", "e1"],
      ["s3", "e1"],
    ],
  );
});

test("a_stroke_put_in_later_was_made_between_its_neighbors", () => {
  const entries = [
    entry("s1", shot("a"), 10),
    entry("s2", shot("a"), 14),
    entry("i1", { kind: "insert", after: "s1", entry: shot("b") }, 60),
  ];
  const seconds = timelineOf(entries).moments.map(({ id, at }) => [id, (at - AT) / 1_000]);
  assert.deepEqual(seconds, [
    ["s1", 10],
    ["i1", 12],
    ["s2", 14],
  ]);
});
