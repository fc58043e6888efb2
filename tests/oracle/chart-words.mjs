/**
 * Short ways to write charts and expectations in the tests of this folder.
 *
 * Times follow one another by a second, ids are `e1`, `e2`, … unless given.
 */
import { effectiveChart, parseChart } from "./chart.mjs";
import { ReadingBoard } from "./readings.mjs";
import { Match } from "./scoring.mjs";

/** @returns {any} a header; side-out doubles to 11, best of three, unless said otherwise */
export function headerFor(format = {}, firstServe = "a") {
  const whole = {
    discipline: "doubles",
    scoring: "side_out",
    points: 11,
    win_by: 2,
    games: 3,
    ...format,
  };
  const size = whole.discipline === "singles" ? 1 : 2;
  const players = (names) => names.slice(0, size);
  return {
    kind: "match",
    chart: 1,
    id: "test",
    title: "Test",
    court: "1",
    teams: {
      a: { name: "Alders", players: players(["Ari", "Ash"]) },
      b: { name: "Birches", players: players(["Bea", "Bo"]) },
    },
    format: whole,
    first_serve: firstServe,
  };
}

/** Entries with `id` and `at` filled in. */
export function numbered(contents) {
  return contents.map((content, index) => ({
    id: `e${index + 1}`,
    at: new Date(Date.UTC(2025, 0, 1) + index * 1000).toISOString(),
    ...content,
  }));
}

/** @returns {string} a chart file */
export function chartText(header, contents) {
  return [header, ...numbered(contents)].map((line) => `${JSON.stringify(line)}\n`).join("");
}

/** @returns the effective entries of a file with these lines */
export const effectiveOf = (contents, header = headerFor()) =>
  effectiveChart(parseChart(chartText(header, contents)).entries);

/** @param {string} winners such as `AAB`, one letter a rally */
export const rallies = (winners) => [...winners.toLowerCase()].map((team) => ({ kind: "rally_end", won_by: team }));

export const fix = (a, b, serving, more = {}) => ({ kind: "score_fix", points: { a, b }, serving, ...more });

/** @returns {Match} after these entries */
export function matchAfter(header, contents) {
  const match = new Match(header);
  for (const entry of contents) match.apply(entry);
  return match;
}

/** Call, server and court in the short form of the tables, such as `0-0-2 A1R`. */
export function shortForm(score) {
  const court = score.court === "right" ? "R" : "L";
  return `${score.call} ${score.serving.toUpperCase()}${score.server_player + 1}${court}`;
}

/** @returns {any[]} the score before the first entry and after each one */
export function scoresOf(header, contents) {
  const match = new Match(header);
  return [
    match.score(),
    ...contents.map((entry) => {
      match.apply(entry);
      return match.score();
    }),
  ];
}

/**
 * A rally in short form: `a:drop`, `b:volley/half_volley`, `a:dink!attackable`, and between shots
 * `!awkward` for a cue, `a@line` or `a1@back` for a depth; any other word is a kind without fields.
 */
export function play(text) {
  return text
    .trim()
    .split(/\s+/)
    .map((word) => {
      const shot = /^([ab]):(\w+)(?:\/(\w+))?(?:!([\w,]+))?$/.exec(word);
      if (shot) {
        const [, team, stroke, contact, cues] = shot;
        return {
          kind: "shot",
          team,
          stroke,
          ...(contact && { contact }),
          ...(cues && { cues: cues.split(",") }),
        };
      }
      const depth = /^([ab])([01])?@(\w+)$/.exec(word);
      if (depth) {
        const [, team, player, where] = depth;
        return { kind: "depth", team, depth: where, ...(player && { player: Number(player) }) };
      }
      if (word.startsWith("!")) return { kind: "cue", cue: word.slice(1) };
      if (/^(won|net|winner)=[ab]$/.test(word)) {
        const [how, team] = word.split("=");
        return how === "won" ? { kind: "rally_end", won_by: team } : { kind: "rally_end", how, by: team };
      }
      return { kind: word };
    });
}

/** @returns {ReadingBoard} after these entries */
export function boardAfter(contents, header = headerFor()) {
  const board = new ReadingBoard(header);
  for (const entry of effectiveOf(contents, header)) board.step(entry);
  return board;
}

/** One reading of the board. */
export function reading(board, indicator, team = null, slot = null) {
  return board.readings([indicator]).find((one) => one.team === team && one.slot === slot);
}

/** The initiative as text: who holds, how strongly, the rows read, the flags. */
export function initiativeOf(contents, header = headerFor()) {
  const { value, why, flags } = reading(boardAfter(contents, header), "initiative");
  const rows = why.map((row) => `${row.code}:${row.team}`).join(" ");
  const lean = `${value.toward ?? "nobody"} ${value.strength}`;
  return [lean, `[${rows}]`, ...flags].join(" ");
}

/** A share as text, such as `1/2`; a count as its number. */
export function shown(board, indicator, team = null, slot = null) {
  const { value } = reading(board, indicator, team, slot);
  return value.type === "share" ? `${value.part}/${value.whole}` : String(value.n ?? value.ms ?? value.text);
}
