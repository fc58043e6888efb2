// The card a volunteer has beside the laptop: the keyboard with what each key does in
// the keys now in use, the order of a rally, its ends. Seen only when printed, on one
// page, A4 or Letter, upright or across. Black on white; groups differ by their rim.

/** @import { Keys } from "./keys.js" */
import { make } from "../dom.js";
import { SCHEME, keySign } from "./keys.js";

/** Where keys lie: [code, width], widths in quarters of a key. A row is 60 wide. @type {readonly (readonly [string, number])[][]} */
const ROWS = [
  [["Backquote", 4], ...codes("Digit", "1234567890"), ["Minus", 4], ["Equal", 4], ["Backspace", 8]],
  [["", 6], ...codes("Key", "QWERTYUIOP"), ["BracketLeft", 4], ["BracketRight", 4], ["Backslash", 6]],
  [["", 7], ...codes("Key", "ASDFGHJKL"), ["Semicolon", 4], ["Quote", 4], ["Enter", 9]],
  [["", 9], ...codes("Key", "ZXCVBNM"), ["Comma", 4], ["Period", 4], ["Slash", 4], ["", 11]],
  [
    ["", 15],
    ["Space", 26],
    ["", 19],
  ],
];
const ON_THE_ROWS = new Set(ROWS.flat().map(([code]) => code));
/** The keys with a bump under the index fingers. */
const BUMPS = new Set(["KeyF", "KeyJ"]);
const GROUPS = {
  shots: "shots",
  cues: "cues, contact, sides",
  ends: "ends",
  fixing: "fixing",
  film: "video and practice",
};

const EXAMPLE = [
  "next",
  "stroke:drop",
  "stroke:dink",
  "stroke:dink",
  "cue:attackable",
  "stroke:speedup:bounce",
  "end:out",
  "confirm",
];

/** @param {string} kind @param {string} letters @returns {[string, number][]} */
function codes(kind, letters) {
  return Array.from(letters, (letter) => [`${kind}${letter}`, 4]);
}

export class KeyCard {
  #card = make("section", { class: "key-card", "aria-label": "Key card" });

  /** @param {HTMLElement} parent */
  constructor(parent) {
    parent.append(this.#card);
  }

  /** @param {Keys} keys @param {ReadonlyMap<string, string> | null} layout */
  show({ codes }, layout) {
    const sign = (/** @type {string} */ action) => keySign(codes[action] ?? "", layout);
    const keyOf = new Map(SCHEME.map((key) => [codes[key.action] ?? "", key]));
    const cap = (/** @type {string} */ code, /** @type {number} */ width) => {
      const key = keyOf.get(code);
      const does = key === undefined ? "" : plain(key.words);
      const what = {
        class: "cap",
        style: `grid-column: span ${width}`,
        "data-group": code === "" ? "none" : (key?.group ?? "free"),
        ...(BUMPS.has(code) ? { "data-bump": "" } : {}),
      };
      return code === ""
        ? make("span", what)
        : make("span", what, make("b", {}, keySign(code, layout)), make("i", {}, does));
    };
    const others = SCHEME.filter(({ action }) => !ON_THE_ROWS.has(codes[action] ?? ""));
    this.#card.replaceChildren(
      make("h2", {}, "Rallytide: the keys for charting"),
      make("div", { class: "board" }, ...ROWS.flat().map(([code, width]) => cap(code, width))),
      make(
        "p",
        { class: "others" },
        ...others.map(({ action, group, words }) =>
          make("span", { class: "cap", "data-group": group }, make("b", {}, sign(action)), make("i", {}, plain(words))),
        ),
      ),
      make(
        "p",
        { class: "legend" },
        ...Object.entries(GROUPS).map(([group, words]) =>
          make("span", { class: "cap", "data-group": group }, make("i", {}, words)),
        ),
      ),
      make("div", { class: "lessons" }, ...lessons(sign)),
      make(
        "p",
        { class: "example" },
        make("b", {}, "A whole rally, as an example: "),
        "serve, return, drop, dink, a dink that sits up, a speedup that goes out: ",
        ...EXAMPLE.flatMap((action) => [make("kbd", {}, sign(action)), " "]),
      ),
    );
  }
}

/** @param {string} words */
const plain = (words) => words.replace("{a}", "first team").replace("{b}", "second team");

/** @param {(action: string) => string} sign @returns {HTMLElement[]} */
function lessons(sign) {
  /** Words with the keys in them: `{end:out}` stands for that action's key. @param {string} text */
  const line = (text) =>
    make(
      "li",
      {},
      ...text.split(/\{([^}]+)\}/).map((part, place) => (place % 2 === 0 ? part : make("kbd", {}, sign(part)))),
    );
  const lesson = (/** @type {string} */ title, /** @type {string[]} */ ...lines) =>
    make("div", {}, make("h3", {}, title), make("ol", {}, ...lines.map(line)));
  return [
    lesson(
      "The order of a rally",
      "Serve: {next}",
      "Return: nothing, it comes with the third shot. {next} only if there is something to say about it",
      "Third shot: its stroke, {stroke:drop} drop, {stroke:drive} drive …",
      "Then a key a stroke; {next} is a volley. The side changes by itself",
      "A shot was missed? {missed}, then the next stroke",
    ),
    lesson(
      "After a shot, with the left hand",
      "What was seen: {cue:attackable} attackable, {cue:off_balance} off balance, {cue:awkward} awkward, {cue:net_cord} net cord",
      "About the ball before: {before} first",
      "Met another way than the key says: {contact:bounce} bounce, {contact:air} air, {contact:half_volley} half volley",
      "Only if you like: {player} one partner struck it, again the other, again nobody named",
    ),
    lesson(
      "The end: two keys",
      "How: {end:winner} winner, {end:out} out, {end:net} net, {end:fault} fault",
      "Who: {confirm} who hit last, {team:a} first team, {team:b} second team",
      "{team:a} or {team:b} alone: who won the rally, not how",
      "{replay} {confirm} replay; {time_out} and a team: time-out",
    ),
    lesson(
      "Putting it right",
      "{undo} undo, {redo} redo",
      "{older} step back, then the right key; {cancel} leaves",
      "There: {remove} removes, {insert} and a stroke inserts after it",
    ),
  ];
}
