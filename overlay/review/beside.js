// What happened beside the rallies: time-outs, notes, the referee's word. It stands
// with the rally before it, shown or hidden with it, and leads to its moment.

/**
 * @import { ReviewAside } from "../types/messages.js"
 */
import { shape } from "../elements/parts.js";
import { make } from "../shared/dom.js";

/** @param {ReviewAside} aside */
export function asideWords({ text, what, rally }) {
  const said = text === null ? what.charAt(0).toUpperCase() + what.slice(1) : `Note: ${text}`;
  return rally === null ? said : `${said} (during the rally)`;
}

/**
 * @param {readonly ReviewAside[]} asides @param {(at: number) => void} asked for the moment in the video
 * @returns {Node[]} the list, none where nothing happened
 */
export function besideList(asides, asked) {
  if (asides.length === 0) return [];
  return [
    make(
      "ul",
      { class: "beside" },
      ...asides.map((aside) => {
        const words = make(
          "button",
          { type: "button", "data-kind": aside.kind },
          ...(aside.team === null ? [] : [shape(aside.team)]),
          asideWords(aside),
        );
        words.addEventListener("click", () => asked(aside.at));
        return make("li", {}, words);
      }),
    ),
  ];
}
