/**
 * Text files for streaming programs: what stands in them, when, and what is refused.
 */
import assert from "node:assert/strict";
import { mkdir, readFile, readdir, rm, stat, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { test } from "node:test";
import { Charter } from "./support/charter.mjs";
import { headerFor } from "./support/charts.mjs";
import { Desk } from "./support/desk.mjs";
import { freshFolder } from "./support/folders.mjs";
import { Host } from "./support/host.mjs";
import { rallytide } from "./support/program.mjs";
import { until } from "./support/wait.mjs";

const AT = "2026-05-03T10:00:00.000Z";
const entry = (id, content) => ({ id, at: AT, ...content });

/** Waits until a file holds what it should. */
function holds(folder, court, file, expected) {
  const path = join(folder, court, file);
  let seen = null;
  return until(
    `${file} says ${JSON.stringify(expected)}`,
    async () => {
      seen = await readFile(path, "utf8").catch((error) => error.code);
      return seen === expected;
    },
    { seen: () => seen },
  );
}

test("the_files_follow_score_state_names_and_a_pause_and_a_restart", async (t) => {
  const data = await freshFolder(t);
  const folder = await freshFolder(t);
  const host = await Host.start(t, { data });
  const desk = new Desk(host);
  await desk.done("PUT", "/text-files", { folder }, 204);
  const header = headerFor("m1");
  const { a, b } = header.teams;
  const charter = await Charter.welcomed(host, { chart: header });
  await holds(folder, "1", "score.txt", `0-0-2\n${a.name}\n${b.name}\n`);
  await holds(folder, "1", "state.txt", "Neutral\n");
  const names = await readFile(join(folder, "1", "names.txt"), "utf8");
  assert.equal(names.split("\n")[0], header.title);
  assert.ok(names.includes(a.name) && names.includes(b.name), names);

  await charter.bring([
    entry("s1", { kind: "shot", team: "a", stroke: "serve" }),
    entry("s2", { kind: "shot", team: "b", stroke: "return" }),
    entry("s3", { kind: "shot", team: "a", stroke: "drop" }),
    entry("s4", { kind: "shot", team: "b", stroke: "volley" }),
  ]);
  // The returners are at the line, the servers back, and the ball was taken in the air.
  await holds(folder, "1", "state.txt", `${b.name} on offense\n`);
  await charter.bring([entry("e1", { kind: "rally_end", won_by: "a" })]);
  await holds(folder, "1", "score.txt", `1-0-2\n${a.name}\n${b.name}\n`);

  await desk.done("PUT", "/courts/1/pause", { paused: true }, 204);
  await holds(folder, "1", "state.txt", "Play is paused\n");
  const files = await readdir(join(folder, "1"));
  assert.ok(
    files.every((file) => /^[a-z0-9-]+\.txt$/.test(file)),
    `nothing half-written is left: ${files}`,
  );

  await host.kill();
  await rm(join(folder, "1"), { recursive: true, maxRetries: 20 });
  const again = new Desk(await Host.start(t, { data }));
  await holds(folder, "1", "score.txt", `1-0-2\n${a.name}\n${b.name}\n`);
  assert.deepEqual((await again.state()).text_files, { folder, problem: null });

  await again.done("DELETE", "/courts/1/match", undefined, 204);
  await holds(folder, "1", "score.txt", "");
});

test("every_value_has_a_file_of_its_own_and_only_those_that_change_are_written", async (t) => {
  const folder = await freshFolder(t);
  const host = await Host.start(t);
  const desk = new Desk(host);
  const { kind, chart, ...plan } = headerFor("m1");
  const [a, b] = [
    { name: "Alder", players: ["Ana Alder", "Ari Ash"] },
    { name: "Birch", players: ["Bo Birch", "Bea Beck"] },
  ];
  const header = { ...plan, title: "Cup", round: "QF 1", time: "14:40", court: "1", teams: { a, b } };
  await desk.done("POST", "/matches", header, 201);
  await desk.done(
    "POST",
    "/matches",
    { ...header, id: "m2", round: "SF 1", teams: { a: b, b: { name: "Cedar" } } },
    201,
  );
  await desk.done("PUT", "/text-files", { folder }, 204);
  await desk.done("PUT", "/courts/1/match", { match: "m1" }, 204);
  const says = async (values) => {
    for (const [file, text] of Object.entries(values))
      await holds(folder, "1", `${file}.txt`, text === "" ? "" : `${text}\n`);
  };
  await says({ title: "Cup", round: "QF 1", time: "14:40", "team-a": "Alder", "team-b-player-2": "Bea Beck" });
  await says({ "next-match": "Birch v Cedar", "next-team-b": "Cedar", "next-round": "SF 1", "next-time": "14:40" });
  // USA Pickleball rulebook 2026, 6.B.2: the call; the first turn of a game has server 2, who starts on the right.
  await says({ call: "0-0-2", "serving-team": "Alder", server: "Ana Alder", "server-number": "2" });
  await says({
    "service-court": "right",
    receiver: "Bo Birch",
    "points-a": "0",
    "games-b": "0",
    game: "1",
    winner: "",
  });

  const path = (file) => join(folder, "1", `${file}.txt`);
  const stamp = async (file) => (await stat(path(file))).ino;
  const before = { team: await stamp("team-a"), points: await stamp("points-a") };
  const charter = await Charter.welcomed(host);
  await charter.bring([entry("e1", { kind: "rally_end", won_by: "a" })]);
  await says({ call: "1-0-2", "points-a": "1", "service-court": "left", server: "Ana Alder", receiver: "Bea Beck" });
  assert.equal(await stamp("team-a"), before.team, "what is the same is left alone");
  assert.notEqual(await stamp("points-a"), before.points, "what changes is put in its place as a whole");

  await desk.done("PUT", "/courts/1/pause", { paused: true }, 204);
  await says({ paused: "Play is paused" });
  await desk.done("PUT", "/courts/1/pause", { paused: false }, 204);
  await charter.bring([entry("r1", { kind: "retire", team: "a" })]);
  await says({ winner: "Birch", call: "", server: "", paused: "", "points-a": "1" });
  await desk.done("DELETE", "/courts/1/match", undefined, 204);
  await says({ winner: "", "team-a": "", "points-a": "", "next-match": "Birch v Cedar" });
});

test("what_is_no_folder_is_refused_and_one_that_goes_away_is_said_and_taken_up_again", async (t) => {
  const folder = join(await freshFolder(t), "stream");
  const host = await Host.start(t);
  const desk = new Desk(host);
  assert.match(await desk.refused("PUT", "/text-files", { folder }, 422), /there is no folder/);
  assert.match(await desk.refused("PUT", "/text-files", { folder: "stream" }, 422), /whole path/);
  assert.match(await desk.refused("PUT", "/text-files", { files: folder }, 422), /folder/);
  const strange = await desk.refused("PUT", "/text-files", { folder }, 403, { origin: "https://elsewhere.example" });
  assert.match(strange, /other sites/);

  await mkdir(folder);
  await desk.done("PUT", "/text-files", { folder }, 204);
  const charter = await Charter.welcomed(host, { chart: headerFor("m1") });
  await until("the first file", () => readFile(join(folder, "1", "score.txt"), "utf8").catch(() => null));
  await rm(folder, { recursive: true, maxRetries: 20 });
  await charter.bring([entry("e1", { kind: "rally_end", won_by: "a" })]);
  await until("the desk to be told", async () => /could not write/.test((await desk.state()).text_files.problem ?? ""));
  await mkdir(folder);
  await until("the file to be back", () =>
    readFile(join(folder, "1", "score.txt"), "utf8").then(
      (text) => text.startsWith("1-0-2"),
      () => false,
    ),
  );
  await until("the desk to say that all is well", async () => (await desk.state()).text_files.problem === null);
  assert.notEqual(await readFile(join(folder, "1", "names.txt"), "utf8"), "", "what has not changed is back, too");

  await desk.done("PUT", "/text-files", { folder: null }, 204);
  assert.equal((await desk.state()).text_files.folder, null);
  assert.match(await readFile(join(folder, "1", "score.txt"), "utf8"), /^1-0-2/, "the files stay");
});

test("the_configuration_names_a_folder_beside_it_and_counts_again_at_each_start", async (t) => {
  const data = await freshFolder(t);
  const beside = await freshFolder(t);
  const config = join(beside, "host.toml");
  await mkdir(join(beside, "stream"));
  await writeFile(config, 'text_files = "stream"\n');
  const start = () =>
    Host.start(t, { data, command: ["serve", "--config", config, "--listen", "127.0.0.1:0", "--data", data] });
  const host = await start();
  const folder = join(beside, "stream");
  const desk = new Desk(host);
  assert.equal((await desk.state()).text_files.folder, folder);
  const charter = await Charter.welcomed(host, { chart: headerFor("m1") });
  await charter.bring([entry("e1", { kind: "rally_end", won_by: "a" })]);
  await holds(folder, "1", "state.txt", "Neutral\n");
  await desk.done("PUT", "/text-files", { folder: null }, 204);
  await host.stop();
  const again = new Desk(await start());
  assert.equal((await again.state()).text_files.folder, folder);
});

for (const [what, line, said] of [
  [
    "a_folder_that_is_not_there",
    'text_files = "nowhere"',
    /`text_files`: there is no folder `\/.*nowhere`.*\n.*hint: .*leave `text_files` out/,
  ],
  ["a_file", 'text_files = "host.toml"', /`text_files`: there is no folder `\/.*host\.toml`/],
]) {
  test(`the_configuration_cannot_name_${what}_for_the_files`, async (t) => {
    const config = join(await freshFolder(t), "host.toml");
    await writeFile(config, `${line}\n`);
    const { status, stderr } = await rallytide([
      "serve",
      "--config",
      config,
      "--listen",
      "127.0.0.1:0",
      "--data",
      await freshFolder(t),
    ]);
    assert.equal(status, 3, stderr);
    assert.match(stderr, said);
  });
}
