// Every state the graphic can be in: what the feed says, and what a viewer must
// then read. Used by the test of the states and by the pictures to look at.
// Invented teams; numbers are made up, not computed.

/** @import { FeedMessage, MatchHeader, RallyEndView, RallyView, Score, Snapshot, Stroke, Team } from "../../types/messages.js" */
import { HEADER, SCORE, held, initiative, rally, reading, shot, snapshot, update } from "./states.js";

/** The larger pieces, which the address has to ask for. */
export const LARGE = "pieces=score,moment,show,tide,ribbon";

export const LONG = {
  ...HEADER,
  teams: {
    a: {
      name: "Featherstonehaugh-Whitcombe / Papadimitropoulos",
      players: ["Alexandrina Featherstonehaugh-Whitcombe", "Theo Papadimitropoulos"],
    },
    b: { name: "Montgomery-Oyelaran / Wiśniewska", players: ["Jo Montgomery-Oyelaran", "Ada Wiśniewska"] },
  },
};
const NO_PLAYERS = { ...HEADER, teams: { a: { name: "Quill / Abara" }, b: { name: "", players: [] } } };
/** @type {MatchHeader} */
const SINGLES = {
  ...HEADER,
  teams: { a: { name: "Ines Quill", players: ["Ines Quill"] }, b: { name: "Lise Tarrow", players: ["Lise Tarrow"] } },
  format: { discipline: "singles", scoring: "side_out", points: 11, win_by: 2, games: 1 },
};
/** @type {MatchHeader} */
const RALLY_SCORING = {
  ...HEADER,
  format: { discipline: "doubles", scoring: "rally", points: 21, win_by: 2, games: 5 },
};

const ended = (/** @type {Partial<RallyEndView>} */ end) =>
  update(42, {
    readings: [initiative(null)],
    rally: { number: 12, shots: [], end: { entry: "r12e", won_by: null, how: null, by: null, player: null, ...end } },
  });
const scored = (/** @type {Partial<Score>} */ extra, seq = 42) => update(seq, { score: { ...SCORE, ...extra } });
const streak = (/** @type {Team} */ team, /** @type {number} */ n, seq = 42) =>
  update(seq, { readings: [initiative(null), reading("escape.streak", team, { type: "count", n })] });
/** A rally of many shots that changes hands. @param {number} length @returns {RallyView} */
const longRally = (length) => {
  /** @type {Stroke[]} */
  const strokes = ["dink", "dink", "speedup", "block", "volley", "reset"];
  const shots = Array.from({ length }, (_, at) => {
    const toward = at % 7 < 3 ? null : at % 14 < 7 ? "a" : "b";
    return shot(at + 1, at % 2 === 0 ? "b" : "a", at === 0 ? "serve" : (strokes[at % 6] ?? "other"), {
      toward,
      strength: toward === null ? 0 : 0.3 + (at % 3) * 0.35,
    });
  });
  return { ...rally("a"), shots };
};

/**
 * `says`: what is read where; `not`: what nobody may read anywhere.
 * @type {{ name: string, messages: [Snapshot, ...FeedMessage[]], query?: string, says: Record<string, RegExp>, not?: RegExp, lost?: true }[]}
 */
export const GRAPHIC_STATES = [
  {
    name: "offense",
    messages: [held("b", 1, ["attackable"])],
    says: { "rt-tide-line": /defense.*high ball.*offense/s },
  },
  { name: "neutral", messages: [held(null)], says: { "rt-tide-line": /neutral/ }, not: /offense|defense/ },
  {
    name: "long names",
    messages: [{ ...held("b", 1, ["body", "half_volley"]), match: LONG }, streak("a", 3)],
    says: {
      "rt-score-plate": /Featherstonehaugh/,
      "rt-streak-moment": /Featherstonehaugh.*out of pressure.*3 times in a row/s,
    },
  },
  {
    name: "turned, long names",
    messages: [
      { ...held("a"), match: LONG },
      update(42, { readings: [initiative("b"), reading("escape.streak", "b", { type: "count", n: 12 })] }),
    ],
    says: { "rt-streak-moment": /Wiśniewska.*from defense to offense/s },
  },
  {
    name: "missing players and name",
    messages: [{ ...held("a"), match: NO_PLAYERS }],
    says: { "rt-score-plate": /Quill \/ Abara.*Team B/s },
    not: /undefined|null/,
  },
  {
    name: "singles",
    messages: [
      {
        ...held("a"),
        match: SINGLES,
        score: {
          ...SCORE,
          game: 1,
          games: { a: 0, b: 0 },
          finished: [],
          call: "5-3",
          server: null,
          server_player: 0,
          receiver_player: 0,
        },
      },
    ],
    says: { "rt-score-plate": /Ines Quill.*serving.*right side.*Game to 11.*5–3/s },
  },
  {
    name: "rally scoring, best of five",
    messages: [
      {
        ...held("a"),
        match: RALLY_SCORING,
        score: {
          ...SCORE,
          game: 4,
          games: { a: 2, b: 1 },
          finished: [
            { a: 21, b: 7 },
            { a: 19, b: 21 },
            { a: 24, b: 22 },
          ],
          call: "15-13",
          server: null,
          points: { a: 13, b: 15 },
        },
      },
    ],
    says: { "rt-score-plate": /serving.*Game 4, best of 5.*15–13/s },
  },
  {
    name: "score alone",
    messages: [
      snapshot({
        readings: [initiative(null)],
        rally: {
          number: 12,
          shots: [],
          end: { entry: "e", won_by: "a", how: null, by: null, player: null },
          earlier: [],
        },
      }),
    ],
    says: { "rt-score-plate": /5–3–1/ },
    not: /neutral|shots/,
  },
  {
    name: "no readings yet",
    messages: [
      snapshot({ readings: [], rally: null, score: { ...SCORE, points: { a: 0, b: 0 }, call: "0-0-2", server: 2 } }),
    ],
    says: { "rt-score-plate": /0–0–2/ },
    not: /neutral|offense|none yet/,
  },
  {
    name: "plugin unavailable",
    messages: [
      { ...held("a"), readings: [], unavailable: [{ plugin: "initiative", message: "used more time than it may" }] },
    ],
    says: { "rt-rally-ribbon": /3 shots/ },
    not: /neutral|offense|defense|plugin|initiative/,
  },
  {
    name: "between rallies",
    messages: [held("a"), ended({ won_by: "a", how: "out", by: "b" })],
    says: { "rt-rally-ribbon": /won, ball out/ },
    not: /offense|defense|neutral/,
  },
  {
    name: "changed server",
    messages: [held("a"), scored({ call: "5-3-2", server: 2, server_player: 0, court: "left" })],
    says: { '.rt-row[data-team="b"]': /server 2.*left side/s, "rt-score-plate": /5–3–2/ },
  },
  {
    name: "side out",
    messages: [held("a"), scored({ call: "3-5-1", serving: "a", court: "right" })],
    says: { '.rt-row[data-team="a"]': /server 1/, '.rt-row[data-team="b"]': /receiving/ },
  },
  {
    name: "game point",
    messages: [held("a"), scored({ game_point: "b", points: { a: 3, b: 10 }, call: "10-3-1" })],
    says: { '.rt-row[data-team="b"]': /game point/, "rt-streak-moment": /game point/ },
  },
  {
    name: "match point",
    messages: [
      held("a"),
      scored({ game_point: "a", match_point: "a", serving: "a", points: { a: 10, b: 8 }, call: "10-8-2", server: 2 }),
    ],
    says: { '.rt-row[data-team="a"]': /match point/, "rt-streak-moment": /match point/ },
    not: /game point/,
  },
  {
    name: "game won",
    messages: [
      held("a"),
      scored({
        game: 3,
        finished: [
          { a: 11, b: 7 },
          { a: 9, b: 11 },
        ],
        games: { a: 1, b: 1 },
        points: { a: 0, b: 0 },
        call: "0-0-2",
        server: 2,
        change_ends: true,
      }),
    ],
    says: { "rt-streak-moment": /won game 2.*11–9/s, ".rt-foot": /Change ends/ },
  },
  {
    name: "match won",
    messages: [
      held("a"),
      scored({
        winner: "a",
        call: null,
        games: { a: 2, b: 1 },
        points: { a: 12, b: 10 },
        finished: [
          { a: 11, b: 7 },
          { a: 4, b: 11 },
          { a: 12, b: 10 },
        ],
      }),
    ],
    says: { "rt-score-plate": /winner.*11.*4.*12.*Quill \/ Abara won the match/s },
    not: /offense|serving|server/,
  },
  {
    name: "opponents retired",
    messages: [snapshot({ score: { ...SCORE, call: null, winner: "a" } })],
    says: { ".rt-foot": /Quill \/ Abara won the match, opponents retired/ },
  },
  {
    name: "replay",
    messages: [held("a"), { ...ended({ how: "replay" }), entry: { id: "r12e", kind: "replay" } }],
    says: { "rt-rally-ribbon": /replay/, ".rt-foot": /Replay/ },
    not: /offense|won by|winner/,
  },
  {
    name: "penalty",
    messages: [
      snapshot(),
      {
        ...scored({ points: { a: 3, b: 4 }, call: "4-3-1", court: "left" }),
        entry: { id: "t1", kind: "penalty", team: "b" },
      },
    ],
    says: { "rt-score-plate": /4–3–1/, ".rt-foot": /Technical foul, Fenn \/ Tarrow/ },
  },
  {
    name: "time-out",
    messages: [
      held("a"),
      ended({ won_by: "b", how: "winner", by: "b" }),
      { ...scored({ time_outs_left: { a: 1, b: 1 } }, 43), entry: { id: "t1", kind: "time_out", team: "a" } },
    ],
    says: { '.rt-row[data-team="a"]': /time-out/, ".rt-foot": /Time-out, Quill \/ Abara.*5–3–1/s },
    not: /offense|defense|neutral/,
  },
  {
    name: "medical time-out, long names",
    messages: [
      {
        ...held("a"),
        match: LONG,
        rally: { ...rally("a"), end: { entry: "r12e", won_by: "a", how: "winner", by: "a", player: null } },
      },
      update(43, { entry: { id: "t1", kind: "time_out", team: "a", medical: true } }),
    ],
    says: {
      '.rt-row[data-team="a"]': /time-out/,
      ".rt-foot": /Medical time-out,\nFeatherstonehaugh-Whitcombe \/ Papadimitropoulos/,
    },
    not: /offense|defense/,
  },
  {
    name: "time-out, long names",
    messages: [
      {
        ...held("a"),
        match: LONG,
        rally: { ...rally("a"), end: { entry: "r12e", won_by: "a", how: "winner", by: "a", player: null } },
      },
      update(43, { entry: { id: "t1", kind: "time_out", team: "b" } }),
    ],
    says: { ".rt-foot": /Time-out, Montgomery-Oyelaran \/ Wiśniewska/ },
    not: /offense|defense/,
  },
  {
    name: "the match won, long names",
    messages: [snapshot({ match: LONG, score: { ...SCORE, call: null, winner: "a" } })],
    says: { ".rt-foot": /Featherstonehaugh-Whitcombe \/ Papadimitropoulos\nwon the match, opponents retired/ },
  },
  {
    name: "time-out, no score plate",
    query: "pieces=tide,ribbon",
    messages: [
      {
        ...held("a"),
        match: LONG,
        between: { id: "t1", kind: "time_out", team: "b" },
        rally: { ...rally("a"), end: { entry: "r12e", won_by: "a", how: "winner", by: "a", player: null } },
      },
    ],
    says: { "rt-tide-line": /Time-out, Montgomery-Oyelaran/ },
    not: /offense|defense/,
  },
  {
    name: "time-out, score alone",
    messages: [
      snapshot({
        readings: [initiative(null)],
        rally: {
          number: 12,
          shots: [],
          end: { entry: "e", won_by: "a", how: null, by: null, player: null },
          earlier: [],
        },
        between: { id: "t1", kind: "time_out", team: "b" },
      }),
    ],
    says: { ".rt-foot": /Time-out, Fenn/, '.rt-row[data-team="b"]': /time-out.*server 1/s },
    not: /neutral/,
  },
  {
    name: "score corrected",
    messages: [
      snapshot(),
      { ...scored({ points: { a: 4, b: 5 }, call: "5-4-1" }), entry: { id: "f1", kind: "score_fix" } },
    ],
    says: { ".rt-foot": /Score corrected.*5–4–1/s },
  },
  {
    name: "change of ends",
    messages: [
      held("a"),
      ended({ won_by: "b", how: "winner", by: "b" }),
      scored({ change_ends: true, points: { a: 3, b: 6 }, call: "6-3-1" }, 43),
    ],
    says: { ".rt-foot": /Change ends.*6–3–1/s },
  },
  {
    name: "corrected",
    messages: [
      held("a"),
      {
        ...snapshot({
          seq: 42,
          revision: 1,
          reason: "corrected",
          score: { ...SCORE, points: { a: 4, b: 5 }, call: "5-4-1" },
        }),
        rally: rally(null),
      },
    ],
    says: { "rt-score-plate": /5–4–1/, "rt-tide-line": /neutral/ },
    not: /offense/,
  },
  {
    name: "reconnecting",
    messages: [held("a")],
    lost: true,
    says: { "rt-score-plate": /5–3–1/ },
    not: /offense|defense|neutral/,
  },
  {
    name: "paused",
    messages: [held("a"), update(41, { paused: true })],
    says: { ".rt-foot": /Play is paused/ },
    not: /offense|defense|neutral/,
  },
  {
    name: "long rally",
    messages: [{ ...held("a"), rally: longRally(47) }],
    says: { "rt-rally-ribbon": /47 shots.*\+30/s },
  },
  {
    name: "two numbers",
    query: "show=rally.longest,escape.share",
    messages: [
      { ...held("b"), readings: [...held("b").readings, reading("rally.longest", null, { type: "count", n: 31 })] },
    ],
    says: { "rt-named-indicator": /Longest rally\s*31/ },
  },
  {
    name: "no match",
    messages: [snapshot({ match: null, score: null, readings: [], rally: null })],
    says: {},
    not: /./,
  },
];
