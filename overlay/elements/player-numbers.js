// <rt-player-numbers>: what each player had of the team's shots, of the pressure and of
// the errors, and on how many named shots that rests. Stays away where nobody is named,
// in singles, and where the score alone is charted.

/**
 * @import { Side, View } from "../types/view.js"
 * @import { Reading } from "../types/messages.js"
 */
import { make } from "../shared/dom.js";
import { PLAYER_ROWS, scoresAlone } from "../shared/indicators.js";
import { readingKey } from "../shared/readings.js";
import { needStyles } from "../shared/styles.js";
import { playerName, rangeWords, valueWords } from "../shared/words.js";
import { RtElement } from "./element.js";
import { shape } from "./parts.js";

needStyles("player-numbers.css", import.meta.url);

const PLAYERS = /** @type {const} */ (["a", "b"]).flatMap((team) => [0, 1].map((player) => ({ team, player })));

export class PlayerNumbers extends RtElement {
  #body = make("tbody");
  #rests = make("p", { class: "rt-note" });
  #table = make(
    "table",
    {},
    make("caption", {}, "Player statistics"),
    make(
      "thead",
      {},
      make(
        "tr",
        {},
        make("th", { scope: "col" }, "Player"),
        ...PLAYER_ROWS.map(({ label }) => make("th", { scope: "col" }, label)),
      ),
    ),
    this.#body,
  );
  #drawn = "";

  /** @override */
  build() {
    this.hidden = true;
    this.append(this.#table, this.#rests);
  }

  /**
   * @override
   * @param {View} view
   */
  draw(view) {
    const lines = scoresAlone(view)
      ? []
      : PLAYERS.flatMap(({ team, player }) => lineOf(view, team, player, this.sample));
    this.hidden = !lines.some(({ isNamed }) => isNamed);
    const drawn = JSON.stringify(lines);
    if (this.hidden || drawn === this.#drawn) return;
    this.#drawn = drawn;
    this.#body.replaceChildren(
      ...lines.map(({ team, name, cells }) =>
        make(
          "tr",
          {},
          make("th", { scope: "row" }, make("span", { class: "rt-head" }, shape(team), name)),
          ...cells.map(({ words, range }) =>
            make("td", {}, make("span", {}, words), make("span", { class: "rt-range" }, range)),
          ),
        ),
      ),
    );
    this.#rests.textContent = restsWords(view);
  }
}

/**
 * @param {View} view
 * @param {Side} team
 * @param {number} player
 * @param {number} sample
 */
function lineOf(view, team, player, sample) {
  const readings = PLAYER_ROWS.map(({ indicator }) => of(view, indicator, team, player));
  if (readings.every((reading) => reading === null)) return [];
  return [
    {
      team,
      name: playerName(view.match, team, player) || `Player ${player + 1}`,
      isNamed: readings.some((reading) => reading?.value.type === "share" && reading.value.whole > 0),
      cells: readings.map((reading) =>
        reading === null
          ? { words: "not available", range: "" }
          : { words: valueWords(reading.value, view.match, sample), range: rangeWords(reading.value, sample) },
      ),
    },
  ];
}

/**
 * @param {View} view
 * @param {string} indicator
 * @param {Side} team
 * @param {number} player
 * @returns {Reading | null}
 */
function of(view, indicator, team, player) {
  return view.readings[readingKey({ indicator, team, player, slot: null })] ?? null;
}

/**
 * A team's named shots are the whole of either partner's share of them.
 * @param {View} view
 */
function restsWords(view) {
  const named = /** @type {const} */ (["a", "b"])
    .map((team) => of(view, "player.shots", team, 0)?.value)
    .reduce((sum, value) => sum + (value?.type === "share" ? value.whole : 0), 0);
  const shots = named === 1 ? "1 shot" : `${named} shots`;
  return `Rests on the ${shots} from the third of a rally on whose player was named.`;
}

customElements.define("rt-player-numbers", PlayerNumbers);
