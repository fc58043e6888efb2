/**
 * The streamer's desk over HTTP: matches planned, put on, renamed, corrected, taken away; what a
 * restart finds of it.
 */
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { describe, test } from "node:test";
import { Charter } from "./support/charter.mjs";
import { headerFor } from "./support/charts.mjs";
import { Desk } from "./support/desk.mjs";
import { freshFolder } from "./support/folders.mjs";
import { Host } from "./support/host.mjs";
import { asLines, rallytide } from "./support/program.mjs";
import { Viewer } from "./support/viewer.mjs";
import { until } from "./support/wait.mjs";

const AT = "2026-05-03T10:00:00.000Z";
const entry = (id, content) => ({ id, at: AT, ...content });
const rallyEnd = (id, team) => entry(id, { kind: "rally_end", won_by: team });

/** A header as the desk sends it: without id, `kind` and `chart`. */
function plan(fields = {}) {
  const { id, kind, chart, ...rest } = headerFor("unused");
  return { ...rest, ...fields };
}

const withName = (header, name) => ({
  ...header,
  teams: { ...header.teams, a: { ...header.teams.a, name, color: "#0072B2" } },
});

describe("planned matches", () => {
  test("a_planned_match_gets_an_id_and_is_there_after_a_kill", async (t) => {
    const data = await freshFolder(t);
    const host = await Host.start(t, { data });
    const desk = new Desk(host);
    const first = await desk.done("POST", "/matches", plan({ title: "Tide Cup, final" }), 201);
    assert.equal(first.id, "tide-cup-final");
    const second = await desk.done("POST", "/matches", plan({ title: "Tide Cup, final" }), 201);
    assert.equal(second.id, "tide-cup-final-2");
    await host.kill();
    const again = new Desk(await Host.start(t, { data }));
    const { matches } = await again.state();
    assert.deepEqual(
      matches.map(({ id, state }) => [id, state]),
      [
        ["tide-cup-final", "planned"],
        ["tide-cup-final-2", "planned"],
      ],
    );
    assert.deepEqual(matches[0].header, first.header);
  });

  test("a_taken_id_a_bad_header_and_a_control_character_are_refused_in_a_sentence", async (t) => {
    const desk = new Desk(await Host.start(t));
    await desk.done("POST", "/matches", plan({ id: "m1" }), 201);
    assert.match(await desk.refused("POST", "/matches", plan({ id: "m1" }), 409), /`m1`/);
    assert.match(await desk.refused("POST", "/matches", plan({ format: {} }), 422), /discipline/);
    assert.match(await desk.refused("POST", "/matches", plan({ title: "a\nb" }), 422), /`title` has a line break/);
    assert.match(await desk.refused("POST", "/matches", plan({ title: "x".repeat(501) }), 422), /501 characters/);
    assert.match(await desk.refused("POST", "/matches", plan({ id: "../up" }), 422), /`id`/);
    assert.match(await desk.refused("POST", "/matches", '{"title":', 422), /not what is asked for/);
  });

  test("names_of_any_script_come_back_as_they_were", async (t) => {
    const desk = new Desk(await Host.start(t));
    for (const name of ["Øyvind Grün", "שלום / كرة", "🏓🌊", "ä".repeat(200)]) {
      const { id } = await desk.done("POST", "/matches", withName(plan(), name), 201);
      const { matches } = await desk.state();
      assert.equal(matches.find((one) => one.id === id).header.teams.a.name, name);
    }
  });

  test("round_and_time_of_a_begun_match_can_still_be_put_right_and_its_format_cannot", async (t) => {
    const desk = new Desk(await Host.start(t));
    const { header } = await desk.done("POST", "/matches", plan({ id: "m1", round: "QF 1", time: "14:40" }), 201);
    await desk.done("PUT", "/courts/1/match", { match: "m1" }, 204);
    await desk.done("PUT", "/matches/m1", { ...header, round: "QF 2", time: "15:00" }, 200);
    const { matches } = await desk.state();
    assert.deepEqual([matches[0].header.round, matches[0].header.time], ["QF 2", "15:00"]);
    const longer = { ...header, format: { ...header.format, points: 21 } };
    assert.match(await desk.refused("PUT", "/matches/m1", longer, 409), /`format.points` stays as it is/);
  });

  test("a_planned_match_is_given_up_and_a_begun_one_stays", async (t) => {
    const desk = new Desk(await Host.start(t));
    await desk.done("POST", "/matches", plan({ id: "m1" }), 201);
    await desk.done("PUT", "/courts/1/match", { match: "m1" }, 204);
    await desk.refused("DELETE", "/matches/m1", undefined, 409);
    const { header } = await desk.done("POST", "/matches", plan({ id: "m2" }), 201);
    await desk.done("DELETE", "/matches/m2", undefined, 204);
    await desk.refused("DELETE", "/matches/m2", undefined, 404);
    await desk.done("POST", "/matches", header, 201);
  });

  test("pages_of_other_sites_may_not_write", async (t) => {
    const host = await Host.start(t);
    const answer = await fetch(host.http("/matches"), {
      method: "POST",
      body: JSON.stringify(plan()),
      headers: { origin: "https://elsewhere.example" },
    });
    assert.equal(answer.status, 403);
    assert.deepEqual((await new Desk(host).state()).matches, []);
  });
});

describe("an event from a table", () => {
  const table = (count) =>
    `court,title,team_a,team_b,players_a\n${Array.from({ length: count }, (_, n) => `${(n % 4) + 1},Round one,Grün ${n},"Bay, ${n}",Ari / Bo`).join("\n")}\n`;

  test("sixty_four_matches_are_checked_first_and_then_planned", async (t) => {
    const desk = new Desk(await Host.start(t));
    const checked = await desk.done("POST", "/matches/import?dry=true", table(64), 200);
    assert.equal(checked.matches.length, 64);
    assert.deepEqual((await desk.state()).matches, []);
    const planned = await desk.done("POST", "/matches/import", table(64), 200);
    assert.deepEqual(planned, checked);
    const { matches } = await desk.state();
    assert.equal(new Set(matches.map(({ id }) => id)).size, 64);
    assert.ok(matches.every(({ header }) => /^Grün \d+$/.test(header.teams.a.name)));
  });

  test("one_line_that_does_not_fit_and_none_is_planned", async (t) => {
    const desk = new Desk(await Host.start(t));
    const answer = await desk.done("POST", "/matches/import", "team_a,team_b,points\nA,B,11\nC,D,many\n", 422);
    assert.deepEqual(
      answer.problems.map(({ line, column }) => [line, column]),
      [[3, "points"]],
    );
    assert.deepEqual([answer.matches, (await desk.state()).matches], [[], []]);
  });
});

describe("matches on courts", () => {
  test("a_court_goes_from_ready_to_finished_as_the_desk_and_the_charter_say", async (t) => {
    const host = await Host.start(t);
    const desk = new Desk(host);
    await desk.done("POST", "/matches", plan({ id: "m1" }), 201);
    await desk.done("PUT", "/courts/1/match", { match: "m1" }, 204);
    assert.equal((await desk.court()).state, "ready");
    const charter = await Charter.welcomed(host, { client: "laptop" });
    await charter.bring([rallyEnd("r1", "a")]);
    const playing = await desk.court();
    assert.deepEqual([playing.state, playing.entries, playing.last_entry.id], ["playing", 1, "r1"]);
    assert.deepEqual(
      playing.charters.map(({ client }) => client),
      ["laptop"],
    );
    await desk.done("PUT", "/courts/1/pause", { paused: true }, 204);
    assert.equal((await desk.court()).state, "paused");
    assert.equal(JSON.parse(await host.now()).paused, true);
    await charter.bring([rallyEnd("r2", "a")]);
    await desk.done("PUT", "/courts/1/pause", { paused: false }, 204);
    assert.equal(JSON.parse(await host.now()).paused, undefined);
    await desk.done("PUT", "/courts/1/finish", { finished: true }, 204);
    assert.equal((await desk.court()).state, "finished");
    await desk.done("PUT", "/courts/1/finish", { finished: false }, 204);
    assert.equal((await desk.court()).state, "playing");
    await desk.done("PUT", "/courts/1/finish", { finished: true, retired: "a" }, 204);
    assert.equal(JSON.parse(await host.now()).score.winner, "b");
    await desk.done("PUT", "/courts/1/finish", { finished: false }, 204);
    assert.equal(JSON.parse(await host.now()).score.winner, null);
  });

  test("a_match_being_played_gives_way_only_if_the_desk_says_so", async (t) => {
    const host = await Host.start(t);
    const desk = new Desk(host);
    const charter = await Charter.welcomed(host, { chart: headerFor("m1") });
    await charter.bring([rallyEnd("r1", "a")]);
    await desk.done("POST", "/matches", plan({ id: "m2" }), 201);
    assert.match(await desk.refused("PUT", "/courts/1/match", { match: "m2" }, 409), /court_busy/);
    await desk.done("PUT", "/courts/1/match", { match: "m2", replace: true }, 204);
    assert.equal((await charter.hello({ client: "tablet", chart: headerFor("m1") })).code, "other_match");
    const states = (await desk.state()).matches.map(({ id, state, entries }) => [id, state, entries]);
    assert.deepEqual(states, [
      ["m2", "on", 0],
      ["m1", "put_aside", 1],
    ]);
    await desk.refused("PUT", "/courts/2/match", { match: "m2" }, 409);
    await desk.refused("PUT", "/courts/1/match", { match: "nobody" }, 404);
    await desk.done("PUT", "/courts/2/match", { match: "m1" }, 204);
    assert.equal(JSON.parse(await host.now("2")).seq, 1);
  });

  test("an_empty_court_is_taken_off_the_list_when_nobody_looks", async (t) => {
    const host = await Host.start(t);
    const desk = new Desk(host);
    await Charter.welcomed(host, { court: "7", chart: headerFor("m1") });
    await desk.refused("DELETE", "/courts/7", undefined, 409);
    await desk.refused("DELETE", "/courts/8", undefined, 404);
    const { entries } = await desk.court("7");
    assert.equal(entries, 0);
  });
});

describe("how late a charter is", () => {
  test("a_clock_that_is_ahead_is_told_by_its_beats_and_unknown_without", async (t) => {
    const host = await Host.start(t);
    const desk = new Desk(host);
    const charter = await Charter.welcomed(host, { client: "laptop", chart: headerFor("m1") });
    await charter.bring([rallyEnd("r1", "a")]);
    const before = (await desk.court()).charters[0];
    assert.deepEqual([before.clock_ms, before.late_ms], [null, null]);
    const hour = 3_600_000;
    await charter.say({ type: "beat", at: new Date(Date.now() + hour).toISOString() });
    const { clock_ms } = (await desk.court()).charters[0];
    assert.ok(clock_ms <= hour && clock_ms > hour - 30_000, `an hour ahead, less the way: ${clock_ms}`);
  });
});

describe("entries that waited", () => {
  test("what_was_charted_while_the_host_was_down_does_not_count_as_late", async (t) => {
    const data = await freshFolder(t);
    const down = await Host.start(t, { data });
    await Charter.welcomed(down, { client: "laptop", chart: headerFor("m1") });
    await down.kill();
    const waited = rallyEnd("r1", "a");
    const host = await Host.start(t, { data });
    const desk = new Desk(host);
    const charter = await Charter.welcomed(host, { client: "laptop", chart: headerFor("m1") });
    await charter.say({ type: "beat", at: new Date().toISOString() });
    await charter.chart([waited]);
    assert.equal((await desk.court()).charters[0].late_ms, null, "nothing was charted since it is back");
    await charter.chart([{ ...rallyEnd("r2", "a"), at: new Date().toISOString() }]);
    const { late_ms } = (await desk.court()).charters[0];
    assert.ok(late_ms !== null && late_ms < 10_000, `the live entry alone counts: ${late_ms}`);
  });
});

describe("what the host says it does", () => {
  test("matches_charters_corrections_and_endings_are_logged_at_info", async (t) => {
    const host = await Host.start(t, { env: { RALLYTIDE_LOG: "info" } });
    const charter = await Charter.welcomed(host, { client: "laptop", chart: headerFor("m1") });
    await charter.chart([
      rallyEnd("r1", "a"),
      entry("c1", { kind: "retract", target: "r1" }),
      entry("e1", { kind: "retire", team: "a" }),
    ]);
    await charter.close();
    for (const line of [
      /a match is on the court .*m1/,
      /a charter is connected to the court .*laptop/,
      /a correction was made .*c1/,
      /the match is over .*m1/,
      /a charter is gone .*laptop/,
    ]) {
      await until(`the log to say ${line}`, () => line.test(host.stderr()), { seen: () => host.stderr() });
    }
  });
});

describe("a log for programs", () => {
  test("each_line_is_a_json_object_with_time_level_message_and_what_it_is_about", async (t) => {
    const host = await Host.start(t, { env: { RALLYTIDE_LOG: "info", RALLYTIDE_LOG_FORMAT: "json" } });
    await Charter.welcomed(host, { client: "laptop\nforged", chart: headerFor("m1") });
    const lines = () =>
      host
        .stderr()
        .split("\n")
        .filter((line) => line.startsWith("{"))
        .map((line) => JSON.parse(line));
    const arrived = await until("the charter to be in the log", () =>
      lines().find(({ message }) => /a charter is connected/.test(message)),
    );
    assert.equal(arrived.level, "INFO");
    assert.ok(Math.abs(Date.parse(arrived.timestamp) - Date.now()) < 60_000, arrived.timestamp);
    assert.equal(String(arrived.court), "1");
  });

  test("an_unknown_format_is_named_and_the_host_starts", async (t) => {
    const host = await Host.start(t, { env: { RALLYTIDE_LOG_FORMAT: "xml" } });
    await until("the warning", () => /`xml`; there are `text` and `json`/.test(host.stderr()));
  });
});

describe("new words for a begun match", () => {
  test("new_names_are_shown_at_once_and_survive_while_the_log_keeps_its_first_line", async (t) => {
    const data = await freshFolder(t);
    const host = await Host.start(t, { data });
    const desk = new Desk(host);
    const before = headerFor("m1");
    const charter = await Charter.welcomed(host, { chart: before });
    await charter.bring([rallyEnd("r1", "a")]);
    const viewer = await Viewer.connect(host);
    await viewer.next();
    const after = withName(before, "Ebb / Flow");
    await desk.done("PUT", "/matches/m1", after, 200);
    await viewer.next();
    assert.equal(viewer.last.reason, "words");
    assert.equal(viewer.last.match.teams.a.name, "Ebb / Flow");
    assert.match(await (await host.get("/courts/1/now/score.txt")).text(), /Ebb \/ Flow/);
    const chart = asLines(await desk.text("/matches/m1/chart.jsonl")).map((line) => JSON.parse(line));
    assert.deepEqual(chart[0], after);
    assert.equal(chart[1].id, "r1");
    const [line] = asLines(await readFile(host.logFile("m1"), "utf8"));
    assert.equal(JSON.parse(line).teams.a.name, before.teams.a.name);
    for (const chart of [before, after]) {
      assert.equal((await charter.hello({ client: "tablet", chart })).type, "welcome");
    }
    const other = { ...after, format: { ...after.format, points: 21 } };
    assert.match(await desk.refused("PUT", "/matches/m1", other, 409), /format\.points/);
    await host.stop();
    const again = await Host.start(t, { data });
    assert.equal(JSON.parse(await again.now()).match.teams.a.name, "Ebb / Flow");
  });
});

describe("corrections by the desk", () => {
  test("a_correction_is_previewed_recorded_over_the_seat_and_undone", async (t) => {
    const host = await Host.start(t);
    const desk = new Desk(host);
    const charter = await Charter.connect(host);
    await charter.hello({ client: "tablet", chart: headerFor("m1"), take_over: true });
    await charter.bring([rallyEnd("r1", "a"), rallyEnd("r2", "a"), rallyEnd("r3", "a")]);
    const before = JSON.parse(await host.now());
    const amend = entry("d1", { kind: "amend", target: "r2", with: { kind: "rally_end", won_by: "b" } });
    const broken = entry("d2", { kind: "retract", target: "nothing" });
    const preview = await desk.done("POST", "/courts/1/preview", { entries: [amend, broken] }, 200);
    assert.deepEqual(preview.score.before, before.score);
    assert.deepEqual(
      preview.refused.map(({ id, code }) => [id, code]),
      [["d2", "bad_correction"]],
    );
    assert.ok(
      preview.rallies.some(
        ({ number, before: was, after }) => number === 2 && /^a won/.test(was) && /^b won/.test(after),
      ),
    );
    assert.deepEqual(JSON.parse(await host.now()), before);
    const { accepted, refused } = await desk.done("POST", "/courts/1/entries", { entries: [amend, broken] }, 200);
    assert.deepEqual([accepted[0].id, accepted[0].seq, refused[0].id], ["d1", 4, "d2"]);
    assert.equal((await host.logged("m1")).at(-1).client, "desk");
    assert.deepEqual(JSON.parse(await host.now()).score, preview.score.after);
    const { entries } = JSON.parse(await desk.text("/courts/1/entries"));
    assert.deepEqual(
      entries.map(({ seq, state, rally }) => [seq, state, rally]),
      [
        [3, "original", 3],
        [2, "amended", 2],
        [1, "original", 1],
      ],
    );
    const { entries: older } = JSON.parse(await desk.text("/courts/1/entries?before=3&limit=1"));
    assert.deepEqual(
      older.map(({ seq }) => seq),
      [2],
    );
    await desk.done(
      "POST",
      "/courts/1/entries",
      { entries: [entry("d3", { kind: "retract", target: entries[1].correction })] },
      200,
    );
    assert.deepEqual(JSON.parse(await host.now()).score, before.score);
  });
});

describe("a match to take away", () => {
  test("the_downloads_are_what_the_commands_make_of_the_chart", async (t) => {
    const host = await Host.start(t);
    const desk = new Desk(host);
    const charter = await Charter.welcomed(host, { chart: headerFor("m1") });
    await charter.bring([rallyEnd("r1", "a"), rallyEnd("r2", "b")]);
    const check = async (label) => {
      const chart = await desk.text("/matches/m1/chart.jsonl");
      const feed = await rallytide(["export", "-", "--as", "json"], { input: chart });
      const readings = await rallytide(["readings", "-"], { input: chart });
      assert.equal(await desk.text("/matches/m1/feed.jsonl"), feed.stdout, label);
      assert.equal(await desk.text("/matches/m1/readings.jsonl"), readings.stdout, label);
    };
    await check("on a court");
    await desk.done("DELETE", "/courts/1/match", undefined, 204);
    await check("put aside");
    assert.equal((await host.get("/matches/nobody/chart.jsonl")).status, 404);
  });
});

describe("two desks at once", () => {
  test("the_last_word_wins_and_nothing_is_half_done", async (t) => {
    const host = await Host.start(t);
    const desks = [new Desk(host), new Desk(host)];
    await Charter.welcomed(host, { chart: headerFor("m1") });
    const names = Array.from({ length: 20 }, (_, number) => `Name ${number}`);
    const both = (name) => {
      const header = withName(headerFor("m1"), name);
      return { ...header, title: name };
    };
    await Promise.all(names.map((name, number) => desks[number % 2].done("PUT", "/matches/m1", both(name), 200)));
    const { match } = JSON.parse(await host.now());
    assert.ok(names.includes(match.title));
    assert.equal(match.teams.a.name, match.title);
  });
});
