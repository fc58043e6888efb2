// What is practiced can reach no court: nothing the page is made of could bring it there.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import test from "node:test";
import { KeptMatches } from "../../practice/kept-matches.js";
import { RallyClock } from "../../practice/clock.js";

/** @param {URL} url @param {Map<string, string>} [found] */
function modulesOf(url, found = new Map()) {
  if (found.has(url.href)) return found;
  const text = readFileSync(url, "utf8");
  found.set(url.href, text);
  for (const [, path] of text.matchAll(/^import .*from "([^"]+)";/gm)) modulesOf(new URL(path, url), found);
  return found;
}

test("no module of the practice page knows a socket, an outbox or the shelf of a match", () => {
  const modules = modulesOf(new URL("../../practice/main.js", import.meta.url));
  assert.ok(modules.size > 10, `only ${modules.size} modules were followed`);
  for (const [name, text] of modules) {
    const code = text.replaceAll(/^\s*(\/\/|\*|\/\*\*).*$/gm, "");
    assert.doesNotMatch(code, /new WebSocket|indexedDB|sendBeacon|outbox\.js|shelf\.js|\/desk\.js"/, name);
  }
});

/** Storage as a browser has it, in memory. */
function storage() {
  const kept = new Map();
  return {
    getItem: (/** @type {string} */ name) => kept.get(name) ?? null,
    setItem: (/** @type {string} */ name, /** @type {string} */ text) => void kept.set(name, text),
  };
}

test("made-up matches wait here, and one is played again only where there is no other", async () => {
  let seed = 0;
  let there = true;
  const ask = (/** @type {number} */ wanted) =>
    there ? Promise.resolve(`match ${wanted}\n`) : Promise.reject(new Error("away"));
  const matches = new KeptMatches(storage(), ask, () => (seed += 1));
  await matches.fill();
  assert.deepEqual(
    matches.all.map((kept) => kept.seed),
    [1, 2, 3],
  );
  there = false;
  assert.deepEqual(
    [await matches.take(), await matches.take(), await matches.take()],
    ["match 1\n", "match 2\n", "match 3\n"],
  );
  assert.equal(await matches.take(), "match 1\n");
  assert.equal(await matches.take(2), "match 2\n");
  await assert.rejects(
    new KeptMatches(storage(), ask, () => 9).take(),
    /No made-up match is kept in this browser yet, and the host .*away/,
  );
});

test("a clock at a slower tempo is late by real seconds, and stands still while it is paused", () => {
  const clock = new RallyClock();
  clock.tempo = 0.5;
  clock.begin(-1000, 0);
  clock.tick(3000);
  // 3 s at half tempo are 1.5 s of the rally: 0.5 s after the serve, which took place after 2 s.
  assert.equal(clock.head, 500);
  assert.equal(clock.activeAt(0), 2);
  clock.run(false, 3500);
  clock.tick(60_000);
  assert.deepEqual([clock.head, clock.active], [750, 3.5]);
  clock.run(true, 60_000);
  clock.tick(60_500);
  assert.deepEqual([clock.head, clock.active], [1000, 4]);
});
