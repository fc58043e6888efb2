// The review of a match: filters, the list of rallies, totals, keys, and the
// address that says what is shown. One state: the wish and the rally that is open.

/**
 * @import { Review } from "../types/messages.js"
 * @import { Question, Wish } from "./filters.js"
 */
import { make, setText } from "../shared/dom.js";
import { lasting } from "../shared/memory.js";
import { resultWords, teamName } from "../shared/words.js";
import { besideList } from "./beside.js";
import { Film } from "./film.js";
import { LENGTHS, SIDES, THIRDS, addressOf, depthOfReview, gamesOf, isWished, readWish, totalsOf } from "./filters.js";
import { playerTable } from "./player-table.js";
import { RallyItem } from "./rally-item.js";
import { TakeAway } from "./take-away.js";

const KEPT_KEYS = "rallytide.review.keys";

export class ReviewPage {
  #root;
  #review;
  /** @type {Wish} */
  #wish = readWish(new URLSearchParams(location.search));
  /** @type {RallyItem[]} */
  #items;
  /** @type {RallyItem | null} */
  #open = null;
  #film;
  /** Single keys can be switched off (WCAG 2.1.4): dictation presses them, too. */
  #keysOn = make("input", { type: "checkbox", name: "keys" });
  #count = make("p", { class: "count", role: "status" });

  /** @param {HTMLElement} root @param {Review} review */
  constructor(root, review) {
    this.#root = root;
    this.#review = review;
    const files = new TakeAway(this.#part(".files"), review.match.id);
    this.#film = new Film(
      this.#part(".film"),
      review.match.id,
      () => this.#open?.rally ?? null,
      (began) => files.fit(began),
    );
    const asked = (/** @type {number} */ at) => this.#film.seek(at);
    const behind = (/** @type {number} */ number) => review.asides.filter(({ after }) => after === number);
    this.#items = review.rallies.map(
      (rally) =>
        new RallyItem(rally, behind(rally.number), review.match, {
          opened: () => this.#opened(rally.number),
          closed: () => this.#closed(rally.number),
          asked,
        }),
    );
    this.#part(".rallies").before(...besideList(behind(0), asked));
    this.#part(".rallies").append(...this.#items.map(({ node }) => node));
    this.#fillFilters();
    this.#part(".filters").after(
      this.#count,
      make("label", { class: "keys" }, this.#keysOn, "Keys: N next, P previous rally, V video"),
    );
    this.#keysOn.checked = lasting.getItem(KEPT_KEYS) !== "off";
    this.#keysOn.addEventListener("change", () => lasting.setItem(KEPT_KEYS, this.#keysOn.checked ? "on" : "off"));
    addEventListener("keydown", (event) => this.#key(event));
    const wanted = Number(new URLSearchParams(location.search).get("rally"));
    const first = this.#items.find(({ rally }) => rally.number === wanted);
    if (first !== undefined) first.open = true;
    this.#draw();
    first?.node.scrollIntoView({ block: "center" });
  }

  /** @param {string} selector */
  #part(selector) {
    return /** @type {HTMLElement} */ (this.#root.querySelector(selector));
  }

  #fillFilters() {
    const { match } = this.#review;
    const teams = (/** @type {(name: string) => string} */ words, before = "") =>
      SIDES.map((team) => [`${before}${team}`, words(teamName(match, team))]);
    const form = this.#part(".filters");
    form.append(
      this.#choice(
        "game",
        "Game",
        gamesOf(this.#review).map((game) => [game, `game ${game}`]),
      ),
      this.#choice(
        "won",
        "Won by",
        teams((name) => name),
      ),
      this.#choice("pressed", "Under pressure", [
        ...teams((name) => `lost: ${name}`, "lost-"),
        ...teams((name) => `escaped: ${name}`, "out-"),
      ]),
      this.#choice(
        "defense",
        "Won from defense",
        teams((name) => name),
      ),
      this.#choice(
        "third",
        "Third shot",
        THIRDS.map((stroke) => [stroke, stroke]),
      ),
      this.#choice(
        "long",
        "Long rallies",
        LENGTHS.map((least) => [least, `${least} shots or more`]),
      ),
    );
    const all = make("button", { type: "button", "data-do": "all" }, "All rallies");
    all.addEventListener("click", () => {
      for (const select of form.querySelectorAll("select")) select.value = "";
      this.#asked();
    });
    form.append(all);
    form.addEventListener("submit", (event) => event.preventDefault());
    form.addEventListener("change", () => this.#asked());
  }

  /** @param {Question} name @param {string} label @param {string[][]} answers */
  #choice(name, label, answers) {
    const asked = this.#wish[name];
    // An address may ask for what is not offered; then it is offered.
    const offered = asked === "" || answers.some(([value]) => value === asked) ? answers : [...answers, [asked, asked]];
    const select = make(
      "select",
      { name },
      make("option", { value: "" }, "any"),
      ...offered.map(([value, words]) => make("option", { value: value ?? "" }, words ?? "")),
    );
    select.value = asked;
    return make("label", {}, label, select);
  }

  #asked() {
    const form = /** @type {HTMLFormElement} */ (this.#part(".filters"));
    this.#wish = readWish(new URLSearchParams([...new FormData(form)].map(([name, value]) => [name, String(value)])));
    this.#draw();
  }

  get #shown() {
    return this.#items.filter(({ rally }) => isWished(rally, this.#wish));
  }

  #draw() {
    const shown = new Set(this.#shown);
    for (const item of this.#items) item.node.hidden = !shown.has(item);
    if (this.#open !== null && !shown.has(this.#open)) this.#open.open = false;
    setText(
      this.#count,
      shown.size === 0 && this.#items.length > 0
        ? "No rally matches. Remove a filter."
        : `${shown.size} of ${this.#items.length} rallies`,
    );
    this.#drawTotals();
    this.#writeAddress();
  }

  #drawTotals() {
    const { match } = this.#review;
    const depth = depthOfReview(this.#review);
    const ofShots = new Set(["pressed", "otherwise", "escape", "drop"]);
    const isCharted = (/** @type {string} */ key) =>
      depth === "shots" || depth === null || (depth === "ends" ? key !== "drop" : !ofShots.has(key) && key !== "own");
    const share = (
      /** @type {string} */ key,
      /** @type {"a" | "b"} */ team,
      /** @type {{ part: number, whole: number }} */ { part, whole },
    ) =>
      make(
        "td",
        {},
        ...(!isCharted(key)
          ? ["not charted"]
          : whole === 0
            ? ["none"]
            : [this.#figure(`${key}-${team}-part`, part), " of ", this.#figure(`${key}-${team}-whole`, whole)]),
      );
    const shown = this.#shown.map(({ rally }) => rally);
    this.#part(".of-players").replaceChildren(
      ...playerTable(shown, match, (figure, count) => this.#figure(figure, count)),
    );
    this.#part(".totals table").replaceChildren(
      make(
        "thead",
        {},
        make("tr", {}, make("td"), ...SIDES.map((team) => make("th", { scope: "col" }, teamName(match, team)))),
      ),
      make(
        "tbody",
        {},
        ...totalsOf(shown).map(({ key, label, a, b }) =>
          make("tr", {}, make("th", { scope: "row" }, label), share(key, "a", a), share(key, "b", b)),
        ),
      ),
    );
  }

  /**
   * A figure opens exactly the rallies that it counts, of those that are shown.
   * @param {string} figure @param {number} count
   */
  #figure(figure, count) {
    const button = make("button", { type: "button", class: "figure", "data-figure": figure }, String(count));
    button.addEventListener("click", () => {
      this.#wish = { ...this.#wish, figure };
      this.#draw();
      setText(this.#count, `${this.#count.textContent}: those of this figure. “All rallies” shows the rest again.`);
      this.#count.scrollIntoView({ block: "nearest" });
    });
    return button;
  }

  #writeAddress() {
    history.replaceState(null, "", addressOf(new URL(location.href), this.#wish, this.#open?.rally.number ?? null));
  }

  /** @param {number} number */
  #opened(number) {
    const item = this.#items.find(({ rally }) => rally.number === number) ?? null;
    if (item === this.#open || item === null || !item.open) return;
    const before = this.#open;
    this.#open = item;
    if (before !== null) before.open = false;
    this.#writeAddress();
    this.#film.seek(item.rally.at);
  }

  /** @param {number} number */
  #closed(number) {
    if (this.#open?.rally.number !== number) return;
    this.#open = null;
    this.#writeAddress();
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const target = /** @type {Element | null} */ (event.target);
    if (
      !this.#keysOn.checked ||
      event.ctrlKey ||
      event.metaKey ||
      event.altKey ||
      target?.closest("select, input:not([type=checkbox]), video") != null
    )
      return;
    const key = event.key.toLowerCase();
    if (key === "n") this.#step(1);
    else if (key === "p") this.#step(-1);
    else if (key === "v") this.#film.playOrPause();
  }

  /** @param {1 | -1} way */
  #step(way) {
    const shown = this.#shown;
    const from = this.#open === null ? (way === 1 ? -1 : shown.length) : shown.indexOf(this.#open);
    const next = shown[from + way];
    if (next === undefined) return;
    next.open = true;
    this.#opened(next.rally.number);
    next.summary.focus();
    next.node.scrollIntoView({ block: "nearest" });
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
