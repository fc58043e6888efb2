/**
 * What was accepted stays: the host is killed (`kill -9`) at random moments while a client charts,
 * the log is cut off in the middle of a line, the disk takes nothing more.
 *
 * `DURABILITY_ROUNDS` says how often the host is killed (24 unless said otherwise),
 * `DURABILITY_SEED` draws the moments.
 */
import assert from "node:assert/strict";
import { appendFile, readFile, stat } from "node:fs/promises";
import { test } from "node:test";
import { Dice } from "./oracle/random-values.mjs";
import { Charter } from "./support/charter.mjs";
import { headerFor, numbered, rallies } from "./support/charts.mjs";
import { forEverybody } from "./support/expected.mjs";
import { freshFolder } from "./support/folders.mjs";
import { Host } from "./support/host.mjs";
import { asLines, linesOf, rallytide } from "./support/program.mjs";
import { rawField } from "./support/raw-json.mjs";

const ROUNDS = Number(process.env.DURABILITY_ROUNDS ?? 24);
const SEED = Number(process.env.DURABILITY_SEED ?? 1);

/** The kill comes at most so long after the moment that was drawn, in milliseconds. */
const MOST_DELAY_MS = 12;

/** An endless supply of entries: rallies of some shots, a correction now and then. */
class Volunteer {
  /** @param {Dice} dice */
  constructor(dice) {
    this.dice = dice;
    this.made = 0;
  }

  next() {
    this.made += 1;
    const [entry] = numbered([this.#content()], this.made);
    return entry;
  }

  #content() {
    const place = this.made % 8;
    if (place === 0) return { kind: "rally_end", won_by: this.dice.pick(["a", "b"]) };
    if (place === 7 && this.dice.chance(0.4)) {
      return { kind: "amend", target: `e${this.made - 2}`, with: { kind: "note", text: "seen wrongly" } };
    }
    return { kind: "shot", team: place % 2 === 1 ? "a" : "b", stroke: place === 1 ? "serve" : "drive" };
  }
}

test(`nothing that was accepted is lost when the host is killed ${ROUNDS} times`, async (t) => {
  const dice = new Dice(SEED);
  const volunteer = new Volunteer(dice);
  const header = headerFor("killed", { points: 99, games: 5 });
  const data = await freshFolder(t);
  /** @type {{ entry: any, seq: number|null }[]} all entries made, with the position they were given */
  const made = [];
  let unanswered = 0;
  for (let round = 1; round <= ROUNDS; round += 1) {
    const where = `seed ${SEED}, round ${round}`;
    const host = await Host.start(t, { data });
    const charter = await Charter.welcomed(host, { chart: header });
    assertKept(made, charter.welcome, await host.logged(header.id), where);
    await chartUntilKilled(host, charter, volunteer, made, dice);
    unanswered += made.filter(({ seq }) => seq === null).length;
    assertKept(made, null, await host.logged(header.id), `${where}, before the restart`);
  }

  const host = await Host.start(t, { data });
  const charter = await Charter.welcomed(host, { chart: header });
  const answers = await charter.chart(made.map(({ entry }) => entry));
  assert.deepEqual(
    answers.map(({ seq }) => seq),
    made.map((_, index) => index + 1),
    "all of it once more, all of it known",
  );
  t.diagnostic(`${made.length} entries; ${unanswered} times one was on its way when the host died`);
  assert.ok(unanswered > 0, "the host was never killed while an entry was on its way");
  const live = await host.now();
  await host.stop();
  await assertReadable(host.logFile(header.id), made.length);
  const readings = await linesOf(["readings", host.logFile(header.id)]);
  assert.equal(rawField(live, "readings"), forEverybody(readings), "the log is a chart of its own");
});

/** Charts in small batches, does not wait for all answers, and has the host killed meanwhile. */
async function chartUntilKilled(host, charter, volunteer, made, dice) {
  // What was not answered before comes first, in its old order, as a client does it.
  const waiting = made.filter(({ seq }) => seq === null);
  const batches = dice.between(1, 12);
  let killed = null;
  for (let batch = 0; batch <= batches + 6; batch += 1) {
    const fresh = Array.from({ length: dice.between(1, 20) }, () => ({ entry: volunteer.next(), seq: null }));
    made.push(...fresh);
    const part = [...waiting.splice(0), ...fresh];
    try {
      charter.send(part.map(({ entry }) => entry));
      if (batch === batches) killed = killSoon(host, dice);
      for (const one of part.slice(0, dice.between(0, part.length))) await charter.answer(one.entry.id);
    } catch (error) {
      if (charter.socket.closed === null) throw error;
      break;
    }
  }
  await (killed ?? host.kill());
  await charter.socket.whenClosed();
  const accepted = new Map(
    charter.socket.seen.filter(({ type }) => type === "accepted").map(({ id, seq }) => [id, seq]),
  );
  assert.ok(
    charter.socket.seen.every(({ type }) => type !== "refused"),
    JSON.stringify(charter.socket.seen.find(({ type }) => type === "refused")),
  );
  for (const one of made) one.seq ??= accepted.get(one.entry.id) ?? null;
}

/** The delay is what makes the moment random; nothing is waited for. */
function killSoon(host, dice) {
  return new Promise((resolve, reject) => {
    setTimeout(() => host.kill().then(resolve, reject), dice.next() * MOST_DELAY_MS);
  });
}

/** Everything that was accepted is in the log, once, in the order of recording, at its position. */
function assertKept(made, welcome, logged, where) {
  const ids = logged.map(({ id }) => id);
  assert.equal(new Set(ids).size, ids.length, `${where}: an entry is there twice`);
  assert.deepEqual(
    logged.map(({ seq }) => seq),
    logged.map((_, index) => index + 1),
    `${where}: positions`,
  );
  const order = made.map(({ entry }) => entry.id);
  assert.deepEqual(ids, order.slice(0, ids.length), `${where}: order of recording`);
  for (const { entry, seq } of made) {
    if (seq !== null) assert.equal(ids[seq - 1], entry.id, `${where}: ${entry.id} was accepted at ${seq}`);
  }
  if (welcome === null) return;
  assert.equal(welcome.last_seq, logged.length, where);
  assert.deepEqual(welcome.ids, ids, `${where}: what the client is told`);
}

/** Every line is a JSON object; `check` finds nothing to refuse and no broken checksum. */
async function assertReadable(file, entries) {
  const lines = asLines(await readFile(file, "utf8")).map((line) => JSON.parse(line));
  assert.equal(lines.length, entries + 1);
  assert.ok(
    lines.every(({ crc }) => /^[0-9a-f]{8}$/.test(crc)),
    "every line has a checksum",
  );
  const { status, stdout } = await rallytide(["check", file]);
  assert.equal(status, 0, stdout);
  assert.doesNotMatch(stdout, /note|refused/);
}

/** A stopped host with some entries in its log. */
async function someLog(t, id) {
  const data = await freshFolder(t);
  const host = await Host.start(t, { data });
  const charter = await Charter.welcomed(host, { chart: headerFor(id) });
  await charter.chart(numbered(rallies("abaab")));
  const before = await host.now();
  await host.stop();
  return { data, file: host.logFile(id), before };
}

for (const [what, torn] of [
  ["cut_off_within_an_entry", '{"id":"e6","at":"2025-05-03T10:00:06.000Z","kind":"rally_e'],
  ["cut_off_before_its_line_end", '{"id":"e6","at":"2025-05-03T10:00:06.000Z","kind":"rally_end","won_by":"a"}'],
  ["followed_by_zeros", "\0".repeat(512)],
]) {
  test(`a log ${what} loses only what was never accepted`, async (t) => {
    const { data, file, before } = await someLog(t, "torn");
    const whole = await readFile(file);
    await appendFile(file, torn);
    const host = await Host.start(t, { data });
    assert.equal(await host.now(), before, "the state of what was accepted");
    const charter = await Charter.welcomed(host, {});
    const [answer] = await charter.chart(numbered(rallies("b"), 6));
    assert.equal(answer.seq, 6);
    const after = await readFile(file);
    assert.ok(after.subarray(0, whole.length).equals(whole), "what stood there stands there");
    await host.stop();
    await assertReadable(file, 6);
  });
}

test("a_host_that_is_asked_to_stop_keeps_what_it_took", async (t) => {
  const { data, before } = await someLog(t, "stopped");
  const host = await Host.start(t, { data });
  assert.equal(await host.now(), before);
});

test("an_entry_that_the_disk_does_not_take_is_not_accepted", async (t) => {
  const data = await freshFolder(t);
  const header = headerFor("full", { points: 99, games: 5 });
  // Files of this host may grow to 32 KiB; writing more fails instead of ending the process.
  const limited = await Host.start(t, { data, shell: "trap '' XFSZ; ulimit -f 64" });
  const charter = await Charter.welcomed(limited, { chart: header });
  const entries = numbered(rallies("ab".repeat(150))).map((one) => ({ ...one, padding: "x".repeat(200) }));
  const answers = await charter.bring(entries);
  const refused = answers.filter(({ type }) => type === "refused");
  const accepted = answers.filter(({ type }) => type === "accepted");
  assert.ok(accepted.length > 20 && refused.length > 20, `${accepted.length} accepted, ${refused.length} refused`);
  assert.deepEqual([...new Set(refused.map(({ code }) => code))], ["not_stored"]);
  await limited.kill();
  assert.ok((await stat(limited.logFile(header.id))).size <= 64 * 512, "the limit was in force");

  const host = await Host.start(t, { data });
  const back = await Charter.welcomed(host, { chart: header });
  const kept = await host.logged(header.id);
  assert.deepEqual(
    accepted.map(({ id, seq }) => [id, seq]),
    kept.slice(0, accepted.length).map(({ id, seq }) => [id, seq]),
  );
  const again = await back.chart(entries);
  assert.deepEqual(
    again.map(({ seq }) => seq),
    entries.map((_, index) => index + 1),
    "sent again, everything is taken",
  );
});
