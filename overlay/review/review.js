// The review of a match: what is asked for, which rally is open, keys, and the address
// that says so. One state; every change draws the page from it (drawing.js).

/**
 * @import { Review } from "../types/messages.js"
 * @import { ReviewState } from "./drawing.js"
 */
import { render } from "../shared/html.js";
import { lasting } from "../shared/memory.js";
import { resultWords, teamName } from "../shared/words.js";
import { reviewView, shownRallies } from "./drawing.js";
import { Film } from "./film.js";
import { addressOf, isWished, readWish } from "./filters.js";
import { askForFiles } from "./take-away.js";

const KEPT_KEYS = "rallytide.review.keys";

export class ReviewPage {
  #root;
  /** @type {Readonly<ReviewState>} */
  #state;
  #film;

  /** @param {HTMLElement} root @param {Review} review */
  constructor(root, review) {
    this.#root = root;
    const query = new URLSearchParams(location.search);
    const wanted = Number(query.get("rally"));
    const open = review.rallies.some(({ number }) => number === wanted) ? wanted : null;
    this.#state = {
      review,
      wish: readWish(query),
      open,
      keys: lasting.getItem(KEPT_KEYS) !== "off",
      files: "asked",
    };
    this.#film = new Film(review.match.id, {
      rally: () => this.#openRally,
      video: () => root.querySelector("video"),
      changed: () => this.#draw(),
    });
    addEventListener("keydown", (event) => this.#key(event));
    this.#become({});
    this.#part(open)?.scrollIntoView({ block: "center" });
    void askForFiles(review.match.id).then((files) => this.#become({ files }));
  }

  get #openRally() {
    return this.#state.review.rallies.find(({ number }) => number === this.#state.open) ?? null;
  }

  /** @param {number | null} rally @returns {HTMLElement | null} its place in the list */
  #part(rally) {
    return rally === null ? null : this.#root.querySelector(`[data-rally="${rally}"]`);
  }

  /** @param {Partial<ReviewState>} change */
  #become(change) {
    this.#state = { ...this.#state, ...change };
    const rally = this.#openRally;
    // A rally that the filters hide is not open either.
    if (rally !== null && !isWished(rally, this.#state.wish)) this.#state = { ...this.#state, open: null };
    history.replaceState(null, "", addressOf(new URL(location.href), this.#state.wish, this.#state.open));
    this.#draw();
  }

  #draw() {
    render(reviewView(this.#state, this.#film, this.#asked), this.#root);
  }

  /** @type {import("./drawing.js").Asked} */
  #asked = {
    open: (rally, open) => this.#open(rally, open),
    moment: (at) => this.#film.seek(at),
    filter: (form) => {
      const said = [...new FormData(form)].map(([name, value]) => [name, String(value)]);
      this.#become({ wish: readWish(new URLSearchParams(said)) });
    },
    everything: () => this.#become({ wish: readWish(new URLSearchParams()) }),
    figure: (figure) => {
      this.#become({ wish: { ...this.#state.wish, figure } });
      this.#root.querySelector(".count")?.scrollIntoView({ block: "nearest" });
    },
    keys: (on) => {
      lasting.setItem(KEPT_KEYS, on ? "on" : "off");
      this.#become({ keys: on });
    },
  };

  /** @param {number} number @param {boolean} open */
  #open(number, open) {
    if (open === (this.#state.open === number)) return;
    this.#become({ open: open ? number : null });
    const rally = this.#openRally;
    if (rally !== null) this.#film.seek(rally.at);
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const target = /** @type {Element | null} */ (event.target);
    const isTyping = target?.closest("select, input:not([type=checkbox]), video") != null;
    if (!this.#state.keys || event.ctrlKey || event.metaKey || event.altKey || isTyping) return;
    const key = event.key.toLowerCase();
    if (key === "n") this.#step(1);
    else if (key === "p") this.#step(-1);
    else if (key === "v") this.#film.playOrPause();
  }

  /** @param {1 | -1} way */
  #step(way) {
    const shown = shownRallies(this.#state);
    const open = this.#openRally;
    const from = open === null ? (way === 1 ? -1 : shown.length) : shown.indexOf(open);
    const next = shown[from + way];
    if (next === undefined) return;
    this.#open(next.number, true);
    const item = this.#part(next.number);
    item?.querySelector("summary")?.focus();
    item?.scrollIntoView({ block: "nearest" });
  }
}

/** @param {Review} review @returns {string} what came of it */
export function outcomeWords({ match, score }) {
  const games = score.finished.map(({ a, b }) => `${a}–${b}`).join(", ");
  const result =
    score.winner === null
      ? `game ${score.game}, ${score.points.a}–${score.points.b}, not over`
      : resultWords(score, match);
  return `${teamName(match, "a")} v ${teamName(match, "b")}: ${result}${games === "" ? "" : ` (${games})`}`;
}
