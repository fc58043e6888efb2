// What waits for the host: order, messages, lost connections, answers.

import assert from "node:assert/strict";
import { test } from "node:test";
import { IntakeQueue } from "../../shared/intake-queue.js";

/** @param {number} from @param {number} to */
const entries = (from, to) =>
  Array.from({ length: to - from }, (_, place) => ({ id: `e${from + place}`, at: "", kind: "note" }));

/** @param {IntakeQueue} queue @returns {string[]} what leaves now */
function leaving(queue) {
  /** @type {string[]} */
  const ids = [];
  queue.send((sent) => {
    ids.push(...sent.map(({ id }) => id));
    return true;
  });
  return ids;
}

function filled(/** @type {number} */ count) {
  const queue = new IntakeQueue();
  queue.add(entries(0, count));
  return queue;
}

test("entries_leave_once_and_in_order_and_wait_until_they_are_answered", () => {
  const queue = filled(2);
  assert.deepEqual(leaving(queue), ["e0", "e1"]);
  queue.add(entries(2, 3));
  assert.deepEqual(leaving(queue), ["e2"]);
  assert.deepEqual(leaving(queue), []);
  assert.equal(queue.length, 3);
  assert.deepEqual(queue.drop(new Set(["e1", "e0", "strange"])), ["e0", "e1"]);
  assert.equal(queue.length, 1);
});

test("a_backlog_leaves_in_messages_of_forty_and_never_more_than_two_at_a_time", () => {
  const queue = filled(130);
  assert.equal(leaving(queue).length, 40);
  assert.equal(leaving(queue).at(-1), "e79");
  assert.deepEqual(leaving(queue), []);
  queue.drop(new Set(entries(0, 40).map(({ id }) => id)));
  assert.equal(leaving(queue)[0], "e80");
});

test("what_was_on_its_way_over_a_lost_connection_goes_again_and_what_did_not_leave_too", () => {
  const queue = filled(2);
  leaving(queue);
  queue.restart();
  assert.deepEqual(leaving(queue), ["e0", "e1"]);
  queue.restart();
  queue.send(() => false);
  assert.deepEqual(leaving(queue), ["e0", "e1"]);
});

test("entries_taken_out_while_they_are_on_their_way_hold_nobody_behind_them_back", () => {
  const queue = filled(3);
  leaving(queue);
  queue.drop(new Set(["e0", "e1"]));
  queue.add(entries(3, 4));
  assert.deepEqual(leaving(queue), ["e3"]);
});

test("what_is_put_in_its_place_is_all_there_is", () => {
  const queue = filled(3);
  leaving(queue);
  queue.replace(entries(7, 9));
  assert.deepEqual(leaving(queue), ["e7", "e8"]);
});
