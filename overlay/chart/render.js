// Draws the charters' page: everything shown follows from one `View` and the keys.

/**
 * @import { View } from "./session.js"
 * @import { Keys } from "../shared/charting/keys.js"
 */
import { part, renderCourt } from "../shared/charting/court-view.js";
import { keySign } from "../shared/charting/keys.js";
import { keyedChildren, make, setAttribute, setText } from "../shared/dom.js";
import { gateWords, lineWords } from "./line/line-words.js";

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
