// <rt-rally-insert>: after a long or a turning rally, for some seconds, who attacked
// and when: a lane for each team, up is a, down is b, nothing is neutral, a tick a
// shot, at the end who won and how. It goes by itself, and with the next serve. Only a
// rally that ends while the element is on the page is shown.

/**
 * @import { OneRally, View } from "../types/view.js"
 * @import { MatchHeader } from "../types/messages.js"
 */
import { draw, make, setAttribute, setText } from "../shared/dom.js";
import { isInitiativeKnown } from "../shared/state.js";
import { needStyles } from "../shared/styles.js";
import { endTag, teamName } from "../shared/words.js";
import { RtElement } from "./element.js";
import { setName, shape } from "./parts.js";

needStyles("rally-insert.css", import.meta.url);

const SHOW_MS = 6000;
/** From so many shots on a rally is long. */
const LONG = 12;
/** From so many times on that the offense went from one team to the other it is a turning one. */
const TURNING = 2;
const [WIDE, HIGH] = [640, 96];
const TEAMS = /** @type {const} */ (["a", "b"]);

/** @param {OneRally} rally */
export function isWorthTelling({ shots, end }) {
  if (end === null || end.won_by === null) return false;
  const holders = shots.flatMap(({ toward }) => (toward === null ? [] : [toward]));
  const turns = holders.filter((team, at) => at > 0 && team !== holders[at - 1]).length;
  return shots.length >= LONG || turns >= TURNING;
}

/**
 * The stretches in which one team was on offense, as shots from and to.
 * @param {OneRally} rally
 * @returns {{ team: "a" | "b", from: number, to: number }[]}
 */
export function stretches({ shots }) {
  /** @type {{ team: "a" | "b", from: number, to: number }[]} */
  const found = [];
  shots.forEach(({ toward }, at) => {
    const last = found.at(-1);
    if (toward === null) return;
    if (last !== undefined && last.team === toward && last.to === at) last.to = at + 1;
    else found.push({ team: toward, from: at, to: at + 1 });
  });
  return found;
}

export class RallyInsert extends RtElement {
  #title = make("span", { class: "rt-title" });
  #end = make("span", { class: "rt-won" });
  #shapes = { a: shape("a"), b: shape("b") };
  #names = { a: make("span", { class: "rt-name" }), b: make("span", { class: "rt-name" }) };
  #svg = draw("svg", { class: "rt-lanes", viewBox: `0 0 ${WIDE} ${HIGH}`, preserveAspectRatio: "none", role: "img" });
  #box = make("div", { class: "rt-insert", "aria-hidden": "true" });
  /** The last rally that was seen to end; null: none was looked at yet. @type {number | null} */
  #seen = null;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #timer = undefined;

  /** @override */
  build() {
    const lane = (/** @type {"a" | "b"} */ team) =>
      make("div", { class: "rt-lane" }, shape(team), this.#names[team], make("span", { class: `rt-arrow rt-${team}` }));
    this.#box.append(
      make(
        "div",
        { class: "rt-head" },
        this.#title,
        make("span", { class: "rt-how" }, this.#shapes.a, this.#shapes.b, this.#end),
      ),
      make("div", { class: "rt-body" }, make("div", { class: "rt-keys" }, lane("a"), lane("b")), this.#svg),
    );
    this.append(this.#box);
  }

  /** @override */
  disconnectedCallback() {
    super.disconnectedCallback();
    this.#seen = null;
    this.#hide();
  }

  /**
   * @override
   * @param {View} view
   */
  draw(view) {
    const { rally, match, score } = view;
    const ended = rally === null || rally.end === null ? (rally?.number ?? 1) - 1 : rally.number;
    const isFirstLook = this.#seen === null;
    const isNew = this.#seen !== null && ended > this.#seen;
    this.#seen = ended;
    const goesOn = rally === null || rally.end === null || score?.winner != null || view.paused;
    if (goesOn) return this.#hide();
    if (isFirstLook || !isNew || !isInitiativeKnown(view) || !isWorthTelling(rally)) return;
    this.#show(rally, match);
  }

  /** @param {OneRally} rally @param {MatchHeader | null} match */
  #show(rally, match) {
    setText(this.#title, `${rally.shots.length} shots: who attacked, and when`);
    for (const team of TEAMS) {
      setName(this.#names[team], teamName(match, team));
      setAttribute(this.#shapes[team], "hidden", rally.end?.won_by === team ? null : "");
    }
    setText(this.#end, rally.end === null ? "" : endTag(rally.end));
    this.#svg.setAttribute("aria-label", laneWords(rally, match));
    this.#svg.replaceChildren(...lanes(rally));
    setAttribute(this.#box, "data-shown", "");
    setAttribute(this.#box, "aria-hidden", null);
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#hide(), SHOW_MS);
  }

  #hide() {
    clearTimeout(this.#timer);
    setAttribute(this.#box, "data-shown", null);
    setAttribute(this.#box, "aria-hidden", "true");
  }
}

/** @param {OneRally} rally @param {MatchHeader | null} match */
function laneWords(rally, match) {
  const said = stretches(rally).map(({ team, from, to }) => {
    const which = to - from === 1 ? `shot ${to}` : `shots ${from + 1} to ${to}`;
    return `${teamName(match, team)} on offense, ${which}`;
  });
  return said.length === 0 ? "Neutral throughout" : said.join("; ");
}

/** @param {OneRally} rally */
function lanes(rally) {
  const step = (WIDE - 12) / rally.shots.length;
  const middle = HIGH / 2;
  const areas = stretches(rally).map(({ team, from, to }) => {
    const edge = team === "a" ? 6 : HIGH - 6;
    const slope = Math.min(8, step / 2);
    const [left, right] = [from * step, to * step];
    return draw("path", {
      class: "rt-area",
      "data-team": team,
      d: `M${left} ${middle} L${left + slope} ${edge} L${right - slope} ${edge} L${right} ${middle} Z`,
    });
  });
  const ticks = rally.shots.map((_, at) =>
    draw("line", { class: "rt-tick", x1: (at + 0.5) * step, x2: (at + 0.5) * step, y1: middle - 5, y2: middle + 5 }),
  );
  return [
    ...areas,
    draw("line", { class: "rt-axis", x1: 0, x2: WIDE - 12, y1: middle, y2: middle }),
    ...ticks,
    draw("line", { class: "rt-last", x1: WIDE - 10, x2: WIDE - 10, y1: 4, y2: HIGH - 4 }),
  ];
}

customElements.define("rt-rally-insert", RallyInsert);
