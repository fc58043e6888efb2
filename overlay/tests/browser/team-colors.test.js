// Team colors: the address over the match's header over the look, on every
// page, followed while a match is on, and always fit for the plate.

import assert from "node:assert/strict";
import { test } from "node:test";
import { contrast } from "../../shared/colors.js";
import { until } from "../support/browser.js";
import { seeText, useStage } from "../support/stage.js";
import { HEADER, held } from "../support/states.js";

const stage = useStage();

/** The header with colors for its teams. */
function colored(a, b) {
  const { teams } = HEADER;
  return {
    ...HEADER,
    teams: { a: { ...teams.a, color: a }, b: { ...teams.b, ...(b === undefined ? {} : { color: b }) } },
  };
}

/** What is painted of the teams, as `#rrggbb`: edges of the plate. */
const painted = (page) =>
  page.locator(".rt-row .rt-edge").evaluateAll((edges) =>
    edges.map((edge) => {
      const parts = getComputedStyle(edge).backgroundColor.match(/\d+/g);
      return `#${parts.map((part) => Number(part).toString(16).padStart(2, "0")).join("")}`;
    }),
  );

/** Waits until both teams' edges have these colors. */
const seeColors = (page, expected, what) => until(async () => (await painted(page)).join() === expected.join(), what);

for (const path of ["/courts/1/graphic?pieces=score", "/courts/1/booth?"]) {
  const name = path.split("?")[0].split("/").at(-1);

  test(`the_${name}_takes_the_colors_of_the_match_and_follows_their_change`, () =>
    stage.play(
      { path: `${path}&theme=dark`, greeting: { ...held("a"), match: colored("#FFD400", "#8ecae6") } },
      async (page, host) => {
        await seeColors(page, ["#ffd400", "#8ecae6"], "the match's colors");
        host.send({ ...held("a"), seq: 42, reason: "match", match: colored("#66ff99", "#8ecae6") });
        await seeColors(page, ["#66ff99", "#8ecae6"], "the new color");
        host.send({ ...held("a"), seq: 43, reason: "match", match: HEADER });
        await seeColors(page, ["#46a6ec", "#f08a45"], "the look's own pair again");
      },
    ));

  test(`on_the_${name}_the_address_decides_over_the_match`, () =>
    stage.play(
      { path: `${path}&color-b=ffffff&theme=dark`, greeting: { ...held("a"), match: colored("#FFD400", "#8ecae6") } },
      async (page) => {
        await seeColors(page, ["#ffd400", "#ffffff"], "one color from each");
      },
    ));
}

for (const [theme, plate] of [
  ["dark", "#0e2233"],
  ["light", "#fffdf6"],
  ["text", "#0e2233"],
]) {
  test(`a_color_that_would_drown_is_fitted_to_the_theme_${theme}`, () =>
    stage.play(
      {
        path: `/courts/1/graphic?pieces=score&theme=${theme}`,
        greeting: { ...held("a"), match: colored("#101010", "#fffff0") },
      },
      async (page) => {
        await seeText(page, "rt-score-plate", "Quill / Abara");
        await until(
          async () => !(await painted(page)).some((color) => ["#46a6ec", "#17659c"].includes(color)),
          "the match's colors",
        );
        for (const color of await painted(page)) assert.ok(contrast(color, plate) >= 3, `${color} on ${plate}`);
      },
    ));
}

test("a_color_that_is_none_is_left_aside_with_a_word_on_the_console", () =>
  stage.play({ path: null, greeting: { ...held("a"), match: colored("reddish", "#8ecae6") } }, async (page, host) => {
    const said = [];
    page.on("console", (message) => message.type() === "warning" && said.push(message.text()));
    await page.goto(`${host.url}/courts/1/graphic?pieces=score`);
    await seeColors(page, ["#46a6ec", "#8ecae6"], "the look's own and the match's");
    host.send({ ...held("a"), seq: 42, revision: 1, reason: "corrected", match: colored("reddish", "#8ecae6") });
    await until(
      () => page.evaluate(() => document.querySelector("rt-score-plate").view.revision === 1),
      "the correction",
    );
    assert.deepEqual(said, ["the match says team a's color is `reddish`; a color looks like #0072B2"]);
  }));
