// What the page for everybody says about a match, and what it finds.

import assert from "node:assert/strict";
import { test } from "node:test";
import { endedWords, found, gamesOf, isPlaying, partsOf, playersOf, standsWords } from "../../event/telling.js";
import { HEADER, SCORE } from "../support/states.js";

/** @param {object} [more] @returns {any} */
const match = (more = {}) => ({
  id: "m1",
  title: "Harbour Day",
  round: "QF 2",
  time: "14:40",
  state: "on",
  court: "3",
  teams: HEADER.teams,
  format: { points: 11, games: 3 },
  score: SCORE,
  ...more,
});
const court = (more = {}) => ({ court: "3", state: "playing", match: "m1", next: null, ...more });
const points = (one, team) => gamesOf(one, team).map(({ points }) => points);

test("the_game_being_played_stands_behind_those_that_are_over", () => {
  assert.deepEqual(points(match(), "a"), [11, 3]);
  assert.deepEqual(
    gamesOf(match(), "a").map(({ isWon }) => isWon),
    [true, false],
  );
  assert.deepEqual(points(match({ state: "planned", score: null }), "a"), []);
});

test("a_match_that_was_won_has_its_games_and_no_other_column", () => {
  const score = { ...SCORE, winner: "a", games: { a: 2, b: 0 }, points: { a: 11, b: 9 } };
  score.finished = [
    { a: 11, b: 7 },
    { a: 11, b: 9 },
  ];
  const won = match({ state: "finished", score });
  assert.deepEqual(
    [points(won, "a"), points(won, "b")],
    [
      [11, 11],
      [7, 9],
    ],
  );
  assert.equal(endedWords(won), "");
});

test("a_retirement_names_who_stopped_and_where_it_stood", () => {
  const retired = match({ state: "finished", score: { ...SCORE, winner: "b" } });
  assert.equal(endedWords(retired), "Quill / Abara retired");
  assert.deepEqual(points(retired, "a"), [11, 3]);
  // A walkover: nobody asks for 0–0.
  const walkover = { ...SCORE, winner: "b", games: { a: 0, b: 0 }, points: { a: 0, b: 0 }, finished: [] };
  assert.deepEqual(points(match({ state: "finished", score: walkover }), "a"), []);
});

test("a_match_stopped_by_the_desk_claims_no_winner", () => {
  assert.equal(endedWords(match({ state: "finished" })), "Ended without a winner");
  assert.equal(endedWords(match({ state: "put_aside" })), "Interrupted");
});

test("a_court_says_how_its_match_stands_and_what_is_at_stake", () => {
  assert.equal(standsWords(court(), match()), "Playing · Game 2, best of 3");
  assert.equal(standsWords(court({ state: "paused" }), match()), "Play is paused · Game 2, best of 3");
  assert.equal(standsWords(court({ state: "ready" }), match()), "About to start");
  assert.equal(standsWords(court({ state: "empty", match: null }), null), "No match now");
  const stake = match({ score: { ...SCORE, game_point: "b", match_point: "b" } });
  assert.equal(standsWords(court(), stake), "Playing · Game 2, best of 3 · match point Fenn / Tarrow");
});

test("a_team_is_found_by_its_name_and_by_each_players_in_any_case", () => {
  assert.ok(isPlaying(match(), "fenn / tarrow") && isPlaying(match(), "Ines Quill"));
  assert.ok(!isPlaying(match(), "Ines"));
  const third = match({ id: "m3", round: "QF 3", court: "2" });
  const ids = (/** @type {string} */ text) => found([match(), third], text).map(({ id }) => id);
  // Of `QF 3` the 3 is not looked for on its own: the other match is on court 3.
  assert.deepEqual([ids("qf 3"), ids("court 3"), ids("  quill QF ")], [["m3"], ["m1"], ["m1", "m3"]]);
  assert.deepEqual([ids("quill pool"), ids("")], [[], ["m1", "m3"]]);
});

test("players_are_named_where_the_team_is_called_otherwise", () => {
  assert.equal(playersOf(match(), "a"), "Ines Quill, Tobi Abara");
  const same = { a: { name: "Ada Lund / Bo Reed", players: ["Ada Lund", "Bo Reed"] }, b: HEADER.teams.b };
  assert.equal(playersOf(match({ teams: same }), "a"), "");
});

test("a_match_that_is_over_stands_among_the_results_and_on_its_court", () => {
  const over = match({ state: "finished" });
  const planned = match({ id: "m2", state: "planned", score: null, court: null });
  const day = {
    courts: [court({ state: "finished", next: "m2" }), court({ court: "4", match: null })],
    matches: [over, planned],
  };
  const all = partsOf(/** @type {any} */ (day), { text: "", team: "" });
  assert.deepEqual(
    [all.now.length, all.now[0]?.next?.id, all.toCome.map(({ id }) => id), all.results.map(({ id }) => id)],
    [2, "m2", ["m2"], ["m1"]],
  );
  // Who looks for a team is not shown empty courts.
  assert.equal(partsOf(/** @type {any} */ (day), { text: "", team: "Fenn / Tarrow" }).now.length, 1);
});
