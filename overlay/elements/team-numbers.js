// <rt-team-numbers>: both teams' numbers side by side, each with the number of
// cases behind it; a share is a percentage only from eight cases on, and then
// with the range that holds the true share in 95 of 100 such samples. Rows stand
// in a fixed order and appear when a host sends them; where the score alone is
// charted, those about shots stay away, and what was not charted is never a zero.

/**
 * @import { Side, View } from "../types/view.js"
 * @import { Row } from "../shared/indicators.js"
 */
import { DEPTH_WORDS, depthOfFeed } from "../shared/charted.js";
import { keyedChildren, make, setText } from "../shared/dom.js";
import { MATCH_ROWS, TEAM_ROWS, rowReading, scoresAlone } from "../shared/indicators.js";
import { rangeWords, teamName, valueWords } from "../shared/words.js";
import { needStyles } from "../shared/styles.js";
import { RtElement } from "./element.js";
import { setName, shape } from "./parts.js";

needStyles("team-numbers.css", import.meta.url);

/** Rallies after which something that never came up was not charted. */
const LEAST_TO_MISS = 8;

/** @param {Row} row */
const rowKey = ({ indicator, slot }) => `${indicator}|${slot ?? ""}`;

export class TeamNumbers extends RtElement {
  #heads = { a: make("span", { class: "rt-name" }), b: make("span", { class: "rt-name" }) };
  #rows = make("tbody");
  #match = make("tbody", { class: "rt-match-numbers" });
  #empty = make("p", { class: "rt-empty" }, "No statistics yet");
  #table = make("table");
  #note = make("p", { class: "rt-note" }, "Range below a percentage: likely true value (95%).");
  #charted = make("p", { class: "rt-note" });

  /** @override */
  build() {
    /** @param {Side} team */
    const head = (team) =>
      make("th", { scope: "col" }, make("span", { class: "rt-head" }, shape(team), this.#heads[team]));
    this.#table.append(
      make("caption", {}, "Team statistics"),
      make("colgroup", {}, make("col", { class: "rt-side" }), make("col"), make("col", { class: "rt-side" })),
      make("thead", {}, make("tr", {}, head("a"), make("td"), head("b"))),
      this.#rows,
      this.#match,
    );
    this.append(this.#charted, this.#table, this.#note, this.#empty);
  }

  /**
   * @override
   * @param {View} view
   */
  draw(view) {
    setName(this.#heads.a, teamName(view.match, "a"));
    setName(this.#heads.b, teamName(view.match, "b"));
    const alone = scoresAlone(view);
    /** @param {Row} row */
    const speaks = (row) => !alone || row.ofShots !== true;
    const rows = TEAM_ROWS.filter(speaks).filter(
      (row) => rowReading(view, row, "a") !== null || rowReading(view, row, "b") !== null,
    );
    fill(this.#rows, rows, (row) => [shownValue(view, row, "a", this.sample), shownValue(view, row, "b", this.sample)]);
    const single = MATCH_ROWS.filter(speaks).filter((row) => rowReading(view, row, null) !== null);
    fill(this.#match, single, (row) => [shownValue(view, row, null, this.sample)]);
    const isEmpty = rows.length + single.length === 0;
    this.#table.hidden = isEmpty;
    this.#empty.hidden = !isEmpty;
    const words = chartedWords(view, alone);
    setText(this.#charted, words);
    this.#charted.hidden = words === "";
    this.#note.hidden = this.#table.querySelector(".rt-range:not(:empty)") === null;
  }
}

/**
 * @param {View} view
 * @param {Row} row
 * @param {Side | null} team
 * @param {number} sample
 */
function shownValue(view, row, team, sample) {
  const reading = rowReading(view, row, team);
  // A slot comes with its first case, so that one team may have it before the other.
  if (reading === null) return { words: row.slot === undefined ? "not available" : "none yet", range: "" };
  const missing = notCharted(view, row);
  if (missing !== "") return { words: missing, range: "" };
  return { words: valueWords(reading.value, view.match, sample), range: rangeWords(reading.value, sample) };
}

/**
 * How deep the match is charted, and what the numbers therefore leave out.
 * @param {View} view
 * @param {boolean} alone
 */
function chartedWords(view, alone) {
  if (alone) return "Charted: score only. No shot statistics.";
  const depth = depthOfFeed(view);
  if (depth === null) return "";
  const rest = depth === "ends" ? ". Shot statistics count only what was charted." : "";
  return `Charted: ${DEPTH_WORDS[depth]}${rest}`;
}

/**
 * A share whose marks or ends nobody charted has no case on either side, however many
 * rallies are over: that is not a zero.
 * @param {View} view
 * @param {Row} row
 */
function notCharted(view, row) {
  if (row.rests === undefined || (view.score?.rallies ?? 0) < LEAST_TO_MISS) return "";
  const whole = (/** @type {Side} */ team) => {
    const value = rowReading(view, row, team)?.value;
    return value?.type === "share" ? value.whole : 0;
  };
  return whole("a") + whole("b") > 0 ? "" : row.rests;
}

/**
 * @param {HTMLElement} body
 * @param {readonly Row[]} rows
 * @param {(row: Row) => { words: string, range: string }[]} values one for the match, or one a team
 */
function fill(body, rows, values) {
  const byKey = new Map(rows.map((row) => [rowKey(row), row]));
  keyedChildren(
    body,
    [...byKey.keys()],
    () => make("tr"),
    (node, key) => {
      const row = /** @type {Row} */ (byKey.get(key));
      const [first, second] = values(row);
      if (node.childElementCount === 0) {
        const label = make("th", { scope: "row" }, row.label);
        if (second === undefined) {
          label.colSpan = 2;
          node.append(label, cell());
        } else node.append(cell(), label, cell());
      }
      const cells = node.querySelectorAll("td");
      [first, second].forEach((value, at) => {
        const [words, range] = cells[at]?.children ?? [];
        if (words === undefined || range === undefined || value === undefined) return;
        setText(words, value.words);
        setText(range, value.range);
      });
    },
  );
}

function cell() {
  return make("td", {}, make("span"), make("span", { class: "rt-range" }));
}

customElements.define("rt-team-numbers", TeamNumbers);
