// The second seat's keys: everything has one, none means two things, a choice that survives.
import assert from "node:assert/strict";
import test from "node:test";
import { HANDS, MEANINGS, codeOf, keysFrom, meaningOf, usualKeys } from "../../cues/keys.js";
import { remap } from "../../shared/charting/keys.js";

for (const hands of Object.keys(HANDS)) {
  test(`${hands}: four cues and the depth of either half and undo have a key each, none has two`, () => {
    const keys = usualKeys(hands);
    assert.equal(MEANINGS.length, 11);
    assert.deepEqual(Object.keys(keys.codes).sort(), MEANINGS.map(({ action }) => action).sort());
    assert.equal(new Set(Object.values(keys.codes)).size, MEANINGS.length);
    for (const { half, what, action } of MEANINGS)
      assert.equal(meaningOf(keys, codeOf(keys, half, what))?.action, action);
    assert.deepEqual(keysFrom(JSON.parse(JSON.stringify(keys))), keys);
  });
}

/** The halves of the keyboard under either hand (common practice of touch typing). */
const LEFT = /^Key[QWERTASDFGZXCVB]$/;

test("a hand alone reaches all of its keys", () => {
  const reached = (hands) => Object.values(usualKeys(hands).codes).filter((code) => code !== "Space");
  assert.ok(reached("left").every((code) => LEFT.test(code)));
  assert.ok(reached("right").every((code) => !LEFT.test(code)));
});

test("a key that was taken is exchanged, and kept", () => {
  const keys = remap(usualKeys(), "left:awkward", "KeyF");
  assert.deepEqual([keys.codes["left:awkward"], keys.codes["left:attackable"]], ["KeyF", "KeyS"]);
  assert.deepEqual(keysFrom(JSON.parse(JSON.stringify({ ...keys, on: false }))), { ...keys, on: false });
});

test("kept keys of another form are refused in words", () => {
  assert.throws(() => keysFrom({ hands: "three" }), /`hands` is one of both, left, right/);
  assert.throws(() => keysFrom({ hands: "left", codes: {} }), /needs a key/);
  const twice = { ...usualKeys(), codes: { ...usualKeys().codes, undo: "KeyF" } };
  assert.throws(() => keysFrom(twice), /share a key/);
});
