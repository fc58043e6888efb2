/**
 * A venue's network: strangers, half-sent requests, pages of other sites, clients that send and
 * never read. None of them gets keys, keeps others out, or keeps the host from stopping.
 */
import assert from "node:assert/strict";
import { mkdir, symlink, writeFile } from "node:fs/promises";
import { networkInterfaces } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import { Charter } from "./support/charter.mjs";
import { headerFor } from "./support/charts.mjs";
import { Desk } from "./support/desk.mjs";
import { freshFolder } from "./support/folders.mjs";
import { Host } from "./support/host.mjs";
import { rallytide } from "./support/program.mjs";
import { RawSocket } from "./support/raw-socket.mjs";
import { Refused, Socket } from "./support/socket.mjs";
import { until } from "./support/wait.mjs";

const AT = "2026-05-03T10:00:00.000Z";
const POINT = { id: "e1", at: AT, kind: "rally_end", won_by: "a" };
const OTHER_SITE = { origin: "https://elsewhere.example" };

const serving = (data, ...more) => ["serve", "--listen", "127.0.0.1:0", "--data", data, ...more];

/** The address of this machine in its network, from which it is another machine to the host. */
function fromAfar(host) {
  const addresses = Object.values(networkInterfaces()).flat();
  const one = addresses.find(({ internal, family }) => !internal && family === "IPv4");
  assert.ok(one, "this test needs an IPv4 address besides the loopback one");
  const far = new Host();
  far.address = `${one.address}:${host.port}`;
  return far;
}

/** @returns {Promise<number>} 101, or the status of the refusal */
async function socketStatus(host, path, headers = {}) {
  try {
    (await Socket.open(host.ws(path), { headers })).terminate();
    return 101;
  } catch (error) {
    assert.ok(error instanceof Refused, String(error));
    return error.status;
  }
}

test("a_pages_folder_that_holds_the_data_folder_is_refused_at_the_start", async (t) => {
  const around = await freshFolder(t);
  const data = join(around, "matches");
  await mkdir(data);
  for (const pages of [around, data]) {
    const { status, stderr } = await rallytide(serving(data, "--pages", pages));
    assert.equal(status, 2, stderr);
    assert.match(stderr, /pages/);
  }
});

test("a_pages_folder_gives_out_files_of_pages_and_nothing_else", async (t) => {
  const pages = await freshFolder(t);
  const elsewhere = await freshFolder(t);
  const secret = join(elsewhere, "secret.css");
  await writeFile(secret, "secret");
  await symlink(secret, join(pages, "link.css"));
  await symlink(elsewhere, join(pages, "folder"));
  for (const file of [".env.css", "notes.toml", "log.jsonl", "noending", "_keys.json", "own.css"]) {
    await writeFile(join(pages, file), "held");
  }
  await mkdir(join(pages, ".git"));
  await writeFile(join(pages, ".git", "a.css"), "held");
  const data = await freshFolder(t);
  const host = await Host.start(t, { data, command: serving(data, "--pages", pages) });
  assert.equal(await (await host.get("/own.css")).text(), "held");
  for (const path of [
    "/link.css",
    "/folder/secret.css",
    "/.env.css",
    "/%2eenv.css",
    "/.git/a.css",
    "/notes.toml",
    "/log.jsonl",
    "/noending",
    "/_keys.json",
    "/%2e%2e%2fsecret.css",
  ]) {
    assert.equal((await host.get(path)).status, 404, path);
  }
});

test("neither_half_a_request_nor_a_client_that_never_reads_keeps_the_host_from_stopping", async (t) => {
  const host = await Host.start(t);
  await Charter.welcomed(host, { chart: headerFor("m1") });
  const half = await RawSocket.open(host);
  half.send("GET /courts HTTP/1.1\r\nHost: 127");
  const body = await RawSocket.open(host);
  body.send("POST /matches HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 900\r\n\r\n{");
  const deaf = await RawSocket.open(host, { reads: false });
  for (let asked = 0; asked < 400; asked += 1) {
    deaf.send("GET /openapi.json HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n");
  }
  const viewer = await Socket.open(host.ws("/courts/1/feed"));
  viewer.stopReading();
  t.after(() => [half, body, deaf].map((one) => one.destroy()));
  await host.stop();
});

test("a_second_signal_ends_the_host_at_once", async (t) => {
  const host = await Host.start(t);
  const half = await RawSocket.open(host);
  half.send("GET /courts HTTP/1.1\r\nHost: 127");
  t.after(() => half.destroy());
  const ended = host.ended();
  // The first may not have been heard yet when the second comes, so it is sent until it is.
  const asking = setInterval(() => host.askToStop(), 20);
  const { status } = await ended.finally(() => clearInterval(asking));
  assert.equal(status, 3, host.stderr());
  assert.match(host.stderr(), /stopped at once/);
});

test("half_a_request_is_given_up_and_its_connection_closed", async (t) => {
  const host = await Host.start(t);
  const half = await RawSocket.open(host);
  half.send("GET /courts HTTP/1.1\r\nHost: 127.0.0.1\r\nX-");
  await half.whenClosed();
});

test("a_thousand_half_sent_requests_of_one_machine_shut_nobody_out", async (t) => {
  const data = await freshFolder(t);
  const command = ["serve", "--listen", "0.0.0.0:0", "--data", data];
  const host = await Host.start(t, { data, command, shell: "ulimit -n 1024" });
  const far = fromAfar(host);
  const halves = [];
  t.after(() => halves.map((one) => one.destroy()));
  for (let count = 0; count < 1_100; count += 1) {
    const half = await RawSocket.open(far);
    half.send("GET /courts HTTP/1.1\r\nHost: ");
    halves.push(half);
  }
  const charter = await Charter.welcomed(host, { chart: headerFor("m1") });
  await charter.chart([POINT]);
  assert.equal((await new Desk(host).state()).matches.length, 1);
});

test("a_page_of_another_site_reads_no_booth_and_makes_no_court", async (t) => {
  const host = await Host.start(t);
  await Charter.welcomed(host, { chart: headerFor("m1") });
  assert.equal(await socketStatus(host, "/courts/1/feed?role=booth", OTHER_SITE), 403);
  assert.equal(await socketStatus(host, "/courts/1/feed?role=booth"), 101);
  assert.equal(await socketStatus(host, "/courts/1/feed", OTHER_SITE), 101, "a streamer's own page may show a court");
  for (let court = 0; court < 30; court += 1) {
    assert.equal(await socketStatus(host, `/courts/c${court}/feed`, OTHER_SITE), 101);
  }
  const { courts } = JSON.parse(await (await host.get("/courts")).text());
  assert.deepEqual(
    courts.map(({ court }) => court),
    ["1"],
  );
});

test("a_viewer_that_came_before_the_court_sees_the_match_that_comes", async (t) => {
  const host = await Host.start(t);
  const viewer = await Socket.open(host.ws("/courts/7/feed"));
  const empty = await viewer.receive("the empty court");
  assert.deepEqual([empty.message.type, empty.message.match], ["snapshot", null]);
  viewer.send({ type: "beat" });
  assert.equal((await viewer.receive("a beat")).message.type, "beat");
  const charter = await Charter.welcomed(host, { court: "7", chart: headerFor("m7") });
  const begun = await viewer.receive("the match");
  assert.deepEqual([begun.message.type, begun.message.match.id], ["snapshot", "m7"]);
  await charter.chart([POINT]);
  const update = await viewer.receive("the first point", ({ type }) => type === "update");
  assert.equal(update.message.seq, 1);
});

test("desk_chart_and_booth_are_not_shown_inside_pages_of_other_sites", async (t) => {
  const host = await Host.start(t);
  for (const path of ["/desk", "/courts/1/chart", "/courts/1/booth"]) {
    const { headers } = await host.get(path);
    assert.equal(headers.get("content-security-policy"), "frame-ancestors 'none'", path);
    assert.equal(headers.get("x-frame-options"), "DENY", path);
  }
  assert.equal((await host.get("/courts/1/graphic")).headers.get("x-frame-options"), null);
});

/** A frame of a client (RFC 6455, section 5.2), masked with zeros. */
function frame(opcode, payload, { announced = payload.length } = {}) {
  const head =
    announced < 126
      ? Buffer.from([0x80 | opcode, 0x80 | announced])
      : Buffer.from([0x80 | opcode, 0x80 | 127, 0, 0, 0, 0, ...uint32(announced)]);
  return Buffer.concat([head, Buffer.alloc(4), payload]);
}

function uint32(number) {
  const bytes = Buffer.alloc(4);
  bytes.writeUInt32BE(number);
  return bytes;
}

/** A WebSocket opened by hand; the key is the one of RFC 6455, section 1.3. */
async function rawWebSocket(host, path, options) {
  const raw = await RawSocket.open(host, options);
  raw.send(
    `GET ${path} HTTP/1.1\r\nHost: ${host.address}\r\nConnection: Upgrade\r\nUpgrade: websocket\r\n` +
      "Sec-WebSocket-Version: 13\r\nSec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n\r\n",
  );
  return raw;
}

test("a_viewer_that_pings_without_reading_is_closed", async (t) => {
  const host = await Host.start(t);
  await Charter.welcomed(host, { chart: headerFor("m1") });
  const raw = await rawWebSocket(host, "/courts/1/feed");
  await until("the connection to be a WebSocket", () => raw.text.includes(" 101 "));
  const pings = Buffer.concat(Array.from({ length: 5_000 }, () => frame(9, Buffer.alloc(125))));
  raw.send(pings);
  await raw.whenClosed();
});

test("a_viewer_cannot_announce_a_long_message", async (t) => {
  const host = await Host.start(t);
  await Charter.welcomed(host, { chart: headerFor("m1") });
  const raw = await rawWebSocket(host, "/courts/1/feed");
  await until("the connection to be a WebSocket", () => raw.text.includes(" 101 "));
  raw.send(frame(1, Buffer.from("{"), { announced: 1_000_000 }));
  await raw.whenClosed();
});

test("a_close_is_answered_and_a_control_frame_that_is_too_long_breaks_the_protocol", async (t) => {
  const host = await Host.start(t);
  for (const path of ["/courts/1/feed", "/courts/1/intake"]) {
    const polite = await Socket.open(host.ws(path));
    await polite.close();
    assert.equal(polite.closed.code, 1005, "a close without a code is answered with one (RFC 6455, section 5.5.1)");
    const raw = await rawWebSocket(host, path);
    await until("the connection to be a WebSocket", () => raw.text.includes(" 101 "));
    // RFC 6455, sections 5.5 and 7.4.1: at most 125 bytes; 1002 is a protocol error.
    raw.send(Buffer.concat([Buffer.from([0x89, 0xfe, 0, 126]), Buffer.alloc(4 + 126)]));
    await raw.whenClosed();
    const code = raw.text.indexOf("\x88");
    assert.ok(code > 0, "a close frame came");
    assert.ok(raw.text.includes("\x03\xea"), `1002, not ${JSON.stringify(raw.text.slice(code, code + 12))}`);
  }
});

test("a_request_with_two_hosts_or_from_a_proxy_without_a_key_is_not_this_machine", async (t) => {
  const host = await Host.start(t);
  const two = await RawSocket.open(host);
  two.send("GET /courts HTTP/1.1\r\nHost: 127.0.0.1\r\nHost: localhost\r\nConnection: close\r\n\r\n");
  await two.whenClosed();
  assert.match(two.text, /^HTTP\/1\.1 400 /);
  for (const header of ["forwarded", "x-forwarded-for", "x-real-ip", "via"]) {
    assert.equal((await host.get("/desk/state", { [header]: "192.0.2.9" })).status, 403, header);
  }
});

test("a_key_that_is_empty_or_short_opens_nothing_and_is_named_at_the_start", async (t) => {
  for (const desk of ["", "short"]) {
    const data = await freshFolder(t);
    const long = (letter) => letter.repeat(43);
    const keys = { desk, charter: long("b"), booth: long("c"), viewer: long("d") };
    await writeFile(join(data, "_keys.json"), JSON.stringify(keys));
    const { status, stderr } = await rallytide(serving(data));
    assert.equal(status, 3, stderr);
    assert.match(stderr, /_keys\.json/);
  }
});
