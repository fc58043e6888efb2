// What happened beside the rallies: time-outs, notes, the referee's ruling. It stands
// with the rally before it, shown or hidden with it, and leads to its moment.

/**
 * @import { ReviewAside } from "../types/messages.js"
 */
import { html, nothing } from "../shared/html.js";
import { shapeOf } from "./shape.js";

/** @param {ReviewAside} aside */
export function asideWords({ text, what, rally }) {
  const said = text === null ? what.charAt(0).toUpperCase() + what.slice(1) : `Note: ${text}`;
  return rally === null ? said : `${said} (during the rally)`;
}

/**
 * @param {readonly ReviewAside[]} asides @param {(at: number) => void} asked for the moment in the video
 * @returns the list; nothing where nothing happened
 */
export function besideList(asides, asked) {
  if (asides.length === 0) return nothing;
  return html`<ul class="beside">
    ${asides.map(
      (aside) =>
        html`<li>
          <button type="button" data-kind=${aside.kind} @click=${() => asked(aside.at)}>
            ${aside.team === null ? nothing : shapeOf(aside.team)}${asideWords(aside)}
          </button>
        </li>`,
    )}
  </ul>`;
}
