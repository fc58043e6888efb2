// The card a volunteer has beside the laptop: the keyboard with what each key does in
// the keys now in use, the order of a rally, its ends. Seen only when printed, on one
// page, A4 or Letter, upright or across. Black on white; groups differ by their rim. The
// same lessons stand on the page behind the key for help.

/** @import { Keys } from "./keys.js" */
import { html } from "../html.js";
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
  ends: "rally ends",
  fixing: "fixing mistakes",
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

/** @param {Keys} keys @param {ReadonlyMap<string, string> | null} layout */
export function keyCard({ codes }, layout) {
  const sign = (/** @type {string} */ action) => keySign(codes[action] ?? "", layout);
  const others = SCHEME.filter(({ action }) => !ON_THE_ROWS.has(codes[action] ?? ""));
  return html`
    <section class="key-card" aria-label="Key card">
      <h2>Rallytide: the keys for charting</h2>
      <div class="board">${caps(codes, layout)}</div>
      <p class="others">
        ${others.map(
          ({ action, group, words }) =>
            html`<span class="cap" data-group=${group}><b>${sign(action)}</b><i>${plain(words)}</i></span>`,
        )}
      </p>
      <p class="legend">
        ${Object.entries(GROUPS).map(([group, words]) => html`<span class="cap" data-group=${group}><i>${words}</i></span>`)}
      </p>
      <div class="lessons">${lessons(sign)}</div>
      <p class="example">
        <b>A whole rally, as an example: </b>serve, return, drop, dink, a dink that is a high ball, a speedup that goes
        out: ${EXAMPLE.map((action) => html`<kbd>${sign(action)}</kbd> `)}
      </p>
    </section>`;
}

/** The keyboard, key by key. @param {Record<string, string>} codes @param {ReadonlyMap<string, string> | null} layout */
function caps(codes, layout) {
  const keyOf = new Map(SCHEME.map((key) => [codes[key.action] ?? "", key]));
  return ROWS.flat().map(([code, width]) => {
    const key = keyOf.get(code);
    const group = code === "" ? "none" : (key?.group ?? "free");
    const does = key === undefined ? "" : plain(key.words);
    return html`<span class="cap" style="grid-column: span ${width}" data-group=${group} ?data-bump=${BUMPS.has(code)}
      >${code === "" ? "" : html`<b>${keySign(code, layout)}</b><i>${does}</i>`}</span
    >`;
  });
}

/** @param {string} words */
const plain = (words) => words.replace("{a}", "first team").replace("{b}", "second team");

/** @type {readonly [string, readonly string[]][]} `{end:out}` stands for that action's key */
const LESSONS = [
  [
    "The order of a rally",
    [
      "Serve: {next}",
      "Return: nothing, it comes with the third shot. {next} only if there is something to say about it",
      "Third shot: its stroke, {stroke:drop} drop, {stroke:drive} drive …",
      "Then a key a stroke; {next} is a volley. The side changes by itself",
      "A shot was missed? {missed}, then the next stroke. Looked away? {gap}",
    ],
  ],
  [
    "After a shot, with the left hand",
    [
      "What was seen: {cue:attackable} high ball, {cue:off_balance} off balance, {cue:awkward} awkward, {cue:net_cord} net cord",
      "About the ball before: {before} first",
      "Met another way than the key says: {contact:bounce} bounce, {contact:air} air, {contact:half_volley} half volley",
      "Only if you like: {player} one partner struck it, again the other, again nobody named",
      "Where a team stands: {depth:a} first team, {depth:b} second team",
    ],
  ],
  [
    "The end: two keys",
    [
      "How: {end:winner} winner, {end:out} out, {end:net} net, {end:fault} fault, {end:ace} ace",
      "Who: {confirm} whoever hit last, {team:a} first team, {team:b} second team",
      "{team:a} or {team:b} alone: who won the rally, not how",
      "{replay} {confirm} replay, also right after a rally; {time_out} and a team: time-out",
    ],
  ],
  [
    "Fixing mistakes",
    [
      "{undo} undo, {redo} redo",
      "{older} previous entry, then the right key: one change, and you chart on; {cancel} cancels",
      "There: {remove} removes, {insert} and a stroke inserts after it",
      "{score} sets the score; {help} shows what the keys mean",
    ],
  ],
];

/** @param {(action: string) => string} sign of a key */
export const lessons = (sign) =>
  LESSONS.map(
    ([title, lines]) => html`
      <div>
        <h3>${title}</h3>
        <ol>
          ${lines.map(
            (text) =>
              html`<li>${text.split(/\{([^}]+)\}/).map((part, place) => (place % 2 === 0 ? part : html`<kbd>${sign(part)}</kbd>`))}</li>`,
          )}
        </ol>
      </div>`,
  );
