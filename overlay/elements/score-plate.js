// <rt-score-plate>: both teams, games won, points, who serves from where, the
// call, game and match point, change of ends, a pause, the result. Rows never
// swap: team a stays above. Attribute `detail` adds who serves by name and the
// time-outs left (for the booth).

/**
 * @import { Side, View } from "../types/view.js"
 * @import { MatchHeader, Score } from "../types/messages.js"
 */
import { betweenWords, timeOutOf } from "../shared/between.js";
import { make, setAttribute, setText } from "../shared/dom.js";
import {
  PAUSED_WORDS,
  byRetirement,
  callWords,
  gameWords,
  gamesToWin,
  playerName,
  pointAtStake,
  resultWords,
  serveWords,
  teamName,
} from "../shared/words.js";
import { needStyles } from "../shared/styles.js";
import { RtElement } from "./element.js";
import { setName, shape } from "./parts.js";

needStyles("score-plate.css", import.meta.url);

class Row {
  name = make("div", { class: "rt-name" });
  note = make("div", { class: "rt-note" });
  pips = make("div", { class: "rt-pips" });
  finished = make("div", { class: "rt-finished" });
  points = make("div", { class: "rt-points" });
  node;
  #team;

  /** @param {Side} team */
  constructor(team) {
    this.#team = team;
    this.node = make(
      "div",
      { class: "rt-row", "data-team": team },
      make("span", { class: "rt-edge" }),
      shape(team),
      make("div", { class: "rt-who" }, this.name, this.note),
      this.pips,
      this.finished,
      this.points,
    );
  }

  /**
   * @param {View} view
   * @param {boolean} withDetail
   */
  draw(view, withDetail) {
    const { match, score } = view;
    const team = this.#team;
    setName(this.name, teamName(match, team));
    setAttribute(this.node, "data-serving", score !== null && isServing(score, team) ? "" : null);
    setAttribute(this.node, "data-winner", score?.winner === team ? "" : null);
    drawNote(this.note, view, team, withDetail);
    drawPips(this.pips, match, score, team);
    drawFinished(this.finished, match, score, team);
    this.points.hidden = score === null || score.winner !== null;
    setText(this.points, score === null ? "" : String(score.points[team]));
  }
}

export class ScorePlate extends RtElement {
  /** @override */
  static get observedAttributes() {
    return [...RtElement.observedAttributes, "detail"];
  }

  #rows = { a: new Row("a"), b: new Row("b") };
  #game = make("span", { class: "rt-game" });
  #call = make("span", { class: "rt-call" });

  /** @override */
  build() {
    this.append(
      make(
        "div",
        { class: "rt-score", role: "group", "aria-label": "Score" },
        this.#rows.a.node,
        this.#rows.b.node,
        make("div", { class: "rt-foot" }, this.#game, this.#call),
      ),
    );
  }

  /**
   * @override
   * @param {View} view
   */
  draw(view) {
    const { match, score } = view;
    this.hidden = match === null;
    const withDetail = this.hasAttribute("detail");
    this.#rows.a.draw(view, withDetail);
    this.#rows.b.draw(view, withDetail);
    const event = eventWords(view, " ");
    const words = score === null ? "" : event || gameWords(score, match);
    const fit = footFit(words);
    setText(this.#game, fit === 3 && event !== "" ? eventWords(view, "\n") : words);
    setAttribute(this.#game, "data-event", event === "" ? null : "");
    setAttribute(this.#game, "data-fit", String(fit));
    setText(this.#call, score === null ? "" : callWords(score));
  }
}

/**
 * @param {Score} score
 * @param {Side} team
 */
function isServing(score, team) {
  return score.winner === null && score.serving === team;
}

/**
 * What the foot says instead of the game; empty where nothing is going on.
 * @param {View} view
 * @param {string} gap between the team and what is said of it
 */
function eventWords({ score, match, paused, between }, gap) {
  if (score === null) return "";
  if (score.winner !== null) return resultWords(score, match, gap);
  if (paused) return PAUSED_WORDS;
  return betweenWords(between, match, `,${gap}`) || (score.change_ends ? "Change ends" : "");
}

/**
 * How tightly the foot is set, so that a time-out names the team that took it:
 * narrower first, then on two lines.
 * @param {string} words
 * @returns {0 | 1 | 2 | 3}
 */
function footFit(words) {
  const { length } = [...words];
  if (length <= 32) return 0;
  if (length <= 42) return 1;
  return length <= 50 ? 2 : 3;
}

/**
 * @param {HTMLElement} node
 * @param {View} view
 * @param {Side} team
 * @param {boolean} withDetail
 */
function drawNote(node, view, team, withDetail) {
  const { match, score } = view;
  /** @type {{ kind: string, text: string }[]} */
  const notes = [];
  if (score !== null) {
    if (score.winner === null && timeOutOf(view) === team) notes.push({ kind: "stake", text: "time-out" });
    const stake = pointAtStake(score, team);
    if (stake !== "") notes.push({ kind: "stake", text: stake });
    if (isServing(score, team)) {
      const player = withDetail ? playerName(match, team, score.server_player) : "";
      const words = player === "" ? serveWords(score) : [...serveWords(score), player];
      notes.push(...words.map((text, at) => ({ kind: at === 0 ? "serve" : "", text })));
    } else if (score.winner === null) notes.push({ kind: "", text: "receiving" });
    if (score.winner === team) notes.push({ kind: "stake", text: "winner" });
    if (withDetail && score.winner === null) notes.push({ kind: "", text: timeOutWords(score.time_outs_left[team]) });
  }
  const text = notes.map((note) => note.text).join("|");
  if (node.dataset["notes"] === text) return;
  node.dataset["notes"] = text;
  node.dataset["fit"] = noteFit(text, notes.length);
  node.replaceChildren(
    ...notes.map(({ kind, text: words }) => make("span", kind === "" ? {} : { class: `rt-${kind}` }, words)),
  );
}

/**
 * How narrowly the line below a name is set, so that server, side, player and
 * time-outs stand there whole.
 * @param {string} text of all notes
 * @param {number} notes
 * @returns {"0" | "1" | "2"}
 */
function noteFit(text, notes) {
  const length = [...text].length + 2 * notes;
  if (length <= 48) return "0";
  return length <= 60 ? "1" : "2";
}

/** @param {number} left */
function timeOutWords(left) {
  return left === 1 ? "1 time-out left" : `${left} time-outs left`;
}

/**
 * Games won as marks to be filled; a single-game match has none.
 * @param {HTMLElement} node
 * @param {MatchHeader | null} match
 * @param {Score | null} score
 * @param {Side} team
 */
function drawPips(node, match, score, team) {
  const needed = match === null ? 0 : gamesToWin(match);
  node.hidden = needed < 2 || score === null || score.winner !== null;
  if (node.hidden || score === null) return;
  const won = score.games[team];
  if (node.dataset["won"] === `${won}/${needed}`) return;
  node.dataset["won"] = `${won}/${needed}`;
  const pips = Array.from({ length: needed }, (_, at) =>
    make("span", { class: "rt-pip", ...(at < won ? { "data-won": "" } : {}) }),
  );
  node.replaceChildren(make("span", { class: "rt-hidden" }, `games won: ${won}`), ...pips);
}

/**
 * After the match, game by game; a game cut short by a retirement stands last.
 * @param {HTMLElement} node
 * @param {MatchHeader | null} match
 * @param {Score | null} score
 * @param {Side} team
 */
function drawFinished(node, match, score, team) {
  node.hidden = score === null || score.winner === null;
  if (node.hidden || score === null) return;
  const other = team === "a" ? "b" : "a";
  const cut = byRetirement(score, match) ? [score.points] : [];
  const games = [...score.finished, ...cut];
  node.replaceChildren(
    ...games.map((game, at) =>
      make(
        "span",
        { class: "rt-final", ...(at < score.finished.length && game[team] > game[other] ? { "data-won": "" } : {}) },
        String(game[team]),
      ),
    ),
  );
}

customElements.define("rt-score-plate", ScorePlate);
