// The practice page as it is drawn: everything shown follows from one state. What buttons do
// is named by `data-do` and `data-action`; main.js does it.

/**
 * @import { Hands } from "../shared/charting/court-view.js"
 * @import { Letters } from "../shared/charting/letters.js"
 * @import { FixingState } from "./fixing-page.js"
 * @import { SeatState } from "./seat-page.js"
 * @import { View } from "./trainer.js"
 */
import { html, live, nothing } from "../shared/html.js";
import { detailWords, isOnCourt, pad, told } from "../shared/charting/court-view.js";
import { filmKeys } from "../shared/charting/film-keys.js";
import { lettersField } from "../shared/charting/key-form.js";
import { modeWord } from "../shared/charting/words.js";
import { TEMPOS } from "./clock.js";
import { fixingPage } from "./fixing-page.js";
import { outcome, sum } from "./outcome.js";
import { seatPage } from "./seat-page.js";
import { nowWords, phaseWords, tempoWords } from "./words.js";

/** What practice keys mean, where it is not what they mean for a video. */
const FILM = {
  "film:play": "play · pause",
  "film:back": "back",
  "film:on": "step forward",
  "film:far_back": "from the serve",
  "film:slower": "slower",
  "film:faster": "faster",
};

/** Keys that have nothing to do here: no referee speaks. */
const WITHOUT = new Set(["score"]);

/** Phases in which a rally is under one's hands. */
const ON_COURT = new Set(["ready", "playing", "waiting"]);

/** What a set is of. */
const SETS = /** @type {const} */ ([
  ["rallies", "charting rallies"],
  ["fixing", "fixing mistakes"],
  ["cues", "marking cues (the second seat)"],
]);

/** @typedef {"rallies" | "fixing" | "cues"} Kind of a set */
/** @typedef {{ kind: Kind, rallies: string, tempo: string, detail: string, hints: boolean }} Chosen */
/**
 * @typedef {object} PageState
 * @property {View} view
 * @property {Hands} hands
 * @property {Letters} letters
 * @property {Chosen} chosen
 * @property {string} problem what is in the way of a set
 * @property {string} lastSets how the last sets went
 * @property {string} few why few strokes are recommended; empty: they are not
 * @property {FixingState["view"]} fixing
 * @property {Omit<SeatState, "drawing" | "hands" | "back">} seat
 * @property {Node} drawing the court from above
 * @property {Node} look the choice of colors
 * @property {(actions: readonly string[]) => string} keyWords
 * @property {{ href: string, words: string }} back
 */

/** @param {PageState} state */
export function page(state) {
  const { view, fixing, seat, hands, keyWords, drawing, back } = state;
  const kind = state.chosen.kind;
  const phase = { rallies: view, fixing, cues: seat.view }[kind].phase;
  const set = {
    rallies: () => rallies(state),
    fixing: () => fixingPage({ view: fixing, hands, keyWords, back }),
    cues: () => seatPage({ ...seat, hands, drawing, back }),
  }[kind];
  return html`
    <header class="top">
      <h1 class="title">Practice</h1>
      <p class="banner">Made-up rallies. Nothing you chart here leaves this laptop or reaches a court.</p>
      <p class="where" role="status">${kind === "rallies" ? phaseWords(view) : placeWords(kind === "fixing" ? fixing : seat.view, kind)}</p>
    </header>
    <main>
      ${phase === "choose" ? choose(state) : set()}
    </main>`;
}

/** @param {PageState} state */
function rallies(state) {
  const { view, hands, keyWords, back, few } = state;
  if (ON_COURT.has(view.phase)) return court(state);
  if (view.phase === "result") return outcome(view, hands, keyWords);
  return view.phase === "done" ? sum(view, back, recommended(few)) : nothing;
}

/** @param {{ phase: string, number: number, of: number }} view @param {"fixing" | "cues"} kind */
const placeWords = ({ phase, number, of }, kind) =>
  phase === "choose" || phase === "done" ? "" : `${kind === "fixing" ? "Mistake" : "Rally"} ${number} of ${of}`;

/** @type {Readonly<Record<Kind, string>>} */
const WHAT = {
  rallies:
    "A rally is played on a drawn court. Chart it with the keys of a real match; then see what was right, and how late you were.",
  fixing:
    "A rally is charted already, with one mistake in it. Put it right with the keys of a real match; then see how many keys it took, and how many are enough.",
  cues: "A rally is played on a drawn court, and somebody else records the strokes. Mark what you see for the side that struck; then see which marks found their shot, and how late you were.",
};

/** @param {string} few why few strokes are recommended */
const recommended = (few) =>
  few === "" ? nothing : html`<p class="few">${few} <button type="button" data-do="few">Use few strokes</button></p>`;

/** @param {PageState} state */
const choose = ({ chosen, letters, problem, lastSets, few, look, back }) => html`
  <form class="choose">
    <p>${WHAT[chosen.kind]}</p>
    ${recommended(few)}
    ${select("Practice", "kind", SETS, chosen.kind)}
    ${select(
      chosen.kind === "fixing" ? "Mistakes" : "Rallies",
      "rallies",
      [
        ["5", "5"],
        ["10", "10"],
        ["20", "20"],
      ],
      chosen.rallies,
    )}
    ${
      chosen.kind === "fixing"
        ? nothing
        : select(
            "Speed",
            "tempo",
            TEMPOS.map((tempo) => [String(tempo), tempoWords(tempo)]),
            chosen.tempo,
          )
    }
    ${
      chosen.kind !== "rallies"
        ? nothing
        : select(
            "What to chart",
            "detail",
            [
              ["shots", "every shot"],
              ["ends", "rally results and cues"],
              ["score", "score only"],
            ],
            chosen.detail,
          )
    }
    ${letters.unsure ? lettersField(letters) : nothing}
    ${
      chosen.kind === "fixing"
        ? nothing
        : html`<label class="tick"><input type="checkbox" name="hints" .checked=${live(chosen.hints)} /> Show the keys beside the words</label>`
    }
    <div class="go">
      <button class="chief">Start</button>
      <button type="button" data-do="keys">Shortcuts and key card …</button>
      <a class="button" data-do="back" href=${back.href}>${back.words}</a>
      ${look}
    </div>
    <p class="choose-problem" role="alert">${problem}</p>
    <ul class="read">
      ${
        chosen.kind === "fixing"
          ? nothing
          : html`<li>A ring on the ground: the ball bounced there. A double ring: half volley. Four short strokes: met in the air.</li>
              <li>Words are strokes, underlined ones are cues to mark. The end is written where the ball came to rest.</li>`
      }
      <li class="last-sets">${lastSets}</li>
    </ul>
  </form>`;

/** @param {string} words @param {string} name @param {readonly (readonly [string, string])[]} options @param {string} value */
const select = (words, name, options, value) => html`
  <label
    >${words}
    <select name=${name}>
      ${options.map(([one, label]) => html`<option value=${one} ?selected=${one === value}>${label}</option>`)}
    </select></label
  >`;

/** @param {PageState} state */
function court({ view, hands, drawing, keyWords }) {
  if (!isOnCourt(view)) return nothing;
  const mode = modeWord(view.state);
  return html`
    <section class="court" aria-label="Practice rally" data-mode=${mode === "" ? nothing : mode}>
      <div class="beside">
        <div class="picture">${drawing}</div>
        ${told({ ...view, message: nowWords(view, keyWords(["film:play"])) }, { ...hands, keysShown: true })}
      </div>
      ${pad(view, hands, WITHOUT)}
      <footer class="foot">
        <div class="film">${filmKeys(hands, view.phase === "playing" && !view.paused, FILM)}</div>
        <div class="state">
          <span class="tempo" role="status">Speed: ${tempoWords(view.tempo)}</span>
          <span class="detail">${detailWords(view.state, hands.keys)}</span>
        </div>
        <button type="button" data-do="keys">Shortcuts …</button>
        <button type="button" data-do="finish">End the set</button>
      </footer>
    </section>`;
}
