// A link whose key the desk has replaced: the booth says so, the graphic stays
// as calm as on a lost line, and neither goes on knocking.

import assert from "node:assert/strict";
import { test } from "node:test";
import { until } from "../support/browser.js";
import { LARGE } from "../support/graphic-states.js";
import { seeText, textOf, useStage } from "../support/stage.js";
import { held } from "../support/states.js";

const stage = useStage();

test("the_booth_says_that_its_link_was_replaced_and_who_has_the_new_one", () =>
  stage.play({ path: "/courts/1/booth?key=old", greeting: held("a") }, async (page, host) => {
    await seeText(page, "rt-evidence", "offense");
    host.replaceKey();
    await seeText(page, "rt-evidence .rt-headline", "This link was replaced");
    await seeText(page, "rt-evidence .rt-detail", "Ask the desk for the new link");
    await seeText(page, "rt-connection-state [role=status]", "Link replaced: ask the desk");
    await until(async () => !/offense|Live|Trying again/.test(await textOf(page, "body")), "nothing claimed");
  }));

test("the_graphic_shows_viewers_what_it_shows_on_a_lost_line_and_tells_whoever_looks_at_the_page", async () => {
  /** @type {string[]} */
  const seen = [];
  for (const end of ["drop", "replaceKey"]) {
    await stage.play(
      { path: `/courts/1/graphic?${LARGE}&key=old&motion=off`, greeting: held("a") },
      async (page, host) => {
        /** @type {string[]} */
        const said = [];
        page.on("console", (message) => said.push(message.text()));
        await seeText(page, "rt-tide-line", "offense");
        // Nothing that is sent on a new connection may change what is compared.
        host.greeting = null;
        if (end === "drop") await host.stop();
        else host.replaceKey();
        await until(
          async () => (await page.locator(".rt-tide").getAttribute("data-phase")) === "rest",
          "the tide at rest",
        );
        seen.push(await page.locator(".stage").innerHTML());
        if (end === "drop") return void (await host.listen(host.port));
        assert.match(await page.title(), /^This link was replaced/);
        assert.ok(
          said.some((line) => line.startsWith("this link was replaced")),
          said.join("\n"),
        );
      },
    );
  }
  assert.equal(seen[1], seen[0]);
});

test("a_page_that_was_not_there_when_its_key_was_replaced_finds_out", () =>
  stage.play({ path: "/courts/1/booth?key=old", greeting: held("a") }, async (page, host) => {
    await seeText(page, "rt-evidence", "offense");
    host.letsIn = false;
    host.drop();
    await seeText(page, "rt-connection-state [role=status]", "Link replaced");
    assert.equal(host.asked.length, 1);
  }));
