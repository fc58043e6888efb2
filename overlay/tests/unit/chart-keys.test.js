// The charters' keys: nothing without a key, no key twice, a choice that survives.
import assert from "node:assert/strict";
import test from "node:test";
import { actionFor, defaultKeys, keysText, parseKeys, remap } from "../../shared/charting/keys.js";
import { SCHEME } from "../../shared/charting/scheme.js";

test("no key means two things", () => {
  assert.equal(new Set(SCHEME.map(({ code }) => code)).size, SCHEME.length);
});

test("a key that was taken is exchanged, so that no action is without one", () => {
  const keys = remap(defaultKeys(), "stroke:drop", "KeyJ");
  assert.equal(actionFor(keys, "KeyJ"), "stroke:drop");
  assert.equal(actionFor(keys, "KeyK"), "stroke:dink");
});

test("keys written to a file are read again as they were", () => {
  const keys = { ...remap(defaultKeys(), "undo", "F9"), on: false };
  assert.deepEqual(parseKeys(keysText(keys)), keys);
});

test("a key file from before the video keys is still understood", () => {
  const own = remap(remap(defaultKeys(), "undo", "KeyB"), "stroke:dink", "F9");
  const film = Object.keys(own.codes).filter((action) => action.startsWith("film:"));
  const old = {
    on: true,
    codes: Object.fromEntries(Object.entries(own.codes).filter(([action]) => !film.includes(action))),
  };
  const keys = parseKeys(JSON.stringify(old));
  assert.equal(actionFor(keys, "KeyB"), "undo");
  assert.equal(actionFor(keys, "Backspace"), "film:play");
  assert.equal(actionFor(keys, "F9"), "stroke:dink");
});

test("a key file with an unknown action or one key twice is refused in words", () => {
  assert.throws(() => parseKeys('{"codes":{"stroke:nothing":"KeyA"}}'), /no action/);
  assert.throws(() => parseKeys('{"codes":{"undo":"KeyA"}}'), /share a key/);
});
