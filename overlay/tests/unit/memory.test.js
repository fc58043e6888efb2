// The browser's memory: kept where it can be, and never in the way where it cannot.

import assert from "node:assert/strict";
import { test } from "node:test";
import { openDatabase } from "../../shared/database.js";
import { keptJson, Memory } from "../../shared/memory.js";

function storage() {
  const kept = new Map();
  return {
    kept,
    getItem: (/** @type {string} */ name) => kept.get(name) ?? null,
    setItem: (/** @type {string} */ name, /** @type {string} */ text) => void kept.set(name, text),
    removeItem: (/** @type {string} */ name) => void kept.delete(name),
  };
}

const blocked = () => {
  throw new DOMException("denied", "SecurityError");
};

test("what is kept is kept by the browser's own storage", () => {
  const own = storage();
  const memory = new Memory(() => own);
  memory.setItem("keys", "own");
  assert.equal(own.kept.get("keys"), "own");
  assert.equal(new Memory(() => own).getItem("keys"), "own");
  memory.removeItem("keys");
  assert.equal(own.kept.size, 0);
});

test("where the browser keeps nothing, words last as long as the page", () => {
  const memory = new Memory(blocked);
  assert.equal(memory.getItem("keys"), null);
  memory.setItem("keys", "own");
  assert.equal(memory.getItem("keys"), "own");
  memory.removeItem("keys");
  assert.equal(memory.getItem("keys"), null);
});

test("a full storage keeps the newest word in the page, not the old one it still holds", () => {
  const own = storage();
  const memory = new Memory(() => own);
  memory.setItem("keys", "old");
  own.setItem = blocked;
  memory.setItem("keys", "new");
  assert.equal(memory.getItem("keys"), "new");
});

test("what was kept in another form is left aside", () => {
  const memory = new Memory(storage);
  const own = storage();
  own.setItem("sets", "{");
  own.setItem("list", '{"not":"a list"}');
  assert.deepEqual(keptJson(own, "sets", Array.isArray, []), []);
  assert.deepEqual(keptJson(own, "list", Array.isArray, []), []);
  assert.deepEqual(keptJson(memory, "none", Array.isArray, [1]), [1]);
});

test("a browser without databases has none, and says nothing worse", async () => {
  assert.equal(await openDatabase("any", 1, () => {}), null);
});
