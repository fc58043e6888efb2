// Reasons in words, each with the shot it was seen on. Shared by the evidence of
// the current state and by the prompts; draws into a list it is given.

/**
 * @import { View } from "../types/view.js"
 * @import { Reason } from "../types/messages.js"
 */
import { make } from "../shared/dom.js";
import { shotBehind } from "../shared/evidence.js";
import { reasonWords, shotWords, teamName } from "../shared/words.js";

/**
 * @param {View} view
 * @param {Reason} reason
 * @returns {{ what: string, where: string }}
 */
export function reasonLine(view, reason) {
  const whose = reason.team === null ? "" : `${teamName(view.match, reason.team)}: `;
  const what = whose + reasonWords(reason);
  const found = shotBehind(view, reason);
  if (found === null) return { what, where: "" };
  const { rally, shot } = found;
  const inRally = rally.number === view.rally?.number ? "" : `rally ${rally.number}, `;
  return { what, where: `${inRally}shot ${shot.n}, ${teamName(view.match, shot.team)}: ${shotWords(shot)}` };
}

/**
 * @param {HTMLElement} list
 * @param {View} view
 * @param {readonly Reason[]} reasons
 */
export function drawReasons(list, view, reasons) {
  const lines = reasons.map((reason) => reasonLine(view, reason));
  const text = JSON.stringify(lines);
  if (list.dataset["lines"] === text) return;
  list.dataset["lines"] = text;
  list.replaceChildren(
    ...lines.map(({ what, where }) =>
      make("li", {}, make("span", { class: "rt-what" }, what), make("span", { class: "rt-where" }, where)),
    ),
  );
}
