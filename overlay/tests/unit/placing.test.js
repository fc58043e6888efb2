// Which pieces share a line, and how much room each has.

import assert from "node:assert/strict";
import { test } from "node:test";
import { ANCHORS, DEFAULT_PIECES, PIECES } from "../../shared/options.js";
import { PIECE, arrange } from "../../shared/placing.js";

/** @import { Box } from "../../shared/placing.js" */

const plain = (/** @type {Box[][]} */ lines) =>
  lines.map((line) => line.map(({ column, pieces, room }) => `${column} ${pieces.join("+")} ${Math.round(room)}`));

/** The larger pieces, together. */
const LARGE = /** @type {const} */ (["score", "moment", "show", "tide", "ribbon"]);

test("where_nothing_is_asked_for_the_strap_stands_alone_at_the_top", () => {
  const { top, middle, bottom } = arrange(DEFAULT_PIECES, {}, 1);
  assert.deepEqual(plain(top), [["center strap+insert 104", "end show 67"]]);
  assert.deepEqual([middle, bottom], [[], []]);
});

test("a_piece_that_was_sent_to_an_edge_has_it_and_the_others_give_way", () => {
  assert.deepEqual(plain(arrange(LARGE, { tide: "top" }, 1.3).top), [
    ["center tide 124"],
    ["start score+moment 58", "end show 73"],
  ]);
});

test("left_to_themselves_pieces_have_all_the_room_they_are_drawn_with", () => {
  const { top, middle, bottom } = arrange(LARGE, {}, 1);
  assert.deepEqual(plain(top), [["start score+moment 58", "end show 90"]]);
  assert.deepEqual(plain(bottom), [["center tide+ribbon 124"]]);
  assert.deepEqual(middle, []);
});

test("a_wide_piece_gives_way_to_its_neighbour", () => {
  assert.deepEqual(plain(arrange(LARGE, { score: "bottom-left" }, 1).bottom), [
    ["start score+moment 58", "center tide+ribbon 113"],
  ]);
});

test("what_does_not_fit_gets_a_line_nearer_to_the_middle", () => {
  assert.deepEqual(plain(arrange(LARGE, { score: "bottom-left", show: "bottom-right" }, 1).bottom), [
    ["start score+moment 58", "end show 90"],
    ["center tide+ribbon 124"],
  ]);
});

test("at_every_place_and_scale_every_piece_stands_once_and_no_line_is_wider_than_the_picture", () => {
  for (const scale of [0.25, 1, 1.3, 2, 4]) {
    const stage = 172.8 / scale;
    for (const one of ANCHORS) {
      for (const other of ANCHORS) {
        const edges = Object.values(arrange(PIECES, { score: one, tide: other }, scale));
        const boxes = edges.flat(2);
        assert.deepEqual(boxes.flatMap(({ pieces }) => pieces).sort(), [...PIECES].sort());
        for (const line of edges.flat()) {
          const needed = line.reduce((sum, { room }) => sum + room, 2 * (line.length - 1));
          assert.ok(needed <= stage + 0.001, `${one}, ${other}, ${scale}: ${needed}`);
          if (line.length > 1)
            for (const { pieces, room } of line) assert.ok(pieces.every((piece) => room >= PIECE[piece].least));
        }
      }
    }
  }
});
