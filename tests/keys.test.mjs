/**
 * Other machines and their keys: what each role's key opens and what it does not, over this
 * machine's own address in the network, which is to the host what another machine's would be.
 */
import assert from "node:assert/strict";
import { stat, writeFile } from "node:fs/promises";
import { request } from "node:http";
import { networkInterfaces } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import { openBrowser, openPage } from "./support/browser.mjs";
import { allSaved, begin, effectiveOf, openChart, press, textOf } from "./support/chart-page.mjs";
import { Charter } from "./support/charter.mjs";
import { headerFor } from "./support/charts.mjs";
import { Desk } from "./support/desk.mjs";
import { freshFolder } from "./support/folders.mjs";
import { Host } from "./support/host.mjs";
import { rallytide } from "./support/program.mjs";
import { Socket } from "./support/socket.mjs";
import { until } from "./support/wait.mjs";

const AT = "2026-05-03T10:00:00.000Z";
const POINT = { id: "e1", at: AT, kind: "rally_end", won_by: "a" };
const ROLES = ["desk", "charter", "booth", "viewer"];

/** What can be asked for, and the roles that may. A socket that opens answers 101. */
const ASKED = [
  ["GET", "/event", ROLES],
  ["GET", "/event.json", ROLES],
  ["GET", "/courts", ROLES],
  ["GET", "/courts/1/now", ROLES],
  ["GET", "/courts/1/now/score.txt", ROLES],
  ["GET", "/courts/1/graphic", ROLES],
  ["SOCKET", "/courts/1/feed?role=viewer", ROLES],
  ["SOCKET", "/courts/1/feed?role=booth", ["desk", "booth"]],
  ["GET", "/courts/1/booth", ["desk", "booth"]],
  ["GET", "/matches.json", ["desk", "booth"]],
  ["GET", "/matches/m1/review.json", ["desk", "booth"]],
  ["GET", "/review/m1", ["desk", "booth"]],
  ["GET", "/courts/1/chart", ["desk", "charter"]],
  ["GET", "/courts/1/chart.jsonl", ["desk", "charter"]],
  ["GET", "/practice", ["desk", "charter"]],
  ["GET", "/practice/matches/3", ["desk", "charter"]],
  ["SOCKET", "/courts/1/intake", ["desk", "charter"]],
  ["GET", "/desk", ["desk"]],
  ["GET", "/desk/state", ["desk"]],
  ["GET", "/desk/links", ["desk"]],
  ["GET", "/plugins", ["desk"]],
  ["GET", "/matches/m1/chart.jsonl", ["desk"]],
  ["GET", "/matches/m1/export/shots.csv", ["desk"]],
  ["GET", "/matches/m1/export/match.html", ["desk"]],
  ["GET", "/courts/1/entries", ["desk"]],
];

/** This machine's address in its network. */
function ownAddress() {
  const addresses = Object.values(networkInterfaces()).flat();
  const one = addresses.find(({ internal, family }) => !internal && family === "IPv4");
  assert.ok(one, "this test needs an IPv4 address besides the loopback one, as every machine in a network has");
  return one.address;
}

/** A host as another machine sees it. */
function fromAfar(host) {
  const far = new Host();
  far.address = `${ownAddress()}:${host.port}`;
  return far;
}

/** A host that was started for other machines. */
async function reachable(t, { charted = true } = {}) {
  const data = await freshFolder(t);
  const host = await Host.start(t, { data, command: ["serve", "--listen", "0.0.0.0:0", "--data", data] });
  const far = fromAfar(host);
  if (charted) {
    const charter = await Charter.welcomed(host, { chart: headerFor("m1") });
    await charter.bring([POINT]);
  }
  const { addresses: said, reachable: others, keys } = JSON.parse(await new Desk(host).text("/desk/links"));
  assert.ok(others && said.includes(`http://${far.address}`), `${said} holds ${far.address}`);
  return { host, far, keys, data };
}

const withKey = (path, key) => (key === undefined ? path : `${path}${path.includes("?") ? "&" : "?"}key=${key}`);

/** @returns {Promise<number>} the status */
async function statusOf(host, method, path, key) {
  if (method !== "SOCKET") return (await host.get(withKey(path, key))).status;
  try {
    await Socket.open(host.ws(withKey(path, key)));
    return 101;
  } catch (error) {
    assert.ok(error.status, String(error));
    return error.status;
  }
}

test("each_key_opens_what_its_role_is_for_and_nothing_else", async (t) => {
  const { far, keys } = await reachable(t);
  for (const [method, path, roles] of ASKED) {
    const good = method === "SOCKET" ? 101 : 200;
    for (const role of ROLES) {
      const expected = roles.includes(role) ? good : 403;
      assert.equal(await statusOf(far, method, path, keys[role]), expected, `${role}: ${method} ${path}`);
    }
    assert.equal(await statusOf(far, method, path), 403, `no key: ${method} ${path}`);
    assert.equal(await statusOf(far, method, path, "A".repeat(43)), 403, `a wrong key: ${method} ${path}`);
  }
});

test("this_machine_needs_no_key_and_what_tells_nothing_needs_none_anywhere", async (t) => {
  const { host, far } = await reachable(t);
  for (const [method, path] of ASKED) {
    assert.equal(await statusOf(host, method, path), method === "SOCKET" ? 101 : 200, `${method} ${path}`);
  }
  for (const path of ["/", "/openapi.json", "/asyncapi.json", "/shared/theme.css", "/favicon.ico"]) {
    assert.equal((await far.get(path)).status, 200, path);
  }
});

test("a_write_without_the_desks_key_is_refused_in_a_sentence_and_changes_nothing", async (t) => {
  const { host, far, keys } = await reachable(t);
  const desk = new Desk(far);
  for (const path of ["/matches", withKey("/matches", keys.charter)]) {
    assert.match(await desk.refused("POST", path, {}, 403), /from the desk page/);
  }
  assert.match(await desk.refused("PUT", "/courts/1/pause", { paused: true }, 403), /has no key/);
  const bearer = { authorization: `Bearer ${keys.desk}` };
  const strange = { ...bearer, origin: "https://elsewhere.example" };
  assert.match(await desk.refused("PUT", "/courts/1/pause", { paused: true }, 403, strange), /other sites/);
  assert.equal((await new Desk(host).court()).state, "playing");
  await desk.done("PUT", "/courts/1/pause", { paused: true }, 204, bearer);
  assert.equal((await new Desk(host).court()).state, "paused");
});

test("a_new_key_ends_the_old_links_of_its_role_alone_and_lasts", async (t) => {
  const { host, far, keys, data } = await reachable(t);
  const desk = new Desk(host);
  const { keys: fresh } = await desk.done("POST", "/desk/keys", { role: "charter" }, 200);
  assert.notEqual(fresh.charter, keys.charter);
  assert.deepEqual({ ...fresh, charter: "" }, { ...keys, charter: "" });
  assert.equal(await statusOf(far, "SOCKET", "/courts/1/intake", keys.charter), 403);
  assert.equal(await statusOf(far, "SOCKET", "/courts/1/intake", fresh.charter), 101);
  assert.match(await desk.refused("POST", "/desk/keys", { role: "umpire" }, 422), /umpire/);
  const file = await stat(join(data, "_keys.json"));
  assert.equal(file.mode & 0o777, 0o600, "only its owner reads the keys");
  await host.kill();
  const again = await Host.start(t, { data });
  const links = JSON.parse(await new Desk(again).text("/desk/links"));
  assert.deepEqual(links.keys, fresh);
  assert.deepEqual([links.addresses, links.reachable], [[], false]);
  assert.match(links.hint, /Let other machines in/);
});

test("a_new_key_cuts_what_is_open_with_the_old_one_and_nothing_else", async (t) => {
  const { host, far, keys } = await reachable(t);
  const open = (path, role) => Socket.open(far.ws(withKey(path, keys[role])));
  const intake = await open("/courts/1/intake", "charter");
  const feed = await open("/courts/1/feed", "charter");
  const others = [
    await open("/courts/1/feed?role=booth", "booth"),
    await open("/courts/1/feed", "viewer"),
    await Socket.open(host.ws("/courts/1/intake")),
  ];
  const { ended } = await new Desk(host).done("POST", "/desk/keys", { role: "charter" }, 200);
  assert.equal(ended, 2);
  for (const socket of [intake, feed]) {
    const { code, reason } = await socket.whenClosed();
    assert.equal(code, 1008);
    assert.match(reason, /ask for it at the desk/);
  }
  for (const socket of others) {
    socket.send({ type: "beat" });
    await socket.receive("an answer to a beat", ({ type }) => type === "beat");
  }
});

test("a_host_for_this_machine_alone_lets_others_in_once_the_desk_says_so_also_after_a_restart", async (t) => {
  const data = await freshFolder(t);
  const host = await Host.start(t, { data });
  const [desk, far] = [new Desk(host), fromAfar(host)];
  await assert.rejects(far.get("/"), "nobody is in before");
  const { keys, let_in: before } = JSON.parse(await desk.text("/desk/links"));
  assert.equal(before, false);
  const links = await desk.done("PUT", "/desk/others", { let_in: true }, 200);
  assert.ok(
    links.let_in && links.reachable && links.addresses.includes(`http://${far.address}`),
    JSON.stringify(links),
  );
  assert.equal(await statusOf(far, "GET", "/courts/1/graphic", keys.viewer), 200);
  assert.equal(await statusOf(far, "GET", "/courts/1/graphic"), 403, "without a key");
  assert.equal(await statusOf(far, "GET", "/desk/state", keys.charter), 403, "with the wrong one");

  const open = await Socket.open(far.ws(withKey("/courts/1/feed", keys.viewer)));
  assert.equal((await desk.done("PUT", "/desk/others", { let_in: false }, 200)).reachable, false);
  await until("the door to be shut", () =>
    far.get("/").then(
      () => false,
      () => true,
    ),
  );
  open.send({ type: "beat" });
  await open.receive("an answer to a beat", ({ type }) => type === "beat");

  await desk.done("PUT", "/desk/others", { let_in: true }, 200);
  await host.kill();
  const again = await Host.start(t, { data });
  await until("the start to say so", () =>
    again
      .stdout()
      .includes(
        `other machines are let in, as the desk said\ndesk, from another machine  http://${fromAfar(again).address}/desk?key=`,
      ),
  );
  await until("others to be let in again", () =>
    statusOf(fromAfar(again), "GET", "/courts/1/graphic", keys.viewer).then(
      (status) => status === 200,
      () => false,
    ),
  );
});

test("where_others_come_in_anyway_there_is_nothing_to_switch", async (t) => {
  const { host } = await reachable(t, { charted: false });
  const desk = new Desk(host);
  assert.equal("let_in" in JSON.parse(await desk.text("/desk/links")), false);
  assert.match(await desk.refused("PUT", "/desk/others", { let_in: true }, 409), /started for other machines/);
});

test("a_charter_is_shown_with_where_it_comes_from_at_the_desk_alone", async (t) => {
  const { host, far, keys } = await reachable(t);
  const socket = await Socket.open(far.ws(withKey("/courts/1/intake", keys.charter)));
  socket.send({ type: "hello", client: "courtside" });
  const { text } = await socket.receive("the welcome", ({ type }) => type === "welcome");
  const { charters } = await new Desk(host).court();
  const [address] = far.address.split(":");
  assert.deepEqual(
    charters.map(({ client, address }) => [client, address]),
    [
      ["courtside", address],
      ["tablet", "127.0.0.1"],
    ],
  );
  for (const told of [text, await host.now()]) assert.ok(!told.includes(address));
});

test("each_address_for_others_is_told_with_its_network", async (t) => {
  const { host } = await reachable(t);
  const { addresses, networks } = JSON.parse(await new Desk(host).text("/desk/links"));
  const usable = Object.entries(networkInterfaces()).flatMap(([name, all]) =>
    all
      .filter(({ internal, family }) => !internal && family === "IPv4")
      .map(({ address }) => [`http://${address}:${host.port}`, name]),
  );
  assert.deepEqual(Object.entries(networks).sort(), usable.sort());
  assert.deepEqual([...addresses].sort(), usable.map(([url]) => url).sort());
});

test("a_name_that_was_made_to_lead_here_is_turned_away", async (t) => {
  const host = await Host.start(t);
  const ask = (name) =>
    new Promise((resolve, reject) => {
      const asked = request(
        { host: "127.0.0.1", port: host.port, path: "/desk/state", headers: { host: name } },
        (answer) => {
          answer.resume();
          resolve(answer.statusCode);
        },
      );
      asked.on("error", reject).end();
    });
  assert.equal(await ask(`elsewhere.example:${host.port}`), 403);
  assert.equal(await ask(`localhost:${host.port}`), 200);
  assert.equal(await ask(`127.0.0.1:${host.port}`), 200);
});

test("feed_charts_from_another_machine_with_the_charters_link_and_not_without", async (t) => {
  const { host, far, keys } = await reachable(t);
  const made = await rallytide(["simulate", "--seed", "5", "--games", "1"]);
  assert.equal(made.status, 0, made.stderr);
  const file = join(await freshFolder(t), "made-up.jsonl");
  await writeFile(file, made.stdout);
  const bring = (link) => rallytide(["feed", file, "--to", link, "--pace", "0"]);
  const without = await bring(far.http("/courts/7"));
  assert.notEqual(without.status, 0);
  const done = await bring(far.http(withKey("/courts/7/chart", keys.charter)));
  assert.equal(done.status, 0, done.stderr);
  assert.ok((await new Desk(host).court("7")).entries > 50);
});

test("pages_opened_from_another_machine_carry_their_key_on", async (t) => {
  const { host, far, keys } = await reachable(t);
  const browser = await openBrowser(t);
  const size = { width: 1366, height: 768 };
  const graphic = await openPage(browser, far.http(withKey("/courts/1/graphic", keys.viewer)), size);
  await graphic.page.waitForFunction(() => document.documentElement.dataset.connection === "live");
  const booth = await openPage(browser, far.http(withKey("/courts/1/booth", keys.booth)), size);
  await booth.page.getByText(headerFor("m1").title).first().waitFor();
  const chart = await openPage(browser, far.http(withKey("/courts/1/chart", keys.charter)), size);
  await until("the charting page to say hello", async () => (await new Desk(host).court()).charters.length > 0);
  const desk = await openPage(browser, far.http(withKey("/desk", keys.desk)), size);
  await desk.page.getByText(headerFor("m1").title).first().waitFor({ state: "attached" });
  for (const { errors } of [graphic, booth, chart, desk]) assert.deepEqual(errors, []);
});

test("a_charter_whose_link_is_replaced_is_told_so_and_goes_on_by_the_new_one_without_a_loss", async (t) => {
  const { host, far, keys } = await reachable(t, { charted: false });
  const { page } = await openChart(t, far, { address: far.http(withKey("/courts/1/chart", keys.charter)) });
  await begin(page, headerFor("m1"));
  await press(page, ["Space", "Space"]);
  await allSaved(page);
  const { keys: fresh } = await new Desk(host).done("POST", "/desk/keys", { role: "charter" }, 200);
  await until(
    "the page to say that its link was replaced",
    async () => (await textOf(page, ".line"))?.startsWith("This link was replaced"),
    { seen: () => textOf(page, ".line") },
  );
  await press(page, ["KeyJ", "KeyK"]);
  await until(
    "what was charted since to be kept",
    async () => (await textOf(page, ".line"))?.endsWith("2 entries are kept on this laptop"),
    { seen: () => textOf(page, ".line") },
  );
  await page.goto(far.http(withKey("/courts/1/chart", fresh.charter)));
  await allSaved(page);
  const strokes = (await effectiveOf(host, "m1")).map(({ stroke }) => stroke);
  assert.deepEqual(strokes, ["serve", "return", "dink", "drop"]);
});

test("a_booth_and_a_graphic_whose_links_are_replaced_say_so_where_no_viewer_reads_it", async (t) => {
  const { host, far, keys } = await reachable(t);
  const browser = await openBrowser(t);
  const size = { width: 1280, height: 800 };
  const booth = await openPage(browser, far.http(withKey("/courts/1/booth", keys.booth)), size);
  const graphic = await openPage(browser, far.http(withKey("/courts/1/graphic", keys.viewer)), size);
  for (const { page } of [booth, graphic]) await page.getByText("Alder / Ash").first().waitFor();
  const before = await graphic.page.locator(".stage").innerText();
  for (const role of ["booth", "viewer"]) await new Desk(host).done("POST", "/desk/keys", { role }, 200);
  await booth.page.getByText("This link was replaced").waitFor();
  await graphic.page.waitForFunction(() => document.title.startsWith("This link was replaced"));
  assert.equal(await graphic.page.locator(".stage").innerText(), before);
  for (const { errors } of [booth, graphic]) assert.deepEqual(errors, []);
  // A streaming program may load its page anew at any time.
  const answer = await graphic.page.reload();
  assert.equal(answer.status(), 403);
  assert.match(await graphic.page.title(), /^the key of this link does not fit here/);
  assert.equal(await graphic.page.locator("body").innerText(), "");
});
