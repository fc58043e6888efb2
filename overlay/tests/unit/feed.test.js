// The connection: pause, silence, resume, and that stopping undoes everything.

import assert from "node:assert/strict";
import { test } from "node:test";
import { addressAfter, FEED_MANNERS, FeedConnection } from "../../shared/feed.js";
import { pauseBefore } from "../../shared/line-socket.js";
import { HandClock, HandSocket } from "../support/hand-clock.js";

/** Silence before a beat is asked for, silence before the line counts as lost, and the pause with a replaced link (overlay/README.md). */
const ASK_MS = 5_000;
const SILENCE_MS = 12_000;
const REPLACED_PAUSE_MS = 60_000;
const URL_OF_FEED = "ws://host/courts/1/feed?role=viewer";

function connection({ position = () => null, open, url = URL_OF_FEED, isRefused = async () => false } = {}) {
  const clock = new HandClock();
  const sockets = [];
  const actions = [];
  let online = null;
  const world = {
    open:
      open ??
      ((url) => {
        const socket = new HandSocket(url);
        sockets.push(socket);
        return socket;
      }),
    clock,
    chance: () => 0.5,
    whenOnline: (run) => {
      online = run;
      return () => (online = null);
    },
    isRefused,
  };
  const feed = new FeedConnection(url, (action) => actions.push(action), position, world);
  const phases = () =>
    actions.filter((action) => action.type === "connection").map((action) => action.connection.phase);
  return {
    feed,
    clock,
    sockets,
    actions,
    phases,
    goOnline: () => online?.(true),
    goOffline: () => online?.(false),
    listensForOnline: () => online !== null,
  };
}

test("the_pause_doubles_up_to_eight_seconds", () => {
  const middle = [1, 2, 3, 4, 5, 6, 7, 50].map((failures) => pauseBefore(FEED_MANNERS, failures, 0.5));
  assert.deepEqual(middle, [188, 375, 750, 1500, 3000, 6000, 6000, 6000]);
});

test("the_pause_is_never_under_half_nor_over_the_whole", () => {
  for (let failures = 1; failures < 20; failures += 1) {
    const whole = Math.min(8000, 250 * 2 ** (failures - 1));
    assert.ok(pauseBefore(FEED_MANNERS, failures, 0) >= whole / 2);
    assert.ok(pauseBefore(FEED_MANNERS, failures, 0.999999) <= whole);
  }
});

test("two_pages_with_other_chances_do_not_come_back_together", () => {
  assert.notEqual(pauseBefore(FEED_MANNERS, 4, 0.1), pauseBefore(FEED_MANNERS, 4, 0.9));
});

test("a_resume_asks_for_what_came_after_and_names_the_match", () => {
  assert.equal(addressAfter(URL_OF_FEED, null), URL_OF_FEED);
  assert.equal(addressAfter(URL_OF_FEED, { seq: 41, match: "m 1" }), `${URL_OF_FEED}&after=41&match=m+1`);
});

test("a_closed_socket_is_tried_again_after_the_pause_and_resumes", () => {
  const { feed, clock, sockets, phases } = connection({ position: () => ({ seq: 7, match: null }) });
  feed.start();
  sockets[0].open();
  sockets[0].hear({ type: "beat" });
  sockets[0].end();
  assert.deepEqual(phases(), ["connecting", "live", "lost"]);
  clock.pass(187);
  assert.equal(sockets.length, 1);
  clock.pass(1);
  assert.equal(sockets[1].url, `${URL_OF_FEED}&after=7`);
  sockets[1].open();
  assert.equal(phases().at(-1), "live");
});

test("silence_counts_as_a_dead_socket_though_it_never_closed", () => {
  const { feed, clock, sockets, phases } = connection();
  feed.start();
  sockets[0].open();
  clock.pass(SILENCE_MS - 1);
  assert.equal(phases().at(-1), "live");
  clock.pass(1);
  assert.equal(phases().at(-1), "lost");
  assert.ok(sockets[0].isClosed);
});

test("a_quiet_feed_is_asked_for_a_beat_once", () => {
  const { feed, clock, sockets } = connection();
  feed.start();
  sockets[0].open();
  clock.pass(ASK_MS - 1);
  assert.deepEqual(sockets[0].sent, []);
  clock.pass(SILENCE_MS - ASK_MS);
  assert.deepEqual(sockets[0].sent, [{ type: "beat" }]);
});

test("a_feed_that_answers_is_kept_for_hours", () => {
  const { feed, clock, sockets } = connection();
  feed.start();
  sockets[0].open();
  for (let second = 0; second < 3 * 3600; second += 1) {
    clock.pass(1000);
    for (const asked of sockets[0].sent.splice(0)) sockets[0].hear(asked);
  }
  assert.equal(sockets.length, 1);
});

test("a_page_whose_timers_slept_asks_before_it_gives_up", () => {
  const { feed, clock, sockets } = connection();
  feed.start();
  sockets[0].open();
  clock.time += 120_000;
  clock.pass(1);
  assert.deepEqual(sockets[0].sent, [{ type: "beat" }]);
  sockets[0].hear({ type: "beat" });
  clock.pass(4000);
  assert.equal(sockets.length, 1);
});

test("a_beat_every_five_seconds_keeps_the_socket", () => {
  const { feed, clock, sockets } = connection();
  feed.start();
  for (let beat = 0; beat < 20; beat += 1) {
    clock.pass(5000);
    sockets[0].hear({ type: "beat" });
  }
  assert.equal(sockets.length, 1);
});

test("a_socket_that_never_opens_is_given_up_too", () => {
  const { feed, clock, sockets } = connection();
  feed.start();
  clock.pass(SILENCE_MS + 188);
  assert.equal(sockets.length, 2);
});

test("accepting_and_closing_at_once_does_not_reset_the_pause", () => {
  const { feed, clock, sockets } = connection();
  feed.start();
  const opened = [];
  for (let round = 0; round < 4; round += 1) {
    opened.push(clock.time);
    sockets.at(-1).open();
    sockets.at(-1).end();
    clock.pass(pauseBefore(FEED_MANNERS, round + 1, 0.5));
  }
  assert.deepEqual(opened, [0, 188, 563, 1313]);
});

test("word_of_a_network_ends_the_pause", () => {
  const { feed, clock, sockets, goOnline } = connection();
  feed.start();
  for (let round = 0; round < 6; round += 1) {
    sockets.at(-1).end();
    if (round < 5) clock.pass(8000);
  }
  goOnline();
  assert.equal(sockets.length, 7);
});

test("a_link_that_was_replaced_is_said_once_and_hardly_tried_again", () => {
  const { feed, clock, sockets, phases } = connection();
  feed.start();
  sockets[0].open();
  sockets[0].end(1008);
  assert.deepEqual(phases(), ["connecting", "live", "replaced"]);
  clock.pass(REPLACED_PAUSE_MS - 1);
  assert.equal(sockets.length, 1);
  for (let round = 0; round < 5; round += 1) {
    clock.pass(REPLACED_PAUSE_MS);
    sockets.at(-1).end();
  }
  assert.equal(sockets.length, 6);
  assert.equal(phases().at(-1), "replaced");
  assert.equal(phases().length, 3);
});

test("a_host_put_back_with_its_old_keys_lets_the_page_in_again", () => {
  const { feed, clock, sockets, phases } = connection();
  feed.start();
  sockets[0].open();
  sockets[0].end(1008);
  clock.pass(REPLACED_PAUSE_MS);
  sockets[1].open();
  assert.equal(phases().at(-1), "replaced");
  sockets[1].hear({ type: "beat" });
  assert.equal(phases().at(-1), "live");
  sockets[1].end();
  assert.equal(phases().at(-1), "lost");
});

for (const [what, url, isRefused, phase, attempts] of [
  ["a_page_that_slept_while_its_key_was_replaced_is_told", `${URL_OF_FEED}&key=old`, async () => true, "replaced", 1],
  ["a_host_that_is_away_is_tried_on_at_full_speed", `${URL_OF_FEED}&key=old`, async () => false, "lost", 3],
  ["a_page_without_a_key_has_none_that_could_be_replaced", URL_OF_FEED, async () => true, "lost", 3],
]) {
  test(what, async () => {
    const { feed, clock, sockets, phases } = connection({ url, isRefused });
    feed.start();
    for (let round = 0; round < 2; round += 1) {
      if (!sockets.at(-1).isClosed) sockets.at(-1).end();
      await new Promise((resolve) => setImmediate(resolve));
      clock.pass(8000);
    }
    assert.equal(phases().at(-1), phase);
    assert.equal(sockets.length, attempts);
  });
}

test("stop_closes_the_socket_and_leaves_no_timer_or_listener", () => {
  const { feed, clock, sockets, listensForOnline } = connection();
  feed.start();
  feed.stop();
  assert.ok(sockets[0].isClosed);
  assert.equal(clock.waiting, 0);
  assert.equal(listensForOnline(), false);
  clock.pass(60_000);
  assert.equal(sockets.length, 1);
});

test("resync_asks_from_the_start", () => {
  const { feed, sockets } = connection({ position: () => ({ seq: 7, match: null }) });
  feed.start();
  feed.resync();
  assert.ok(sockets[0].isClosed);
  assert.equal(sockets[1].url, URL_OF_FEED);
});

test("an_address_the_browser_refuses_is_said_and_not_tried_again", () => {
  const open = () => {
    throw new Error("SecurityError");
  };
  const { feed, clock, actions } = connection({ open });
  feed.start();
  clock.pass(60_000);
  const last = actions.at(-1).connection;
  assert.equal(last.phase, "failed");
  assert.match(last.message, /cannot open `ws:\/\/host/);
  assert.equal(clock.waiting, 0);
});

for (const [what, data] of [
  ["no JSON", "{"],
  ["no object", "null"],
  ["no type", "{}"],
  ["words of our own", '{"type":"connection"}'],
]) {
  test(`a_message_that_is_${what.replaceAll(" ", "_")}_is_unreadable`, () => {
    const { feed, sockets, actions } = connection();
    feed.start();
    sockets[0].hear(data);
    assert.deepEqual(actions.at(-1), { type: "unreadable" });
  });
}
