// <rt-earlier-rallies>: the last rallies, newest first, each as a small ribbon
// that opens to its shots in words. Keeps its order while somebody is on it.

/**
 * @import { OneRally, View } from "../types/view.js"
 * @import { MatchHeader, ShotView } from "../types/messages.js"
 */
import { draw, keyedChildren, make, setText } from "../shared/dom.js";
import { EARLIER_RALLIES } from "../shared/state.js";
import { endWords, shotLeanWords, shotWords, teamName } from "../shared/words.js";
import { needStyles } from "../shared/styles.js";
import { RtElement } from "./element.js";
import { HoldStill } from "./hold-still.js";
import { SMALL_RIBBON, drawRibbon } from "./ribbon-drawing.js";

needStyles("rally-ribbon.css", import.meta.url);
needStyles("earlier-rallies.css", import.meta.url);

export class EarlierRallies extends RtElement {
  #list = make("ol");
  #empty = make("p", { class: "rt-empty" }, "No rally has ended yet");
  #hold = new HoldStill(this.#list, () => this.#release());
  /** @type {readonly OneRally[]} */
  #shown = [];

  /** @override */
  build() {
    this.append(this.#list, this.#empty, this.#hold.button);
  }

  /** @override */
  connectedCallback() {
    super.connectedCallback();
    this.#hold.connect();
  }

  /** @override */
  disconnectedCallback() {
    super.disconnectedCallback();
    this.#hold.disconnect();
  }

  /**
   * @override
   * @param {View} view
   */
  draw({ rally, match }) {
    const current = ended(rally);
    if (this.#hold.isHeld && this.#shown.length > 0) {
      this.#shown = this.#shown.map((shown) => current.find((one) => one.number === shown.number) ?? shown);
      const newest = this.#shown[0]?.number ?? 0;
      this.#hold.waiting(current.filter((one) => one.number > newest).length);
    } else {
      this.#shown = current;
      this.#hold.waiting(0);
    }
    this.#empty.hidden = this.#shown.length > 0;
    const byKey = new Map(this.#shown.map((one) => [String(one.number), one]));
    keyedChildren(this.#list, [...byKey.keys()], () => new Item(), (node, key) => {
      node.show(/** @type {OneRally} */ (byKey.get(key)), match);
    });
  }

  #release() {
    this.#shown = [];
    this.redraw();
  }
}

/**
 * The rally just over comes first, before the next one has begun.
 * @param {View["rally"]} rally
 * @returns {OneRally[]}
 */
function ended(rally) {
  if (rally === null) return [];
  const { number, shots, end, earlier } = rally;
  return (end === null ? earlier : [{ number, shots, end }, ...earlier]).slice(0, EARLIER_RALLIES);
}

/** One rally of the list; an element of its own to keep its parts together. */
class Item extends HTMLElement {
  #title = make("span", { class: "rt-title" });
  #svg = draw("svg", { class: "rt-drawing" });
  #shots = make("ol", { class: "rt-shots" });
  /** @type {{ shots: OneRally["shots"], end: OneRally["end"], match: MatchHeader | null } | null} */
  #drawn = null;

  connectedCallback() {
    if (this.childElementCount > 0) return;
    this.setAttribute("role", "listitem");
    this.append(
      make(
        "details",
        {},
        make("summary", {}, make("span", { class: "rt-line" }, this.#title, this.#svg)),
        this.#shots,
      ),
    );
  }

  /**
   * @param {OneRally} rally
   * @param {MatchHeader | null} match
   */
  show(rally, match) {
    const { shots, end } = rally;
    if (this.#drawn?.shots === shots && this.#drawn.end === end && this.#drawn.match === match) return;
    this.#drawn = { shots, end, match };
    setText(this.#title, `Rally ${rally.number}: ${end === null ? "not ended" : endWords(end, match)}`);
    drawRibbon(this.#svg, rally, match, SMALL_RIBBON);
    this.#svg.toggleAttribute("hidden", shots.length === 0);
    this.#shots.replaceChildren(
      ...(shots.length === 0
        ? [make("li", {}, "no shots charted")]
        : shots.map((shot) => shotLine(shot, match))),
    );
  }
}

/**
 * @param {ShotView} shot
 * @param {MatchHeader | null} match
 */
function shotLine(shot, match) {
  return make(
    "li",
    { value: String(shot.n) },
    make("span", { class: "rt-what" }, `${teamName(match, shot.team)}: ${shotWords(shot)}`),
    make("span", { class: "rt-where" }, shotLeanWords(shot, match)),
  );
}

customElements.define("rt-earlier-rally", Item);
customElements.define("rt-earlier-rallies", EarlierRallies);
