/**
 * The second seat: what it may send and what not, each seat taken over for itself, before and
 * after a rally and a match, over a restart. Two clients on one court, through the real sockets.
 */
import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";
import { Charter } from "./support/charter.mjs";
import { headerFor, numbered, rallies } from "./support/charts.mjs";
import { Host } from "./support/host.mjs";
import { Socket } from "./support/socket.mjs";
import { until } from "./support/wait.mjs";

const AT = "2025-05-03T10:00:00.000Z";
const entry = (id, content) => ({ id, at: AT, ...content });
const shot = (team, stroke) => ({ kind: "shot", team, stroke });
const cue = (about, what = "awkward") => ({ kind: "cue", cue: what, shot: about });
const insert = (after, content) => ({ kind: "insert", after, entry: content });
const retract = (target) => ({ kind: "retract", target });
const amend = (target, content) => ({ kind: "amend", target, with: content });
const depth = { kind: "depth", team: "a", depth: "line" };
const note = { kind: "note", text: "a gust of wind" };

/** A court with a match on it and a client on either seat. */
async function bothSeats(t, id, options = {}) {
  const host = await Host.start(t);
  const strokes = await Charter.welcomed(host, { client: "laptop", chart: headerFor(id, options) });
  const cues = await Charter.welcomed(host, { client: "phone", seat: "cues" });
  return { host, strokes, cues };
}

/** What became of an entry: its place, or the code of the refusal. */
async function fate(charter, id, content) {
  const [answer] = await charter.bring([entry(id, content)]);
  return answer.type === "accepted" ? answer.seq : answer.code;
}

const logOf = async (host, id) => (await host.logged(id)).map((line) => [line.id, line.client, line.seat]);

describe("what may come from the second seat and what not", () => {
  const id = "kinds";
  /** @type {{ host: Host, strokes: Charter, cues: Charter }} */
  let the;
  /** @type {(() => Promise<void>)[]} */
  const closing = [];

  before(async () => {
    the = await bothSeats({ after: (close) => closing.push(close) }, id);
    await the.strokes.chart([
      entry("s1", shot("a", "serve")),
      entry("s2", shot("b", "return")),
      entry("k1", insert("s2", shot("a", "drop"))),
      entry("k2", retract("k1")),
    ]);
    await the.cues.chart([entry("c1", cue("s1")), entry("c2", retract("c1")), entry("c3", note)]);
  });

  after(async () => {
    for (const close of closing.reverse()) await close();
  });

  const refused = [
    ["a shot", shot("a", "dink")],
    ["a cue without its shot", { kind: "cue", cue: "awkward" }],
    ["the end of a rally", { kind: "rally_end", won_by: "a" }],
    ["a replay", { kind: "replay" }],
    ["a time-out", { kind: "time_out", team: "a" }],
    ["a penalty", { kind: "penalty", team: "a" }],
    ["the referee's score", { kind: "score_fix", points: { a: 1, b: 0 }, serving: "a" }],
    ["a line-up", { kind: "lineup", team: "a", starting_server: 1 }],
    ["a retirement", { kind: "retire", team: "a" }],
    ["an insert of a shot", insert("s1", shot("a", "dink"))],
    ["an insert of a cue without its shot", insert("s1", { kind: "cue", cue: "awkward" })],
    ["an insert of the end of a rally", insert("s2", { kind: "rally_end", won_by: "a" })],
    ["an insert before the first entry", insert(null, note)],
    ["a retract of a shot", retract("s1")],
    ["a retract of the other seat's insert", retract("k1")],
    ["a retract of the other seat's retract", retract("k2")],
    ["an amend of the other seat's shot", amend("s1", cue("s2"))],
    ["an amend of its own cue into a shot", amend("c1", shot("a", "dink"))],
    ["an amend of its own cue into one without a shot", amend("c1", { kind: "cue", cue: "awkward" })],
    ["an amend of its own note into the end of a rally", amend("c3", { kind: "rally_end", won_by: "b" })],
  ];
  for (const [what, content] of refused)
    test(`${what} is refused, and nothing is stored`, async () => {
      const [now, log] = [await the.host.now(), await logOf(the.host, id)];
      const [answer] = await the.cues.bring([entry("x", content)]);
      assert.deepEqual([answer.type, answer.id, answer.code], ["refused", "x", "not_this_seat"]);
      assert.match(answer.message, /^\S.{10,}[^.]$/, "a sentence");
      assert.equal(await the.host.now(), now);
      assert.deepEqual(await logOf(the.host, id), log);
      assert.equal(the.strokes.socket.inbox.length, 0, "nobody else is told");
    });

  for (const [what, content, code] of [
    ["an unknown kind", { kind: "smash" }, "unknown_kind"],
    ["an unknown cue", cue("s1", "tired"), "unknown_cue"],
    ["a cue about a shot that does not exist", cue("nowhere"), "unknown_shot"],
    ["a retract of what does not exist", retract("nowhere"), "bad_correction"],
    ["an insert after what does not exist", insert("nowhere", note), "bad_correction"],
    ["an amend of its own retract", amend("c2", note), "bad_correction"],
    ["a note of 501 characters", { kind: "note", text: "x".repeat(501) }, "too_long"],
  ])
    test(`${what} is refused as from the first seat`, async () => {
      assert.equal(await fate(the.cues, "x", content), code);
    });

  test("an id that is known is judged first", async () => {
    assert.equal(await fate(the.cues, "s1", shot("a", "serve")), 1);
    assert.equal(await fate(the.cues, "s1", cue("s2")), "id_conflict");
    assert.equal(await fate(the.cues, "c1", cue("s1")), 5);
  });
});

test("cues, depths, notes, inserts and corrections of its own are taken, with client and seat", async (t) => {
  const { host, strokes, cues } = await bothSeats(t, "taken");
  await strokes.chart([entry("s1", shot("a", "serve")), entry("s2", shot("b", "return"))]);
  const sent = [
    ["c1", cue("s2", "off_balance")],
    ["d1", depth],
    ["n1", note],
    ["i1", insert("s1", cue("s1"))],
    ["i2", insert("s1", depth)],
    ["i3", insert("i1", note)],
    ["a1", amend("c1", cue("s1", "attackable"))],
    ["a2", amend("i2", { ...depth, depth: "back" })],
    ["a3", amend("n1", cue("s2"))],
    ["r1", retract("d1")],
    ["r2", retract("r1")],
    ["r3", retract("a1")],
    ["r4", retract("i3")],
  ];
  const answers = await cues.bring(sent.map(([id, content]) => entry(id, content)));
  assert.deepEqual(
    answers.map(({ type, seq }) => [type, seq]),
    sent.map((_, place) => ["accepted", place + 3]),
  );
  assert.deepEqual(await logOf(host, "taken"), [
    ["s1", "laptop", "chart"],
    ["s2", "laptop", "chart"],
    ...sent.map(([id]) => [id, "phone", "cues"]),
  ]);
  // The desk's word stands among them without a seat.
  const desk = await fetch(host.http("/courts/1/entries"), {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ entries: [entry("f1", note)] }),
  });
  assert.equal(desk.status, 200);
  assert.deepEqual((await logOf(host, "taken")).at(-1), ["f1", "desk", undefined]);
  const listed = (await (await host.get("/courts/1/entries")).json()).entries;
  assert.deepEqual(
    ["f1", "c1", "s1"].map((id) => listed.find(({ entry }) => entry.id === id)?.seat),
    [null, "cues", "chart"],
  );
});

test("any client of the seat corrects what was recorded from it, also after a restart", async (t) => {
  const { host, strokes, cues } = await bothSeats(t, "later");
  await strokes.chart([entry("s1", shot("a", "serve"))]);
  await cues.chart([entry("c1", cue("s1"))]);
  await host.stop();
  const again = await Host.start(t, { data: host.data });
  const other = await Charter.welcomed(again, { client: "tablet", seat: "cues" });
  assert.deepEqual(other.welcome.ids, [], "another client's ids are not its own");
  assert.equal(await fate(other, "x", retract("s1")), "not_this_seat");
  assert.equal(await fate(other, "a1", amend("c1", cue("s1", "off_balance"))), 3);
  assert.equal(await fate(other, "r1", retract("c1")), 4);
  // The same client on the first seat has no say from the second, and the first may correct all.
  const laptop = await Charter.welcomed(again, { client: "laptop" });
  assert.deepEqual(laptop.welcome.ids, ["s1"]);
  assert.equal(await fate(laptop, "r2", retract("r1")), 5);
  const back = await Charter.welcomed(again, { client: "phone", seat: "cues" });
  assert.deepEqual(back.welcome.ids, ["c1"]);
});

test("after the rally and after the match it inserts, and sends nothing else", async (t) => {
  const { host, strokes, cues } = await bothSeats(t, "over", { points: 2, games: 1 });
  await strokes.chart([
    entry("s1", shot("a", "serve")),
    entry("s2", shot("b", "return")),
    entry("e1", { kind: "rally_end", won_by: "a" }),
  ]);
  const [late] = await cues.bring([entry("l1", cue("s2"))]);
  assert.deepEqual([late.type, late.flags], ["accepted", ["no_shot"]], "it comes too late to count");
  assert.equal(await fate(cues, "i1", insert("s2", cue("s2", "off_balance"))), 5);
  const cuesOf = async () => JSON.parse(await host.now()).rally.earlier[0]?.shots.map((one) => one.cues);
  assert.deepEqual(await cuesOf(), undefined, "the rally just over is the current one until the next shot");
  assert.deepEqual(
    JSON.parse(await host.now()).rally.shots.map((one) => one.cues),
    [[], ["off_balance"]],
  );
  await strokes.chart([entry("e2", { kind: "rally_end", won_by: "a" })]);
  assert.equal(JSON.parse(await host.now()).score.winner, "a");
  assert.equal(await fate(cues, "x", cue("s2")), "match_over");
  assert.equal(await fate(cues, "x", depth), "match_over");
  assert.equal(await fate(cues, "x", shot("a", "dink")), "not_this_seat");
  assert.equal(await fate(cues, "n1", note), 7);
  assert.equal(await fate(cues, "i2", insert("s1", cue("s1"))), 8);
  assert.equal(await fate(cues, "i3", insert("s1", depth)), 9);
  assert.equal(await fate(cues, "r1", retract("i1")), 10);
  assert.equal(JSON.parse(await host.now()).score.winner, "a");
});

test("each seat is taken over for itself", async (t) => {
  const { host, strokes, cues } = await bothSeats(t, "seats");
  assert.deepEqual([strokes.welcome.charters, cues.welcome.charters], [[], []], "nobody sits beside");
  const first = await Charter.welcomed(host, { client: "phone", seat: "cues", take_over: true });
  assert.equal(first.welcome.seat, "phone");
  await strokes.chart([entry("s1", shot("a", "serve"))]);
  // Another one on the second seat: told apart from the first seat, and not from its own.
  const other = await Charter.welcomed(host, { client: "tablet", seat: "cues" });
  assert.deepEqual([other.welcome.seat, other.welcome.charters], ["phone", ["phone"]]);
  assert.match(await cues.notice(), /`phone` has taken over the cues of court `1`/);
  assert.match(await cues.notice(), /`tablet` is connected to the cues of court `1`/);
  assert.equal(await fate(other, "c1", cue("s1")), "taken_over");
  await other.hello({ client: "tablet", seat: "cues", take_over: true });
  assert.equal(await fate(other, "c1", cue("s1")), 2);
  assert.equal(await fate(cues, "c2", cue("s1")), "taken_over");
  // The first seat noticed nothing and is as free as before.
  assert.deepEqual(
    strokes.socket.seen.filter(({ type }) => type === "notice"),
    [],
  );
  const laptop = await Charter.welcomed(host, { client: "second", take_over: true });
  assert.equal(laptop.welcome.seat, "second");
  assert.equal(await fate(strokes, "s2", shot("b", "return")), "taken_over");
  assert.equal(await fate(other, "c3", cue("s1", "off_balance")), 3);
  assert.equal(await fate(laptop, "s2", shot("b", "return")), 4);
  const { charters } = (await (await host.get("/desk/state")).json()).courts[0];
  assert.deepEqual(
    charters.map(({ client, seat, holds }) => [client, seat, holds]),
    [
      ["laptop", "chart", false],
      ["second", "chart", true],
      ["phone", "cues", false],
      ["tablet", "cues", true],
    ],
  );
  const metrics = await (await host.get("/metrics")).text();
  assert.match(metrics, /^rallytide_charters_on_seat\{court="1",seat="chart"\} 2$/m);
  assert.match(metrics, /^rallytide_charters_on_seat\{court="1",seat="cues"\} 2$/m);
});

test("a hello for the second seat brings no match and needs one", async (t) => {
  const host = await Host.start(t);
  const early = await Charter.connect(host);
  const ask = async (fields) => {
    const answer = await early.hello({ client: "phone", ...fields });
    return answer.type === "refused" ? answer.code : answer.type;
  };
  assert.equal(await ask({ seat: "cues" }), "no_match");
  assert.equal(await ask({ seat: "cues", chart: headerFor("brought") }), "not_this_seat");
  assert.equal(await ask({ seat: "strokes" }), "malformed");
  assert.equal(await ask({ seat: 2 }), "malformed");
  assert.deepEqual((await (await host.get("/courts")).json()).courts[0].match, null);
  const unknown = await early.say({ type: "entries", entries: [entry("x", note)] });
  assert.equal(unknown.code, "hello_first", "a refused hello is none");
  await Charter.welcomed(host, { client: "laptop", chart: headerFor("brought"), seat: "chart" });
  assert.equal(await ask({ seat: "cues", chart: headerFor("other") }), "not_this_seat");
  const welcome = await early.hello({ client: "phone", seat: "cues", chart: null });
  assert.deepEqual([welcome.type, welcome.match.id, welcome.ids], ["welcome", "brought", []]);
});

test("either seat goes on while the other one is away", async (t) => {
  const { host, strokes, cues } = await bothSeats(t, "alone", { points: 99 });
  await strokes.chart([entry("s1", shot("a", "serve"))]);
  strokes.socket.terminate();
  await until("the laptop to be gone", async () => {
    const { charters } = (await (await host.get("/desk/state")).json()).courts[0];
    return charters.length === 1;
  });
  assert.equal(await fate(cues, "c1", cue("s1")), 2);
  cues.socket.terminate();
  const back = await Charter.welcomed(host, { client: "laptop" });
  await back.chart(numbered(rallies("ab".repeat(5))));
  const phone = await Charter.welcomed(host, { client: "phone", seat: "cues" });
  assert.equal(phone.welcome.last_seq, 12);
  assert.equal(await fate(phone, "c2", insert("s1", cue("s1", "off_balance"))), 13);
});

test("a burst of inserts in one message is one snapshot to viewers", async (t) => {
  const { host, strokes, cues } = await bothSeats(t, "burst", { points: 99 });
  const shots = Array.from({ length: 20 }, (_, place) => entry(`s${place}`, shot("ab"[place % 2], "dink")));
  await strokes.chart([...shots, entry("e1", { kind: "rally_end", won_by: "a" })]);
  const feed = await Socket.open(host.ws("/courts/1/feed?role=viewer"));
  await feed.receive("the first snapshot", ({ type }) => type === "snapshot");
  const inserts = shots.map(({ id }, place) => entry(`i${place}`, insert(id, cue(id))));
  const answers = await cues.bring(inserts);
  assert.deepEqual(
    answers.map(({ seq, flags }) => [seq, flags]),
    inserts.map((_, place) => [place + 22, []]),
  );
  await strokes.chart([entry("s99", shot("a", "serve"))]);
  await feed.receive("the next shot", ({ type, entry }) => type === "update" && entry?.id === "s99");
  const snapshots = feed.seen.filter(({ type }) => type === "snapshot").slice(1);
  assert.deepEqual(
    snapshots.map(({ seq, revision, reason }) => [seq, revision, reason]),
    [[41, 20, "corrected"]],
  );
  assert.ok(snapshots[0].rally.shots.every((one) => one.cues.length === 1));
  await feed.close();
});
