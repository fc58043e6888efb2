/**
 * Every mistake of `support/mistakes.mjs`, made on the page and put right with the keys named there:
 * the chart is then the one without it. The table of keys and seconds in `bench/README.md` is this.
 */
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import { allSaved, begin, effectiveOf, openChart, press, startHost } from "./support/chart-page.mjs";
import { headerFor } from "./support/charts.mjs";
import { MISTAKES, playedIn, tableOfMistakes } from "./support/mistakes.mjs";

/** A chart in words, as `support/mistakes.mjs` writes them. */
function inWords(effective) {
  const shots = new Map();
  const told = [];
  for (const { id, kind, team, stroke, contact, cues = [], cue, shot, how, by, won_by } of effective) {
    if (kind === "cue") {
      (shots.get(shot) ?? told.at(-1)).push(cue);
      continue;
    }
    const end = won_by === undefined ? [`${how} by`, by] : ["won by", won_by];
    told.push(kind === "shot" ? [team, stroke] : kind === "rally_end" ? end : [kind]);
    told.at(-1).push(...(contact === undefined ? [] : [contact]), ...cues);
    shots.set(id, told.at(-1));
  }
  return told.map((words) => words.join(" ")).join(", ");
}

test("each mistake is put right with the keys that are said to", async (t) => {
  const host = await startHost(t);
  const { page, errors } = await openChart(t, host);
  const header = headerFor("mistakes", { points: 99, games: 1 });
  await begin(page, header);
  let before = 0;
  for (const mistake of MISTAKES) {
    const { what, typed, fix, on = [] } = mistake;
    await press(page, [...typed, ...fix, ...on]);
    await allSaved(page);
    const effective = await effectiveOf(host, header.id);
    assert.equal(inWords(effective.slice(before)), playedIn(mistake), what);
    before = effective.length;
  }
  assert.deepEqual(errors, []);
});

test("the table of mistakes is the one that is tried here", async () => {
  const readme = await readFile(new URL("bench/README.md", import.meta.url), "utf8");
  assert.ok(readme.includes(tableOfMistakes().join("\n")), `put this in its place:\n${tableOfMistakes().join("\n")}`);
});
