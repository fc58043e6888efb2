// Draws the charters' page: everything shown follows from one `View` and the keys.

/**
 * @import { View } from "./session.js"
 * @import { Keys } from "../shared/charting/keys.js"
 */
import { part, renderCourt } from "../shared/charting/court-view.js";
import { keySign } from "../shared/charting/keys.js";
import { keyedChildren, make, setAttribute, setText } from "../shared/dom.js";
import { withKey } from "../shared/key.js";
import { versus } from "../shared/charting/words.js";
import { deskWords, gateWords, lineWords, movedTo, nextMatch } from "./line/line-words.js";

/** Goes on with the next match, while the page is stopped and no other key means anything. */
export const GO_ON = "KeyN";

/** @param {View} view @param {Keys} keys @param {ReadonlyMap<string, string> | null} layout */
export function render(view, keys, layout) {
  const { header, line } = view;
  setText(part(".line"), lineWords(view));
  setAttribute(part(".line"), "data-line", view.kept ? line : "not_kept");
  const stopped = line === "elsewhere" || line === "taken_over" || line === "other_match";
  part(".gate").hidden = !stopped;
  setText(part(".desk-says"), stopped ? "" : deskWords(view));
  if (stopped) {
    const words = gateWords(view);
    keyedChildren(
      part(".gate-words"),
      words.map((_, at) => String(at)),
      (at) => make(at === "0" ? "h2" : "p"),
      (node, at) => setText(node, words[Number(at)] ?? ""),
    );
    part("[data-do='take-over']").hidden = line === "other_match";
    renderGoingOn(view, keys, layout);
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

/** @param {View} view @param {Keys} keys @param {ReadonlyMap<string, string> | null} layout */
function renderGoingOn({ line, court }, keys, layout) {
  const next = nextMatch(court);
  const moved = movedTo(court);
  const goOn = part("[data-do='start-anew']");
  goOn.hidden = line !== "other_match";
  const sign = keys.on && next !== null ? keySign(GO_ON, layout) : "";
  setText(/** @type {Element} */ (goOn.firstElementChild), sign);
  const words = next === null ? "Leave this match, wait for the next one" : `Chart the next match: ${versus(next)}`;
  setText(/** @type {Element} */ (goOn.lastElementChild), words);
  const follow = part(".follow");
  follow.hidden = line !== "other_match" || moved === null;
  if (moved === null) return;
  setText(follow, `Chart it on court ${moved}`);
  setAttribute(follow, "href", withKey(`/courts/${moved}/chart`, location.href).href);
}
