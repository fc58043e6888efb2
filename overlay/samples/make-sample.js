// Writes samples/invented-match.jsonl: a recorded feed of the end of an invented
// match, for tests and for looking at the pages without a host. People, teams
// and play are made up; what each shot left behind is written down by hand, not
// computed. Run `npm run sample` after a change.

import { writeFileSync } from "node:fs";
import { initialState, readingKey, reduce } from "../shared/state.js";

const MATCH = {
  kind: "match",
  chart: 1,
  id: "invented-harbour-day",
  title: "Harbour Day, last round",
  court: "1",
  teams: {
    a: { name: "Quill / Abara", players: ["Ines Quill", "Tobi Abara"] },
    b: { name: "Fenn / Tarrow", players: ["Maro Fenn", "Lise Tarrow"] },
  },
  format: { discipline: "doubles", scoring: "side_out", points: 11, win_by: 2, games: 3 },
  first_serve: "b",
};

/** Why codes, as "code" (against the team named with the shot). */
const HELD = { b: "a", a: "b" };

/**
 * A rally as lines "team stroke [contact] [cues] > holder strength codes".
 * Without ">" nobody holds. `?` as stroke is the shot nobody saw.
 */
const RALLIES = [
  {
    number: 31,
    shots: [
      "a serve",
      "b return > b 1 depth",
      "a drop > b 1 depth",
      "b dink",
      "a dink",
      "b dink +attackable > a 1 attackable",
      "a speedup air > a 1 air,attackable",
      "b block air > a 1 air",
      "a overhead air > a 1 air",
    ],
    end: { won_by: "a", how: "winner", by: "a" },
    score: { points: [10, 8], serving: "a", server: 1, player: 1, court: "left", stake: "a" },
    numbers: {
      "escape.share|b": [4, 9],
      "approach.reached|a": [7, 11],
      "offense.finished|a": [9, 13],
      "serve.won|a": [14, 30],
    },
  },
  {
    number: 32,
    shots: [
      "a serve",
      "b return > b 1 depth",
      "a drive > b 1 depth",
      "b volley air > b 1 air,depth",
      "a reset half_volley > b 1 depth,half_volley",
      "b dink",
      "a dink +off_balance > b 1 body",
      "b speedup air > b 1 air",
      "a block air > b 1 air",
      "b volley air > b 1 air",
      "a reset air > b 1 air",
      "b dink",
      "a dink",
      "b dink",
      "a dink",
    ],
    streaks: { 6: ["a", 1], 12: ["a", 2] },
    end: { won_by: "b", how: "net", by: "a" },
    score: { points: [10, 8], serving: "a", server: 2, player: 0, court: "right", stake: "a" },
    numbers: { "escape.share|a": [8, 12], "approach.reached|a": [8, 12], "gift.share|a": [3, 7] },
    prompt: ["streak-a", "Twice in that rally Quill and Abara were pinned, and twice they reset it to level.", 11],
  },
  {
    number: 33,
    shots: ["a serve", "b return > b 1 depth", "a drop > b 1 depth"],
    end: { won_by: null, how: "replay", by: null },
  },
  {
    number: 34,
    shots: [
      "a serve",
      "b return > b 1 depth",
      "a ?",
      "b volley air > b 1 air,depth",
      "a lob air > b 1 air,depth",
      "b overhead air > b 1 air,depth",
      "a block air +awkward > b 1 air,body,depth",
    ],
    end: { won_by: "b", how: "out", by: "a" },
    streakAtEnd: ["a", 0],
    score: { points: [10, 8], serving: "b", server: 1, player: 0, court: "right" },
    numbers: { "escape.share|a": [8, 13], "offense.finished|b": [7, 12] },
    timeOut: "a",
  },
  {
    number: 35,
    shots: [
      "b serve",
      "a return > a 1 depth",
      "b drop > a 1 depth",
      ...Array.from({ length: 30 }, (_, at) => `${at % 2 === 0 ? "a" : "b"} dink`),
      "a dink +attackable > b 1 attackable",
      "b speedup air > b 1 air,attackable",
      "a volley air +off_balance > b 0.333 air,body|air",
      "b volley air > b 1 air",
      "a block air > b 1 air",
      "b erne air > b 1 air",
    ],
    end: { won_by: "b", how: "winner", by: "b" },
    score: { points: [10, 9], serving: "b", server: 1, player: 0, court: "left" },
    numbers: { "sitter.punished|b": [5, 8], "rally.longest|": 39, "approach.reached|b": [6, 9] },
    prompt: ["longest", "Thirty-nine shots: the longest rally of the match, ended by one ball that sat up.", 34],
  },
  {
    number: 36,
    shots: [
      "b serve",
      "a return > a 1 depth",
      "b drop > a 1 depth",
      "a volley air > a 1 air,depth",
      "b reset air > a 1 air,depth",
      "a dink",
      "b dink",
      "a speedup bounce",
      "b volley air > b 1 air",
      "a volley air > b 0",
      "b drive bounce",
      "a volley air > a 1 air",
    ],
    streaks: { 6: ["b", 1] },
    end: { won_by: "a", how: "unknown", by: null },
    score: { points: [10, 9], serving: "b", server: 2, player: 1, court: "right" },
    numbers: { "escape.share|b": [5, 10], "speedup.won|a|forced": [2, 5] },
    corrected: true,
  },
  {
    number: 37,
    shots: [
      "b serve",
      "a return > a 1 depth",
      "b drive > a 1 depth",
      "a volley air > a 1 air,depth",
      "b reset half_volley > a 1 depth,half_volley",
      "a volley air > a 1 air,depth",
      "b lob air > a 1 air,depth",
    ],
    end: { won_by: "a", how: "out", by: "b" },
    streakAtEnd: ["b", 0],
    score: { points: [10, 9], serving: "a", server: 1, player: 0, court: "right", stake: "a" },
    numbers: { "escape.share|b": [5, 11] },
  },
  {
    number: 38,
    shots: [
      "a serve",
      "b return > b 1 depth",
      "a drop > b 1 depth",
      "b dink",
      "a dink +off_balance > b 1 body",
      "b speedup air > b 1 air",
      "a volley air > a 0.333 air|air",
      "b block air > a 1 air",
      "a overhead air > a 1 air",
    ],
    streaks: { 7: ["a", 1] },
    end: { won_by: "a", how: "winner", by: "a" },
    score: { points: [11, 9], serving: "a", server: 1, player: 0, court: "right", winner: "a" },
    numbers: { "escape.share|a": [9, 14] },
  },
];

const START_NUMBERS = {
  "escape.streak|a": 0,
  "escape.streak|b": 0,
  "escape.best|a": 4,
  "escape.best|b": 3,
  "escape.share|a": [6, 10],
  "escape.share|b": [4, 8],
  "approach.reached|a": [6, 10],
  "approach.reached|b": [5, 8],
  "offense.finished|a": [8, 12],
  "offense.finished|b": [6, 11],
  "serve.won|a": [13, 29],
  "serve.won|b": [11, 27],
  "sitter.punished|a": [3, 4],
  "sitter.punished|b": [4, 7],
  "speedup.won|a|forced": [1, 4],
  "speedup.won|b|forced": [2, 3],
  "gift.share|a": [2, 6],
  "gift.share|b": [3, 8],
  "score.run|a": 1,
  "score.run|b": 0,
  "rally.shots|": 0,
  "rally.longest|": 31,
};

const lines = [];
let state = initialState();
let at = 0;
let seq = 400;
let revision = 0;

function send(message) {
  lines.push({ at_ms: at, message });
  state = reduce(state, message);
}

function update(parts) {
  seq += 1;
  send({ type: "update", seq, revision, readings: [], ...parts });
}

function reading(indicator, team, value, extra = {}) {
  return {
    indicator,
    team,
    player: null,
    slot: null,
    value,
    why: [],
    flags: [],
    plugin: indicator.split(".")[0],
    seq,
    ...extra,
  };
}

function number(key, value) {
  const [indicator, team, slot] = key.split("|");
  const shaped = Array.isArray(value)
    ? { type: "share", part: value[0], whole: value[1] }
    : { type: "count", n: value };
  return reading(indicator, team || null, shaped, { slot: slot ?? null });
}

function lean(shot) {
  return reading(
    "initiative",
    null,
    { type: "lean", toward: shot.toward, strength: shot.strength },
    { why: shot.why, flags: shot.flags },
  );
}

const NOBODY = { toward: null, strength: 0, why: [], flags: [] };

/** Reads one line of a rally's shots. */
function parseShot(line, n, rally) {
  const [said, held] = line.split(" > ");
  const [team, stroke, ...rest] = said.split(" ");
  const entry = stroke === "?" ? null : `r${rally}s${n}`;
  const [toward, strength, codes] = held === undefined ? [null, "0", undefined] : held.split(" ");
  const [against, contra] = (codes ?? "").split("|").map((list) => list.split(",").filter(Boolean));
  const row = (side) => (code) => ({
    code,
    team: side,
    entry: entry ?? `r${rally}s${n - 1}`,
    inferred: code === "depth",
  });
  const why = toward === null ? [] : [...against.map(row(HELD[toward])), ...(contra ?? []).map(row(toward))];
  why.sort((one, other) => one.code.localeCompare(other.code) || one.team.localeCompare(other.team));
  const flags = contra?.length ? ["contested"] : toward !== null && why.length === 0 ? ["carried"] : [];
  return {
    n,
    entry,
    team,
    stroke: stroke === "?" ? null : stroke,
    contact: rest.find((word) => !word.startsWith("+")) ?? (n === 1 || stroke === "?" ? null : "bounce"),
    cues: rest.filter((word) => word.startsWith("+")).map((word) => word.slice(1)),
    assumed: stroke === "?",
    toward,
    strength: Number(strength),
    why,
    flags,
  };
}

function score({ points: [a, b], serving, server, player, court, stake = null, winner = null }, rallies) {
  const receiving = serving === "a" ? b : a;
  const odd = receiving % 2;
  const [own, other] = serving === "a" ? [a, b] : [b, a];
  return {
    game: 2,
    games: { a: winner === "a" ? 2 : 1, b: 0 },
    points: { a, b },
    call: winner === null ? `${own}-${other}-${server}` : null,
    serving,
    server,
    server_player: player,
    receiver_player: court === "right" ? odd : 1 - odd,
    court,
    finished:
      winner === null
        ? [{ a: 11, b: 6 }]
        : [
            { a: 11, b: 6 },
            { a, b },
          ],
    change_ends: false,
    near: "b",
    time_outs_left: { a: rallies >= 34 ? 1 : 2, b: 1 },
    game_point: winner === null ? stake : null,
    match_point: winner === null ? stake : null,
    winner,
    rallies,
  };
}

let currentScore = score({ points: [9, 8], serving: "a", server: 1, player: 1, court: "right" }, 30);

send({
  type: "snapshot",
  seq,
  revision,
  match: MATCH,
  score: currentScore,
  readings: [
    lean(NOBODY),
    reading("depth", "a", { type: "text", text: "back" }, { flags: ["inferred"] }),
    reading("depth", "b", { type: "text", text: "back" }, { flags: ["inferred"] }),
    ...Object.entries(START_NUMBERS).map(([key, value]) => number(key, value)),
  ].sort((one, other) => (readingKey(one) < readingKey(other) ? -1 : 1)),
  rally: { number: 30, shots: [], end: null, earlier: [] },
});

let counted = 30;
for (const rally of RALLIES) {
  at += 4000;
  rally.shots.forEach((line, index) => {
    const shot = parseShot(line, index + 1, rally.number);
    at += shot.contact === "air" ? 480 : 850;
    if (shot.assumed) return;
    const before = rally.shots[index - 1] ?? "";
    const assumed = before.includes("?") ? [parseShot(before, index, rally.number)] : [];
    const readings = [lean(shot), number("rally.shots|", shot.n)];
    const streak = rally.streaks?.[shot.n];
    if (streak) readings.push(number(`escape.streak|${streak[0]}`, streak[1]));
    update({
      entry: { id: shot.entry, kind: "shot" },
      readings,
      rally: { number: rally.number, shots: [...assumed, shot] },
    });
  });
  at += 700;
  if (rally.score) {
    counted += 1;
    currentScore = score(rally.score, counted + 0);
  }
  const readings = [lean(NOBODY), ...Object.entries(rally.numbers ?? {}).map(([key, value]) => number(key, value))];
  if (rally.streakAtEnd) readings.push(number(`escape.streak|${rally.streakAtEnd[0]}`, rally.streakAtEnd[1]));
  if (rally.prompt) {
    const [slot, words, shot] = rally.prompt;
    const why = state.rally.shots.find((one) => one.n === shot)?.why ?? [];
    readings.push(reading("prompt", null, { type: "text", text: words }, { slot, why }));
  }
  const entry = `r${rally.number}e`;
  update({
    entry: { id: entry, kind: "rally_end" },
    score: currentScore,
    readings,
    rally: { number: rally.number, shots: [], end: { entry, ...rally.end } },
  });
  if (rally.timeOut) {
    at += 3000;
    currentScore = { ...currentScore, time_outs_left: { a: 1, b: 1 } };
    update({ entry: { id: `t${rally.number}`, kind: "time_out" }, score: currentScore, readings: [] });
  }
  if (rally.corrected) correct(rally.number);
}

/** Somebody saw afterwards that the last ball had been hit off balance. */
function correct(rallyNumber) {
  at += 2500;
  seq += 1;
  revision += 1;
  const shots = state.rally.shots.map((shot) =>
    shot.n === 11
      ? {
          ...shot,
          cues: ["off_balance"],
          toward: "a",
          strength: 1,
          why: [{ code: "body", team: "b", entry: `r${rallyNumber}s11`, inferred: false }],
        }
      : shot,
  );
  send({
    type: "snapshot",
    seq,
    revision,
    reason: "corrected",
    match: MATCH,
    score: currentScore,
    readings: Object.values(state.readings),
    rally: { ...state.rally, shots },
  });
}

const file = new URL("invented-match.jsonl", import.meta.url);
writeFileSync(file, `${lines.map((line) => JSON.stringify(line)).join("\n")}\n`);
console.log(`${lines.length} lines, ${Math.round(at / 1000)} s, seq up to ${seq}`);
