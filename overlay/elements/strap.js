// <rt-strap>: the graphic while people play, in one row and the water under it: names
// once, games, points, the call with its pennant to whoever serves; below it the water
// of the team on offense, breaking toward the team under pressure, and why. Nothing is
// drawn as a share: it leans or lies flat. Between rallies the row stands alone; what
// happens then hangs under its team as a tab. A team that came out of pressure has the
// water's place for a moment, so that the two are never said at once.

/**
 * @import { Moment, Side, View } from "../types/view.js"
 */
import { make, setAttribute, setText } from "../shared/dom.js";
import { isOvertaken } from "../shared/moments.js";
import { needStyles } from "../shared/styles.js";
import { belowRow } from "../shared/strap-words.js";
import { callWords, gamesToWin, serveWords, shortName, teamName } from "../shared/words.js";
import { RtElement } from "./element.js";
import { setName, shape } from "./parts.js";

needStyles("strap.css", import.meta.url);

/** How long it is said that a team came out of pressure. */
const ESCAPE_MS = 2500;
/** How long at least, so that it can be read, where play has gone past it. */
const READ_MS = 1000;
/** The change of the water, as the look has it (`--rt-crest`). */
const CREST_MS = 240;
/** As many letters of a name as the row holds at its narrowest setting. */
const MOST_LETTERS = 27;
const TEAMS = /** @type {const} */ (["a", "b"]);

class SideOfRow {
  name = make("span", { class: "rt-name" });
  /** The whole name for those who hear the page, where the row has room for a part of it. */
  whole = make("span", { class: "rt-hidden" });
  pips = make("span", { class: "rt-pips" });
  points = make("span", { class: "rt-points" });
  node;

  /** @param {Side} team */
  constructor(team) {
    const inwards = [shape(team), this.name, this.whole, this.pips, this.points];
    this.node = make("div", { class: "rt-side", "data-team": team }, ...(team === "a" ? inwards : inwards.reverse()));
  }

  /** @param {View} view @param {Side} team */
  draw({ match, score }, team) {
    const name = teamName(match, team);
    const short = shortName(name, MOST_LETTERS);
    setName(this.name, short);
    setAttribute(this.name, "aria-hidden", short === name ? null : "true");
    setText(this.whole, short === name ? "" : name);
    setText(this.points, score === null ? "" : String(score.points[team]));
    const needed = match === null ? 0 : gamesToWin(match);
    this.pips.hidden = needed < 2 || score === null;
    const won = score?.games[team] ?? 0;
    if (this.pips.hidden || this.pips.dataset["won"] === `${won}/${needed}`) return;
    this.pips.dataset["won"] = `${won}/${needed}`;
    this.pips.replaceChildren(
      make("span", { class: "rt-hidden" }, `games won: ${won}`),
      ...Array.from({ length: needed }, (_, at) =>
        make("span", { class: "rt-pip", ...(at < won ? { "data-won": "" } : {}) }),
      ),
    );
  }
}

export class Strap extends RtElement {
  #sides = { a: new SideOfRow("a"), b: new SideOfRow("b") };
  #call = make("span", { class: "rt-call" });
  #serving = make("span", { class: "rt-hidden" });
  #words = { a: make("span", { class: "rt-word" }), b: make("span", { class: "rt-word" }) };
  #even = make("span", { class: "rt-even" });
  #tab = make("div", { class: "rt-tab", role: "status" });
  #box = make("div", { class: "rt-strap", role: "group", "aria-label": "Score and initiative" });
  #below = "";
  /** @type {Moment | null} */
  #moment = null;
  #seen = -1;
  #shownAt = -Infinity;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #timer = undefined;

  /** @override */
  build() {
    this.#box.append(
      make(
        "div",
        { class: "rt-row" },
        this.#sides.a.node,
        make("div", { class: "rt-middle" }, this.#call, this.#serving),
        this.#sides.b.node,
      ),
      make(
        "div",
        { class: "rt-water" },
        make("div", { class: "rt-flow", "data-team": "a" }, make("span", { class: "rt-chevrons" })),
        make("div", { class: "rt-flow", "data-team": "b" }, make("span", { class: "rt-chevrons" })),
        make("div", { class: "rt-said" }, this.#words.a, this.#even, this.#words.b),
      ),
      this.#tab,
    );
    this.append(this.#box);
  }

  /** @override */
  disconnectedCallback() {
    super.disconnectedCallback();
    clearTimeout(this.#timer);
    this.#moment = null;
    this.#seen = -1;
  }

  /**
   * @override
   * @param {View} view
   */
  draw(view) {
    const { match, score } = view;
    this.hidden = match === null;
    for (const team of TEAMS) this.#sides[team].draw(view, team);
    const serving = score === null || score.winner !== null ? null : score.serving;
    setAttribute(this.#box, "data-serving", serving);
    setText(this.#call, score === null ? "" : callWords(score));
    setText(
      this.#serving,
      serving === null || score === null ? "" : `${teamName(match, serving)}, ${serveWords(score).join(", ")}`,
    );
    this.#follow(view);
    this.#drawBelow(view);
  }

  /**
   * Which moment is on: one that is new, as long as it lasts and nothing has gone past it.
   * @param {View} view
   */
  #follow(view) {
    const { moment, moments } = view;
    if (this.#seen === -1) {
      this.#seen = moments;
      return;
    }
    if (moment !== null && moment.id > this.#seen) {
      this.#seen = moment.id;
      if (moment.kind !== "escape" && moment.kind !== "turned") return;
      this.#moment = moment;
      this.#shownAt = performance.now();
    }
    if (this.#moment === null) return;
    const least = isOvertaken(view, this.#moment) ? READ_MS : ESCAPE_MS;
    const left = this.#shownAt + least - performance.now();
    clearTimeout(this.#timer);
    if (left <= 0) this.#moment = null;
    else this.#timer = setTimeout(() => this.redraw(), left);
  }

  /** @param {View} view */
  #drawBelow(view) {
    const below = belowRow(view, this.#moment);
    const key = JSON.stringify(below);
    if (key === this.#below) return;
    const isFirst = this.#below === "";
    this.#below = key;
    setAttribute(this.#box, "data-below", below.kind);
    setAttribute(this.#box, "data-toward", below.toward);
    setAttribute(this.#box, "data-team", below.team);
    for (const team of TEAMS) setText(this.#words[team], below.words[team]);
    setText(this.#even, below.even);
    setText(this.#tab, below.tab);
    this.#tab.hidden = below.tab === "";
    if (!isFirst) this.#enter();
  }

  /** Old words are gone at once, new ones come when the crest has arrived. */
  #enter() {
    if (getComputedStyle(this).getPropertyValue("--rt-motion").trim() === "0") return;
    for (const node of [this.#words.a, this.#words.b, this.#even, this.#tab]) {
      node.animate([{ opacity: 0 }, { opacity: 0, offset: 0.58 }, { opacity: 1 }], { duration: CREST_MS });
    }
  }
}

customElements.define("rt-strap", Strap);
