// What three hours on air cost a page: `npm run soak [page] [matches]`. Prints a
// line a match; the first and the last should not differ by more than chance.

import { openBrowser, openPage } from "./browser.js";
import { FakeHost } from "./fake-host.js";
import { MATCH_MS, MATCH_UPDATES, playLongDay } from "./long-day.js";

const name = process.argv[2] ?? "graphic";
const matches = Number(process.argv[3] ?? 14);
const host = await FakeHost.start();
const browser = await openBrowser();
const { page, errors, close } = await openPage(browser);
const cells = (all) => console.log(all.map((one) => String(one).padStart(10)).join(""));

console.log(
  `${name}: ${matches} matches, ${matches * MATCH_UPDATES} messages, ${((matches * MATCH_MS) / 3.6e6).toFixed(1)} h of page time`,
);
console.log("times: ms per 1,000 messages (style counts the hand clock's own questions, too); heap after a collection");
cells(["match", "heap MB", "nodes", "listeners", "layout", "style", "task"]);
await playLongDay(page, `${host.url}/courts/1/${name}`, matches, (weight) => {
  const { match, heap, nodes, listeners, layout, style, task } = weight;
  cells([match, (heap / 1e6).toFixed(2), nodes, listeners, ...[layout, style, task].map((time) => time.toFixed(0))]);
});
if (errors.length > 0) console.log(errors);
await close();
await browser.close();
await host.stop();
