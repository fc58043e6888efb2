/**
 * What the host hands out of a match in other forms: the same bytes as `rallytide export` gives of
 * the chart it hands out, as attachments, for the desk alone; refusals are sentences.
 */
import assert from "node:assert/strict";
import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { test } from "node:test";
import { Charter } from "./support/charter.mjs";
import { DEMO_MATCH, demoMatch, headerFor, numbered } from "./support/charts.mjs";
import { freshFolder } from "./support/folders.mjs";
import { Host } from "./support/host.mjs";
import { rallytide } from "./support/program.mjs";

/** What is asked of the host, the options that ask the command for the same, the type it comes as. */
const FILES = [
  ...["shots", "rallies", "events", "readings"].flatMap((table) => [
    [`export/${table}.csv`, ["--as", "csv", "--what", table], "text/csv"],
    [`export/${table}.csv?bom=true`, ["--as", "csv", "--what", table, "--bom"], "text/csv"],
  ]),
  ...["captions", "chapters"].flatMap((track) => [
    [`export/${track}.vtt`, ["--as", "webvtt", "--what", track], "text/vtt"],
    [`export/${track}.vtt?offset=-12.5`, ["--as", "webvtt", "--what", track, "--offset", "-12.5"], "text/vtt"],
  ]),
  ["export/match.html", ["--as", "html"], "text/html"],
  ["feed.jsonl", ["--as", "json"], "application/jsonl"],
];

async function get(host, path) {
  const response = await host.get(path);
  return { status: response.status, headers: response.headers, body: Buffer.from(await response.arrayBuffer()) };
}

/** The chart of a match as the host hands it out, in a file. */
async function takenAway(t, host, id) {
  const { status, body } = await get(host, `/matches/${id}/chart.jsonl`);
  assert.equal(status, 200);
  const file = join(await freshFolder(t), `${id}.jsonl`);
  await writeFile(file, body);
  return file;
}

async function sameAsTheCommand(host, id, file, [path, options, type]) {
  const { status, stdout, stderr } = await rallytide(["export", file, ...options]);
  assert.equal(status, 0, stderr);
  const answer = await get(host, `/matches/${id}/${path}`);
  assert.equal(answer.status, 200, `${path}: ${answer.body}`);
  assert.ok(answer.body.equals(Buffer.from(stdout)), `${path} is not what \`export ${options.join(" ")}\` gives`);
  assert.ok(answer.headers.get("content-type").startsWith(`${type}; charset=utf-8`), path);
  const name = path.replace("export/", "").replace(/\?.*/, "");
  assert.equal(answer.headers.get("content-disposition"), `attachment; filename="${id}.${name}"`);
}

test("every_form_the_host_hands_out_is_the_commands_byte_for_byte", async (t) => {
  const host = await Host.start(t);
  const { status, stderr } = await rallytide(["feed", DEMO_MATCH, "--to", host.http("/"), "--pace", "0"]);
  assert.equal(status, 0, stderr);
  const { header } = await demoMatch();
  const file = await takenAway(t, host, header.id);
  for (const wanted of FILES) await sameAsTheCommand(host, header.id, file, wanted);
  const start = new Date(
    Date.parse(JSON.parse((await get(host, `/matches/${header.id}/chart.jsonl`)).body.toString().split("\n")[1]).at) +
      60_000,
  ).toISOString();
  await sameAsTheCommand(host, header.id, file, [
    `export/captions.vtt?start=${start}`,
    ["--as", "webvtt", "--start", start],
    "text/vtt",
  ]);
});

test("names_words_and_corrections_come_along_under_the_header_in_use", async (t) => {
  const host = await Host.start(t);
  const header = { ...headerFor("Odd_id-1"), title: '=1+1 "a", <b> &' };
  const charter = await Charter.welcomed(host, { chart: header });
  await charter.chart(
    numbered([
      { kind: "shot", team: "a", stroke: "serve" },
      { kind: "note", text: 'Håkan, "slow" \u2014 and <loud>' },
      { kind: "rally_end", how: "ace", by: "a" },
      { kind: "time_out", team: "b" },
      { kind: "amend", target: "e3", with: { kind: "rally_end", how: "net", by: "a" } },
    ]),
  );
  const file = await takenAway(t, host, header.id);
  for (const wanted of FILES.filter(([path]) => !path.includes("offset")))
    await sameAsTheCommand(host, header.id, file, wanted);
});

test("what_cannot_be_had_is_said_in_a_sentence", async (t) => {
  const host = await Host.start(t);
  const charter = await Charter.welcomed(host, { chart: headerFor("m1") });
  await charter.chart(
    numbered([
      { kind: "shot", team: "a", stroke: "serve" },
      { kind: "rally_end", how: "ace", by: "a" },
    ]),
  );
  for (const [path, status, said] of [
    ["/matches/nobody/export/shots.csv", 404, /^there is no match `nobody`\n$/],
    ["/matches/m1/export/score.csv", 404, /`score\.csv`.*`shots\.csv`.*`match\.html`/],
    ["/matches/m1/export/shots.csv?offset=3", 422, /`offset`.*`captions\.vtt`/],
    ["/matches/m1/export/captions.vtt?offset=soon", 422, /`soon`/],
    ["/matches/m1/export/captions.vtt?start=noon", 422, /RFC 3339.*`noon`/],
    ["/matches/m1/export/captions.vtt?offset=-90000", 422, /before the video begins/],
    ["/matches/m1/export/match.html?bom=true", 422, /`bom`.*tables/],
  ]) {
    const answer = await get(host, path);
    assert.equal(answer.status, status, `${path}: ${answer.body}`);
    assert.match(answer.body.toString(), said, path);
    assert.match(answer.headers.get("content-type"), /^text\/plain/, path);
    assert.equal(answer.headers.get("content-disposition"), null, path);
  }
});

test("many_who_ask_at_once_get_the_file_or_are_told_to_come_again_and_play_goes_on", async (t) => {
  const host = await Host.start(t);
  const { status, stderr } = await rallytide(["feed", DEMO_MATCH, "--to", host.http("/"), "--pace", "0"]);
  assert.equal(status, 0, stderr);
  const { header } = await demoMatch();
  const asked = Promise.all(Array.from({ length: 40 }, () => get(host, `/matches/${header.id}/export/match.html`)));
  const charter = await Charter.welcomed(host, { chart: headerFor("meanwhile"), court: "beside" });
  await charter.chart(
    numbered([
      { kind: "shot", team: "a", stroke: "serve" },
      { kind: "rally_end", how: "ace", by: "a" },
    ]),
  );
  const answers = await asked;
  const whole = answers.find((one) => one.status === 200);
  for (const answer of answers) {
    if (answer.status === 200) assert.ok(answer.body.equals(whole.body));
    else assert.match(`${answer.status} ${answer.body}`, /^503 .*try again/);
  }
  assert.equal((await get(host, `/matches/${header.id}/export/match.html`)).status, 200, "there is room again");
});
