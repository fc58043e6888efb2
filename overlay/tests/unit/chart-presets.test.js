// Whole arrangements of the keys: each says everything, nothing twice, where the hands are.
import assert from "node:assert/strict";
import test from "node:test";
import { board } from "../../shared/charting/board.js";
import { actionFor, defaultKeys, isChanged, keysText, parseKeys, remap } from "../../shared/charting/keys.js";
import { boardOf, keySign, layoutOf, signsOn } from "../../shared/charting/layouts.js";
import { guessed } from "../../shared/charting/letters.js";
import { FEW, HANDS, STROKES, codesOf, schemeOf, strokeIn } from "../../shared/charting/presets.js";
import { freshState, press } from "../../shared/charting/recorder.js";
import { SCHEME } from "../../shared/charting/scheme.js";
import { HEADER, shot, soFar } from "../support/rally-so-far.js";

const ARRANGEMENTS = Object.keys(HANDS).flatMap((hand) =>
  Object.keys(STROKES).map((strokes) => ({ hand, strokes, name: `${hand}, ${strokes}` })),
);
const ALL = SCHEME.map(({ action }) => action);

for (const { name, ...arrangement } of ARRANGEMENTS) {
  test(`${name}: no key means two things, and each lies on the keyboard`, () => {
    const keys = defaultKeys(arrangement);
    const codes = Object.values(keys.codes);
    assert.equal(new Set(codes).size, codes.length);
    const drawn = new Set(board("ansi", arrangement.hand === "pad").places.map(({ code }) => code));
    const beside = codes.filter((code) => !drawn.has(code));
    for (const code of beside) assert.match(code, /^(Arrow(Left|Right|Up|Down)|Page(Up|Down)|Delete|Escape|F1)$/);
    for (const [action, code] of Object.entries(keys.codes)) assert.equal(actionFor(keys, code), action);
  });

  test(`${name}: everything that can be said has a key, strokes as many as are told apart`, () => {
    const actions = schemeOf(arrangement).map(({ action }) => action);
    assert.deepEqual(new Set(actions), new Set(Object.keys(codesOf(arrangement))));
    const strokes = ["stroke:dink", "stroke:drop", "stroke:reset", "stroke:volley", "stroke:other"];
    const expected =
      arrangement.strokes === "all" ? ALL : [...ALL.filter((action) => !action.startsWith("stroke:")), ...strokes];
    assert.deepEqual(new Set(actions), new Set(expected));
    for (const { words } of schemeOf(arrangement)) assert.notEqual(words, "");
  });

  test(`${name}: single keys are changed on top, kept, and put back`, () => {
    const keys = remap(defaultKeys(arrangement), "stroke:dink", "F9");
    assert.equal(actionFor(keys, "F9"), "stroke:dink");
    assert.deepEqual([isChanged(defaultKeys(arrangement)), isChanged(keys)], [false, true]);
    assert.deepEqual(parseKeys(keysText(keys)), keys);
  });
}

test("few strokes are the four commonest after serve and return, which the order says; all else is other", () => {
  assert.deepEqual(FEW, ["dink", "volley", "drop", "reset"]);
  assert.deepEqual(
    ["serve", "return", "dink", "reset", "drive", "atp", "other"].map((stroke) => strokeIn(stroke, "few")),
    ["serve", "return", "dink", "reset", "other", "other", "other"],
  );
  assert.equal(strokeIn("drive", "all"), "drive");
});

test("a reset of no said contact is recorded as one", () => {
  const rally = soFar("a", shot("s1", 1, "a", "serve"), shot("s2", 2, "b", "return"));
  const { entries } = press(freshState(), "stroke:reset", { answer: rally, header: HEADER, nextId: () => "n1" });
  assert.deepEqual(entries, [{ id: "n1", kind: "shot", team: "a", stroke: "reset" }]);
});

/** Which hand rests where, by the rows of a US keyboard (common practice of touch typing). */
const RIGHT_HALF = new Set([
  "KeyY",
  "KeyU",
  "KeyI",
  "KeyO",
  "KeyP",
  "KeyH",
  "KeyJ",
  "KeyK",
  "KeyL",
  "Semicolon",
  "Quote",
  "KeyN",
  "KeyM",
  "Comma",
  "Period",
  "Slash",
]);

test("mirrored, every stroke lies under the left hand and every cue and contact under the right one", () => {
  const { codes } = defaultKeys({ hand: "left", strokes: "all" });
  for (const [action, code] of Object.entries(codes)) {
    if (action.startsWith("stroke:")) assert.ok(!RIGHT_HALF.has(code), `${action} ${code}`);
    if (/^(cue|contact|depth):/.test(action)) assert.ok(RIGHT_HALF.has(code), `${action} ${code}`);
  }
  assert.deepEqual([codes["stroke:dink"], codes["cue:attackable"]], ["KeyF", "KeyJ"], "index fingers");
});

for (const { name, ...arrangement } of ARRANGEMENTS) {
  test(`${name}: how a rally ended and who hit last are never one hand's two keys`, () => {
    const { codes } = defaultKeys(arrangement);
    for (const how of ["winner", "out", "net", "fault"]) assert.match(codes[`end:${how}`], /^Digit[1-4]$/);
    for (const who of ["confirm", "team:a", "team:b"]) assert.match(codes[who], /Enter$|^Arrow/);
  });
}

test("a key file of an unknown arrangement, or with a key that it does not have, is refused in words", () => {
  assert.throws(() => parseKeys('{"hand":"third","codes":{}}'), /`hand` is one of right, left, pad/);
  assert.throws(() => parseKeys('{"strokes":"none","codes":{}}'), /`strokes` is one of all, few/);
  assert.throws(() => parseKeys('{"strokes":"few","codes":{"stroke:drive":"KeyB"}}'), /no action `stroke:drive`/);
});

/**
 * Places of keys with their sign, from xkeyboard-config 2.35.1: symbols/fr and symbols/de, variant
 * `basic`, first level (AD01 is KeyQ, AD06 KeyY, AC10 Semicolon, BKSL Backslash, TLDE Backquote …).
 */
const PRINTED = {
  azerty: {
    KeyQ: "A",
    KeyW: "Z",
    KeyA: "Q",
    KeyZ: "W",
    Semicolon: "M",
    KeyM: ",",
    Comma: ";",
    Period: ":",
    Slash: "!",
    Quote: "Ù",
    Backslash: "*",
    Minus: ")",
    Equal: "=",
    BracketLeft: "^",
    BracketRight: "$",
    Backquote: "²",
    KeyJ: "J",
  },
  qwertz: {
    KeyY: "Z",
    KeyZ: "Y",
    Semicolon: "Ö",
    Quote: "Ä",
    BracketLeft: "Ü",
    BracketRight: "+",
    Minus: "ß",
    Equal: "´",
    Backslash: "#",
    Slash: "-",
    Backquote: "^",
    Comma: ",",
    KeyJ: "J",
  },
  qwerty: { KeyQ: "Q", KeyY: "Y", Semicolon: ";", Quote: "'", Slash: "/", Backslash: "\\", Backquote: "`" },
};

for (const [layout, printed] of Object.entries(PRINTED)) {
  test(`on ${layout} keys are called what is printed on them, and no two the same`, () => {
    const signs = signsOn(layout);
    for (const [code, sign] of Object.entries(printed)) assert.equal(keySign(code, signs), sign, code);
    for (const arrangement of ARRANGEMENTS) {
      const all = Object.values(codesOf(arrangement)).map((code) => keySign(code, signs));
      assert.equal(new Set(all).size, all.length, arrangement.name);
      assert.ok(all.every((sign) => sign !== "" && !/^(Key|Digit|Numpad)/.test(sign)));
    }
    assert.equal(keySign("Digit2", signs), "2");
    assert.equal(boardOf(signs), layout === "qwerty" ? "ansi" : "iso");
  });
}

test("one letter that is typed tells a whole layout, where it contradicts what was thought", () => {
  assert.equal(layoutOf(new Map([["KeyQ", "a"]]), "qwerty"), "azerty");
  assert.equal(layoutOf(new Map([["KeyY", "z"]]), "qwerty"), "qwertz");
  assert.equal(layoutOf(new Map([["KeyQ", "q"]]), "azerty"), "qwerty");
  assert.equal(layoutOf(new Map([["KeyQ", "я"]]), "qwerty"), "qwerty", "another keyboard: its keys tell one by one");
});

test("where nobody has said, the language is a guess", () => {
  assert.deepEqual([["fr-FR"], ["fr-CA"], ["de-AT"], ["en-US"], []].map(guessed), [
    "azerty",
    "qwerty",
    "qwertz",
    "qwerty",
    "qwerty",
  ]);
});

test("a board is as wide in every row, with and without the number pad", () => {
  for (const [kind, withPad] of [
    ["ansi", false],
    ["iso", false],
    ["ansi", true],
    ["iso", true],
  ]) {
    const { places, width } = board(kind, withPad);
    const area = places.reduce((sum, place) => sum + place.width * (place.tall ? 2 : 1), 0);
    assert.equal(area, width * 5, `${kind} ${withPad}`);
    assert.equal(width, withPad ? 78 : 60);
  }
});
