// One rally of the list: a line that opens to its ribbon and to every shot, who
// held the initiative after it, and why. Drawn when it is first opened.

/**
 * @import { MatchHeader, ReviewAside, ReviewRally, ReviewShot } from "../types/messages.js"
 */
import { shape } from "../elements/parts.js";
import { SMALL_RIBBON, drawRibbon } from "../elements/ribbon-drawing.js";
import { draw, make } from "../shared/dom.js";
import { needStyles } from "../shared/styles.js";
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

needStyles("../elements/rally-ribbon.css", import.meta.url);

/**
 * @typedef {object} Heard
 * @property {(rally: ReviewRally) => void} opened
 * @property {() => void} closed
 * @property {(at: number) => void} asked for the moment in the video, ms since 1970
 */

export class RallyItem {
  #body = make("div", { class: "told" });
  #details;
  summary;
  node;
  rally;
  #match;
  #heard;

  /** @param {ReviewRally} rally @param {readonly ReviewAside[]} asides what stands behind it @param {MatchHeader} match @param {Heard} heard */
  constructor(rally, asides, match, heard) {
    this.rally = rally;
    this.#match = match;
    this.#heard = heard;
    this.summary = this.#line();
    this.#details = make("details", {}, this.summary, this.#body);
    this.#details.addEventListener("toggle", () => {
      if (this.#details.open) this.#tell();
      if (this.#details.open) heard.opened(rally);
      else heard.closed();
    });
    this.node = make("li", { "data-rally": String(rally.number) }, this.#details, ...besideList(asides, heard.asked));
  }

  /** @param {boolean} open */
  set open(open) {
    if (open) this.#tell();
    this.#details.open = open;
  }

  get open() {
    return this.#details.open;
  }

  #line() {
    const { rally } = this;
    const won = rally.end?.won_by ?? null;
    const end = rally.end === null ? "not ended" : endWords(rally.end, this.#match);
    const fault = rally.fault === null ? "" : ` (${rally.fault.replaceAll("_", " ")})`;
    const shots =
      rally.shots.length === 0
        ? "no shots charted"
        : `${rally.shots.length} ${rally.shots.length === 1 ? "shot" : "shots"}`;
    return make(
      "summary",
      {},
      make("span", { class: "number" }, String(rally.number)),
      make("span", { class: "score" }, `Game ${rally.before.game}, ${callWords(rally.before)}`),
      make("span", { class: "end" }, ...(won === null ? [] : [shape(won)]), `${end}${fault}`),
      make("span", { class: "length" }, shots),
    );
  }

  #tell() {
    if (this.#body.childElementCount > 0) return;
    const { rally } = this;
    const ribbon = draw("svg", { class: "rt-drawing" });
    drawRibbon(ribbon, rally, this.#match, SMALL_RIBBON);
    const after =
      rally.after.winner === null
        ? `Next: game ${rally.after.game}, ${callWords(rally.after)}`
        : `${teamName(this.#match, rally.after.winner)} won the match`;
    this.#body.append(
      ...(rally.shots.length === 0
        ? []
        : [
            make(
              "div",
              { class: "ribbon", tabindex: "0", role: "region", "aria-label": `Ribbon of rally ${rally.number}` },
              ribbon,
            ),
          ]),
      make("ol", { class: "shots" }, ...rally.shots.map((shot) => this.#shot(shot))),
      make("p", { class: "after" }, rally.counted ? after : `It does not count. ${after}`),
    );
  }

  /** @param {ReviewShot} shot */
  #shot(shot) {
    const { at } = shot;
    const what = `${shot.n} ${strikerName(this.#match, shot)}: ${shotWords(shot)}`;
    const words =
      at === null
        ? make("span", { class: "shot" }, shape(shot.team), what)
        : make("button", { type: "button", class: "shot" }, shape(shot.team), what);
    if (at !== null) words.addEventListener("click", () => this.#heard.asked(at));
    return make("li", {}, words, make("span", { class: "held" }, shotLeanWords(shot, this.#match), this.#why(shot)));
  }

  /** @param {ReviewShot} shot */
  #why(shot) {
    const said = SIDES.flatMap((team) => {
      const against = withStrokes(shot.why, this.rally.shots)
        .filter((reason) => reason.team === team)
        .map((reason) => `${reasonWords(reason)}${reason.inferred ? " (assumed)" : ""}`);
      return against.length === 0 ? [] : [`against ${teamName(this.#match, team)}: ${against.join(", ")}`];
    });
    if (said.length > 0) return `; ${said.join("; ")}`;
    return shot.flags.includes("carried") || (shot.toward !== null && shot.strength === 0)
      ? "; as before, judged by the next ball"
      : "";
  }
}
