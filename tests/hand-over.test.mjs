/**
 * Between two matches: what the desk does reaches the charter's client at once, no charter pushes
 * aside what the desk has planned or started, and the desk knows who charts which match.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { Charter } from "./support/charter.mjs";
import { headerFor } from "./support/charts.mjs";
import { Desk } from "./support/desk.mjs";
import { Host } from "./support/host.mjs";

const AT = "2026-05-03T10:00:00.000Z";
const rallyEnd = (id, team) => ({ id, at: AT, kind: "rally_end", won_by: team });

/** A match as the desk plans it, on court 1. */
function planned(id, name = id) {
  const header = headerFor(id);
  return { ...header, court: "1", teams: { ...header.teams, a: { ...header.teams.a, name } } };
}

async function atDesk(t, ...ids) {
  const host = await Host.start(t);
  const desk = new Desk(host);
  for (const id of ids) await desk.done("POST", "/matches", planned(id), 201);
  return { host, desk };
}

const putOn = (desk, match, more = {}, court = "1") =>
  desk.done("PUT", `/courts/${court}/match`, { match, ...more }, 204);

/** The next word about the court that says what is asked for. */
const changed = (charter, what, fits) =>
  charter.socket
    .receive(what, (one) => one.type === "notice" && one.code === "court_changed" && fits(one))
    .then(({ message }) => message);

test("the_next_match_of_the_desk_is_told_and_charted_after_a_new_hello", async (t) => {
  const { host, desk } = await atDesk(t, "m1", "m2");
  await putOn(desk, "m1");
  const charter = await Charter.welcomed(host, { client: "laptop" });
  await charter.chart([rallyEnd("r1", "a")]);
  await putOn(desk, "m2", { replace: true });
  const told = await changed(charter, "the next match", ({ match }) => match?.id === "m2");
  assert.deepEqual([told.last_seq, told.state, told.moved_to], [0, "ready", null]);
  const [refused] = await charter.bring([rallyEnd("r2", "a")]);
  assert.equal(refused.code, "other_match");
  const { charters } = await desk.court();
  assert.deepEqual(
    charters.map(({ client, match }) => [client, match]),
    [["laptop", "m1"]],
    "the desk knows that the laptop is not on this match yet",
  );
  const welcome = await charter.hello({ client: "laptop" });
  assert.equal(welcome.match.id, "m2");
  await charter.chart([rallyEnd("r1", "b")]);
  assert.deepEqual((await desk.court()).charters[0].match, "m2");
});

test("the_undo_of_the_desk_is_told_and_the_charter_goes_on_without_a_new_hello", async (t) => {
  const { host, desk } = await atDesk(t, "m1", "m2");
  await putOn(desk, "m1");
  const charter = await Charter.welcomed(host, { client: "laptop" });
  await charter.chart([rallyEnd("r1", "a")]);
  await putOn(desk, "m2", { replace: true });
  await changed(charter, "the next match", ({ match }) => match?.id === "m2");
  await putOn(desk, "m1", { replace: true });
  const back = await changed(charter, "the match from before", ({ match }) => match?.id === "m1");
  assert.deepEqual([back.last_seq, back.state], [1, "playing"]);
  await charter.chart([rallyEnd("r2", "a")]);
});

for (const [what, act, fits] of [
  ["a_pause", (desk) => desk.done("PUT", "/courts/1/pause", { paused: true }, 204), ({ state }) => state === "paused"],
  [
    "an_end_without_a_winner",
    (desk) => desk.done("PUT", "/courts/1/finish", { finished: true }, 204),
    ({ state }) => state === "finished",
  ],
  [
    "a_retirement",
    (desk) => desk.done("PUT", "/courts/1/finish", { finished: true, retired: "a" }, 204),
    ({ state, last_seq }) => state === "finished" && last_seq === 2,
  ],
  [
    "a_correction",
    (desk) =>
      desk.done(
        "POST",
        "/courts/1/entries",
        { entries: [{ id: "d1", at: AT, kind: "amend", target: "r1", with: { kind: "rally_end", won_by: "b" } }] },
        200,
      ),
    ({ last_seq }) => last_seq === 2,
  ],
  [
    "another_name",
    (desk) => desk.done("PUT", "/matches/m1", planned("m1", "Otter"), 200),
    ({ match }) => match?.teams.a.name === "Otter",
  ],
  ["an_empty_court", (desk) => desk.done("DELETE", "/courts/1/match", undefined, 204), ({ match }) => match === null],
]) {
  test(`${what}_by_the_desk_is_told_to_the_charter`, async (t) => {
    const { host, desk } = await atDesk(t, "m1");
    await putOn(desk, "m1");
    const charter = await Charter.welcomed(host, { client: "laptop" });
    await charter.chart([rallyEnd("r1", "a")]);
    await act(desk);
    await changed(charter, what, fits);
  });
}

test("a_match_moved_to_another_court_keeps_its_entries_and_its_pause_and_the_charter_is_told_where", async (t) => {
  const { host, desk } = await atDesk(t, "m1");
  await putOn(desk, "m1");
  const charter = await Charter.welcomed(host, { client: "laptop" });
  await charter.chart([rallyEnd("r1", "a")]);
  await desk.done("PUT", "/courts/1/pause", { paused: true }, 204);
  await desk.refused("PUT", "/courts/3/match", { match: "m1" }, 409);
  await putOn(desk, "m1", { move: true }, "3");
  const told = await changed(charter, "the move", ({ match }) => match === null);
  assert.equal(told.moved_to, "3");
  const [from, to] = [await desk.court("1"), await desk.court("3")];
  assert.deepEqual([from.state, to.state, to.entries], ["empty", "paused", 1]);
  const there = await Charter.welcomed(host, { court: "3", client: "laptop" });
  await there.chart([rallyEnd("r2", "a")]);
});

test("a_move_onto_a_court_where_another_match_is_played_leaves_both_where_they_are", async (t) => {
  const { host, desk } = await atDesk(t, "m1", "m2");
  await putOn(desk, "m1");
  await putOn(desk, "m2", {}, "2");
  const charter = await Charter.welcomed(host, { court: "2", client: "laptop" });
  await charter.chart([rallyEnd("r1", "a")]);
  assert.match(await desk.refused("PUT", "/courts/2/match", { match: "m1", move: true }, 409), /being played/);
  assert.deepEqual([(await desk.court("1")).match, (await desk.court("2")).match], ["m1", "m2"]);
});

for (const replace of [false, true]) {
  test(`no_charter_takes_the_place_of_the_desks_match${replace ? "_by_replacing_it" : ""}`, async (t) => {
    const { host, desk } = await atDesk(t, "m1");
    await putOn(desk, "m1");
    const charter = await Charter.connect(host);
    const own = { client: "laptop", chart: { ...headerFor("own"), court: "1" }, replace };
    const ready = await charter.hello(own);
    assert.deepEqual([ready.type, ready.code], ["refused", "court_busy"]);
    const other = await Charter.welcomed(host, { client: "tablet" });
    await other.chart([rallyEnd("r1", "a")]);
    assert.equal((await charter.hello(own)).code, "court_busy");
    assert.equal((await desk.court()).match, "m1");
  });

  test(`no_charter_goes_before_a_planned_match${replace ? "_by_replacing_it" : ""}`, async (t) => {
    const { host, desk } = await atDesk(t, "m1", "m2");
    const charter = await Charter.connect(host);
    const own = { client: "laptop", chart: { ...headerFor("own"), court: "1" }, replace };
    const refused = await charter.hello(own);
    assert.equal(refused.code, "court_busy");
    assert.match(refused.message, /the desk has planned .* on court `1`/);
    assert.equal(
      (await charter.hello({ client: "laptop", chart: planned("m1") })).type,
      "welcome",
      "one that is planned may be begun by its charter",
    );
    assert.equal((await charter.hello(own)).code, "court_busy");
    assert.equal((await desk.court()).match, "m1");
  });
}

test("where_nothing_is_planned_a_charter_begins_a_match_and_the_next_one_after_it", async (t) => {
  const { host, desk } = await atDesk(t);
  await desk.done("POST", "/matches", { ...planned("elsewhere"), court: "2" }, 201);
  const charter = await Charter.welcomed(host, { client: "laptop", chart: headerFor("own") });
  await charter.chart([rallyEnd("r1", "a")]);
  const next = await charter.hello({ client: "laptop", chart: headerFor("own-2"), replace: true });
  assert.equal(next.match.id, "own-2");
});

test("after_the_desks_match_is_over_a_charter_begins_one_where_none_is_planned", async (t) => {
  const { host, desk } = await atDesk(t, "m1");
  await putOn(desk, "m1");
  await desk.done("PUT", "/courts/1/finish", { finished: true }, 204);
  const charter = await Charter.welcomed(host, { client: "laptop", chart: { ...headerFor("own"), court: "1" } });
  assert.equal(charter.welcome.match.id, "own");
});
