// A video's time as a time of day.
import assert from "node:assert/strict";
import test from "node:test";
import { fieldFrom, likelyBeginning, placeFrom, timeAt, timeFrom } from "../../shared/video-time.js";
import { placeWords } from "../../shared/format.js";

const NOON = Date.UTC(2026, 4, 9, 12, 0, 0, 700);

test("a recording began its length before its file was written, to the second", () => {
  // 90.25 s before 12:00:00.7 is 11:58:30.45.
  assert.equal(likelyBeginning(NOON, 90.25), Date.UTC(2026, 4, 9, 11, 58, 30));
  assert.equal(likelyBeginning(NOON, Infinity), Date.UTC(2026, 4, 9, 12));
});

test("what is shown took place so long after the beginning, to the millisecond", () => {
  assert.equal(timeAt(NOON, 61.0334), NOON + 61_033);
});

test("a place is told in minutes and tenths, with hours only where there are any", () => {
  assert.deepEqual([0, 9.96, 61.25, 3600, 3723.4].map(placeWords), [
    "0:00.0",
    "0:09.9",
    "1:01.2",
    "1:00:00.0",
    "1:02:03.4",
  ]);
});

test("a place is read as players show it and as people type it", () => {
  for (const [text, place] of /** @type {[string, number][]} */ ([
    ["", 0],
    [" 0:00 ", 0],
    ["-0", 0],
    ["83.5", 83.5],
    ["83,5", 83.5],
    ["1:23", 83],
    ["90:05", 5405],
    ["59:05", 3545],
    ["1:02:03.4", 3723.4],
    ["-0:40", -40],
    ["−12", -12],
    ["7200", 7200],
  ])) {
    assert.equal(placeFrom(text), place, text);
  }
  for (const text of ["noon", "1:", ":30", "1:75", "1:75:00", "1:2:3:4", "1e3", "1.2345", "--3"])
    assert.equal(placeFrom(text), null, text);
  for (const place of [0, 9.9, 61.2, 3600, 3723.4]) assert.equal(placeFrom(placeWords(place)), place);
});

test("the field of date and time is read as it was written", () => {
  const second = Math.floor(NOON / 1000) * 1000;
  assert.equal(timeFrom(fieldFrom(second)), second);
  assert.equal(timeFrom(""), null);
  assert.equal(timeFrom("yesterday"), null);
});
