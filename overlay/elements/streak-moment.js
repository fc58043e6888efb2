// <rt-streak-moment>: a plate that comes for a few seconds when a team has come
// out of pressure (and how often in a row) or turned the rally, at game and match
// point, and when a game or the match is won. Only what happens while the element
// is on the page is shown, never what was before; what play has gone past gives way.
// Attribute `from`: the shortest streak worth showing (1 if left out).

/**
 * @import { Moment, View } from "../types/view.js"
 */
import { make, setAttribute, setText } from "../shared/dom.js";
import { contradicts } from "../shared/moments.js";
import { momentWords, teamName } from "../shared/words.js";
import { needStyles } from "../shared/styles.js";
import { RtElement } from "./element.js";
import { setName, shape } from "./parts.js";

needStyles("streak-moment.css", import.meta.url);

/** From so many characters on the title is set narrower, beside its count. */
const LONG_TITLE = 18;
/** How long a moment stays. */
const SHOW_MS = 4500;
/** How long it stays at least before a newer one takes its place. */
const HOLD_MS = 1500;
/** How long it stays at least where play has gone past it, or it was none. */
const READ_MS = 1000;

export class StreakMoment extends RtElement {
  #plate = make("div", { class: "rt-moment", "aria-hidden": "true" });
  #name = make("div", { class: "rt-name" });
  #title = make("div", { class: "rt-title" });
  #count = make("div", { class: "rt-count" });
  #shapes = { a: shape("a"), b: shape("b") };
  #seen = -1;
  /** What is on the plate. @type {Moment | null} */
  #on = null;
  #shownAt = -Infinity;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #timer = undefined;

  /** @override */
  build() {
    this.#plate.append(
      make("span", { class: "rt-edge" }),
      this.#shapes.a,
      this.#shapes.b,
      make("div", { class: "rt-who" }, this.#name, this.#title),
      this.#count,
    );
    this.append(this.#plate);
  }

  /** @override */
  disconnectedCallback() {
    super.disconnectedCallback();
    clearTimeout(this.#timer);
    this.#seen = -1;
    this.#hide();
  }

  /**
   * @override
   * @param {View} view
   */
  draw(view) {
    const { moment, moments } = view;
    const isFirstLook = this.#seen === -1;
    if (this.#on !== null && contradicts(this.#on, view.shown)) this.#hide();
    else if (moment === null) this.#giveWay();
    if (moment === null || isFirstLook || moment.id <= this.#seen) {
      this.#seen = Math.max(this.#seen, isFirstLook ? moments : 0);
      return;
    }
    const isStreak = moment.kind === "escape" || moment.kind === "turned";
    if (isStreak && moment.streak < this.#least()) {
      this.#seen = moment.id;
      return;
    }
    const wait = this.#shownAt + HOLD_MS - performance.now();
    clearTimeout(this.#timer);
    if (wait > 0) {
      this.#timer = setTimeout(() => this.redraw(), wait);
      return;
    }
    this.#show(moment, view);
  }

  #least() {
    const asked = Number(this.getAttribute("from") ?? "1");
    return Number.isFinite(asked) ? asked : 1;
  }

  /**
   * @param {Moment} moment
   * @param {View} view
   */
  #show(moment, { match, score }) {
    this.#seen = moment.id;
    this.#on = moment;
    this.#shownAt = performance.now();
    const { title, detail } = momentWords(moment, score);
    setName(this.#name, moment.team === null ? "" : teamName(match, moment.team));
    this.#name.hidden = moment.team === null;
    setText(this.#title, title);
    setAttribute(this.#title, "data-long", title.length > LONG_TITLE ? "" : null);
    setText(this.#count, detail);
    this.#count.hidden = detail === "";
    this.#shapes.a.hidden = moment.team !== "a";
    this.#shapes.b.hidden = moment.team !== "b";
    setAttribute(this.#plate, "data-team", moment.team);
    setAttribute(this.#plate, "data-shown", "");
    setAttribute(this.#plate, "aria-hidden", null);
    this.#timer = setTimeout(() => this.#hide(), SHOW_MS);
  }

  #giveWay() {
    const wait = this.#shownAt + READ_MS - performance.now();
    clearTimeout(this.#timer);
    if (wait > 0) this.#timer = setTimeout(() => this.#hide(), wait);
    else this.#hide();
  }

  #hide() {
    this.#on = null;
    setAttribute(this.#plate, "data-shown", null);
    setAttribute(this.#plate, "aria-hidden", "true");
  }
}

customElements.define("rt-streak-moment", StreakMoment);
