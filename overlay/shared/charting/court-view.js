// What is under a charter's eyes and hands, on the charting and the practice page: score,
// last shot, whose ball is next, where the teams stand, last entries, keys. Drawn from one
// state; knows no line to the host.

/**
 * @import { MatchHeader, Team } from "../../types/messages.js"
 * @import { Answer } from "./local-chart.js"
 * @import { Keys } from "./keys.js"
 * @import { Line } from "./lines.js"
 * @import { Hand } from "./presets.js"
 * @import { State } from "./recorder.js"
 */
import { html, nothing, repeat } from "../html.js";
import { standing } from "./depths.js";
import { REACH, lineOf } from "./editing.js";
import { keySign } from "./layouts.js";
import { linesOf } from "./lines.js";
import { schemeOf } from "./presets.js";
import { nextStroke, nextTeam } from "./recorder.js";
import { armedWords, entryWords, latestWord, modeWord, said, scoreWords, teamName } from "./words.js";

/** @typedef {{ header: MatchHeader | null, answer: Answer | null, state: State, message: string, ends?: () => Answer["recent"] }} CourtState */
/** @typedef {CourtState & { header: MatchHeader, answer: Answer }} OnCourt with a match */
/**
 * @typedef {object} Hands how the page is worked
 * @property {Keys} keys as they are now
 * @property {ReadonlyMap<string, string> | null} layout
 * @property {Team} left the team of the arrow to the left
 * @property {boolean} keysShown whether every key has its button
 */

/** The groups of keys, as the hands lie. @type {Readonly<Record<Hand, readonly string[]>>} */
const GROUPS = {
  right: ["cues", "shots", "ends", "fixing"],
  left: ["shots", "cues", "ends", "fixing"],
  pad: ["cues", "shots", "ends", "fixing"],
};
/** @type {Readonly<Record<Hand, Readonly<Record<string, string>>>>} */
const HEADINGS = {
  right: { cues: "Cues and contact: left hand", shots: "Shots: right hand and thumb" },
  left: { cues: "Cues and contact: right hand", shots: "Shots: left hand and thumb" },
  pad: { cues: "Cues and contact: left hand", shots: "Shots: right hand on the number pad" },
};
const OTHER_HEADINGS = /** @type {Record<string, string>} */ ({
  ends: "Ends: first how, then who",
  fixing: "Fixing mistakes",
});
/** Keys of a row of the shots. */
const ROW = 4;
const DETAILS = { shots: "Every shot", ends: "Rally results and cues", score: "Score only" };

/** @param {string} selector @returns {HTMLElement} */
export function part(selector) {
  const node = document.querySelector(selector);
  if (!(node instanceof HTMLElement)) throw new Error(`the page has no \`${selector}\``);
  return node;
}

/** @param {Pick<Hands, "keys" | "layout">} hands @returns {(action: string) => string} the key of an action; nothing where they are switched off */
export const signs =
  ({ keys, layout }) =>
  (action) =>
    keys.on ? keySign(keys.codes[action] ?? "", layout) : "";

/** @param {CourtState} view @returns {view is OnCourt} */
export const isOnCourt = (view) => view.header !== null && view.answer !== null;

/** What is said of the match. @param {OnCourt} view @param {Hands} hands @param {string} [armed] instead of what waits for a key */
export function told(view, hands, armed) {
  const { answer, state, message } = view;
  return html`
    <div class="told">
      ${eyes(view, hands)}
      <div class="words">
        <p class="what" role="status">${message === "" ? latestWhat(answer.recent) : message}</p>
        <p class="mode" aria-hidden="true">${modeWord(state)}</p>
        <p class="armed" role="status">${armed ?? armedWords({ ...view, left: hands.left }, signs(hands))}</p>
      </div>
      ${hands.keysShown ? recent(view) : handy(view, hands)}
    </div>`;
}

/** What one reads at a glance, from as far as a laptop stands. @param {OnCourt} view @param {Hands} hands */
function eyes({ header, answer, state }, { left, keysShown }) {
  const { score, rally, over } = answer;
  const next = nextTeam(state, { answer });
  const last = latestWord(answer.recent);
  return html`
    <section class="eyes" aria-label="Now" data-next=${over ? nothing : next} data-side=${next === left ? "left" : "right"}>
      <div class="score" aria-label="Score">
        <p class="call">${score.call ?? "Final"}</p>
        <p class="serving">${scoreWords(header, score)}</p>
      </div>
      <p class="last-shot" style="--letters: ${Math.max(4, last.length)}">${last}</p>
      ${keysShown ? nothing : html`<p class="shots-before">${shotsBefore(answer)}</p>`}
      <p class="next-ball">${over ? nothing : `${rally.length === 0 ? "Serve" : "Next"}: ${teamName(header, next)}`}</p>
      <p class="stands">${stands(header, answer, left)}</p>
    </section>`;
}

/** @param {Answer} answer @returns {string} the three shots before the last one */
const shotsBefore = ({ recent }) =>
  recent
    .filter(({ entry }) => entry.kind === "shot")
    .slice(-4, -1)
    .map(({ entry }) => said(entry["stroke"]))
    .join(" · ");

/** @param {MatchHeader} header @param {Answer} answer @param {Team} left */
function stands(header, answer, left) {
  const at = standing(answer);
  return (left === "a" ? /** @type {const} */ (["a", "b"]) : /** @type {const} */ (["b", "a"])).map(
    (team) =>
      html`<span class="stand" data-team=${team} data-depth=${at[team].depth} data-seen=${String(at[team].seen)}
        ><i></i><i></i><i></i> ${header.teams[team].name} ${said(at[team].depth)}</span
      >`,
  );
}

/** @param {OnCourt} view */
function recent(view) {
  const { header, answer, state } = view;
  const latest = linesOf(answer.recent).slice(-REACH);
  const far = latest.some(({ seen }) => seen.entry.id === state.selected)
    ? undefined
    : lineOf(state.selected ?? undefined, { answer, ...(view.ends === undefined ? {} : { ends: view.ends }) });
  return html`
    <ol class="recent" aria-label="The last entries">
      ${repeat(
        far === undefined ? latest : [far, ...latest],
        ({ seen }) => seen.entry.id,
        (line) =>
          html`<li aria-current=${state.selected === line.seen.entry.id ? "true" : nothing}>${lineWords(header, line, state)}</li>`,
      )}
    </ol>`;
}

/** @param {MatchHeader} header @param {Line} line @param {State} state */
const lineWords = (header, { seen, marks }, state) =>
  `${entryWords(header, shownSeen(seen, state), marks)}${state.assumed.includes(seen.entry.id) ? " · assumed" : ""}`;

/** The six keys that matter now, where the others are hidden. @param {OnCourt} view @param {Hands} hands */
function handy({ header, answer, state }, hands) {
  const now =
    state.armed !== null
      ? ["confirm", "team:a", "team:b", "undo", "cancel", "help"]
      : answer.rally.length === 0
        ? ["next", "team:a", "team:b", "time_out", "undo", "help"]
        : ["next", "stroke:dink", "end:winner", "end:out", "undo", "help"];
  const follows = state.detail === "shots" && !state.away ? nextStroke({ answer }) : "volley";
  return html`<div class="handy">
    ${now.map((action) => keyButton(action, header, state, hands, action === "next" ? follows : undefined))}
  </div>`;
}

/** Every key as a button. @param {OnCourt} view @param {Hands} hands @param {ReadonlySet<string>} [without] actions that mean nothing here */
export const pad = ({ header, state }, hands, without = new Set()) => html`
  <div class="pad" data-hand=${hands.keys.hand}>
    ${GROUPS[hands.keys.hand].map(
      (group) => html`
        <section class="group" data-group=${group}>
          <h2>${HEADINGS[hands.keys.hand][group] ?? OTHER_HEADINGS[group]}</h2>
          ${inOrder(group, hands)
            .filter((action) => !without.has(action))
            .map((action) => keyButton(action, header, state, hands))}
        </section>`,
    )}
  </div>`;

/** As the keys lie: the arrow to the left stands left, the shots of a left hand the other way round. @param {string} group @param {Hands} hands */
function inOrder(group, { keys, left }) {
  const actions = schemeOf(keys)
    .filter((key) => key.group === group)
    .map(({ action }) => action);
  if (group === "shots" && keys.hand === "left") {
    const [next = "", ...strokes] = actions;
    const rows = Array.from({ length: Math.ceil(strokes.length / ROW) }, (_, row) =>
      strokes.slice(row * ROW, (row + 1) * ROW).reverse(),
    );
    return [next, ...rows.flat()];
  }
  if (left === "a") return actions;
  const changed = /** @type {Record<string, string>} */ ({ "team:a": "team:b", "team:b": "team:a" });
  return actions.map((action) => changed[action] ?? action);
}

/** @param {string} action @param {MatchHeader} header @param {State} state @param {Hands} hands @param {string} [says] in place of its usual words */
function keyButton(action, header, state, hands, says) {
  const words = says ?? schemeOf(hands.keys).find((key) => key.action === action)?.words ?? action;
  return html`<button type="button" data-action=${action} aria-pressed=${isArmed(action, state) ? "true" : nothing}
    ><kbd>${signs(hands)(action)}</kbd
    ><span>${words.replace("{a}", header.teams.a.name).replace("{b}", header.teams.b.name)}</span></button
  >`;
}

/** Whether a key waits for the next one. @param {string} action @param {State} state */
function isArmed(action, { armed, before, sameSide, away, inserting }) {
  const on = /** @type {Record<string, boolean>} */ ({ before, missed: sameSide, gap: away, insert: inserting });
  if (action === "replay") return armed === "replay" || armed?.startsWith("annul:") === true;
  return on[action] === true || action === armed || action === `end:${armed?.split(":")[0]}`;
}

/** @param {State} state @param {Keys} keys */
export const detailWords = ({ detail }, { on }) =>
  `Charting: ${DETAILS[detail]}${on ? "" : " · keyboard shortcuts off"}`;

/** What the last rally or pause came to, until the next serve. @param {Answer["recent"]} recent */
function latestWhat(recent) {
  const last = recent.filter(({ entry, what }) => what !== undefined || entry.kind === "shot").at(-1);
  return last?.what ?? "";
}

/** Nobody charts the serve with rally results and cues alone: that there is none says nothing. @param {Answer["recent"][number]} seen @param {State} state */
const shownSeen = (seen, { detail }) =>
  detail === "ends" ? { ...seen, flags: seen.flags.filter((flag) => flag !== "no_serve") } : seen;
