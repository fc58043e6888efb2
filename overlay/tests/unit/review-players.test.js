// The review's figures of single players: counted by hand, and each opens its rallies.

import assert from "node:assert/strict";
import { test } from "node:test";
import { isWished, readWish } from "../../review/filters.js";
import { PLAYER_FIGURES, PLAYERS, playerTotals } from "../../review/players.js";

/** Shots as `a0` (team, player), `a?` (not named), `~` (assumed), with who holds after each. */
function rally(number, line, end, more = {}) {
  const shots = line.split(" ").map((word, place) => {
    const [who, toward = null] = word.split(">");
    const assumed = who === "~";
    const team = assumed ? "ab"[place % 2] : who[0];
    const player = assumed || who[1] === "?" ? null : Number(who[1]);
    return { n: place + 1, team, player, assumed, toward, stroke: assumed ? null : "dink" };
  });
  return { number, counted: true, before: { game: 1, serving: "a" }, spells: [], shots, end, ...more };
}
const end = (won_by, how, by, player = null) => ({ won_by, how, by, player });

const RALLIES = [
  // a1 strikes the 3rd shot on defense, b0 the 4th on offense, a? the 5th.
  rally(1, "a0 b1>b a1>b b0>b a?", end("b", "net", "a", 1)),
  // Before the 4th shot one is assumed: who holds is known from the 2nd.
  rally(2, "a0 b1>b ~ b1>b a0>a", end("a", "winner", "a", 0)),
  rally(3, "a0 b1 a1", end(null, "replay", null), { counted: false }),
  rally(4, "a0 b0 a0>a b1>a", end("a", "out", "b", null)),
];

const of = (team, player) => playerTotals(RALLIES, { team, player }).map(({ part, whole }) => `${part}/${whole}`);

test("shots_pressed_shots_and_errors_of_each_player_are_those_counted_by_hand", () => {
  // Of a: the 3rd of rally 1 by a1 (on defense), the 5th of 2 by a0 (on defense), the 3rd of 4 by a0.
  assert.deepEqual(of("a", 0), ["2/3", "1/2", "0/1"]);
  assert.deepEqual(of("a", 1), ["1/3", "1/1", "1/1"]);
  // Of b: the 4th of rally 1 by b0, the 4th of 2 by b1, the 4th of 4 by b1 (on defense); nobody is named for the error.
  assert.deepEqual(of("b", 0), ["1/3", "0/1", "0/0"]);
  assert.deepEqual(of("b", 1), ["2/3", "1/2", "0/0"]);
});

test("each_players_figure_opens_exactly_the_rallies_that_add_to_it", () => {
  for (const { team, player } of PLAYERS)
    for (const { key, part, whole } of PLAYER_FIGURES)
      for (const [which, count] of Object.entries({ part, whole })) {
        const wish = readWish(new URLSearchParams({ figure: `${key}-${team}${player}-${which}` }));
        const shown = RALLIES.filter((one) => isWished(one, wish)).map(({ number }) => number);
        const adding = RALLIES.filter((one) => count(one, { team, player }) > 0).map(({ number }) => number);
        assert.deepEqual(shown, adding, `${key} ${team}${player} ${which}`);
      }
  const shown = (figure) => RALLIES.filter((one) => isWished(one, readWish(new URLSearchParams({ figure })))).length;
  assert.equal(shown("defended-a1-part"), 1);
  assert.equal(shown("defended-a2-part"), RALLIES.length, "there is no third player: it asks for nothing");
});
