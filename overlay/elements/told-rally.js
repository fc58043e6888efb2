// One rally told in full: its ribbon, and below it every shot in words. Shared by
// the last rallies and by what shows a line to say. Fills nodes of its own, and
// only when the rally is another one than was drawn.

/**
 * @import { FeedState, OneRally } from "../types/view.js"
 * @import { MatchHeader, ShotView } from "../types/messages.js"
 */
import { draw, make } from "../shared/dom.js";
import { isInitiativeKnown } from "../shared/state.js";
import { shotLeanWords, shotWords, strikerName } from "../shared/words.js";
import { needStyles } from "../shared/styles.js";
import { SMALL_RIBBON, drawRibbon } from "./ribbon-drawing.js";

needStyles("rally-ribbon.css", import.meta.url);
needStyles("told-rally.css", import.meta.url);

/** @type {ReadonlySet<number>} */
const NONE = new Set();

export class ToldRally {
  ribbon = draw("svg", { class: "rt-drawing" });
  shots = make("ol", { class: "rt-shots" });
  /** @type {{ shots: OneRally["shots"], end: OneRally["end"], match: MatchHeader | null, isKnown: boolean, meant: string } | null} */
  #drawn = null;

  /**
   * @param {OneRally} rally
   * @param {FeedState} state
   * @param {ReadonlySet<number>} [meant] numbers of the shots it is told for
   */
  show(rally, state, meant = NONE) {
    const { shots, end } = rally;
    const { match } = state;
    const isKnown = isInitiativeKnown(state);
    const marks = [...meant].join();
    const done = this.#drawn;
    if (
      done?.shots === shots &&
      done.end === end &&
      done.match === match &&
      done.isKnown === isKnown &&
      done.meant === marks
    )
      return;
    this.#drawn = { shots, end, match, isKnown, meant: marks };
    drawRibbon(this.ribbon, rally, match, SMALL_RIBBON, isKnown);
    this.ribbon.toggleAttribute("hidden", shots.length === 0);
    this.shots.replaceChildren(
      ...(shots.length === 0
        ? [make("li", {}, "no shots charted")]
        : shots.map((shot) => shotLine(shot, match, meant.has(shot.n), isKnown ? shotLeanWords(shot, match) : ""))),
    );
  }
}

/**
 * @param {ShotView} shot
 * @param {MatchHeader | null} match
 * @param {boolean} isMeant
 * @param {string} lean who held the initiative after it
 */
function shotLine(shot, match, isMeant, lean) {
  return make(
    "li",
    { value: String(shot.n), ...(isMeant ? { "data-meant": "" } : {}) },
    make("span", { class: "rt-what" }, `${strikerName(match, shot)}: ${shotWords(shot)}`),
    make("span", { class: "rt-where" }, lean),
  );
}
