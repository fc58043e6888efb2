/**
 * Pages show what they have never heard of: every type of value of a plugin that somebody else wrote,
 * about the match, a team, a player and a slot, by name alone, on the graphic and on the booth.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { openBrowser, openPage } from "./support/browser.mjs";
import { Charter } from "./support/charter.mjs";
import { headerFor, numbered } from "./support/charts.mjs";
import { freshFolder } from "./support/folders.mjs";
import { guest, put } from "./support/guests.mjs";
import { Host } from "./support/host.mjs";
import { until } from "./support/wait.mjs";

const shots = numbered([
  { kind: "shot", team: "a", stroke: "serve" },
  { kind: "shot", team: "b", stroke: "return" },
  { kind: "shot", team: "a", stroke: "drop" },
  { kind: "shot", team: "b", stroke: "dink" },
]);

/** What 2 of 8 and 2 of 9 are worth, after 3 and 4 entries: Wilson's interval (1927), 95 %, worked out apart from the program. */
const RANGES = { 3: ", range 7 to 59%", 4: ", range 6 to 55%" };

/** What is to be read after so many entries, under the name that the pages are given; the booth adds the range of a share. */
const expected = (entries, { ranges = false } = {}) => ({
  "spectrum.lean": `spectrum lean towards ${entries % 2 === 0 ? "Alder / Ash" : "Birch / Bay"}`,
  "spectrum.count": `spectrum count ${40 + entries}`,
  "spectrum.share": `spectrum share ${["Alder / Ash", "Birch / Bay"]
    .map((team) => `${team}: 2 of ${5 + entries} (${Math.round(200 / (5 + entries))}%)${ranges ? RANGES[entries] : ""}`)
    .join(" ")}`,
  "spectrum.chance": "spectrum chance Alder / Ash: 63%",
  "spectrum.duration": "spectrum duration 12.3 s",
  "spectrum.text": `spectrum text heard ${entries} entries`,
  "spectrum.flag": "spectrum flag yes",
  "spectrum.slots/forehand": `spectrum slots, forehand ${entries}`,
  "spectrum.player": `spectrum player Bo Bay: ${entries}`,
});

const NAMES = Object.keys(expected(0));

/** What each named indicator says, in the words that can be seen or are read aloud. */
function shown(page) {
  return page.evaluate(() => {
    const words = (node) => {
      if (node.hidden === true) return "";
      if (node.nodeType === Node.TEXT_NODE) return node.textContent;
      return [...node.childNodes].map(words).join(" ");
    };
    const said = [...document.querySelectorAll("rt-named-indicator")].map((node) => [
      node.getAttribute("name"),
      words(node).replaceAll(/\s+/g, " ").trim(),
    ]);
    return Object.fromEntries(said);
  });
}

async function shows(page, entries, how) {
  const all = expected(entries, how);
  let seen;
  await until(
    `the readings after ${entries} entries`,
    async () => {
      seen = await shown(page);
      return NAMES.every((name) => seen[name] === all[name]);
    },
    { seen: () => ({ seen, expected: all }) },
  );
}

test("every_type_of_value_of_a_strangers_plugin_is_shown_by_name_on_graphic_and_booth", async (t) => {
  const plugins = await freshFolder(t);
  await put(plugins, "spectrum.wasm", await guest("spectrum"));
  const data = await freshFolder(t);
  const command = ["serve", "--listen", "127.0.0.1:0", "--data", data, "--plugins", plugins];
  const host = await Host.start(t, { data, command });
  const charter = await Charter.welcomed(host, { chart: headerFor("spectrum") });
  await charter.chart(shots.slice(0, 3));

  const browser = await openBrowser(t);
  const graphic = await openPage(browser, host.http(`/courts/1/graphic?show=${NAMES.join(",")}&at=show:left`), {
    width: 1920,
    height: 1080,
  });
  const booth = await openPage(browser, host.http("/courts/1/booth"), { width: 1280, height: 800 });
  for (const name of NAMES) {
    await booth.page.getByLabel("Add a statistic").fill(name);
    await booth.page.getByLabel("Add a statistic").press("Enter");
  }
  await shows(graphic.page, 3);
  await shows(booth.page, 3, { ranges: true });
  for (const name of NAMES) {
    const box = await graphic.page.locator(`rt-named-indicator[name="${name}"]`).boundingBox();
    assert.ok(
      box !== null && box.x < 960 && box.x >= 0 && box.y >= 0 && box.y + box.height <= 1080,
      `${name}: ${JSON.stringify(box)}`,
    );
  }

  await charter.chart(shots.slice(3));
  await shows(graphic.page, 4);
  await shows(booth.page, 4, { ranges: true });
  assert.deepEqual([...graphic.errors, ...booth.errors], []);
});
