/**
 * Made-up rallies at the tempo of play, charted on the page at every depth and with every
 * arrangement of the keys by a script that is late and slips, as a person does: in the end no rally
 * is with the wrong team, and the page has done at each moment what each key says. What else the
 * script's charts come to over whole matches: `bench/README.md`.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { openBrowser } from "./support/browser.mjs";
import { WAYS, chartedByScript, figuresOf, playedMatch } from "./support/scripted-charting.mjs";

const RALLIES = 8;
/** With these every kind of slip is made in so few rallies. */
const FIRST_SEED = 11;

test("whatever the script gets wrong, no rally stays with the wrong team, at no depth", async (t) => {
  const browser = await openBrowser(t);
  const match = await playedMatch(3, { count: RALLIES });
  const slips = {};
  for (const [number, [name, way]] of Object.entries(WAYS).entries()) {
    const charted = await chartedByScript(t, browser, match, FIRST_SEED + number, way);
    assert.deepEqual(charted.wrongRallies, [], name);
    assert.deepEqual(charted.onPage, charted.onPaper, name);
    assert.equal(charted.agreed.rally_winner.agreed, RALLIES, name);
    assert.deepEqual(charted.errors, [], name);
    for (const [slip, count] of Object.entries(charted.typist.slips)) slips[slip] = (slips[slip] ?? 0) + count;
    const figures = figuresOf(match, charted);
    t.diagnostic(`${name}: ${figures.keys} keys, ${figures.slips} slips, late ${figures["late, median"]}`);
  }
  t.diagnostic(JSON.stringify(slips));
  for (const slip of ["wrong stroke", "shot left out, not seen", "wrong arrow", "arrow twice"])
    assert.ok(slips[slip] > 0, `no slip of the kind \`${slip}\` was made`);
});
