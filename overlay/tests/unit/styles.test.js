// Styles and markup: only what older embedded browsers know, text as text.

import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import { test } from "node:test";

const ROOT = new URL("../../", import.meta.url);
const FOLDERS = ["graphic", "booth", "index", "shared", "elements", "desk", "cues"];
const files = FOLDERS.flatMap((folder) =>
  readdirSync(new URL(`${folder}/`, ROOT), { recursive: true }).map((name) => `${folder}/${name}`),
);
const read = (file) => readFileSync(new URL(file, ROOT), "utf8");

/** Newer than the browsers inside streaming programs may be. */
const TOO_NEW = [/:has\(/, /color-mix\(/, /@container/, /@scope/, /^\s*&/m, /light-dark\(/, /oklch\(/];

for (const file of files.filter((name) => name.endsWith(".css"))) {
  test(`${file}_keeps_to_what_older_browsers_know`, () => {
    for (const feature of TOO_NEW) assert.doesNotMatch(read(file), feature);
  });

  test(`${file}_names_no_color_of_its_own_for_a_team`, () => {
    if (file !== "shared/tokens.css") assert.doesNotMatch(read(file), /--rt-[ab]:/);
  });

  test(`${file}_lets_nothing_repeat_by_itself`, () => {
    assert.doesNotMatch(read(file), /@keyframes|animation:/);
  });
}

for (const file of files.filter((name) => name.endsWith(".js"))) {
  test(`${file}_takes_no_text_as_markup`, () => {
    assert.doesNotMatch(read(file), /innerHTML|outerHTML|insertAdjacentHTML|document\.write/);
  });
}
