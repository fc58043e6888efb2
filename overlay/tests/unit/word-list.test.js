// The fixed word list (overlay/WORDS.md) against everything that people can read:
// pages, their scripts, prompts, exports, captions, reports and the commands' help.

import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { after, test } from "node:test";
import { Scripts, wordingsOfHtml, wordingsOfRust, wordingsOfScript } from "../support/visible-words.js";
import { breaches, readWordList } from "../support/word-list.js";

const ROOT = fileURLToPath(new URL("../../../", import.meta.url));
const LIST = readWordList(readFileSync(`${ROOT}overlay/WORDS.md`, "utf8"));

const scripts = new Scripts();
after(() => scripts.close());

/** @param {string} folder @param {RegExp} which @returns {string[]} files below it, from the root */
function filesOf(folder, which) {
  return readdirSync(ROOT + folder, { recursive: true, encoding: "utf8" })
    .map((name) => `${folder}/${name}`)
    .filter((name) => which.test(name));
}

const PAGES = [
  "booth",
  "chart",
  "cues",
  "desk",
  "elements",
  "event",
  "graphic",
  "index",
  "practice",
  "review",
  "shared",
];

function everyWording() {
  const html = PAGES.flatMap((page) => filesOf(`overlay/${page}`, /\.html$/)).flatMap((file) => wordingsOfHtml(file));
  const code = PAGES.flatMap((page) => filesOf(`overlay/${page}`, /\.js$/)).flatMap((file) => scripts.wordings(file));
  const rust = ["plugins/prompts/src", "crates/export/src", "crates/agree/src", "crates/sheet/src"]
    .flatMap((folder) => filesOf(folder, /\.rs$/))
    // What other people's sheets may say.
    .filter((file) => !/sheet\/src\/(headings\/names|values\/color)\.rs$/.test(file))
    .flatMap((file) => wordingsOfRust(file));
  return [...html, ...code, ...rust, ...wordingsOfRust("crates/rallytide/src/cli.rs", { help: true })];
}

test("no_wording_says_what_the_word_list_forbids", () => {
  const wordings = everyWording();
  assert.ok(wordings.length > 2500, `only ${wordings.length} wordings were found: the search is broken`);
  assert.deepEqual(
    breaches(LIST, wordings).map(
      ({ file, line, never, say, text }) => `${file}:${line} says \`${never}\`, say \`${say}\`: ${text}`,
    ),
    [],
  );
});

test("a_forbidden_word_is_found_wherever_people_would_read_it", () => {
  const page =
    '<p title="Put on">The <b>color</b></p><!-- colour --><script>"colour"</script><p class="colour">sat\n up</p>';
  const script = [
    'import "./colour.js";',
    'label({ class: "colour-row", title: "a Colour" }, `HOLE balls sat up`);',
    'draw(html`<p class=colour aria-label="Put on">greyish HOLE words</p>`);',
    "// colour in a comment",
  ]
    .join("\n")
    .replaceAll("HOLE", "$".concat("{n}"));
  const rust = [
    "/// The help says colour.",
    'fn say() { let a = "a ball that sat \\\n   up"; } // colour',
    'const LIFETIME: &\'static str = r#"the "grey" one"#;',
    "#[cfg(test)]",
    'mod tests { const T: &str = "colour"; }',
  ].join("\n");
  const phrases = (/** @type {import("../support/visible-words.js").Wording[]} */ wordings) =>
    breaches(LIST, wordings).map(({ line, never }) => `${line} ${never}`);
  assert.deepEqual(phrases(wordingsOfHtml("planted.html", page)), ["1 put on", "1 sat up"]);
  assert.deepEqual(phrases(wordingsOfScript("planted.js", script)), ["2 colour…", "2 sat up", "3 put on", "3 grey…"]);
  assert.deepEqual(phrases(wordingsOfRust("planted.rs", { source: rust, help: true })), [
    "1 colour…",
    "2 sat up",
    "4 grey…",
  ]);
});

test("the_list_is_read_as_it_is_written", () => {
  const list = readWordList(
    "| say | means | never |\n|---|---|---|\n| color | x | colour… · put on |\n| court | y | |\n",
  );
  assert.deepEqual(
    list.map(({ say, never }) => [say, never]),
    [
      ["color", "colour…"],
      ["color", "put on"],
    ],
  );
  assert.ok(LIST.length > 60);
});
