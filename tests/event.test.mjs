/**
 * What everybody may see of an event: courts, schedule and results over HTTP, and nothing else.
 */
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { test } from "node:test";
import { Charter } from "./support/charter.mjs";
import { headerFor } from "./support/charts.mjs";
import { Desk } from "./support/desk.mjs";
import { Host } from "./support/host.mjs";

const AT = "2026-05-03T10:00:00.000Z";

function plan(fields = {}) {
  const { kind, chart, ...rest } = headerFor("unused");
  return { ...rest, ...fields };
}

const day = async (host) => JSON.parse(await new Desk(host).text("/event.json"));

test("schedule_courts_and_results_are_told_in_the_order_of_the_sheet", async (t) => {
  const host = await Host.start(t);
  const desk = new Desk(host);
  for (const [id, court, time] of [
    ["zebra", "2", "14:00"],
    ["apple", "", "14:20"],
    ["mango", "2", "14:40"],
  ])
    await desk.done("POST", "/matches", plan({ id, court, time, round: "QF 1" }), 201);
  await desk.done("PUT", "/courts/2/match", { match: "zebra" }, 204);
  let { courts, matches } = await day(host);
  assert.deepEqual(courts, [{ court: "2", state: "ready", match: "zebra", next: "mango" }]);
  assert.deepEqual(
    matches.map(({ id, state, court, time, round }) => [id, state, court, time, round]),
    [
      ["zebra", "on", "2", "14:00", "QF 1"],
      ["apple", "planned", null, "14:20", "QF 1"],
      ["mango", "planned", "2", "14:40", "QF 1"],
    ],
  );
  assert.deepEqual([matches[0].score.points, matches[1].score], [{ a: 0, b: 0 }, null]);

  const charter = await Charter.welcomed(host, { court: "2" });
  await charter.bring([
    { id: "e1", at: AT, kind: "rally_end", won_by: "a" },
    { id: "e2", at: AT, kind: "retire", team: "a" },
  ]);
  ({ courts, matches } = await day(host));
  assert.equal(courts[0].state, "finished");
  assert.deepEqual([matches[0].state, matches[0].score.winner], ["finished", "b"]);
});

test("neither_keys_nor_charters_nor_anything_else_of_a_header_go_out", async (t) => {
  const host = await Host.start(t);
  const desk = new Desk(host);
  const secret = "telephone-0123";
  const header = plan({ id: "m1", referee: secret });
  header.teams.a.contact = secret;
  header.format.note = secret;
  await desk.done("POST", "/matches", header, 201);
  await desk.done("PUT", "/courts/1/match", { match: "m1" }, 204);
  await Charter.welcomed(host, { client: "volunteer-of-a-name" });
  const text = await desk.text("/event.json");
  assert.match(text, /"m1"/);
  const keys = Object.values(JSON.parse(await readFile(join(host.data, "_keys.json"), "utf8"))).filter(
    (key) => typeof key === "string",
  );
  assert.ok(keys.length >= 4, "the keys were found");
  for (const hidden of [secret, "volunteer-of-a-name", ...keys]) assert.ok(!text.includes(hidden), hidden);
});

test("a_day_that_has_not_changed_is_not_sent_again", async (t) => {
  const host = await Host.start(t);
  const desk = new Desk(host);
  await desk.done("POST", "/matches", plan({ id: "m1" }), 201);
  const first = await host.get("/event.json");
  const tag = first.headers.get("etag");
  assert.equal((await host.get("/event.json", { "if-none-match": tag })).status, 304);
  await desk.done("POST", "/matches", plan({ id: "m2" }), 201);
  assert.equal((await host.get("/event.json", { "if-none-match": tag })).status, 200);
});

test("the_page_is_served_with_its_files", async (t) => {
  const host = await Host.start(t);
  const page = await host.get("/event");
  assert.match(await page.text(), /Scores and schedule/);
  for (const file of ["main.js", "asking.js", "telling.js", "drawing.js", "event.css"])
    assert.equal((await host.get(`/event/${file}`)).status, 200, file);
});
