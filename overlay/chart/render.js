// Draws the charters' page: everything shown follows from one `View` and the keys.

/**
 * @import { View } from "./desk.js"
 * @import { Answer } from "./local-chart.js"
 * @import { Keys } from "./keys.js"
 */
import { keyedChildren, make, setAttribute, setText } from "../shared/dom.js";
import { REACH } from "./editing.js";
import { SCHEME, keySign } from "./keys.js";
import { linesOf } from "./lines.js";
import { armedWords, entryWords, gateWords, lineWords, scoreWords } from "./words.js";

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

/** @param {View} view @param {Keys} keys @param {ReadonlyMap<string, string> | null} layout */
export function render(view, keys, layout) {
  const { header, line } = view;
  setText(part(".line"), lineWords(view));
  setAttribute(part(".line"), "data-line", view.kept ? line : "not_kept");
  const stopped = line === "elsewhere" || line === "taken_over" || line === "other_match";
  part(".gate").hidden = !stopped;
  if (stopped) {
    const words = gateWords(line, view.message, view.waiting);
    keyedChildren(
      part(".gate-words"),
      words.map((_, at) => String(at)),
      (at) => make(at === "0" ? "h2" : "p"),
      (node, at) => setText(node, words[Number(at)] ?? ""),
    );
    part("[data-do='take-over']").hidden = line === "other_match";
    part("[data-do='start-anew']").hidden = line !== "other_match";
    part("[data-do='save-here']").hidden = view.waiting === 0;
  }
  part(".setup").hidden = stopped || header !== null || !(view.welcomed || line === "lost" || line === "link_replaced");
  part(".court").hidden = header === null || stopped;
  renderCourt(view, keys, layout);
  if (header === null) return;
  const untouched = view.answer?.recent.length === 0 && view.state.armed === null && view.state.detail === "shots";
  part(".courtside").hidden = view.answer?.recent.length !== 0;
  if (untouched && keys.on) setText(part(".armed"), `${keySign(keys.codes["next"] ?? "", layout)} records the serve`);
  setText(part(".title"), header.title ?? "Chart");
  for (const [selector, team] of /** @type {const} */ ([
    [".of-a span", "a"],
    [".of-b span", "b"],
  ])) {
    setText(part(selector), `Points of ${header.teams[team].name}`);
  }
}

/**
 * What is under the charter's hands: score, last entries, keys. Knows no line to the host.
 * @param {Pick<View, "header" | "answer" | "state" | "message">} view @param {Keys} keys @param {ReadonlyMap<string, string> | null} layout
 */
export function renderCourt({ header, answer, state, message }, keys, layout) {
  if (header === null || answer === null) return;
  setText(part(".call"), answer.score.call ?? "Final");
  setText(part(".serving"), scoreWords(header, answer.score));
  const sign = (/** @type {string} */ action) => (keys.on ? keySign(keys.codes[action] ?? "", layout) : "");
  setText(part(".what"), message === "" ? latestWhat(answer.recent) : message);
  setText(part(".armed"), armedWords(header, state, answer.rally.at(-1)?.team ?? null, sign));
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
        setText(node, `${entryWords(header, line.seen, line.marks)}${state.assumed.includes(id) ? " · assumed" : ""}`);
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
