/**
 * The feed, and `now` beside it: an independent client puts together what it is sent and has to end
 * up, after every entry, with the bytes that `rallytide readings` computes from the file.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { Charter } from "./support/charter.mjs";
import { demoMatch, headerFor, numbered, rallies, randomMatch } from "./support/charts.mjs";
import { forEverybody, liveStates, statesOf } from "./support/expected.mjs";
import { Host } from "./support/host.mjs";
import { linesOf } from "./support/program.mjs";
import { rawField } from "./support/raw-json.mjs";
import { Viewer } from "./support/viewer.mjs";

/** So many messages are kept for viewers that come back; `crates/bus/README.md` says so. */
const KEPT_MESSAGES = 256;

/**
 * Charts entry by entry and compares what the viewer has put together with what the program
 * computes from the file.
 */
async function chartAndCompare(_host, charter, viewer, chart) {
  for (const [place, state] of (await liveStates(chart)).entries()) {
    const { recorded, revision } = state;
    const seq = place + 1;
    const [answer] = await charter.chart([recorded]);
    assert.equal(answer.seq, seq);
    const message = await viewer.upTo(seq);
    const where = `entry ${recorded.id} (${recorded.kind}), position ${seq}`;
    assert.equal(message.seq, seq, where);
    assert.equal(message.revision, revision, where);
    if (message.type === "update") assert.equal(message.entry.id, recorded.id, where);
    else assert.equal(message.reason, "corrected", where);
    assert.equal(message.type === "snapshot", ["retract", "amend", "insert"].includes(recorded.kind), where);
    if (state.readings !== null) assert.equal(viewer.readings(), state.readings, where);
    if (state.score !== null) assert.deepEqual(viewer.score, state.score, where);
  }
}

test("a_viewer_of_the_demo_match_sees_what_the_file_says_after_every_entry", async (t) => {
  const host = await Host.start(t);
  const viewer = await Viewer.connect(host);
  assert.deepEqual(
    await viewer.next(),
    {
      type: "snapshot",
      seq: 0,
      revision: 0,
      match: null,
      score: null,
      readings: [],
      rally: null,
    },
    "before the match",
  );
  const chart = await demoMatch();
  assert.ok(
    chart.entries.some(({ kind }) => kind === "amend"),
    "the demo match has to hold a correction",
  );
  const charter = await Charter.welcomed(host, { chart: chart.header });
  const begun = await viewer.next();
  assert.deepEqual([begun.type, begun.seq, begun.match], ["snapshot", 0, chart.header]);
  await chartAndCompare(host, charter, viewer, chart);
  const lines = await linesOf(["readings", host.logFile(chart.header.id)]);
  assert.equal(viewer.readings(), forEverybody(lines), "the log read as a chart");
  assert.equal(rawField(await host.now(), "readings"), viewer.readings(), "and what `now` says");
});

test("a_viewer_of_a_chart_full_of_corrections_sees_what_the_file_says", async (t) => {
  const host = await Host.start(t);
  const chart = correctedChart();
  const charter = await Charter.welcomed(host, { chart: chart.header });
  const viewer = await Viewer.connect(host);
  await viewer.next();
  await chartAndCompare(host, charter, viewer, chart);
});

/** The first random chart with enough corrections, and enough between them. */
function correctedChart() {
  for (let seed = 1; ; seed += 1) {
    const chart = randomMatch(seed, "shots");
    const corrections = chart.entries.filter(({ kind }) => ["retract", "amend", "insert"].includes(kind)).length;
    if (corrections >= 8 && corrections <= 15 && chart.entries.length > 120) return chart;
  }
}

test("a_viewer_that_comes_back_gets_what_it_missed_and_nothing_twice", async (t) => {
  const host = await Host.start(t);
  const { header, entries } = await demoMatch();
  const charter = await Charter.welcomed(host, { chart: header });
  const viewer = await Viewer.connect(host);
  await charter.chart(entries.slice(0, 20));
  await viewer.upTo(20);
  const missed = entries.slice(20, 60).filter(({ kind }) => !["retract", "amend", "insert"].includes(kind));
  await viewer.close();
  await charter.chart(missed);
  await viewer.comeBack(host, `?after=20&match=${header.id}`);
  for (const [place, { id }] of missed.entries()) {
    const message = await viewer.next();
    assert.deepEqual([message.type, message.seq, message.entry?.id], ["update", 21 + place, id]);
  }
  assert.equal(viewer.readings(), rawField(await host.now(), "readings"));
});

test("a_viewer_that_has_everything_is_sent_nothing_until_something_happens", async (t) => {
  const host = await Host.start(t);
  const charter = await Charter.welcomed(host, { chart: headerFor("quiet") });
  const [first, second] = numbered(rallies("ab"));
  await charter.chart([first]);
  const viewer = await Viewer.connect(host, { query: "?after=1" });
  await charter.chart([second]);
  const { message } = await viewer.socket.receive("the first message", ({ type }) => type !== "beat");
  assert.deepEqual([message.type, message.seq], ["update", 2]);
});

test("a_viewer_that_missed_a_correction_is_sent_the_corrected_state", async (t) => {
  const host = await Host.start(t);
  const charter = await Charter.welcomed(host, { chart: headerFor("missed") });
  const [one, two, three] = numbered(rallies("aab"));
  const viewer = await Viewer.connect(host);
  await charter.chart([one, two]);
  await viewer.upTo(2);
  await viewer.close();
  const correction = { id: "k1", at: "2025-05-03T10:01:00.000Z", kind: "amend", target: "e2", with: rallies("b")[0] };
  await charter.chart([three, correction]);
  await viewer.comeBack(host, "?after=2");
  await viewer.upTo(4);
  assert.equal(viewer.revision, 1);
  assert.equal(viewer.lastText.replace('"reason":"corrected",', ""), await host.now());
});

for (const [what, query] of [
  ["of_another_match", "?after=3&match=other"],
  ["after_a_position_that_is_still_to_come", "?after=99"],
  ["without_a_position", ""],
]) {
  test(`a_viewer_${what}_is_sent_the_whole_state`, async (t) => {
    const host = await Host.start(t);
    const charter = await Charter.welcomed(host, { chart: headerFor("whole") });
    await charter.chart(numbered(rallies("abba")));
    const viewer = await Viewer.connect(host, { query });
    const { type, seq } = await viewer.next();
    assert.deepEqual([type, seq], ["snapshot", 4]);
    assert.equal(viewer.lastText, await host.now(), "the same bytes as `now`");
  });
}

test("a_viewer_that_missed_too_much_is_sent_the_whole_state", async (t) => {
  const host = await Host.start(t);
  const charter = await Charter.welcomed(host, { chart: headerFor("long", { points: 99, games: 5 }) });
  await charter.chart(numbered(rallies("ab".repeat(KEPT_MESSAGES))));
  const viewer = await Viewer.connect(host, { query: "?after=1" });
  const { type, seq } = await viewer.next();
  assert.deepEqual([type, seq], ["snapshot", 2 * KEPT_MESSAGES]);
});

test("a_viewer_that_does_not_read_holds_nobody_back_and_then_gets_the_latest_state", async (t) => {
  const host = await Host.start(t);
  const charter = await Charter.welcomed(host, { chart: headerFor("slow", { points: 99, games: 5 }) });
  const slow = await Viewer.connect(host);
  await slow.next();
  slow.socket.stopReading();
  const quick = await Viewer.connect(host);
  await quick.next();

  // Long entries, so that more is waiting than the system's own buffers take.
  const entries = numbered(rallies("ab".repeat(300))).map((one) => ({ ...one, padding: "x".repeat(50_000) }));
  for (const [place, one] of entries.entries()) {
    charter.send([one]);
    assert.equal((await charter.answer(one.id)).type, "accepted");
    const { type, seq } = await quick.next();
    assert.deepEqual([type, seq], ["update", place + 1], "the viewer that reads gets every update");
  }

  slow.socket.readAgain();
  const taken = await catchUp(host, slow, entries.length);
  t.diagnostic(`the slow viewer took ${taken} messages for ${entries.length} entries`);
  assert.ok(taken < entries.length, "the slow viewer was sent everything");
  assert.equal(slow.readings(), quick.readings());
  assert.deepEqual(slow.score, quick.score);
});

/**
 * Takes messages until position `seq`. A viewer that has not read for too long may have been
 * dropped; then it comes back, as every viewer does.
 * @returns {Promise<number>} how many messages that took
 */
async function catchUp(host, viewer, seq) {
  let taken = 0;
  for (; viewer.seq < seq; taken += 1) {
    try {
      await viewer.next();
    } catch (error) {
      if (viewer.socket.closed === null) throw error;
      await viewer.comeBack(host, `?after=${viewer.seq}`);
    }
  }
  return taken;
}

test("the_booth_is_sent_what_viewers_are_sent_and_the_prompts_besides", async (t) => {
  const host = await Host.start(t);
  const { header, entries } = await demoMatch();
  const charter = await Charter.welcomed(host, { chart: header });
  await charter.chart(entries);
  const [viewer, booth] = await Promise.all(
    ["viewer", "booth"].map(async (role) => {
      const one = await Viewer.connect(host, { query: `?role=${role}` });
      return one.next();
    }),
  );
  assert.ok(
    viewer.readings.every(({ indicator }) => indicator !== "prompt"),
    "prompts are for the booth",
  );
  const others = booth.readings.filter(({ indicator }) => indicator !== "prompt");
  assert.deepEqual({ ...booth, readings: others }, viewer);
  const lines = await linesOf(["readings", host.logFile(header.id)]);
  assert.deepEqual(
    booth.readings,
    lines.map((line) => JSON.parse(line)),
    "all that the log has",
  );
  assert.ok(booth.readings.length > others.length, "the demo match has to end with a prompt");
});

test("the_next_match_on_a_court_reaches_viewers_of_the_last_one", async (t) => {
  const host = await Host.start(t);
  const charter = await Charter.welcomed(host, { chart: headerFor("first", { points: 2, games: 1 }) });
  const viewer = await Viewer.connect(host);
  await charter.chart(numbered(rallies("aa")));
  await viewer.upTo(2);
  const next = headerFor("second");
  await Charter.welcomed(host, { client: "phone", chart: next });
  const message = await viewer.next();
  assert.deepEqual([message.type, message.seq, message.match], ["snapshot", 0, next]);
});

test("now_is_sent_again_only_when_it_has_changed", async (t) => {
  const host = await Host.start(t);
  const charter = await Charter.welcomed(host, { chart: headerFor("tagged") });
  const first = await host.get("/courts/1/now");
  assert.equal(first.status, 200);
  assert.match(first.headers.get("content-type"), /^application\/json/);
  const tag = first.headers.get("etag");
  assert.match(tag, /^(W\/)?"[^"]+"$/, "RFC 9110, section 8.8.3");
  const same = await host.get("/courts/1/now", { "if-none-match": `"other", ${tag}` });
  assert.equal(same.status, 304);
  assert.equal(same.headers.get("etag"), tag, "RFC 9110, section 15.4.5");
  assert.equal(await same.text(), "");
  await charter.chart(numbered(rallies("a")));
  const changed = await host.get("/courts/1/now", { "if-none-match": tag });
  assert.equal(changed.status, 200);
  assert.notEqual(changed.headers.get("etag"), tag);
  assert.equal((await changed.json()).seq, 1);
});

test("the_score_as_text_is_the_call_and_the_names", async (t) => {
  const host = await Host.start(t);
  const chart = { header: headerFor("text", { points: 3, games: 1 }), entries: numbered(rallies("aba")) };
  const charter = await Charter.welcomed(host, { chart: chart.header });
  const states = await statesOf(chart);
  for (const [place, state] of states.entries()) {
    if (place > 0) await charter.chart([chart.entries[place - 1]]);
    const response = await host.get("/courts/1/now/score.txt");
    assert.match(response.headers.get("content-type"), /^text\/plain/);
    const lines = (await response.text()).split("\n");
    assert.equal(lines[0], state.score === null ? "0-0-2" : state.score.call);
    assert.deepEqual(lines.slice(1), ["Alder / Ash", "Birch / Bay", ""]);
  }
});

test("the_score_as_text_names_the_games_when_the_match_is_over", async (t) => {
  const host = await Host.start(t);
  const charter = await Charter.welcomed(host, { chart: headerFor("final", { points: 2, games: 1 }) });
  await charter.chart(numbered(rallies("aa")));
  const text = await (await host.get("/courts/1/now/score.txt")).text();
  assert.equal(text.split("\n")[0], "final 1-0");
});

test("a_court_that_there_is_not_is_answered_with_a_sentence", async (t) => {
  const host = await Host.start(t);
  for (const path of ["/courts/9/now", "/courts/9/now/score.txt", "/courts/a.b/graphic", "/nothing"]) {
    const response = await host.get(path);
    assert.equal(response.status, 404, path);
    assert.match(await response.text(), /\w+ \w+/, path);
  }
});
