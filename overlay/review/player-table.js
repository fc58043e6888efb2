// The players' totals as a table: each share with the named shots or errors it rests on,
// each figure opens its rallies. Nothing where nobody is named, or in singles.

/**
 * @import { MatchHeader, ReviewRally } from "../types/messages.js"
 */
import { countWords } from "../shared/format.js";
import { html, nothing } from "../shared/html.js";
import { PLAYER_ROWS } from "../shared/indicators.js";
import { playerName } from "../shared/words.js";
import { PLAYERS, PLAYER_FIGURES, playerTotals } from "./players.js";
import { shapeOf } from "./shape.js";

const labels = PLAYER_FIGURES.map(
  ({ indicator }) => PLAYER_ROWS.find((row) => row.indicator === indicator)?.label ?? indicator,
);

/**
 * @param {readonly ReviewRally[]} rallies those that are shown
 * @param {MatchHeader} match
 * @param {(figure: string, count: number) => unknown} figure a figure that opens its rallies
 */
export function playerTable(rallies, match, figure) {
  if (match.format.discipline === "singles") return nothing;
  const lines = PLAYERS.map((player) => ({ ...player, totals: playerTotals(rallies, player) }));
  if (!lines.some(({ totals }) => totals.some(({ whole }) => whole > 0))) return nothing;
  const named = lines
    .filter(({ player }) => player === 0)
    .reduce((sum, { totals }) => sum + (totals[0]?.whole ?? 0), 0);
  /** @param {string} at @param {{ part: number, whole: number }} share */
  const cell = (at, { part, whole }) =>
    whole === 0
      ? html`<td>none named</td>`
      : html`<td>${figure(`${at}-part`, part)} of ${figure(`${at}-whole`, whole)}</td>`;
  return html`<table class="players">
      <caption>Players</caption>
      <thead>
        <tr>
          <th scope="col">Player</th>
          ${labels.map((label) => html`<th scope="col">${label}</th>`)}
        </tr>
      </thead>
      <tbody>
        ${lines.map(
          ({ team, player, totals }) => html`<tr>
            <th scope="row">${shapeOf(team)}${playerName(match, team, player) || `Player ${player + 1}`}</th>
            ${totals.map((total) => cell(`${total.key}-${team}${player}`, total))}
          </tr>`,
        )}
      </tbody>
    </table>
    <p class="rests">
      ${`Counted from the ${countWords(named, "shot")}, the third of a rally or later, whose player was named.`}
    </p>`;
}
