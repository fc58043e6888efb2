/**
 * What watches over a host, and what shows one number of it: `health`, `metrics`, the readings of
 * one indicator.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { Charter } from "./support/charter.mjs";
import { headerFor } from "./support/charts.mjs";
import { Host } from "./support/host.mjs";
import { Socket } from "./support/socket.mjs";

const AT = "2026-05-03T10:00:00.000Z";
const POINT = { id: "e1", at: AT, kind: "rally_end", won_by: "a" };

test("a_host_that_answers_says_that_it_is_well", async (t) => {
  const host = await Host.start(t);
  const answer = await host.get("/health");
  assert.equal(answer.status, 200);
  assert.equal((await answer.json()).status, "ok");
});

test("metrics_are_in_the_text_format_and_count_what_is_there", async (t) => {
  const host = await Host.start(t);
  const charter = await Charter.welcomed(host, { chart: headerFor("m1") });
  await charter.chart([POINT]);
  await Socket.open(host.ws("/courts/1/feed?role=booth"));
  await charter.bring([{ ...POINT, won_by: "b" }]);
  const answer = await host.get("/metrics");
  assert.match(answer.headers.get("content-type"), /^text\/plain; version=0\.0\.4/);
  const lines = (await answer.text()).trimEnd().split("\n");
  // The text format, version 0.0.4: comments, else name, labels and value.
  const sample = /^([a-z_]+)(\{([a-z_]+="[^"\\]*",?)+\})? -?\d+(\.\d+)?(e-?\d+)?$/;
  const typed = new Set(lines.filter((line) => line.startsWith("# TYPE ")).map((line) => line.split(" ")[2]));
  for (const line of lines.filter((line) => !line.startsWith("#"))) {
    assert.match(line, sample);
    assert.ok(typed.has(sample.exec(line)[1]), line);
  }
  for (const line of [
    "rallytide_courts 1",
    'rallytide_entries{court="1"} 1',
    'rallytide_charters{court="1"} 1',
    'rallytide_viewers{court="1",role="booth"} 1',
    'rallytide_refused_total{code="id_conflict"} 1',
    'rallytide_plugin_faults{court="1",plugin="initiative"} 0',
  ]) {
    assert.ok(lines.includes(line), `${line} stands in\n${lines.join("\n")}`);
  }
});

test("the_readings_of_one_indicator_are_those_of_the_snapshot", async (t) => {
  const host = await Host.start(t);
  const charter = await Charter.welcomed(host, { chart: headerFor("m1") });
  await charter.chart([POINT]);
  const all = JSON.parse(await host.now()).readings;
  const of = (name) => all.filter(({ indicator }) => indicator === name);
  const path = "/courts/1/now/reading/score.run";
  const answer = await host.get(path);
  assert.deepEqual(await answer.json(), { readings: of("score.run") });
  assert.equal((await host.get(path, { "if-none-match": answer.headers.get("etag") })).status, 304);
  const text = (query) => host.get(path + query, { accept: "text/plain" }).then((one) => one.text());
  assert.equal(await text(""), "a 1\nb 0\n");
  assert.equal(await text("?team=a"), "a 1\n");
  const unknown = await host.get("/courts/1/now/reading/nothing");
  assert.equal(unknown.status, 404);
  assert.match(await unknown.text(), /`score\.run`/);
  assert.equal((await host.get("/courts/1/now/reading/prompt")).status, 404, "prompts are the booth's alone");
});
