// The card a volunteer has beside the laptop: the keyboard with what each key does in
// the keys now in use, the order of a rally, its ends. Seen only when printed, on one
// page, A4 or Letter, upright or across. Black on white; groups differ by their rim. The
// same lessons stand on the page behind the key for help.

/**
 * @import { Place } from "./board.js"
 * @import { Keys } from "./keys.js"
 * @import { Key } from "./scheme.js"
 */
import { html } from "../html.js";
import { board } from "./board.js";
import { plain } from "./key-form.js";
import { boardOf, keySign } from "./layouts.js";
import { schemeOf } from "./presets.js";

/** The keys with a bump under a finger that lies there. */
const BUMPS = new Set(["KeyF", "KeyJ", "Numpad5"]);
const GROUPS = {
  shots: "shots",
  cues: "cues, contact, sides",
  ends: "rally ends",
  fixing: "fixing mistakes",
  film: "video and practice",
};

/** A whole rally: what happens, and its keys. */
const EXAMPLE = {
  all: {
    words: "serve, return, drop, dink, a dink that is a high ball, a speedup that goes out",
    actions: ["next", "stroke:drop", "stroke:dink", "stroke:dink", "cue:attackable", "stroke:speedup:bounce"],
  },
  few: {
    words: "serve, return, drop, dink, a dink that is a high ball, a speedup (any other stroke) that goes out",
    actions: ["next", "stroke:drop", "stroke:dink", "stroke:dink", "cue:attackable", "stroke:other"],
  },
};

/** @param {Keys} keys @param {ReadonlyMap<string, string> | null} layout */
export function keyCard(keys, layout) {
  const { codes, hand, strokes } = keys;
  const sign = (/** @type {string} */ action) => keySign(codes[action] ?? "", layout);
  const { places, width } = board(boardOf(layout), hand === "pad");
  const drawn = new Set(places.map(({ code }) => code));
  const scheme = schemeOf(keys);
  const others = scheme.filter(({ action }) => !drawn.has(codes[action] ?? ""));
  const example = EXAMPLE[strokes];
  return html`
    <section class="key-card" aria-label="Key card" data-hand=${hand}>
      <h2>Rallytide: the keys for charting</h2>
      <div class="board" style="--columns: ${width}">${caps(places, new Map(scheme.map((key) => [codes[key.action] ?? "", key])), layout)}</div>
      <p class="others">
        ${others.map(
          ({ action, group, words }) =>
            html`<span class="cap" data-group=${group}><b>${sign(action)}</b><i>${plain(words)}</i></span>`,
        )}
      </p>
      <p class="legend">
        ${Object.entries(GROUPS).map(([group, words]) => html`<span class="cap" data-group=${group}><i>${words}</i></span>`)}
      </p>
      <div class="lessons">${lessons(keys, sign)}</div>
      <p class="example">
        <b>A whole rally, as an example: </b>${example.words}: ${[...example.actions, "end:out", "confirm"].map((action) => html`<kbd>${sign(action)}</kbd> `)}
      </p>
    </section>`;
}

/** The keyboard, key by key; on the number pad one sees that it is one. @param {readonly Place[]} places @param {ReadonlyMap<string, Key>} keyAt @param {ReadonlyMap<string, string> | null} layout */
const caps = (places, keyAt, layout) =>
  places.map(({ code, width, tall }) => {
    const key = keyAt.get(code);
    const group = code === "" ? "none" : (key?.group ?? "free");
    const does = key === undefined ? "" : plain(key.words);
    return html`<span class="cap" style="grid-column: span ${width}; grid-row: span ${tall ? 2 : 1}" data-group=${group} ?data-bump=${BUMPS.has(code)}
      >${code === "" ? "" : html`<b>${keySign(code, layout).replace(/^Num /, "")}</b><i>${does}</i>`}</span
    >`;
  });

/** @type {readonly [string, readonly string[]][]} `{end:out}` stands for that action's key, `{hand}` for the hand that has the cues. Some lines are for every stroke alone, some for few */
const LESSONS = [
  [
    "The order of a rally",
    [
      "Serve: {next}",
      "Return: nothing, it comes with the third shot. {next} only if there is something to say about it",
      "Third shot: its stroke, {stroke:drop} drop, {stroke:drive} drive …",
      "Third shot: its stroke, {stroke:drop} drop, {stroke:other} any other",
      "Then a key a stroke; {next} is a volley. The side changes by itself",
      "A shot was missed? {missed}, then the next stroke. Looked away? {gap}",
    ],
  ],
  [
    "After a shot, with the {hand} hand",
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

/** @param {Keys} keys @param {(action: string) => string} sign of a key */
export const lessons = (keys, sign) =>
  LESSONS.map(
    ([title, lines]) => html`
      <div>
        <h3>${title.replace("{hand}", keys.hand === "left" ? "right" : "left")}</h3>
        <ol>
          ${lines.filter((text) => isSaid(text, keys)).map((text) => html`<li>${withSigns(text, sign)}</li>`)}
        </ol>
      </div>`,
  );

/** With every stroke, "other" is not among the ones to begin with. @param {string} text @param {Keys} keys */
const isSaid = (text, { strokes }) =>
  strokes === "few" ? !text.includes("{stroke:drive}") : !text.includes("{stroke:other}");

/** @param {string} text @param {(action: string) => string} sign */
const withSigns = (text, sign) =>
  text.split(/\{([^}]+)\}/).map((part, place) => (place % 2 === 0 ? part : html`<kbd>${sign(part)}</kbd>`));
