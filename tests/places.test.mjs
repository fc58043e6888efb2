/**
 * Places that other matches fill: `winner of QF 1` and `loser of QF 1` through every way a match can
 * end, its undo and its correction, a restart, and a later match that has begun.
 */
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { test } from "node:test";
import { Charter } from "./support/charter.mjs";
import { headerFor } from "./support/charts.mjs";
import { Desk } from "./support/desk.mjs";
import { freshFolder } from "./support/folders.mjs";
import { Host } from "./support/host.mjs";
import { until } from "./support/wait.mjs";

const AT = "2026-05-03T10:00:00.000Z";
const entry = (id, content) => ({ id, at: AT, ...content });

/** A game to one point by rally scoring: one rally decides it. */
function plan(round, a, b, more = {}) {
  const { id, kind, chart, title, ...rest } = headerFor("unused");
  const format = { discipline: "doubles", scoring: "rally", points: 1, win_by: 1, games: 1 };
  const team = (name) => (typeof name === "string" ? { name } : name);
  return { ...rest, title: `Cup, ${round}`, round, court: "", format, teams: { a: team(a), b: team(b) }, ...more };
}

const ALDER = { name: "Alder", players: ["Ana Alder", "Ari Alder"] };

/** Two quarterfinals, the final of their winners and the match of their losers. */
async function cup(t, options) {
  const host = await Host.start(t, options);
  const desk = new Desk(host);
  const ids = {};
  for (const [key, header] of Object.entries({
    qf1: plan("QF 1", ALDER, "Birch"),
    qf2: plan("QF 2", "Cedar", "Dogwood"),
    final: plan("Final", "winner of QF 1", "Winner of  qf 2", { title: "" }),
    third: plan("Third", "loser of QF 1", "loser of QF 2"),
  }))
    ids[key] = (await desk.done("POST", "/matches", header, 201)).id;
  return { host, desk, ids };
}

const matchOf = async (desk, id) => (await desk.state()).matches.find((one) => one.id === id);

/** Waits until a match has these teams. */
const plays = (desk, id, ...names) =>
  until(
    `${id} to be ${names.join(" v ")}`,
    async () => {
      const { teams } = (await matchOf(desk, id)).header;
      return teams.a.name === names[0] && teams.b.name === names[1];
    },
    { seen: async () => JSON.stringify((await matchOf(desk, id)).header.teams) },
  );

/** Charts a match to its end on a court of its own. */
async function won(host, desk, id, court, team) {
  await desk.done("PUT", `/courts/${court}/match`, { match: id }, 204);
  const charter = await Charter.welcomed(host, { court, client: `laptop-${court}` });
  await charter.bring([entry(`${court}e1`, { kind: "rally_end", won_by: team })]);
  return charter;
}

test("a_place_takes_the_winner_with_players_when_the_match_has_ended", async (t) => {
  const { host, desk, ids } = await cup(t);
  const planned = await matchOf(desk, ids.final);
  assert.deepEqual(
    [planned.header.teams.a, planned.header.teams.b.name],
    [{ name: "Winner of QF 1", from: { winner_of: ids.qf1, called: "QF 1" } }, "Winner of qf 2"],
  );
  await won(host, desk, ids.qf1, "1", "a");
  await plays(desk, ids.final, "Alder", "Winner of qf 2");
  await plays(desk, ids.third, "Birch", "Loser of QF 2");
  await won(host, desk, ids.qf2, "2", "b");
  await plays(desk, ids.final, "Alder", "Dogwood");
  await plays(desk, ids.third, "Birch", "Cedar");
  const final = await matchOf(desk, ids.final);
  assert.deepEqual(final.header.teams.a.players, ALDER.players);
  assert.equal(final.state, "planned");
  const day = JSON.parse(await desk.text("/event.json"));
  assert.equal(day.matches.find(({ id }) => id === ids.final).teams.b.name, "Dogwood");
});

test("a_walkover_a_reopened_match_and_a_correction_each_set_the_place_anew", async (t) => {
  const { host, desk, ids } = await cup(t);
  await desk.done("PUT", "/courts/1/match", { match: ids.qf1 }, 204);
  // A walkover: a team stops before the first rally.
  await desk.done("PUT", "/courts/1/finish", { finished: true, retired: "a" }, 204);
  await plays(desk, ids.final, "Birch", "Winner of qf 2");
  await plays(desk, ids.third, "Alder", "Loser of QF 2");
  await desk.done("PUT", "/courts/1/finish", { finished: false }, 204);
  await plays(desk, ids.final, "Winner of QF 1", "Winner of qf 2");
  assert.equal((await matchOf(desk, ids.final)).header.teams.a.players, undefined);

  const charter = await Charter.welcomed(host);
  await charter.bring([entry("e1", { kind: "rally_end", won_by: "a" })]);
  await plays(desk, ids.final, "Alder", "Winner of qf 2");
  // The referee's correction: the other team had won that rally.
  const amended = entry("c1", { kind: "amend", target: "e1", with: { kind: "rally_end", won_by: "b" } });
  await desk.done("POST", "/courts/1/entries", { entries: [amended] }, 200);
  await plays(desk, ids.final, "Birch", "Winner of qf 2");
  await desk.done("POST", "/courts/1/entries", { entries: [entry("c2", { kind: "retract", target: "c1" })] }, 200);
  await plays(desk, ids.final, "Alder", "Winner of qf 2");
  // A name put right in the first match is put right in the place.
  const { header } = await matchOf(desk, ids.qf1);
  header.teams.a.name = "Alder-Ash";
  await desk.done("PUT", `/matches/${ids.qf1}`, header, 200);
  await plays(desk, ids.final, "Alder-Ash", "Winner of qf 2");
});

test("a_match_that_is_started_but_not_begun_still_takes_its_team_and_a_begun_one_is_left_to_the_desk", async (t) => {
  const { host, desk, ids } = await cup(t);
  await won(host, desk, ids.qf2, "2", "a");
  await desk.done("PUT", "/courts/3/match", { match: ids.final }, 204);
  await won(host, desk, ids.qf1, "1", "a");
  await plays(desk, ids.final, "Alder", "Cedar");
  const snapshot = JSON.parse(await host.now("3"));
  assert.equal(snapshot.match.teams.a.name, "Alder", "on the graphic, too");

  const charter = await Charter.welcomed(host, { court: "3", client: "laptop-3" });
  await charter.bring([entry("f1", { kind: "time_out", team: "b" })]);
  const amended = entry("c1", { kind: "amend", target: "1e1", with: { kind: "rally_end", won_by: "b" } });
  await desk.done("POST", "/courts/1/entries", { entries: [amended] }, 200);
  await plays(desk, ids.third, "Alder", "Dogwood");
  const final = await matchOf(desk, ids.final);
  assert.equal(final.header.teams.a.name, "Alder", "it was begun with Alder");
  assert.deepEqual(
    final.places.map(({ team, now, differs }) => [team, now.name, differs]),
    [
      ["a", "Birch", true],
      ["b", "Cedar", false],
    ],
  );
  // The desk says so: then it changes, and still follows.
  const { players, ...rest } = final.header.teams.a;
  const header = { ...final.header, teams: { ...final.header.teams, a: { ...rest, name: "Birch" } } };
  await desk.done("PUT", `/matches/${ids.final}`, header, 200);
  const after = await matchOf(desk, ids.final);
  assert.deepEqual([after.header.teams.a.name, after.places[0].differs], ["Birch", false]);
});

test("places_are_in_the_host_log_and_there_after_a_kill", async (t) => {
  const data = await freshFolder(t);
  const { host, desk, ids } = await cup(t, { data });
  await won(host, desk, ids.qf1, "1", "a");
  await plays(desk, ids.final, "Alder", "Winner of qf 2");
  const before = await matchOf(desk, ids.final);
  await host.kill();
  const log = await readFile(join(data, "_house.jsonl"), "utf8");
  assert.match(log, /"name":"Alder"[^\n]*"from":\{"winner_of"/);
  const again = new Desk(await Host.start(t, { data }));
  assert.deepEqual(await matchOf(again, ids.final), before);
  assert.equal(await readFile(join(data, "_house.jsonl"), "utf8"), log, "nothing is noted that was noted before");
});

test("the_desks_own_name_ends_a_place_and_a_place_can_be_given_again", async (t) => {
  const { host, desk, ids } = await cup(t);
  const { header } = await matchOf(desk, ids.final);
  header.teams.a.name = "Elm";
  const answer = await desk.done("PUT", `/matches/${ids.final}`, header, 200);
  assert.equal(answer.header.teams.a.from, undefined);
  await won(host, desk, ids.qf1, "1", "a");
  await plays(desk, ids.third, "Birch", "Loser of QF 2");
  assert.equal((await matchOf(desk, ids.final)).header.teams.a.name, "Elm");
  await desk.done(
    "PUT",
    `/matches/${ids.final}`,
    { ...answer.header, teams: { ...answer.header.teams, a: { name: "loser of Cup, QF 1" } } },
    200,
  );
  await plays(desk, ids.final, "Birch", "Winner of qf 2");
});

test("a_place_of_no_match_or_of_several_is_refused_in_a_sentence", async (t) => {
  const { desk, ids } = await cup(t);
  const missing = await desk.refused("POST", "/matches", plan("Extra", "winner of SF 9", "Elm"), 422);
  assert.match(missing, /^`winner of SF 9`: no match is called `SF 9`; write its round/);
  await desk.done("POST", "/matches", plan("QF 1", "Fir", "Elm"), 201);
  const unclear = await desk.refused("POST", "/matches", plan("Extra", "winner of QF 1", "Elm"), 422);
  assert.match(unclear, /2 matches are called `QF 1`/);
  // By its id it is clear, and a match is never its own feeder.
  await desk.done("POST", "/matches", plan("Extra", `winner of ${ids.qf1}`, "Elm"), 201);
  await desk.refused("POST", "/matches", plan("Lone", "winner of Lone", "Elm"), 422);
});

test("a_sheet_names_places_of_matches_that_come_with_it", async (t) => {
  const host = await Host.start(t);
  const desk = new Desk(host);
  const bring = (lines) =>
    desk.send("POST", "/matches/import", `team_a,team_b,points,games,round\n${lines.join("\n")}\n`, {
      "content-type": "text/csv",
    });
  const brought = await bring([
    "winner of QF 1,winner of QF 2,11,1,Final",
    "Alder,Birch,11,1,QF 1",
    "Cedar,Elm,11,1,QF 2",
  ]);
  assert.equal(brought.status, 200, await brought.text());
  const { matches } = await desk.state();
  const [final, qf1] = matches;
  assert.deepEqual(
    final.places.map(({ of, called, now }) => [of, called, now]),
    [
      [qf1.id, "QF 1", null],
      [matches[2].id, "QF 2", null],
    ],
  );
  await desk.done("PUT", "/courts/1/match", { match: qf1.id }, 204);
  await desk.done("PUT", "/courts/1/finish", { finished: true, retired: "b" }, 204);
  await plays(desk, final.id, "Alder", "Winner of QF 2");
  const wrong = await bring(["winner of SF 7,Elm,11,1,Extra"]);
  assert.equal(wrong.status, 422);
  assert.match(await wrong.text(), /no match is called `SF 7`/);
  assert.equal((await desk.state()).matches.length, 3, "nothing of that sheet was planned");
});
