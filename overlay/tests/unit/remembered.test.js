// What a booth keeps, and that it works where nothing can be kept.

import assert from "node:assert/strict";
import { test } from "node:test";
import { Memory } from "../../shared/memory.js";
import { Remembered } from "../../shared/remembered.js";

function store(kept = {}) {
  const entries = new Map(Object.entries(kept));
  return {
    getItem: (/** @type {string} */ key) => entries.get(key) ?? null,
    setItem: (/** @type {string} */ key, /** @type {string} */ text) => void entries.set(key, text),
    removeItem: (/** @type {string} */ key) => void entries.delete(key),
  };
}

test("words_are_kept_by_place_and_name", () => {
  const storage = store();
  new Remembered("pinned", storage, "/courts/1/booth").add("p1");
  assert.deepEqual(new Remembered("pinned", storage, "/courts/1/booth").words, ["p1"]);
  assert.deepEqual(new Remembered("pinned", storage, "/courts/2/booth").words, []);
  assert.deepEqual(new Remembered("waved", storage, "/courts/1/booth").words, []);
});

test("a_word_is_kept_once_and_can_go", () => {
  const kept = new Remembered("x", store(), "/");
  for (const word of ["one", "two", "one"]) kept.add(word);
  assert.deepEqual(kept.words, ["two", "one"]);
  kept.remove("two");
  assert.equal(kept.has("two"), false);
});

test("the_oldest_words_go_first", () => {
  const kept = new Remembered("x", store(), "/");
  for (let at = 0; at < 250; at += 1) kept.add(String(at));
  assert.equal(kept.words.length, 200);
  assert.equal(kept.words[0], "50");
});

for (const [what, storage] of /** @type {[string, ConstructorParameters<typeof Remembered>[1]][]} */ ([
  ["holds_nonsense", store({ "rallytide / x": "{" })],
  ["holds_something_else", store({ "rallytide / x": "7" })],
  [
    "refuses",
    new Memory(() => {
      throw new Error("denied");
    }),
  ],
])) {
  test(`a_store_that_${what}_is_told_and_forgotten`, (context) => {
    const warned = context.mock.method(console, "warn", () => {});
    const kept = new Remembered("x", storage, "/");
    kept.add("one");
    assert.deepEqual(kept.words, ["one"]);
    assert.ok(warned.mock.callCount() >= 1);
  });
}
