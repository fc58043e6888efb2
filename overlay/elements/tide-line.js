// <rt-tide-line>: who holds the initiative, as a tide between the two names: it
// runs from the team on offense towards the one under pressure. Place, slant,
// chevrons and words say it; color only goes along. It shows the calm lean and
// stays away where shots are not charted at all. Attribute `always` keeps it;
// `beside-score`: a score plate is there and says what it says (a pause, a time-out).

/**
 * @import { Lean, Side, View } from "../types/view.js"
 */
import { betweenWords } from "../shared/between.js";
import { make, setAttribute, setText } from "../shared/dom.js";
import { hasShots } from "../shared/state.js";
import { PAUSED_WORDS, stateWord, teamName, whyWords } from "../shared/words.js";
import { needStyles } from "../shared/styles.js";
import { RtElement } from "./element.js";
import { setName, shape } from "./parts.js";

needStyles("tide-line.css", import.meta.url);

/** How far the tide runs beyond the middle, in percent of the line: the least
 * for any offense (also one that is only carried on), and the most. */
const LEAST_RUN = 14;
const MOST_RUN = 36;

export class TideLine extends RtElement {
  /** @override */
  static get observedAttributes() {
    return [...RtElement.observedAttributes, "always", "beside-score"];
  }

  #box = make("div", { class: "rt-tide", role: "group", "aria-label": "Initiative" });
  #names = { a: make("div", { class: "rt-name" }), b: make("div", { class: "rt-name" }) };
  #states = { a: make("span", { class: "rt-state" }), b: make("span", { class: "rt-state" }) };
  #even = make("span", { class: "rt-even" });
  #why = make("span", { class: "rt-why" });

  /** @override */
  build() {
    const { a, b } = this.#states;
    this.#box.append(
      this.#side("a"),
      make(
        "div",
        { class: "rt-water", "aria-hidden": "true" },
        make("div", { class: "rt-flow", "data-team": "b" }),
        make("div", { class: "rt-flow", "data-team": "a" }),
        make("div", { class: "rt-middle" }),
        make("div", { class: "rt-crest" }),
      ),
      this.#side("b"),
      make("div", { class: "rt-words" }, a, make("span", { class: "rt-because" }, this.#even, this.#why), b),
    );
    this.append(this.#box);
  }

  /**
   * @override
   * @param {View} view
   */
  draw(view) {
    const { match, shown } = view;
    this.hidden = match === null || (!this.hasAttribute("always") && !isOfUse(view));
    for (const team of /** @type {const} */ (["a", "b"])) {
      setName(this.#names[team], teamName(match, team));
      setText(this.#states[team], stateWord(shown, team));
    }
    const { edge, slant } = tideEdge(shown);
    this.#box.style.setProperty("--rt-edge", `${edge}%`);
    this.#box.style.setProperty("--rt-slant", String(slant));
    setAttribute(this.#box, "data-phase", shown.phase);
    setAttribute(this.#box, "data-toward", shown.toward ?? "none");
    setText(this.#even, evenWords(view, this.hasAttribute("beside-score")));
    setText(this.#why, whyWords(shown));
  }

  /** @param {Side} team */
  #side(team) {
    return make("div", { class: "rt-team", "data-team": team }, shape(team), this.#names[team]);
  }
}

/**
 * What stands in the middle while nobody holds.
 * @param {View} view
 * @param {boolean} besideScore
 */
function evenWords({ shown, paused, between, match }, besideScore) {
  if (paused) return besideScore ? "" : PAUSED_WORDS;
  if (between !== null && shown.phase === "rest") return besideScore ? "" : betweenWords(between, match);
  return shown.phase === "play" && shown.toward === null ? "neutral" : "";
}

/** @param {View} view */
function isOfUse(view) {
  return view.shown.phase !== "unknown" && hasShots(view) && view.score?.winner == null;
}

/**
 * Where the tide's edge stands (percent from team a's end) and which way it
 * slants: +1 leans on b, -1 on a.
 * @param {Lean} lean
 */
export function tideEdge(lean) {
  if (lean.phase !== "play" || lean.toward === null) return { edge: 50, slant: 0 };
  const slant = lean.toward === "a" ? 1 : -1;
  const run = LEAST_RUN + (MOST_RUN - LEAST_RUN) * lean.strength;
  return { edge: 50 + slant * Math.round(run), slant };
}

customElements.define("rt-tide-line", TideLine);
