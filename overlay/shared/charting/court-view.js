// What is under the charter's hands, on the charting and the practice page: score, last
// entries, keys. Knows no line to the host.

/**
 * @import { MatchHeader } from "../../types/messages.js"
 * @import { Answer } from "./local-chart.js"
 * @import { Keys } from "./keys.js"
 * @import { State } from "./recorder.js"
 */
import { keyedChildren, make, setAttribute, setText } from "../dom.js";
import { REACH } from "./editing.js";
import { keySign, SCHEME } from "./keys.js";
import { linesOf } from "./lines.js";
import { armedWords, entryWords, modeWord, scoreWords } from "./words.js";

/** @typedef {{ header: MatchHeader | null, answer: Answer | null, state: State, message: string }} CourtState */

/** @param {string} selector @returns {HTMLElement} */
export function part(selector) {
  const node = document.querySelector(selector);
  if (!(node instanceof HTMLElement)) throw new Error(`the page has no \`${selector}\``);
  return node;
}

const GROUPS = {
  cues: "Cues and contact: left hand",
  shots: "Shots: right hand and thumb",
  ends: "Ends: first how, then who",
  fixing: "Fixing",
};
const DETAILS = { shots: "Every shot", ends: "Ends and cues", score: "Score only" };

/** @param {HTMLElement} pad */
export function buildPad(pad) {
  for (const [group, words] of Object.entries(GROUPS)) {
    const keys = SCHEME.filter((key) => key.group === group).map(({ action }) =>
      make("button", { type: "button", "data-action": action }, make("kbd"), make("span")),
    );
    pad.append(make("section", { class: "group", "data-group": group }, make("h2", {}, words), ...keys));
  }
}

/** @param {CourtState} state @param {Keys} keys @param {ReadonlyMap<string, string> | null} layout */
export function renderCourt({ header, answer, state, message }, keys, layout) {
  if (header === null || answer === null) return;
  setText(part(".call"), answer.score.call ?? "Final");
  setText(part(".serving"), scoreWords(header, answer.score));
  const sign = (/** @type {string} */ action) => (keys.on ? keySign(keys.codes[action] ?? "", layout) : "");
  setText(part(".what"), message === "" ? latestWhat(answer.recent) : message);
  setText(part(".armed"), armedWords({ header, state, answer }, sign));
  const mode = modeWord(state);
  setText(part(".mode"), mode);
  setAttribute(part(".court"), "data-mode", mode === "" ? null : mode);
  setText(part(".detail"), `Charting: ${DETAILS[state.detail]}${keys.on ? "" : " · single keys are off"}`);
  const lines = new Map(
    linesOf(answer.recent)
      .slice(-REACH)
      .map((line) => [line.seen.entry.id, line]),
  );
  keyedChildren(
    part(".recent"),
    [...lines.keys()],
    () => make("li"),
    (node, id) => {
      const line = lines.get(id);
      if (line !== undefined)
        setText(
          node,
          `${entryWords(header, shownSeen(line.seen, state), line.marks)}${state.assumed.includes(id) ? " · assumed" : ""}`,
        );
      setAttribute(node, "aria-current", state.selected === id ? "true" : null);
    },
  );
  const on = {
    before: state.before,
    missed: state.sameSide,
    [`end:${state.armed}`]: true,
    [String(state.armed)]: state.armed !== null,
    insert: state.inserting,
  };
  for (const { action, group, words } of SCHEME) {
    if (group === "film") continue;
    const button = part(`[data-action="${action}"]`);
    setText(/** @type {Element} */ (button.firstElementChild), sign(action));
    setText(
      /** @type {Element} */ (button.lastElementChild),
      words.replace("{a}", header.teams.a.name).replace("{b}", header.teams.b.name),
    );
    setAttribute(button, "aria-pressed", /** @type {Record<string, boolean>} */ (on)[action] === true ? "true" : null);
  }
}

/** What the last rally or pause came to, until the next serve. @param {Answer["recent"]} recent */
function latestWhat(recent) {
  const last = recent.filter(({ entry, what }) => what !== undefined || entry.kind === "shot").at(-1);
  return last?.what ?? "";
}

/** Nobody charts the serve with ends and cues alone: that there is none says nothing. @param {Answer["recent"][number]} seen @param {State} state */
const shownSeen = (seen, { detail }) =>
  detail === "ends" ? { ...seen, flags: seen.flags.filter((flag) => flag !== "no_serve") } : seen;
