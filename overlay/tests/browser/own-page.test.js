// Elements in a streamer's own page: one script each, one socket for all, gone
// without a trace when they are taken away.

import assert from "node:assert/strict";
import { test } from "node:test";
import { until } from "../support/browser.js";
import { seeText, useStage } from "../support/stage.js";
import { held, initiative, reading, update } from "../support/states.js";

const stage = useStage();

function ownPage(host) {
  return `<!doctype html><title>mine</title>
    <style>rt-score-plate .rt-score { width: 400px } :root { --rt-a: #00c0ff }</style>
    <script type="module" src="${host.url}/elements/score-plate.js"></script>
    <script type="module" src="${host.url}/elements/why-words.js"></script>
    <rt-score-plate feed="${host.url}/courts/1/feed?role=viewer"></rt-score-plate>
    <rt-why-words feed="${host.url}/courts/1/feed?role=viewer"></rt-why-words>`;
}

test("elements_work_alone_share_one_socket_and_take_the_pages_own_styles", () =>
  stage.play({ path: null, greeting: held("a") }, async (page, host) => {
    await page.setContent(ownPage(host));
    await seeText(page, "rt-score-plate", "Quill / Abara");
    await seeText(page, "rt-why-words", "taken in the air");
    assert.equal(host.asked.length, 1);
    assert.equal((await page.locator(".rt-score").boundingBox()).width, 400);
    const edge = await page.evaluate(
      () => getComputedStyle(document.querySelector('[data-team="a"] .rt-edge')).backgroundColor,
    );
    assert.equal(edge, "rgb(0, 192, 255)");
  }));

test("the_socket_closes_with_the_last_element_and_comes_back_with_the_first", () =>
  stage.play({ path: null, greeting: held("a") }, async (page, host) => {
    await page.setContent(ownPage(host));
    await seeText(page, "rt-why-words", "taken in the air");
    await page.evaluate(() => document.querySelector("rt-why-words").remove());
    assert.equal(host.connected, 1);
    await page.evaluate(() => {
      globalThis.kept = document.querySelector("rt-score-plate");
      globalThis.kept.remove();
    });
    await until(() => host.connected === 0, "the socket to close");
    host.greeting = null;
    await page.evaluate(() => document.body.append(globalThis.kept));
    await until(() => host.connected === 1, "the socket to come back");
    assert.match(host.asked[1], /after=41/);
    host.send(update(42, { readings: [initiative("b")] }));
    await seeText(page, "rt-score-plate", "Quill / Abara");
  }));

test("plain_rules_win_over_the_theme_without_plates_as_well", () =>
  stage.play({ path: null, greeting: held("a") }, async (page, host) => {
    await page.setContent(`<!doctype html><html data-theme="text"><title>mine</title>
      <style>rt-score-plate .rt-name { text-shadow: none }</style>
      <script type="module" src="${host.url}/elements/score-plate.js"></script>
      <rt-score-plate feed="${host.url}/courts/1/feed?role=viewer"></rt-score-plate>`);
    await seeText(page, "rt-score-plate", "Quill / Abara");
    const shadow = (selector) =>
      page
        .locator(selector)
        .first()
        .evaluate((node) => getComputedStyle(node).textShadow);
    assert.equal(await shadow(".rt-name"), "none");
    assert.notEqual(await shadow(".rt-call"), "none");
  }));

test("another_court_is_another_socket", () =>
  stage.play({ path: null, greeting: held("a") }, async (page, host) => {
    await page.setContent(ownPage(host));
    await seeText(page, "rt-why-words", "taken in the air");
    await page.evaluate(
      (url) => document.querySelector("rt-why-words").setAttribute("feed", url),
      `${host.url}/courts/2/feed?role=viewer`,
    );
    await until(() => host.asked.some((path) => path.startsWith("/courts/2/")), "the other court");
    assert.equal(host.connected, 2);
  }));

/** What each element shows of `held("a")` and a little more, alone on a page. */
for (const [name, attributes, expected] of [
  ["score-plate", "", "5–3–1"],
  ["tide-line", "", "offense"],
  ["rally-ribbon", "words", "drop"],
  ["why-words", "", "taken in the air"],
  ["named-indicator", 'name="escape.share"', "2 of 3"],
  ["evidence", "", "Quill / Abara on offense"],
  ["team-numbers", "", "Came out of pressure"],
  ["own-numbers", "", "Add a statistic"],
  ["prompt-list", "", "Something to say"],
  ["earlier-rallies", "", "No rally has ended yet"],
  ["connection-state", "", "Live"],
  ["plugin-faults", "", "Not available: pace"],
]) {
  test(`rt-${name}_works_alone_with_one_script`, () => {
    const said = reading("prompt", null, { type: "text", text: "Something to say" }, { slot: "p1" });
    const greeting = { ...held("a"), unavailable: [{ plugin: "pace", message: "stopped" }] };
    greeting.readings = [...greeting.readings, said];
    return stage.play({ path: null, greeting }, async (page, host) => {
      host.own = `<!doctype html><title>mine</title><script type="module" src="${host.url}/elements/${name}.js"></script>
        <rt-${name} ${attributes} feed="${host.url}/courts/1/feed?role=booth"></rt-${name}>`;
      await page.goto(`${host.url}/mine`);
      await seeText(page, `rt-${name}`, expected);
    });
  });
}

test("rt-streak-moment_works_alone_with_one_script", () =>
  stage.play({ path: null, greeting: held("b") }, async (page, host) => {
    await page.setContent(`<script type="module" src="${host.url}/elements/streak-moment.js"></script>
      <rt-streak-moment feed="${host.url}/courts/1/feed?role=viewer"></rt-streak-moment>`);
    await until(() => page.evaluate(() => document.querySelector("rt-streak-moment").view?.seq === 41), "the snapshot");
    await page.locator(".rt-moment").waitFor({ state: "attached" });
    host.send(update(42, { readings: [initiative(null), reading("escape.streak", "a", { type: "count", n: 3 })] }));
    await seeText(page, ".rt-moment[data-shown]", "out of pressure");
  }));
