// What a match begins with: the form's answers as a header, or a chart file. Pure.

/**
 * @import { MatchHeader } from "../../types/messages.js"
 * @import { Entry } from "../../shared/charting/local-chart.js"
 */

/** Names that are nobody's: a team under one of them would be on air as such. */
const NOBODY = new Set(["home", "away"]);

/** @param {MatchHeader} header @returns {MatchHeader} the same @throws where a team has a name that says nothing */
export function named(header) {
  // A file may hold anything; what else is wrong with it the chart's own rules say.
  for (const name of [header.teams?.a?.name, header.teams?.b?.name]) {
    if (NOBODY.has(String(name).trim().toLowerCase()))
      throw new Error(`\u201c${name}\u201d would be on the stream as a team's name: enter the team's real name`);
  }
  return header;
}

/** @param {FormData} data @param {string} court @param {string} id @returns {MatchHeader} */
export function headerFrom(data, court, id) {
  const text = (/** @type {string} */ name) => String(data.get(name) ?? "").trim();
  const discipline = text("discipline") === "singles" ? "singles" : "doubles";
  const team = (/** @type {string} */ name) => ({
    name: text(name),
    players: discipline === "singles" ? [text(`${name}0`)] : [text(`${name}0`), text(`${name}1`)],
  });
  return {
    kind: "match",
    chart: 1,
    id: `match-${id}`,
    title: text("title"),
    court,
    teams: { a: team("a"), b: team("b") },
    format: {
      discipline,
      scoring: text("scoring") === "rally" ? "rally" : "side_out",
      points: Number(text("points")),
      win_by: 2,
      games: Number(text("games")),
    },
    first_serve: text("first_serve") === "b" ? "b" : "a",
  };
}

/**
 * @param {string} text of a chart file @returns {{ header: MatchHeader, entries: Entry[] }} without what a host added
 * @throws with the line that cannot be read
 */
export function chartFrom(text) {
  const lines = text
    .split("\n")
    .map((line, at) => ({ line, at: at + 1 }))
    .filter(({ line }) => line.trim() !== "");
  const [header, ...entries] = lines.map(({ line, at }) => {
    try {
      return JSON.parse(line);
    } catch (error) {
      throw new Error(`line ${at} of the file is not JSON: this is no chart, or a torn one`, { cause: error });
    }
  });
  if (header?.kind !== "match") throw new Error("line 1 of the file is no match header: this is no chart");
  const numbered = entries.filter(({ seq }) => typeof seq === "number").length;
  if (numbered !== 0 && numbered !== entries.length)
    throw new Error(`${numbered} of ${entries.length} entries of the file have a \`seq\`; all of them must or none`);
  if (numbered > 0) entries.sort((one, other) => one.seq - other.seq);
  return { header, entries: entries.map(({ seq: _, received: __, crc: ___, client: ____, ...entry }) => entry) };
}
