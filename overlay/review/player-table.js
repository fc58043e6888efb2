// The players' totals as a table: each share with the named shots or errors it rests on,
// each figure opens its rallies. Nothing where nobody is named, or in singles.

/**
 * @import { MatchHeader, ReviewRally } from "../types/messages.js"
 */
import { shape } from "../elements/parts.js";
import { make } from "../shared/dom.js";
import { PLAYER_ROWS } from "../shared/indicators.js";
import { playerName } from "../shared/words.js";
import { PLAYERS, PLAYER_FIGURES, playerTotals } from "./players.js";

const labels = PLAYER_FIGURES.map(
  ({ indicator }) => PLAYER_ROWS.find((row) => row.indicator === indicator)?.label ?? indicator,
);

/**
 * @param {readonly ReviewRally[]} rallies those that are shown
 * @param {MatchHeader} match
 * @param {(figure: string, count: number) => HTMLElement} figure a figure that opens its rallies
 * @returns {HTMLElement[]}
 */
export function playerTable(rallies, match, figure) {
  if (match.format.discipline === "singles") return [];
  const lines = PLAYERS.map((player) => ({ ...player, totals: playerTotals(rallies, player) }));
  if (!lines.some(({ totals }) => totals.some(({ whole }) => whole > 0))) return [];
  const named = lines
    .filter(({ player }) => player === 0)
    .reduce((sum, { totals }) => sum + (totals[0]?.whole ?? 0), 0);
  return [
    make(
      "table",
      { class: "players" },
      make("caption", {}, "Players"),
      make(
        "thead",
        {},
        make(
          "tr",
          {},
          make("th", { scope: "col" }, "Player"),
          ...labels.map((label) => make("th", { scope: "col" }, label)),
        ),
      ),
      make(
        "tbody",
        {},
        ...lines.map(({ team, player, totals }) =>
          make(
            "tr",
            {},
            make("th", { scope: "row" }, shape(team), playerName(match, team, player) || `Player ${player + 1}`),
            ...totals.map(({ key, part, whole }) => {
              const at = `${key}-${team}${player}`;
              return make(
                "td",
                {},
                ...(whole === 0 ? ["none named"] : [figure(`${at}-part`, part), " of ", figure(`${at}-whole`, whole)]),
              );
            }),
          ),
        ),
      ),
    ),
    make(
      "p",
      { class: "rests" },
      `Rests on the ${named === 1 ? "1 shot" : `${named} shots`} from the third of a rally on whose player was named.`,
    ),
  ];
}
