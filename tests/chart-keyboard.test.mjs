/**
 * The charters' page for everybody: every function by keyboard alone, other keyboards and other
 * keys, what is said aloud, sizes, and what axe finds.
 */
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import { openBrowser, openPage } from "./support/browser.mjs";
import { Charter } from "./support/charter.mjs";
import { headerFor } from "./support/charts.mjs";
import {
  LAPTOP,
  allSaved,
  begin,
  effectiveOf,
  faultsByAxe,
  openChart,
  press,
  restartHost,
  startHost,
  textOf,
  typed,
} from "./support/chart-page.mjs";
import { until } from "./support/wait.mjs";

/** A page with a match on it, and nothing charted. */
async function onMatch(t, options = {}) {
  const host = await startHost(t);
  const { header } = await typed(host, 3, { rallies: 1 });
  const { page, errors } = await openChart(t, host, options);
  await begin(page, { ...header, first_serve: "a" });
  await allSaved(page);
  return { host, page, errors, header };
}

/** Moves the focus with Tab until it is on what is looked for. */
async function tabTo(page, selector) {
  for (let steps = 0; steps < 90; steps += 1) {
    await page.keyboard.press("Tab");
    if (await page.evaluate((one) => document.activeElement?.matches(one) ?? false, selector)) return;
  }
  throw new Error(`Tab does not reach \`${selector}\``);
}

async function tabAndPress(page, selector, key = "Enter") {
  await tabTo(page, selector);
  await page.keyboard.press(key);
}

/** @param {Promise<any>} coming a download @returns {Promise<string>} */
const textOfDownload = async (coming) => readFile(await (await coming).path(), "utf8");

const said = (page, selector, words) =>
  until(`\`${selector}\` to say ${words}`, async () => words.test(await textOf(page, selector)), {
    seen: () => textOf(page, selector),
  });
const logged = async (host, header, count) => {
  await until(`${count} entries`, async () => (await host.logged(header.id)).length === count, {
    seen: () => host.stderr(),
  });
  return host.logged(header.id);
};

test("a match is set up, charted, and followed by a new one without a pointer", async (t) => {
  const host = await startHost(t);
  const { page } = await openChart(t, host);
  for (const title of ["First", "Second"]) {
    if (title === "First") await tabTo(page, ".setup [name=title]");
    await until("the title to have the focus", () =>
      page.evaluate(() => document.activeElement?.getAttribute("name") === "title"),
    );
    await page.keyboard.press("ControlOrMeta+a");
    await page.keyboard.type(title);
    for (const name of ["a", "a0", "a1", "b", "b0", "b1"]) {
      await tabTo(page, `.setup [name=${name}]`);
      await page.keyboard.type(`Otter ${name}`);
    }
    await tabTo(page, ".setup [name=scoring]");
    await page.keyboard.press("ArrowDown");
    await tabAndPress(page, ".setup button");
    await until(`the host to have \`${title}\``, async () => JSON.parse(await host.now()).match?.title === title);
    const { match } = JSON.parse(await host.now());
    assert.equal(match.format.scoring, "rally");
    await allSaved(page);
    // Nothing but the keys of the chart is needed from here on.
    await press(page, ["Space", "Space", "Digit1", "Enter", "ArrowLeft"]);
    await allSaved(page);
    assert.equal(JSON.parse(await host.now()).score.rallies, 2);
    await tabAndPress(page, '[data-do="new"]');
    await page.keyboard.press("Escape");
    assert.equal(await page.locator(".court").isVisible(), true, "Escape stays with the match");
    await tabAndPress(page, '[data-do="new"]');
    await said(page, ".new-match", new RegExp(`chart of “${title}” is saved with the host`));
    await tabAndPress(page, ".new-match [value=leave]");
    await page.locator(".setup").waitFor();
  }
});

test("the referee's word: the score opens as it is, is put right, and Escape repeats nothing", async (t) => {
  const { host, page, header } = await onMatch(t);
  await press(page, ["ArrowLeft", "ArrowLeft"]);
  await tabAndPress(page, '[data-do="fix-score"]');
  assert.equal(await page.locator(".referee [name=a]").inputValue(), "2");
  await page.keyboard.press("ControlOrMeta+a");
  await page.keyboard.type("5");
  await page.keyboard.press("Enter");
  await said(page, ".call", /^5-0-2$/);
  const [, , fix] = await logged(host, header, 3);
  assert.deepEqual(
    [fix.kind, fix.points, fix.serving, fix.server, fix.games],
    ["score_fix", { a: 5, b: 0 }, "a", 2, undefined],
  );
  // The next space bar is a serve, not the button again.
  await press(page, ["Space"]);
  await logged(host, header, 4);
  await tabAndPress(page, '[data-do="fix-score"]');
  await page.keyboard.press("Escape");
  await tabAndPress(page, '[data-do="fix-score"]');
  await tabAndPress(page, ".referee [value=penalty]");
  await logged(host, header, 5);
  await tabAndPress(page, '[data-do="fix-score"]');
  await page.keyboard.press("Escape");
  await until("no button to have the focus", () => page.evaluate(() => document.activeElement === document.body));
  await press(page, ["Digit2", "Enter"]);
  const kinds = (await logged(host, header, 6)).map(({ kind }) => kind);
  assert.deepEqual(kinds, ["rally_end", "rally_end", "score_fix", "shot", "penalty", "rally_end"]);
});

test("line-up, medical time-out, games and a retirement are said by keyboard", async (t) => {
  const { host, page, header } = await onMatch(t);
  await tabAndPress(page, '[data-do="fix-score"]');
  assert.match(await textOf(page, ".referee [value=lineup1]"), new RegExp(header.teams.a.players[1]));
  await tabAndPress(page, ".referee [value=lineup1]");
  await tabAndPress(page, '[data-do="fix-score"]');
  await tabTo(page, ".referee [name=team]");
  await page.keyboard.press("ArrowDown");
  await tabAndPress(page, ".referee [value=medical]");
  await tabAndPress(page, '[data-do="fix-score"]');
  await tabTo(page, ".referee [name=games_b]");
  await page.keyboard.press("ControlOrMeta+a");
  await page.keyboard.type("1");
  await page.keyboard.press("Enter");
  await tabAndPress(page, '[data-do="fix-score"]');
  await tabAndPress(page, ".referee [value=retire]");
  const entries = (await logged(host, header, 4)).map(({ kind, team, starting_server, medical, games }) => ({
    kind,
    team,
    starting_server,
    medical,
    games,
  }));
  const nothing = { team: undefined, starting_server: undefined, medical: undefined, games: undefined };
  assert.deepEqual(entries, [
    { ...nothing, kind: "lineup", team: "a", starting_server: 1 },
    { ...nothing, kind: "time_out", team: "b", medical: true },
    { ...nothing, kind: "score_fix", games: { a: 0, b: 1 } },
    { ...nothing, kind: "retire", team: "a" },
  ]);
  await said(page, ".serving", new RegExp(`Match over: ${header.teams.b.name}`));
  await press(page, ["Backspace"]);
  await said(page, ".call", /0-0-2/);
});

test("time-outs, a replay, depths and second thoughts by their keys", async (t) => {
  const { host, page, header } = await onMatch(t);
  await press(page, ["Digit6", "ArrowRight", "Space", "Space", "KeyQ", "KeyQ", "Digit5", "Enter"]);
  await press(page, ["Space", "KeyK", "KeyJ", "Backspace", "Backslash"]);
  await press(page, ["ArrowUp", "ArrowUp", "Semicolon", "ArrowUp", "KeyF", "Escape"]);
  await press(page, ["ArrowUp", "KeyX", "KeyL", "KeyR", "ArrowDown", "Escape", "Digit2", "Enter"]);
  await press(page, ["ArrowUp", "Digit3", "ArrowUp", "ArrowUp", "Delete"]);
  await allSaved(page);
  const told = await effectiveOf(host, header.id);
  assert.deepEqual(
    told.map(({ kind, stroke, how, depth }) => stroke ?? how ?? depth ?? kind),
    ["time_out", "serve", "return", "line", "replay", "serve", "return", "drive", "dink", "net"],
  );
  assert.deepEqual(told[7].cues, ["attackable"]);
  assert.equal(told[0].team, "b");
  const fixes = (await host.logged(header.id)).filter(({ kind }) => kind === "amend").map((amend) => amend.with);
  assert.ok(
    fixes.some(({ stroke, contact }) => stroke === "block" && contact === "half_volley"),
    "the shot just put in is the one a contact goes to",
  );
});

test("a change of ends is said when it is due", async (t) => {
  const host = await startHost(t);
  const { header } = await typed(host, 3, { games: 1, rallies: 1 });
  const { page } = await openChart(t, host);
  await begin(page, { ...header, first_serve: "a" });
  await press(page, ["ArrowLeft", "ArrowLeft", "ArrowLeft", "ArrowLeft", "ArrowLeft"]);
  assert.doesNotMatch(await textOf(page, ".serving"), /change ends/);
  await press(page, ["ArrowLeft"]);
  await said(page, ".serving", /change ends/);
  await press(page, ["ArrowLeft"]);
  assert.doesNotMatch(await textOf(page, ".serving"), /change ends/);
});

test("how much is charted changes between rallies, stays over a reload, and the score stays right", async (t) => {
  const { host, page, header } = await onMatch(t);
  await press(page, ["Space", "Digit0"]);
  await said(page, ".what", /between rallies/);
  await press(page, ["Digit2", "Enter", "Digit0"]);
  await said(page, ".detail", /Rally results and cues/);
  await press(page, ["KeyP", "KeyF", "Digit1", "ArrowLeft", "Digit0"]);
  await said(page, ".detail", /Score only/);
  await press(page, ["Space"]);
  await said(page, ".what", /not charted/);
  await press(page, ["ArrowRight"]);
  await allSaved(page);
  await page.reload();
  await said(page, ".detail", /Score only/);
  await press(page, ["Digit0", "Space", "Space", "Digit2", "Enter"]);
  await allSaved(page);
  const told = await effectiveOf(host, header.id);
  assert.deepEqual(
    told.map(({ kind, stroke, how, cue }) => stroke ?? cue ?? how ?? kind),
    ["serve", "out", "overhead", "attackable", "winner", "rally_end", "serve", "return", "out"],
  );
  assert.equal(JSON.parse(await host.now()).score.call, await textOf(page, ".call"));
});

test("files are chosen by keyboard: a chart to go on with, and a video", async (t) => {
  const host = await startHost(t);
  const { header, entries } = await typed(host, 3, { rallies: 1 });
  const { page } = await openChart(t, host);
  await page.locator(".setup").waitFor();
  const chosen = page.waitForEvent("filechooser");
  await tabAndPress(page, ".setup [name=file]");
  const text = [header, ...entries].map((line) => `${JSON.stringify(line)}\n`).join("");
  await (await chosen).setFiles({ name: "begun.jsonl", mimeType: "application/jsonl", buffer: Buffer.from(text) });
  await tabAndPress(page, ".setup button");
  await page.locator(".court").waitFor();
  await allSaved(page);
  assert.equal((await host.logged(header.id)).length, entries.length);
  const film = page.waitForEvent("filechooser");
  await tabAndPress(page, '[data-do="film"]');
  await tabAndPress(page, "dialog[open] [type=file]");
  assert.equal((await film).isMultiple(), false);
});

test("a laptop whose court got another match saves its chart and goes on with the new one by keyboard", async (t) => {
  const browser = await openBrowser(t);
  const { host, page, header } = await onMatch(t, { context: await browser.newContext({ acceptDownloads: true }) });
  await press(page, ["ArrowLeft"]);
  await allSaved(page);
  await page.context().setOffline(true);
  await said(page, ".line", /Offline/);
  await press(page, ["ArrowRight"]);
  const next = headerFor("next");
  const tablet = await Charter.welcomed(host, { chart: next, replace: true });
  await tablet.bring([{ id: "e1", at: "2026-05-09T10:00:00.000Z", kind: "rally_end", won_by: "a" }]);
  await page.context().setOffline(false);
  await said(
    page,
    ".gate",
    /Now on this court: Alder \/ Ash v Birch \/ Bay[\s\S]*not on this court any more[\s\S]*1 entry is not with the host yet/,
  );
  await said(page, ".line-aloud", /Stopped/);
  const saved = page.waitForEvent("download");
  await tabAndPress(page, '[data-do="save-here"]');
  assert.equal((await textOfDownload(saved)).trimEnd().split("\n").length, 3);
  const again = page.waitForEvent("download");
  await tabAndPress(page, '[data-do="start-anew"]');
  assert.ok(await textOfDownload(again));
  await said(page, ".gate", /Another laptop/);
  await tabAndPress(page, '[data-do="take-over"]');
  await until("the new match to be on the page", async () => (await textOf(page, ".title")).includes(next.title), {
    seen: () => textOf(page, ".title"),
  });
  await press(page, ["ArrowRight"]);
  await logged(host, next, 2);
  assert.equal((await host.logged(header.id)).length, 1, "nothing of the old match went to the new one or back");
});

test("a key given another meaning keeps it over a reload, and goes to another browser as a file", async (t) => {
  const browser = await openBrowser(t);
  const { host, page, header } = await onMatch(t, { context: await browser.newContext({ acceptDownloads: true }) });
  await tabAndPress(page, '[data-do="keys"]');
  await tabTo(page, ".keys [name=action]");
  await page.keyboard.type("drop");
  await tabAndPress(page, '[data-do="remap"]');
  await page.keyboard.press("Tab");
  await said(page, ".keys-words", /has to stay as it is/);
  await page.keyboard.press("KeyJ");
  await said(page, ".keys-words", /“drop” has J now; “dink” has K now/);
  const download = page.waitForEvent("download");
  await tabAndPress(page, '[data-do="keys-save"]');
  const file = await textOfDownload(download);
  await page.keyboard.press("Escape");
  await page.reload();
  await page.locator(".court").waitFor();
  await press(page, ["Space", "Space", "KeyJ", "KeyK", "Digit2", "Enter"]);
  await allSaved(page);
  assert.deepEqual(
    (await host.logged(header.id)).map(({ stroke, how }) => stroke ?? how),
    ["serve", "return", "drop", "dink", "out"],
  );
  await page.close();
  const { page: other } = await openPage(await browser.newContext(), host.http("/courts/1/chart"), LAPTOP);
  await said(other, ".gate", /Another laptop, away now, has charted this court/);
  await other.locator('[data-do="take-over"]').press("Enter");
  await other.locator(".court").waitFor();
  await tabAndPress(other, '[data-do="keys"]');
  await other
    .locator(".keys [name=file]")
    .setInputFiles({ name: "keys.json", mimeType: "application/json", buffer: Buffer.from(file) });
  await said(other, ".keys-words", /in use now/);
  await other.keyboard.press("Escape");
  await until("no button to have the focus", () => other.evaluate(() => document.activeElement === document.body));
  await press(other, ["Space", "Space", "KeyJ"]);
  await allSaved(other);
  assert.equal((await host.logged(header.id)).at(-1).stroke, "drop");
});

test("a change of keys can be broken off, and the keys as they came come back", async (t) => {
  const { page } = await onMatch(t);
  const sign = () => page.locator('[data-action="stroke:dink"] kbd').textContent();
  await tabAndPress(page, '[data-do="keys"]');
  await tabTo(page, ".keys [name=action]");
  await page.keyboard.type("dink");
  await tabAndPress(page, '[data-do="remap"]');
  await page.keyboard.press("Escape");
  await said(page, ".keys-words", /Nothing has changed/);
  assert.equal(await page.locator("dialog.keys").isVisible(), true);
  await tabAndPress(page, '[data-do="remap"]');
  await page.keyboard.press("F9");
  assert.equal(await sign(), "F9");
  await tabAndPress(page, '[data-do="keys-default"]');
  assert.equal(await sign(), "J");
});

test("single keys can be switched off; the buttons then do everything, by Tab and Enter too", async (t) => {
  const { host, page, header } = await onMatch(t);
  await tabAndPress(page, '[data-do="keys"]');
  await tabAndPress(page, ".keys [name=on]", "Space");
  await page.keyboard.press("Escape");
  await until("no button to have the focus", () => page.evaluate(() => document.activeElement === document.body));
  await press(page, ["KeyJ", "ArrowLeft", "Space"]);
  await tabAndPress(page, '[data-action="next"]');
  await page.keyboard.press("Space");
  assert.deepEqual(
    (await logged(host, header, 2)).map(({ stroke }) => stroke),
    ["serve", "return"],
  );
  assert.match(await textOf(page, ".detail"), /keyboard shortcuts off/);
  await page.reload();
  // What was not on this laptop's disk yet comes back from the host.
  await until("the chart to be back", async () => (await page.locator(".recent li").count()) === 2);
  await press(page, ["KeyJ"]);
  assert.equal(await page.locator(".recent li").count(), 2);
});

for (const [layout, letters] of [
  // Letters of French (AZERTY) and Dvorak keyboards at places of the US one; values from memory.
  ["AZERTY", { KeyJ: "j", KeyK: "k", KeyQ: "a", KeyA: "q", KeyM: ",", Semicolon: "m", Digit2: "é" }],
  ["Dvorak", { KeyJ: "h", KeyK: "t", KeyQ: "'", KeyA: "a", KeyM: "m", Semicolon: "s", Digit2: "2" }],
]) {
  test(`on a ${layout} keyboard the same places mean the same, and their letters are shown`, async (t) => {
    const { host, page, header } = await onMatch(t);
    await page.evaluate(
      (pressed) => {
        for (const [code, key] of pressed)
          dispatchEvent(new KeyboardEvent("keydown", { code, key, bubbles: true, cancelable: true }));
      },
      [
        ["Space", " "],
        ...["KeyK", "KeyJ", "Semicolon", "KeyA", "KeyM", "Digit2"].map((code) => [code, letters[code]]),
        ["Enter", "Enter"],
      ],
    );
    await allSaved(page);
    assert.deepEqual(
      (await host.logged(header.id)).map(({ stroke, cue, how }) => stroke ?? cue ?? how),
      ["serve", "return", "drop", "dink", "drive", "net_cord", "dink", "out"],
    );
    const shown = await page.locator('[data-action="stroke:dink"] kbd').textContent();
    // Where the browser tells its own keyboard that one is shown.
    const told = await page.evaluate(async () => (await navigator.keyboard?.getLayoutMap())?.get("KeyJ") ?? null);
    assert.equal(shown, (told ?? letters.KeyJ).toUpperCase());
  });
}

test("what changes is said aloud, once and in words", async (t) => {
  const { host, page } = await onMatch(t);
  for (const selector of [".line-aloud", ".what", ".armed"])
    assert.equal(await page.locator(selector).getAttribute("role"), "status");
  await said(page, ".line-aloud", /^Connected, all saved$/);
  await press(page, ["Digit2"]);
  await said(page, ".armed", /^out by: /);
  await press(page, ["ArrowLeft"]);
  await said(page, ".what", /rally to .* side out/);
  await allSaved(page);
  await host.kill();
  await said(page, ".line-aloud", /^Offline, \w+ waiting: chart on, do not reload$/);
  await press(page, ["Space", "Space", "KeyK"]);
  await until("the count to be said", async () => /^Offline, 3 waiting/.test(await textOf(page, ".line-aloud")), {
    seen: () => textOf(page, ".line-aloud"),
  });
  const again = await restartHost(t, host);
  await said(page, ".line-aloud", /^Connected, all saved$/);
  const other = await (await page.context().browser().newContext()).newPage();
  await other.goto(again.http("/courts/1/chart"));
  await said(other, ".line-aloud", /^Stopped: another laptop charts this court$/);
  await other.locator('[data-do="take-over"]').press("Enter");
  await said(page, ".line-aloud", /^Stopped: another laptop has taken over$/);
});

test("axe finds nothing on the form, the match, the dialogs, the page offline and the gate", async (t) => {
  const host = await startHost(t);
  const { header } = await typed(host, 3, { rallies: 1 });
  const { page } = await openChart(t, host);
  await page.locator(".setup").waitFor();
  const found = { form: await faultsByAxe(page) };
  await begin(page, header);
  await press(page, ["Space", "Space", "KeyK", "ArrowUp"]);
  found.fixing = await faultsByAxe(page);
  await press(page, ["Escape"]);
  found.match = await faultsByAxe(page);
  for (const name of ["fix-score", "keys", "film", "new"]) {
    await page.locator(`.foot [data-do="${name}"]`).press("Enter");
    assert.equal(await page.locator("dialog[open] h2").count(), 1, `${name} says what it is`);
    found[name] = await faultsByAxe(page);
    await page.keyboard.press("Escape");
  }
  const other = await (await page.context().browser().newContext()).newPage();
  await other.goto(host.http("/courts/1/chart"));
  await other.locator(".gate").waitFor();
  found.gate = await faultsByAxe(other);
  await host.kill();
  await until("the page to notice", async () => /Offline/.test(await textOf(page, ".line")));
  await press(page, ["KeyJ"]);
  found.offline = await faultsByAxe(page);
  assert.deepEqual(
    Object.entries(found).filter(([, faults]) => faults.length > 0),
    [],
  );
});

test("nothing needs scrolling on a small laptop or a tablet, and no target is below 48 pixels", async (t) => {
  const { page, header } = await onMatch(t);
  await press(page, [
    "Space",
    "Space",
    "KeyK",
    "KeyJ",
    "KeyR",
    "KeyF",
    "KeyD",
    "KeyQ",
    "KeyZ",
    "Digit2",
    "Enter",
    "Space",
  ]);
  assert.ok(header.teams.a.name.length > 12, "long names are part of this");
  for (const { width, height } of [
    LAPTOP,
    { width: 1280, height: 800 },
    { width: 1024, height: 768 },
    { width: 768, height: 1024 },
    { width: 800, height: 1280 },
  ]) {
    await page.setViewportSize({ width, height });
    const size = await page.evaluate(() => [
      document.documentElement.scrollWidth,
      document.documentElement.scrollHeight,
    ]);
    assert.ok(size[0] <= width && size[1] <= height, `at ${width}×${height} the page is ${size.join("×")}`);
    const small = await page
      .locator("button:visible")
      .evaluateAll((all) =>
        all
          .filter((one) => one.getBoundingClientRect().height < 48 || one.getBoundingClientRect().width < 48)
          .map(
            (one) => `${one.textContent}: ${one.getBoundingClientRect().width} × ${one.getBoundingClientRect().height}`,
          ),
      );
    assert.deepEqual(small, [], `at ${width}×${height}`);
  }
});
