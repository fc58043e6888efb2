// The room of the graphic: how it looks, clicked together beside a preview; the delay
// that fits the video, found by watching; and the link that says it all.

/** @import { Desk } from "../host/desk.js" */
import { choice, choiceField, labelled, textField, tick } from "../../shared/fields.js";
import { html, live, nothing } from "../../shared/html.js";
import { ANCHORS } from "../../shared/options.js";
import { handedLink } from "../page/handed-link.js";
import { charterWords, scorersOf } from "../page/telling.js";
import { courtOf } from "../state.js";
import { CHOICES } from "./composing.js";
import {
  changeGraphic,
  compose,
  delayFault,
  found,
  graphicAddress,
  resetGraphic,
  shownCourt,
  startOver,
  tapNow,
  typeDelay,
  useDelay,
} from "./composition.js";
import { seconds } from "./delay-finder.js";
import { numberList } from "./number-list.js";

/** The slider's end; the field beside it takes more. */
const SLIDER_MS = 30_000;
const GROUNDS = /** @type {const} */ ([
  ["court", "colored stripes"],
  ["dark", "dark"],
  ["light", "light"],
]);
const STYLES = /** @type {const} */ ([
  ["dark", "dark panels"],
  ["light", "light panels"],
  ["text", "text only"],
]);
const PLACES = /** @type {[string, string][]} */ ([
  ["", "default position"],
  ...ANCHORS.map((anchor) => [anchor, anchor.replace("-", " ")]),
]);

/** @param {Desk} desk */
export function graphicRoom(desk) {
  return html`<div class="graphic-room">
    ${previewSection(desk)}
    <div class="side">${lookSection(desk)} ${delaySection(desk)}</div>
  </div>`;
}

/** @param {Desk} desk */
function previewSection(desk) {
  const { graphic, host } = desk.state;
  const courts = host?.courts ?? [];
  const names = courts.length === 0 ? ["1"] : courts.map(({ court }) => court);
  return html`<section class="preview" aria-label="Preview">
    <h2 class="rt-hidden">Graphic</h2>
    <div class="screen" data-ground=${graphic.ground}>
      <iframe title="Preview of the graphic" tabindex="-1" src=${graphic.previewed}></iframe>
    </div>
    <div class="grid">
      ${choiceField({
        id: "graphic-court",
        label: "Court",
        value: shownCourt(desk),
        choices: names.map((name) => [name, `court ${name}`]),
        put: (court) => changeGraphic(desk, { court }),
      })}
      ${choiceField({
        id: "graphic-shown",
        label: "Preview shows",
        value: graphic.shown,
        choices: [
          ["live", "this court, live"],
          ["sample", "an invented match"],
        ],
        put: (shown) => changeGraphic(desk, { shown: shown === "sample" ? "sample" : "live" }),
      })}
      ${choiceField({
        id: "graphic-ground",
        label: "Background",
        value: graphic.ground,
        choices: GROUNDS,
        put: (ground) => changeGraphic(desk, { ground }),
      })}
    </div>
    <h3>The link for the streaming program</h3>
    <p class="quiet">
      Add it as a web-page layer, 1920 wide and 1080 high. After every change here, give the program the new link.
    </p>
    ${handedLink(desk, { label: "graphic, as composed", href: graphicAddress(desk) })}
    <p class="caution">
      The graphic does not flash; keep it that way in styles of your own: flashing light can harm viewers. Its animation
      can be switched off on this page.
    </p>
  </section>`;
}

/** @param {string} id @param {string} what @param {string} value @param {boolean} disabled @param {(place: string) => void} put */
const placeChoice = (id, what, value, disabled, put) =>
  choice({ id, spoken: `Position of: ${what}`, value, disabled, choices: PLACES, put });

/** @param {Desk} desk */
function lookSection(desk) {
  const { now } = desk.state.graphic;
  /** @param {string} piece @param {string} place */
  const placed = (piece, place) => {
    const at = /** @type {Record<string, string>} */ ({ ...now.at, [piece]: place });
    if (place === "") delete at[piece];
    compose(desk, { at });
  };
  return html`<section class="card" aria-label="Look">
    <fieldset>
      <legend>What it shows, and where</legend>
      ${CHOICES.map(({ piece, label }) => {
        const isOn = now.pieces.includes(piece);
        return html`<div class="piece">
          ${tick({
            id: `piece-${piece}`,
            label,
            on: isOn,
            put: (on) =>
              compose(desk, {
                pieces: CHOICES.map((one) => one.piece).filter((one) =>
                  one === piece ? on : now.pieces.includes(one),
                ),
              }),
          })}
          ${placeChoice(`place-${piece}`, label, now.at[piece] ?? "", !isOn, (place) => placed(piece, place))}
        </div>`;
      })}
    </fieldset>
    ${numberList(desk)}
    <div class="piece">
      <span class="wide">Position of the statistics</span>
      ${placeChoice("place-show", "the extra statistics", now.at.show ?? "", now.show.length === 0, (place) => placed("show", place))}
    </div>
    <div class="grid">
      ${choiceField({
        id: "graphic-theme",
        label: "Style",
        value: now.theme,
        choices: STYLES,
        put: (theme) => compose(desk, { theme }),
      })}
      ${slider("graphic-scale", "Size", 0.25, 4, 0.05, now.scale, `${Math.round(now.scale * 100)}%`, (scale) => compose(desk, { scale }))}
    </div>
    ${tick({
      id: "graphic-still",
      label: "No animation (when in doubt, choose this: it holds for all viewers)",
      on: now.still,
      put: (still) => compose(desk, { still }),
    })}
    <div class="row"><button type="button" @click=${() => resetGraphic(desk)}>Reset</button></div>
  </section>`;
}

/**
 * @param {string} id @param {string} label @param {number} min @param {number} max @param {number} step
 * @param {number} value @param {string} words @param {(value: number) => void} put
 */
function slider(id, label, min, max, step, value, words, put) {
  const control = html`<input
      id=${id}
      type="range"
      min=${min}
      max=${max}
      step=${step}
      aria-valuetext=${words}
      aria-describedby=${`${id}-fault`}
      .value=${live(String(Math.min(value, max)))}
      @input=${(/** @type {InputEvent} */ event) => put(Number(/** @type {HTMLInputElement} */ (event.target).value))}
    /><output>${words}</output>`;
  return labelled({ id, label }, control);
}

/** @param {Desk} desk */
function delaySection(desk) {
  const { graphic } = desk.state;
  const { delayMs, sentence } = found(desk);
  const set = (/** @type {number} */ ms) => {
    compose(desk, { delayMs: ms });
    changeGraphic(desk, { delayText: null });
  };
  return html`<section class="card" aria-label="Delay">
    <h3>Fit it to the video</h3>
    <p>
      Video reaches viewers later than what the charter enters. The graphic waits that long, so that it never gives a
      rally away.
    </p>
    ${slider("delay-slider", "Delay", 0, SLIDER_MS, 100, graphic.now.delayMs, seconds(graphic.now.delayMs), set)}
    ${textField({
      id: "delay-typed",
      label: "Delay in seconds",
      value: graphic.delayText ?? String(graphic.now.delayMs / 1000),
      inputmode: "decimal",
      advice: "0 to 300",
      fault: delayFault(graphic.delayText),
      put: (text) => typeDelay(desk, text),
    })}
    <h4>Find the right delay</h4>
    <ol>
      <li>
        Let a match be charted, and watch the picture as it leaves the streaming program, such as its full-screen
        output. Not its preview: some programs delay only one of them. Not the stream as viewers get it: that is later
        by seconds that the graphic must not wait for.
      </li>
      <li>Press the button the moment you see a rally end there. Do so at three rallies.</li>
    </ol>
    <div class="row">
      <button type="button" class="chief" @click=${() => tapNow(desk)}>I see the rally end now</button>
      <button type="button" @click=${() => startOver(desk)}>Start over</button>
      ${delayMs === null ? nothing : html`<button type="button" @click=${() => useDelay(desk, delayMs)}>Use ${seconds(delayMs)}</button>`}
    </div>
    <p role="status">${sentence}</p>
    <h4>Charter delay</h4>
    <ul class="charters">
      ${charterLines(desk).map((line) => html`<li>${line}</li>`)}
    </ul>
  </section>`;
}

/** @param {Desk} desk */
function charterLines(desk) {
  const court = courtOf(desk.state, shownCourt(desk));
  const scorers = scorersOf(court?.charters ?? []);
  if (court === null || scorers.length === 0) return ["Nobody charts on this court."];
  return charterWords(scorers, { ...desk.state, match: court.match });
}
