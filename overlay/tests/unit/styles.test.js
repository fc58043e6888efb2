// Styles and markup: only what older embedded browsers know, text as text.

import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import { test } from "node:test";

const ROOT = new URL("../../", import.meta.url);
const FOLDERS = ["graphic", "booth", "index", "shared", "elements", "desk", "cues", "event"];
const files = FOLDERS.flatMap((folder) =>
  readdirSync(new URL(`${folder}/`, ROOT), { recursive: true }).map((name) => `${folder}/${name}`),
);
const read = (/** @type {string} */ file) => readFileSync(new URL(file, ROOT), "utf8");

/**
 * The sheet of charting and practice: pages that a charter opens in a browser of their own, never
 * in a streaming program, and reads in the sun, which asks for darker team colors by daylight.
 */
const OF_CHARTERS = "shared/charting/charting.css";

/** Newer than the browsers inside streaming programs may be. */
const TOO_NEW = [/:has\(/, /color-mix\(/, /@container/, /@scope/, /^\s*&/m, /light-dark\(/, /oklch\(/];

const sheets = files.filter((name) => name.endsWith(".css"));

for (const file of sheets.filter((name) => name !== OF_CHARTERS)) {
  test(`${file}_keeps_to_what_older_browsers_know`, () => {
    for (const feature of TOO_NEW) assert.doesNotMatch(read(file), feature);
  });

  test(`${file}_names_no_color_of_its_own_for_a_team`, () => {
    if (file !== "shared/tokens.css") assert.doesNotMatch(read(file), /--rt-[ab]:/);
  });
}

test("the_charters_own_sheet_is_laid_under_no_page_that_goes_on_air_or_into_a_dock", () => {
  const pages = ["graphic", "booth", "index", "desk", "cues", "event"];
  for (const page of pages) assert.doesNotMatch(read(`${page}/index.html`), new RegExp(OF_CHARTERS));
  // By daylight alone: by night the tokens' colors are the only ones.
  const [first, ...more] = read(OF_CHARTERS).split(/--rt-a:/);
  assert.match(first, /:root\[data-theme="light"\] \{[^}]*$/);
  assert.equal(more.length, 1);
});

for (const file of sheets) {
  test(`${file}_lets_nothing_repeat_by_itself`, () => {
    assert.doesNotMatch(read(file), /@keyframes|animation:/);
  });
}

for (const file of files.filter((name) => name.endsWith(".js"))) {
  test(`${file}_takes_no_text_as_markup`, () => {
    assert.doesNotMatch(read(file), /innerHTML|outerHTML|insertAdjacentHTML|document\.write/);
  });
}
