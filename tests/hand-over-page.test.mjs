/**
 * Between two matches, on the charter's open page: what the desk does is seen there within a
 * second, the next match is one key away, and after the desk's undo the page goes on by itself.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { openBrowser, openPage } from "./support/browser.mjs";
import { LAPTOP, allSaved, lineOf, press, startHost, textOf } from "./support/chart-page.mjs";
import { headerFor } from "./support/charts.mjs";
import { Desk } from "./support/desk.mjs";
import { until } from "./support/wait.mjs";

/** Within so long the page shows what the desk has done. */
const SOON_MS = 1000;
const AT = "2026-05-03T10:00:00.000Z";
const TEAMS = {
  m1: ["Otter / Oak", "Plover / Pine"],
  m2: ["Quail / Quince", "Robin / Rowan"],
};

/** A match as the desk plans it. */
function planned(id, [a, b] = TEAMS[id], court = "1") {
  const header = headerFor(id, {}, { title: `Match ${id}`, court });
  return {
    ...header,
    teams: { a: { ...header.teams.a, name: a }, b: { ...header.teams.b, name: b } },
  };
}

/** The desk has put m1 on court 1 and planned m2; the charter's page is open on it. */
async function playing(t, { codes = ["ArrowLeft"] } = {}) {
  const host = await startHost(t);
  const desk = new Desk(host);
  for (const id of ["m1", "m2"]) await desk.done("POST", "/matches", planned(id), 201);
  await putOn(desk, "m1");
  const { page, errors } = await openPage(await openBrowser(t), host.http("/courts/1/chart"), LAPTOP);
  await soon("the match to be on the page", page, ".title", /Match m1/, 20_000);
  await press(page, codes);
  await allSaved(page);
  return { host, desk, page, errors };
}

const putOn = (desk, match, more = {}, court = "1") =>
  desk.done("PUT", `/courts/${court}/match`, { match, ...more }, 204);

const soon = (what, page, selector, words, within = SOON_MS) =>
  until(what, async () => words.test(await textOf(page, selector)), { within, seen: () => textOf(page, selector) });

test("the next match of the desk is named within a second, and one key charts it", async (t) => {
  const { host, desk, page, errors } = await playing(t);
  await putOn(desk, "m2", { replace: true });
  await soon("the gate to name the next match", page, ".gate h2", /Quail \/ Quince v Robin \/ Rowan/);
  assert.equal(
    (await textOf(page, "[data-do='start-anew']")).trim(),
    "N Chart the next match: Quail / Quince v Robin / Rowan",
  );
  assert.doesNotMatch(await textOf(page, "body"), /other_match|court_busy|seat|hello/);
  await press(page, ["Space", "ArrowLeft", "Enter"]);
  assert.deepEqual(await host.logged("m2"), [], "no key of the match before counts for the next one");
  await press(page, ["KeyN"]);
  await soon("the next match to be on the page", page, ".title", /Match m2/, 5_000);
  await press(page, ["ArrowRight"]);
  await allSaved(page);
  assert.deepEqual(
    (await host.logged("m2")).map(({ won_by }) => won_by),
    ["b"],
  );
  assert.equal((await host.logged("m1")).length, 1);
  assert.equal((await desk.court()).charters[0].match, "m2", "the desk knows who charts it");
  assert.deepEqual(errors, []);
});

test("after the desk's undo the page goes on by itself, with the key that waited", async (t) => {
  const { host, desk, page } = await playing(t, { codes: ["ArrowLeft", "Space", "Space", "Digit2"] });
  await putOn(desk, "m2", { replace: true });
  await soon("the page to stop", page, ".gate h2", /Quail/);
  await putOn(desk, "m1", { replace: true });
  await until("the page to go on", async () => (await lineOf(page)) === "connected", { within: SOON_MS });
  await press(page, ["Enter"]);
  await allSaved(page);
  const [, , , end] = await host.logged("m1");
  assert.deepEqual([end.how, end.by], ["out", "b"]);
});

test("a page that has gone on to the next match, and charted nothing, follows the desk's undo", async (t) => {
  const { desk, page } = await playing(t);
  await putOn(desk, "m2", { replace: true });
  await soon("the gate to name the next match", page, ".gate h2", /Quail/);
  await press(page, ["KeyN"]);
  await soon("the next match to be on the page", page, ".title", /Match m2/, 5_000);
  await putOn(desk, "m1", { replace: true });
  await soon("the match from before to be back", page, ".title", /Match m1/);
  await soon("its score to be back", page, ".call", /^1-0-2$/);
});

test("reloaded at the gate, the page still names the next match", async (t) => {
  const { desk, page } = await playing(t);
  await putOn(desk, "m2", { replace: true });
  await soon("the gate to name the next match", page, ".gate h2", /Quail/);
  await page.reload();
  await soon("the gate to name it again", page, "[data-do='start-anew']", /Chart the next match: Quail/, 10_000);
  await putOn(desk, "m1", { replace: true });
  await until("the page to go on", async () => (await lineOf(page)) === "connected", { within: SOON_MS });
});

for (const [what, act, selector, words] of [
  [
    "a correction",
    (desk) =>
      desk.done(
        "POST",
        "/courts/1/entries",
        {
          entries: [{ id: "d1", at: AT, kind: "score_fix", points: { a: 7, b: 5 }, serving: "b", server: 1 }],
        },
        200,
      ),
    ".call",
    /^5-7-1$/,
  ],
  [
    "a retirement",
    (desk) => desk.done("PUT", "/courts/1/finish", { finished: true, retired: "a" }, 204),
    ".serving",
    /Match over: Plover/,
  ],
  [
    "an end without a winner",
    (desk) => desk.done("PUT", "/courts/1/finish", { finished: true }, 204),
    ".desk-says",
    /The desk has ended this match/,
  ],
  ["a pause", (desk) => desk.done("PUT", "/courts/1/pause", { paused: true }, 204), ".desk-says", /paused play/],
  [
    "another name",
    (desk) => desk.done("PUT", "/matches/m1", planned("m1", ["Heron / Hazel", "Plover / Pine"]), 200),
    ".serving",
    /Heron \/ Hazel/,
  ],
  ["an empty court", (desk) => desk.done("DELETE", "/courts/1/match", undefined, 204), ".gate h2", /No match is on/],
  ["another court", (desk) => putOn(desk, "m1", { move: true }, "3"), ".gate h2", /moved to court 3/],
]) {
  test(`${what} by the desk is on the charter's page within a second`, async (t) => {
    const { desk, page, errors } = await playing(t);
    await act(desk);
    await soon(what, page, selector, words);
    assert.deepEqual(errors, []);
  });
}

test("a match that moved to another court is charted on there, by the link on the page", async (t) => {
  const { host, desk, page } = await playing(t);
  await putOn(desk, "m1", { move: true }, "3");
  await page.locator(".follow").press("Enter");
  await soon("the match to be there", page, ".title", /Match m1/, 10_000);
  await soon("its score to be there", page, ".call", /^1-0-2$/);
  await press(page, ["ArrowLeft"]);
  await allSaved(page);
  assert.equal((await host.logged("m1")).length, 2);
});

test("a new match of the charter's own never pushes the desk's aside, and Home v Away is not begun at all", async (t) => {
  const { host, desk, page } = await playing(t);
  await page.locator('[data-do="new"]').press("Enter");
  await page.locator(".new-match [value=leave]").press("Enter");
  await page.locator(".setup").waitFor();
  for (const name of ["a", "b", "a0", "a1", "b0", "b1"])
    assert.equal(await page.locator(`.setup [name=${name}]`).inputValue(), "", "nobody's names stand in the form");
  const fill = async (a, b) => {
    for (const [name, text] of Object.entries({ a, b, a0: "Ari", a1: "Noa", b0: "Bea", b1: "Bo" }))
      await page.locator(`.setup [name=${name}]`).fill(text);
    await page.locator(".setup button").press("Enter");
  };
  await fill("Home", "away ");
  await soon("the names to be refused", page, ".setup-problem", /real name/);
  assert.equal((await desk.court()).match, "m1");
  await fill("Stork", "Teal");
  await soon(
    "the page to lead back to the desk's match",
    page,
    "[data-do='start-anew']",
    /Otter \/ Oak v Plover/,
    5_000,
  );
  assert.equal(JSON.parse(await host.now()).match.id, "m1");
  await press(page, ["KeyN"]);
  await soon("the desk's match to be back on the page", page, ".call", /^1-0-2$/, 5_000);
});
