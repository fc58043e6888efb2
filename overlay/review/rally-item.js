// One rally of the list: a line that opens to its ribbon and to every shot, who
// held the initiative after it, and why.

/**
 * @import { MatchHeader, ReviewAside, ReviewRally, ReviewShot } from "../types/messages.js"
 */
import { SMALL_RIBBON, drawRibbon } from "../elements/ribbon-drawing.js";
import { draw } from "../shared/dom.js";
import { countWords } from "../shared/format.js";
import { html, live, nothing } from "../shared/html.js";
import { needStyles } from "../shared/styles.js";
import { FAULTS, wordFor } from "../shared/trade-words.js";
import {
  callWords,
  endWords,
  reasonWords,
  shotLeanWords,
  shotWords,
  strikerName,
  teamName,
  withStrokes,
} from "../shared/words.js";
import { besideList } from "./beside.js";
import { SIDES } from "./filters.js";
import { shapeOf } from "./shape.js";

needStyles("../elements/rally-ribbon.css", import.meta.url);

/**
 * @typedef {object} Asked what a line of the list can ask for
 * @property {(rally: number, open: boolean) => void} open
 * @property {(at: number) => void} moment in the video, ms since 1970
 */

/** Drawn once each; a node in a template stays where it is. @type {WeakMap<ReviewRally, SVGElement>} */
const ribbons = new WeakMap();

/**
 * @param {ReviewRally} rally
 * @param {{ match: MatchHeader, asides: readonly ReviewAside[], isShown: boolean, isOpen: boolean }} about
 * @param {Asked} asked
 */
export function rallyItem(rally, { match, asides, isShown, isOpen }, asked) {
  const { number } = rally;
  // The state decides what is open; a browser may open it by itself, to show what it found.
  const clicked = (/** @type {Event} */ event) => {
    event.preventDefault();
    asked.open(number, !isOpen);
  };
  const toggled = (/** @type {Event} */ event) => {
    const { open } = /** @type {HTMLDetailsElement} */ (event.currentTarget);
    if (open !== isOpen) asked.open(number, open);
  };
  return html`<li data-rally=${number} ?hidden=${!isShown}>
    <details .open=${live(isOpen)} @toggle=${toggled}>
      <summary @click=${clicked}>${line(rally, match)}</summary>
      <div class="told">${isOpen ? told(rally, match, asked) : nothing}</div>
    </details>
    ${besideList(asides, asked.moment)}
  </li>`;
}

/** @param {ReviewRally} rally @param {MatchHeader} match */
function line(rally, match) {
  const won = rally.end?.won_by ?? null;
  const end = rally.end === null ? "not ended" : endWords(rally.end, match);
  const fault = rally.fault === null ? "" : ` (${wordFor(FAULTS, rally.fault)})`;
  return html`<span class="number">${rally.number}</span>
    <span class="score">${`Game ${rally.before.game}, ${callWords(rally.before)}`}</span>
    <span class="end">${won === null ? nothing : shapeOf(won)}${end}${fault}</span>
    <span class="length">${rally.shots.length === 0 ? "no shots charted" : countWords(rally.shots.length, "shot")}</span>`;
}

/** @param {ReviewRally} rally @param {MatchHeader} match @param {Asked} asked */
function told(rally, match, asked) {
  const next =
    rally.after.winner === null
      ? `Next: game ${rally.after.game}, ${callWords(rally.after)}`
      : `${teamName(match, rally.after.winner)} won the match`;
  const ribbon = html`<div class="ribbon" tabindex="0" role="region" aria-label=${`Ribbon of rally ${rally.number}`}>
    ${ribbonOf(rally, match)}
  </div>`;
  return html`${rally.shots.length === 0 ? nothing : ribbon}
    <ol class="shots">
      ${rally.shots.map((shot) => shotLine(shot, rally, match, asked))}
    </ol>
    <p class="after">${rally.counted ? next : `It does not count. ${next}`}</p>`;
}

/** @param {ReviewRally} rally @param {MatchHeader} match */
function ribbonOf(rally, match) {
  const drawn = ribbons.get(rally);
  if (drawn !== undefined) return drawn;
  const ribbon = draw("svg", { class: "rt-drawing" });
  drawRibbon(ribbon, rally, match, SMALL_RIBBON);
  ribbons.set(rally, ribbon);
  return ribbon;
}

/** @param {ReviewShot} shot @param {ReviewRally} rally @param {MatchHeader} match @param {Asked} asked */
function shotLine(shot, rally, match, asked) {
  const { at } = shot;
  const what = html`${shapeOf(shot.team)}${`${shot.n} ${strikerName(match, shot)}: ${shotWords(shot)}`}`;
  return html`<li>
    ${
      at === null
        ? html`<span class="shot">${what}</span>`
        : html`<button type="button" class="shot" @click=${() => asked.moment(at)}>${what}</button>`
    }
    <span class="held">${shotLeanWords(shot, match)}${whyWords(shot, rally, match)}</span>
  </li>`;
}

/** @param {ReviewShot} shot @param {ReviewRally} rally @param {MatchHeader} match */
function whyWords(shot, rally, match) {
  const said = SIDES.flatMap((team) => {
    const against = withStrokes(shot.why, rally.shots)
      .filter((reason) => reason.team === team)
      .map((reason) => `${reasonWords(reason)}${reason.inferred ? " (assumed)" : ""}`);
    return against.length === 0 ? [] : [`against ${teamName(match, team)}: ${against.join(", ")}`];
  });
  if (said.length > 0) return `; ${said.join("; ")}`;
  const isUnchanged = shot.flags.includes("carried") || (shot.toward !== null && shot.strength === 0);
  return isUnchanged ? "; unchanged until the next shot" : "";
}
