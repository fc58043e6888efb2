/**
 * What a commentator's line claims, and whether it is so: every line is taken apart and each number
 * and name in it is found anew in the readings, in the score of the second implementation and in
 * the entries, without what the line says of itself (its `why`).
 *
 * A line that is none of these is refused: adding one means saying here what makes it true.
 */
import assert from "node:assert/strict";
import { readingValue } from "./prompt-steps.mjs";

const OTHER = { a: "b", b: "a" };
const SPANS = ["game", "match", "last game", "decider"];
const SCORE = "(\\d+)–(\\d+)";
const SHARE = "(\\d+|none) of (\\d+)";

/**
 * @typedef {object} Scene
 * @property {any} header
 * @property {import("./prompt-steps.mjs").Step[]} steps up to the one with the line
 * @property {import("./prompt-steps.mjs").Step} now
 */
/**
 * @typedef {object} Claim
 * @property {string} about the same of two lines about one team: the same thing in other words
 * @property {"score" | "end" | "shots"} needs how much has to be charted
 * @property {string} words with `T`, `O`, `P`, `N`, `S`, `H` for team, opponents, player, number, score, share
 * @property {(scene: Scene, team: "a"|"b", found: string[]) => void} holds `found`: what stood for P, N, S, H
 */

/** @param {any} header what a team is called aloud */
export function spokenName(header, team) {
  return header.teams[team].name
    .split("/")
    .map((part) => part.trim())
    .join(" and ");
}

const nameOf = (header, team, player) =>
  header.format.discipline === "singles" ? spokenName(header, team) : header.teams[team].players[player];

/** The steps of the game that is on at this place, or that the last of them has ended. */
function gameOf({ steps, now }) {
  const of = (step) => step.before.finished.length;
  const first = steps.findIndex((step) => of(step) === of(now) && step.before.game === now.before.game);
  return steps.slice(first);
}

/** The scores of that game, the last one included, also where it ended the game. */
function pointsOf(scene) {
  const steps = gameOf(scene);
  const points = steps.map(({ before }) => before.points);
  const { now } = scene;
  return [
    ...points,
    now.score.finished.length > now.before.finished.length ? now.score.finished.at(-1) : now.score.points,
  ];
}

const isOver = ({ now }) => now.score.winner !== null;
const share = (scene, indicator, team, slot = null) => readingValue(scene.now.readings, indicator, team, slot);
const count = (step, indicator, team = null) => readingValue(step.readings, indicator, team)?.n;

function sameShare(value, [part, whole]) {
  assert.deepEqual(
    { part: value.part, whole: value.whole },
    { part: part === "none" ? 0 : Number(part), whole: Number(whole) },
  );
  assert.ok(value.whole >= 10, "a sample of ten");
}

const sameScore = (points, team, [own, others]) =>
  assert.deepEqual([points[team], points[OTHER[team]]], [Number(own), Number(others)]);

/** Who had the point before an entry counts as had it, for a game and for a match. */
const held = (score, kind) =>
  kind === "match" ? score.match_point : score.match_point === null ? score.game_point : null;

function point(scene, team, kind, found, serves) {
  const { score, before } = scene.now;
  assert.equal(held(score, kind), team);
  assert.notEqual(before.game_point, team, "it is new");
  sameScore(score.points, team, found);
  if (serves === null) assert.equal(score.serving, team);
  else if (serves !== spokenName(scene.header, score.serving)) {
    assert.equal(serves, nameOf(scene.header, score.serving, score.server_player));
  }
}

const wasReached = (scene, team) => gameOf(scene).some(({ before }) => before.game_point === team);

/** Rallies of the game that a team won when the others had game point. */
const savedBy = (scene, team) =>
  gameOf(scene).filter(
    (step) => step.entry.kind === "rally_end" && step.before.game_point === OTHER[team] && winnerOf(step) === team,
  ).length;

/** The same of match points, in all games. */
const matchPointsSavedBy = ({ steps }, team) =>
  steps.filter(
    (step) => step.entry.kind === "rally_end" && step.before.match_point === OTHER[team] && winnerOf(step) === team,
  ).length;

/** @param {import("./prompt-steps.mjs").Step} step */
function winnerOf({ entry: { won_by, how, by } }) {
  if (won_by !== undefined) return won_by;
  return ["winner", "ace"].includes(how) ? by : OTHER[by];
}

/** Where the referee set the score, most of a game's course is not told. */
function courseIsKnown(scene) {
  for (const { entry } of gameOf(scene)) assert.notEqual(entry.kind, "score_fix");
}

/** The scores of the game from where the referee set one, which is where they are told from. */
function knownPointsOf(scene) {
  const set = gameOf(scene).findLastIndex(({ entry }) => entry.kind === "score_fix");
  return pointsOf(scene).slice(set + 1);
}

const behindBy = (points, team) => points[OTHER[team]] - points[team];
const deepest = (scene, team) => Math.max(...knownPointsOf(scene).map((points) => behindBy(points, team)));

/** The points in a row at the end of the game, by the scores that rallies made, and the score before them. */
function lastPoints(scene, team) {
  const points = pointsOf(scene);
  const entries = gameOf(scene).map(({ entry }) => entry.kind);
  const other = OTHER[team];
  const breaks = points.findLastIndex(
    (now, place) =>
      place > 0 &&
      (points[place - 1][other] !== now[other] ||
        (entries[place - 1] !== "rally_end" && points[place - 1][team] !== now[team]) ||
        entries[place - 1] === "score_fix"),
  );
  const from = points[Math.max(breaks, 0)];
  return { from, number: points.at(-1)[team] - from[team] };
}

/** The greatest lead of a team that was made up later in the game. */
function slipped(scene, team) {
  const points = knownPointsOf(scene);
  const level = points.findLastIndex(({ a, b }) => a === b);
  return Math.max(...points.slice(0, level + 1).map((score) => -behindBy(score, team)));
}

function spanIs(scene, span) {
  const { games } = scene.header.format;
  const won = scene.now.score.games.a + scene.now.score.games.b;
  const wanted = !isOver(scene) ? "game" : games === 1 ? "match" : won === games ? "decider" : "last game";
  assert.equal(span, wanted);
}

const wonGame = (scene, team) => {
  const last = scene.now.score.finished.at(-1);
  assert.ok(scene.now.endsGame && last[team] > last[OTHER[team]], "who won the game");
};

/** A run is what the plugin of the points counts, and what everybody has seen in the score of this game. */
function run(scene, team, [points], least) {
  assert.equal(Number(points), count(scene.now, "score.run", team));
  assert.ok(Number(points) >= least, "a run");
  assert.ok(lastPoints(scene, team).number >= Number(points), "as the score shows it");
}

/** Won on serve is a point in side-out scoring: where points were given or set, the score says otherwise. */
function servesAreSeen({ steps }) {
  for (const { entry, before, score, endsGame } of steps) {
    assert.notEqual(entry.kind, "score_fix");
    if (entry.kind !== "rally_end" && !endsGame) assert.deepEqual(score.points, before.points, entry.id);
  }
}

const beforeOf = ({ steps }, step) => steps[steps.indexOf(step) - 1];

const acesOf = (scene, name) =>
  scene.steps.filter(
    ({ entry, before }) =>
      entry.kind === "rally_end" &&
      entry.how === "ace" &&
      nameOf(scene.header, before.serving, before.server_player) === name,
  ).length;

/** The rally's last shot won it, struck by whoever is named. */
function wonBy(scene, team, stroke, [player]) {
  const { shots, entry } = scene.now;
  const last = shots.at(-1);
  assert.deepEqual([last.team, last.stroke, winnerOf(scene.now)], [team, stroke, team]);
  const known = entry.player ?? last.player;
  const isTeam = player === spokenName(scene.header, team);
  // Shot 1 and 2 may not be what was played first: in a chart of ends only the last balls are.
  if (isTeam) assert.ok(known === undefined || shots.length <= 2 || scene.header.format.discipline === "singles");
  else assert.equal(player, nameOf(scene.header, team, known));
}

const beats = (one, other) => one.part * other.whole > other.part * one.whole;

/** @returns {Claim} two teams' shares beside each other, the first the greater */
const beside = (words, indicator, needs, slot = null) => ({
  about: `${indicator}`,
  needs,
  words,
  holds(scene, team, found) {
    const [mine, theirs] = [team, OTHER[team]].map((one) => share(scene, indicator, one, slot));
    sameShare(mine, found.slice(0, 2));
    sameShare(theirs, found.slice(2));
    assert.ok(!beats(theirs, mine), "the greater share first");
    if (indicator === "serve.won") servesAreSeen(scene);
  },
});

/** @type {Claim[]} */
const POINTS = ["game", "match"].flatMap((kind) => [
  ...[true, false].flatMap((isFirst) => {
    const words = `T ${isFirst ? "reached" : "got back to"} ${kind} point at S`;
    const holds = (scene, team, found, serves) => {
      point(scene, team, kind, found, serves);
      assert.equal(wasReached(scene, team), !isFirst);
    };
    /** @type {Claim[]} */
    const claims = [
      {
        about: "point",
        needs: "score",
        words: `T SERVES for the ${kind} ${isFirst ? "" : "again "}at S.`,
        holds: (scene, team, found) => holds(scene, team, found, null),
      },
      {
        about: "point",
        needs: "score",
        words: `${words}, with P to serve.`,
        holds: (scene, team, found) => holds(scene, team, found, found[2]),
      },
    ];
    return claims;
  }),
  {
    about: "saved",
    needs: "score",
    words: `T saved a ${kind} point.`,
    holds(scene, team) {
      assert.equal(held(scene.now.before, kind), OTHER[team]);
      assert.equal((kind === "game" ? savedBy : matchPointsSavedBy)(scene, team), 1);
    },
  },
  {
    about: "saved",
    needs: "score",
    words: `T HAS now saved N ${kind} points${kind === "game" ? " in this game" : ""}.`,
    holds(scene, team, [number]) {
      assert.equal(held(scene.now.before, kind), OTHER[team]);
      assert.equal((kind === "game" ? savedBy : matchPointsSavedBy)(scene, team), Number(number));
    },
  },
]);

/** @type {Claim[]} */
const PLAY = [
  {
    about: "ace",
    needs: "end",
    words: "P served an ace to make it S.",
    holds(scene, _team, [player, ...points]) {
      assert.equal(scene.now.entry.how, "ace");
      assert.equal(player, nameOf(scene.header, scene.now.before.serving, scene.now.before.server_player));
      assert.equal(acesOf(scene, player), 1);
      sameScore(scene.now.score.points, scene.now.before.serving, points);
    },
  },
  {
    about: "ace",
    needs: "end",
    words: "That was ace number N from P in this match.",
    holds(scene, _team, [number, player]) {
      assert.equal(scene.now.entry.how, "ace");
      assert.equal(player, nameOf(scene.header, scene.now.before.serving, scene.now.before.server_player));
      assert.equal(acesOf(scene, player), Number(number));
    },
  },
  {
    about: "erne",
    needs: "end",
    words: "P won the rally with an erne.",
    holds: (scene, _team, found) => wonBy(scene, winnerOf(scene.now), "erne", found),
  },
  {
    about: "erne",
    needs: "end",
    words: "An erne won the rally for T.",
    holds: (scene, team) => wonBy(scene, team, "erne", [spokenName(scene.header, team)]),
  },
  {
    about: "atp",
    needs: "end",
    words: "A shot around the post won the rally for T.",
    holds: (scene, team) => wonBy(scene, team, "atp", [spokenName(scene.header, team)]),
  },
  {
    about: "atp",
    needs: "end",
    words: "P won the rally with a shot around the post.",
    holds: (scene, _team, found) => wonBy(scene, winnerOf(scene.now), "atp", found),
  },
  {
    about: "run",
    needs: "score",
    words: "T scored the first N points of the game.",
    holds(scene, team, [points]) {
      run(scene, team, [points], 4);
      sameScore(scene.now.score.points, team, [points, "0"]);
    },
  },
  ...[
    ["to extend the lead to", 1, 1],
    ["to lead", 1, 0],
    ["to draw level at", 0, -1],
    ["to get back to", -1, -1],
  ].map(([words, sign, started]) => ({
    about: "run",
    needs: /** @type {const} */ ("score"),
    words: `T scored N points in a row ${words} S.`,
    holds(scene, team, [points, ...score]) {
      run(scene, team, [points], 4);
      sameScore(scene.now.score.points, team, score);
      const lead = Number(score[0]) - Number(score[1]);
      assert.equal(Math.sign(lead), sign);
      const before = Math.sign(lead - Number(points));
      assert.ok(started === 0 ? before <= 0 : before === started, "where the run began");
    },
  })),
  {
    about: "run",
    needs: "score",
    words: "O took a time-out after T scored N points in a row.",
    holds(scene, team, found) {
      run(scene, team, found, 3);
      assert.deepEqual([scene.now.entry.kind, scene.now.entry.team], ["time_out", OTHER[team]]);
      const last = scene.steps.findLast(({ entry }) => entry.kind === "rally_end");
      assert.ok(count(last, "score.run", team) > count(beforeOf(scene, last), "score.run", team), "it has just grown");
    },
  },
  {
    about: "long",
    needs: "shots",
    words: "The longest rally of the match so far took N shots, and T won it.",
    holds(scene, team, [shots]) {
      const { now, steps } = scene;
      const start = steps.findLast((step) => step !== now && ["rally_end", "replay"].includes(step.entry.kind));
      assert.equal(count(now, "rally.longest"), Number(shots));
      assert.equal(count(now, "rally.shots"), Number(shots), "this rally was it");
      assert.ok(count(start, "rally.longest") < Number(shots), "it set the record");
      assert.equal(winnerOf(now), team);
    },
  },
  {
    about: "escape",
    needs: "shots",
    words: "T came out of pressure N times in a row, the longest streak of the match.",
    holds(scene, team, [number]) {
      assert.equal(count(scene.now, "escape.streak", team), Number(number));
      assert.equal(count(scene.now, "escape.best", team), Number(number));
      assert.ok(count(scene.now, "escape.best", OTHER[team]) < Number(number));
      assert.ok(share(scene, "escape.unlikely", team).p < 0.1, "rare by chance");
    },
  },
];

/** @type {Claim[]} */
const NUMBERS = [
  beside("Under pressure, T WON H rallies, against H for O.", "pressed.won", "shots"),
  beside("On serve, T WON H rallies, against H for O.", "serve.won", "score"),
  beside("Off high balls, T WON H rallies, against H for O.", "sitter.punished", "shots"),
  beside("T gave away H lost rallies by unforced errors, O H.", "gift.share", "shots"),
  beside("T WON H rallies with a third-shot drop, O H.", "third.won", "shots", "drop"),
  {
    about: "third.won",
    needs: "shots",
    words: "T WON H rallies with a third-shot drop and H with a drive.",
    holds(scene, team, found) {
      sameShare(share(scene, "third.won", team, "drop"), found.slice(0, 2));
      sameShare(share(scene, "third.won", team, "drive"), found.slice(2));
    },
  },
  {
    about: "neutral.first",
    needs: "shots",
    words: "With everyone at the kitchen line, T attacked first in H rallies.",
    holds(scene, team, found) {
      const { part, whole } = share(scene, "neutral.first", team);
      sameShare({ part, whole }, found);
      assert.ok(2 * part > whole, "more often than not");
    },
  },
];

const games = ({ now }, team, found) => sameScore(now.score.games, team, found);

/** @type {Claim[]} */
const GAMES = [
  ["to lead", 1],
  ["to draw level at", 0],
  ["to get back to", -1],
].map(([words, sign]) => ({
  about: "game",
  needs: /** @type {const} */ ("score"),
  words: `T won game N S ${words} S in games.`,
  holds(scene, team, [game, ...found]) {
    wonGame(scene, team);
    assert.equal(Number(game), scene.now.score.game - 1);
    sameScore(scene.now.score.finished.at(-1), team, found.slice(0, 2));
    games(scene, team, found.slice(2));
    assert.equal(Math.sign(Number(found[2]) - Number(found[3])), sign);
    assert.ok(!isOver(scene));
  },
}));

const winsMatch = (scene, team) => assert.equal(scene.now.score.winner, team);

/** @type {Claim[]} */
const MATCH = [
  {
    about: "match",
    needs: "score",
    words: "T won the match S.",
    holds(scene, team, found) {
      winsMatch(scene, team);
      assert.equal(scene.header.format.games, 1);
      sameScore(scene.now.score.points, team, found);
    },
  },
  {
    about: "match",
    needs: "score",
    words: "T won the match by N games to N.",
    holds(scene, team, found) {
      winsMatch(scene, team);
      games(scene, team, found);
    },
  },
  ...[2, 3, 4, 5].map((many) => ({
    about: "match",
    needs: /** @type {const} */ ("score"),
    words: `T won the match by N games to N, with scores of ${Array(many - 1)
      .fill("S")
      .join(", ")} and S.`,
    holds(scene, team, found) {
      winsMatch(scene, team);
      games(scene, team, found.slice(0, 2));
      const finished = scene.now.score.finished.flatMap((game) => [game[team], game[OTHER[team]]]);
      assert.deepEqual(found.slice(2).map(Number), finished);
    },
  })),
  {
    about: "match",
    needs: "score",
    words: "T won the match after O retired.",
    holds(scene, team) {
      winsMatch(scene, team);
      assert.equal(scene.now.entry.kind, "retire");
    },
  },
  {
    about: "total",
    needs: "score",
    words: "T scored N points in all, against N for O.",
    holds(scene, team, found) {
      const sum = (one) => scene.now.score.finished.reduce((all, game) => all + game[one], 0);
      assert.deepEqual(found.map(Number), [sum(team), sum(OTHER[team])]);
      assert.notEqual(found[0], found[1]);
      assert.ok(isOver(scene));
    },
  },
  {
    about: "decider",
    needs: "score",
    words: "Game N decides the match, and P serves first.",
    holds(scene, _, [game, player]) {
      const { score } = scene.now;
      assert.equal(score.games.a, score.games.b);
      assert.equal(score.game, Number(game));
      assert.equal(score.game, scene.header.format.games);
      assert.equal(player, nameOf(scene.header, score.serving, score.server_player));
    },
  },
];

/** What stood out in a game, `X` for what it is called. @type {Claim[]} */
const COURSE = [
  {
    about: "course",
    needs: "score",
    words: "T came back from S down to win the X.",
    isFromFix: true,
    holds(scene, team, [own, others]) {
      const low = knownPointsOf(scene).findLast((points) => behindBy(points, team) === deepest(scene, team));
      sameScore(low, team, [own, others]);
      assert.ok(Number(others) - Number(own) >= 3);
    },
  },
  {
    about: "course",
    needs: "score",
    words: "T scored the last N points to win the X from S down.",
    isFromFix: true,
    holds(scene, team, [number, ...low]) {
      const last = lastPoints(scene, team);
      assert.equal(last.number, Number(number));
      sameScore(last.from, team, low);
      assert.ok(Number(number) >= 4 && behindBy(last.from, team) > 0);
    },
  },
  {
    about: "course",
    needs: "score",
    words: "T let a S lead slip before winning the X.",
    isFromFix: true,
    holds(scene, team, [own, others]) {
      assert.ok(
        knownPointsOf(scene).some((points) => points[team] === Number(own) && points[OTHER[team]] === Number(others)),
      );
      assert.equal(slipped(scene, team), Number(own) - Number(others));
      assert.ok(Number(own) - Number(others) >= 3);
    },
  },
  {
    about: "course",
    needs: "score",
    words: "T scored every point of the X.",
    holds: (scene, team) => assert.equal(scene.now.score.finished.at(-1)[OTHER[team]], 0),
  },
  {
    about: "course",
    needs: "score",
    words: "T led from start to finish in the X.",
    holds(scene, team) {
      const points = pointsOf(scene);
      const first = points.findIndex(({ a, b }) => a + b > 0);
      for (const score of points.slice(first)) assert.ok(behindBy(score, team) < 0, "always ahead");
    },
  },
  {
    about: "course",
    needs: "score",
    words: "T pulled away from S to win the X.",
    holds(scene, team, [own, others]) {
      const points = pointsOf(scene);
      const level = points.findLastIndex(({ a, b }) => a === b);
      sameScore(points[level], team, [own, others]);
      assert.ok(own === others && Number(own) > 0);
      for (const score of points.slice(level + 1)) assert.ok(behindBy(score, team) < 0, "ahead from there");
    },
  },
  {
    about: "run",
    needs: "score",
    words: "T scored the last N points of the X.",
    holds(scene, team, found) {
      run(scene, team, found, 4);
      assert.ok(scene.now.score.finished.at(-1)[OTHER[team]] > 0, "not every point");
    },
  },
  {
    about: "saved",
    needs: "score",
    words: "T saved a game point before winning the X.",
    holds: (scene, team) => assert.equal(savedBy(scene, team), 1),
  },
  {
    about: "saved",
    needs: "score",
    words: "T saved N game points before winning the X.",
    holds: (scene, team, [number]) => assert.equal(savedBy(scene, team), Number(number)),
  },
  {
    about: "saved",
    needs: "score",
    words: "T saved a match point before winning the match.",
    holds: (scene, team) => savedMatchPoints(scene, team, 1),
  },
  {
    about: "saved",
    needs: "score",
    words: "T saved N match points before winning the match.",
    holds: (scene, team, [number]) => savedMatchPoints(scene, team, Number(number)),
  },
].map((claim) => ({
  ...claim,
  needs: /** @type {const} */ ("score"),
  holds(scene, team, found) {
    wonGame(scene, team);
    if (!claim.isFromFix) courseIsKnown(scene);
    const isSpan = (word) => SPANS.includes(word);
    if (claim.words.includes("X")) spanIs(scene, found.find(isSpan));
    claim.holds(
      scene,
      team,
      found.filter((word) => !isSpan(word)),
    );
  },
}));

function savedMatchPoints(scene, team, number) {
  winsMatch(scene, team);
  assert.equal(matchPointsSavedBy(scene, team), number);
}

/** @type {Claim[]} */
const CLAIMS = [...POINTS, ...PLAY, ...NUMBERS, ...GAMES, ...MATCH, ...COURSE];

/** @param {string} text */
const literal = (text) => text.replaceAll(/[.*+?^${}()|[\]\\]/g, "\\$&");

/** @param {Claim} claim @param {any} header @param {"a"|"b"} team */
function patternOf({ words }, header, team) {
  const [own, others] = [team, OTHER[team]].map((one) => spokenName(header, one));
  const isPair = own.includes(" and ");
  const places = {
    T: literal(own),
    O: literal(others),
    P: "(.+)",
    N: "(\\d+)",
    S: SCORE,
    H: SHARE,
    X: `(${SPANS.join("|")})`,
    HAS: isPair ? "have" : "has",
    SERVES: isPair ? "serve" : "serves",
    WON: isPair ? "(?:have won|won)" : "(?:has won|won)",
  };
  const pattern = literal(words).replaceAll(/\b(HAS|SERVES|WON|[TOPNSHX])\b/g, (place) => places[place]);
  return new RegExp(`^${pattern}$`);
}

/**
 * @param {any} header
 * @param {string} text
 * @returns {{ claim: Claim, team: "a"|"b", found: string[] }} what a line claims, of whom
 */
export function claimOf(header, text) {
  for (const claim of CLAIMS) {
    for (const team of /** @type {const} */ (["a", "b"])) {
      const match = patternOf(claim, header, team).exec(text);
      if (match !== null) return { claim, team, found: match.slice(1) };
    }
  }
  throw new Error(`no claim is known that says: ${text}`);
}

/** @param {Scene} scene @param {string} text @returns {{ about: string, needs: string }} what it claims, which is so */
export function checkClaim(scene, text) {
  const { claim, team, found } = claimOf(scene.header, text);
  try {
    claim.holds(scene, team, [...found]);
  } catch (error) {
    throw new Error(`it is not so at ${scene.now.entry.id}: ${text}\n${error.message}`, { cause: error });
  }
  const whom = /\b[TO]\b/.test(claim.words) ? team : found.filter((word) => !/^\d+$/.test(word)).join(" ");
  return { about: `${claim.about} ${whom}`, needs: claim.needs };
}
