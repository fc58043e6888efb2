// The address of a page: what it may ask for, and what is said of the rest.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { readOptions, withRole } from "../../shared/options.js";

const PAGE = "http://host:8080/courts/1/graphic";
/** @import { Options } from "../../shared/options.js" */

const read = (/** @type {string} */ query) => readOptions(PAGE + query);

test("an_address_without_options_shows_everything", () => {
  const options = read("");
  assert.deepEqual(options.pieces, ["strap", "insert", "show"]);
  assert.equal(options.scale, 1);
  assert.equal(options.still, false);
  assert.equal(options.recorded, null);
  assert.deepEqual(options.problems, []);
});

test("the_feed_is_the_pages_neighbour_and_carries_the_role", () => {
  assert.equal(withRole(read("").feed, "viewer"), "http://host:8080/courts/1/feed?role=viewer");
  assert.equal(withRole(read("?feed=ws://other/courts/2/feed").feed, "booth"), "ws://other/courts/2/feed?role=booth");
});

test("the_key_of_the_page_goes_along_to_its_own_host_and_to_no_other", () => {
  assert.equal(withRole(read("?key=k1").feed, "viewer"), "http://host:8080/courts/1/feed?key=k1&role=viewer");
  assert.equal(read("?key=k1&feed=ws://host:8080/courts/2/feed").feed, "ws://host:8080/courts/2/feed?key=k1");
  assert.equal(read("?key=k1&feed=ws://other/courts/2/feed").feed, "ws://other/courts/2/feed");
  assert.equal(read("?key=k1&feed=feed%3Fkey%3Dk2").feed, "http://host:8080/courts/1/feed?key=k2");
});

test("pieces_come_in_drawing_order_and_unknown_ones_are_named", () => {
  const options = read("?pieces=tide,score,clock");
  assert.deepEqual(options.pieces, ["score", "tide"]);
  assert.deepEqual(options.problems, [
    "`pieces` knows no `clock`; allowed are strap, insert, score, moment, show, tide, ribbon",
  ]);
});

for (const [query, field, value] of /** @type {[string, keyof Options, unknown][]} */ ([
  ["?scale=1.5", "scale", 1.5],
  ["?pace=0&recorded=x.jsonl", "pace", 0],
  ["?motion=off", "still", true],
  ["?delay=2.5s", "delayMs", 2500],
  ["?delay=40ms", "delayMs", 40],
  ["?delay=0s", "delayMs", 0],
  ["?theme=light", "theme", "light"],
  ["?min-cases=12", "minCases", 12],
  ["", "minCases", 8],
  ["?color-a=0072B2", "a", "#0072b2"],
  ["?recorded=../x.jsonl", "recorded", "http://host:8080/courts/x.jsonl"],
])) {
  test(`${query || "an_address_without_min_cases"}_is_understood`, () => {
    assert.equal(read(query)[field], value);
    assert.deepEqual(read(query).problems, []);
  });
}

for (const query of [
  "?scale=0",
  "?scale=big",
  "?scale=",
  "?pace=-1",
  "?min-cases=0",
  "?motion=maybe",
  "?color-a=blue",
  "?pieces=",
  "?delay=2.5",
  "?delay=-1s",
  "?delay=301s",
  "?theme=blue",
  "?at=tide",
  "?at=tide:middle",
  "?at=clock:top",
  "?show=",
  "?show=a..b",
]) {
  test(`${query}_is_a_problem_that_says_what_is_allowed`, () => {
    const { problems } = read(query);
    assert.equal(problems.length, 1);
    assert.match(problems[0], /allowed/);
  });
}

test("places_and_indicators_are_read_one_by_one", () => {
  const options = read("?at=tide:top,%20ribbon:bottom-left&show=rally.longest,third.won/drop,rally.longest");
  assert.deepEqual(options.at, { tide: "top", ribbon: "bottom-left" });
  assert.deepEqual(options.show, ["rally.longest", "third.won/drop"]);
  assert.deepEqual(options.problems, []);
});

test("every_address_that_the_readme_gives_is_understood", () => {
  const readme = readFileSync(new URL("../../README.md", import.meta.url), "utf8");
  const examples = [...readme.matchAll(/`(\?[^`\s|]+)`/g)].map(([, query]) => query);
  assert.ok(examples.length >= 7, examples.join());
  for (const query of examples)
    assert.deepEqual(readOptions(`http://127.0.0.1:7447/courts/1/graphic${query}`).problems, [], query);
});
