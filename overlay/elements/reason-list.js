// Reasons in words, each with the figure it came from and the shot it was seen
// on. Shared by the evidence of the current state and by the prompts; draws into
// a list it is given.

/**
 * @import { View } from "../types/view.js"
 * @import { Reason } from "../types/messages.js"
 */
import { make } from "../shared/dom.js";
import { sampleAround } from "./element.js";
import { shotBehind } from "../shared/evidence.js";
import { namedIndicator } from "../shared/indicators.js";
import { readingOf } from "../shared/state.js";
import { callWords, figureWords, reasonWords, shotWords, strikerName, teamName } from "../shared/words.js";

/**
 * @param {View} view
 * @param {Reason} reason
 * @param {number} sample cases from which on a share is a percentage
 * @returns {{ what: string, where: string }}
 */
export function reasonLine(view, reason, sample) {
  const figure = figureBehind(view, reason, sample);
  const words = [reasonWords(reason), figure].filter((part) => part !== "").join(", ");
  const { team, code } = reason;
  const what = team === null || code === "point" ? capital(words) : `${teamName(view.match, team)}: ${small(words)}`;
  const found = shotBehind(view, reason);
  if (found === null) return { what, where: "" };
  const { rally, shot } = found;
  const inRally = rally.number === view.rally?.number ? "" : `rally ${rally.number}, `;
  return { what, where: `${inRally}shot ${shot.n}, ${strikerName(view.match, shot)}: ${shotWords(shot)}` };
}

/** @param {string} words */
function capital(words) {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** @param {string} words */
function small(words) {
  return words.charAt(0).toLowerCase() + words.slice(1);
}

/**
 * The figure that a reason names, as it stands; a line to say is taken back when
 * one of its figures changes, so it is the one that was meant.
 * @param {View} view
 * @param {Reason} reason
 * @param {number} sample
 */
function figureBehind(view, reason, sample) {
  if (reason.code === "point") return view.score === null ? "" : callWords(view.score);
  if (!reason.code.includes(".")) return "";
  const { indicator, slot } = namedIndicator(reason.code);
  const reading = readingOf(view, indicator, reason.team, slot);
  return reading === null ? "" : figureWords(reading.value, view.match, sample);
}

/**
 * @param {HTMLElement} list
 * @param {View} view
 * @param {readonly Reason[]} reasons
 */
export function drawReasons(list, view, reasons) {
  const lines = reasons.map((reason) => reasonLine(view, reason, sampleAround(list)));
  const text = JSON.stringify(lines);
  if (list.dataset["lines"] === text) return;
  list.dataset["lines"] = text;
  list.replaceChildren(
    ...lines.map(({ what, where }) =>
      make("li", {}, make("span", { class: "rt-what" }, what), make("span", { class: "rt-where" }, where)),
    ),
  );
}
