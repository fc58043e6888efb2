// What the charters' page says about its line, at its gate and aloud, and what it
// makes of a chart file.
import assert from "node:assert/strict";
import test from "node:test";
import { chartFrom } from "../../chart/match/setup.js";
import { LineVoice, gateWords, lineWords } from "../../chart/line/line-words.js";
import { entryWords } from "../../shared/charting/words.js";

const state = (line, waiting = 0, more = {}) => ({ line, waiting, kept: true, refused: 0, ...more });

test("the line says what is saved, what waits and what to do about it", () => {
  assert.equal(lineWords(state("connected")), "Connected, all saved");
  assert.equal(lineWords(state("connected", 2)), "Connected, 2 on the way");
  assert.equal(lineWords(state("connected", 0, { refused: 1 })), "Connected, all saved; the host refused 1");
  assert.equal(lineWords(state("lost", 3)), "Offline, 3 waiting: chart on, do not reload");
  assert.equal(
    lineWords(state("lost", 3, { kept: false })),
    "NOT SAVED: 3 entries are only in this page. Keep it open",
  );
  assert.equal(
    lineWords(state("link_replaced", 2)),
    "This link was replaced: ask the desk for the new one and open it here; 2 entries are kept on this laptop",
  );
  assert.equal(lineWords(state("taken_over", 1)), "Stopped: another laptop has taken over; 1 entry is only here");
});

const gate = (line, waiting, more = {}) => ({ line, message: "", waiting, header: null, court: null, ...more });

test("at the gate, what is not with the host is to be downloaded first", () => {
  assert.match(gateWords(gate("taken_over", 0)).join(" "), /saved with the host/);
  assert.match(gateWords(gate("taken_over", 4)).join(" "), /4 entries are not with the host yet: download the chart/);
});

test("at the gate of a match that has left the court, the next match, the other court or nobody is named", () => {
  const header = { teams: { a: { name: "Otter" }, b: { name: "Plover" } } };
  const next = { teams: { a: { name: "Quail" }, b: { name: "Robin" } } };
  const now = (court) =>
    gateWords(gate("other_match", 0, { header, court }))
      .slice(0, 2)
      .join(" ");
  assert.match(now({ match: next, moved_to: null }), /^Now on this court: Quail v Robin Otter v Plover is not on/);
  assert.match(now({ match: next, moved_to: "3" }), /^Otter v Plover has moved to court 3 /);
  assert.match(now({ match: null, moved_to: null }), /^No match is on this court now Otter v Plover is not on it/);
  assert.match(now(null), /^This match is not on this court now/);
});

test("a change of the line is said at once, a growing number every ten seconds at most", () => {
  const voice = new LineVoice();
  assert.equal(voice.say(state("connected"), 0), "Connected, all saved");
  assert.equal(voice.say(state("lost"), 100), "Offline, nothing waiting: chart on, do not reload");
  assert.equal(voice.say(state("lost", 5), 5_000), "Offline, nothing waiting: chart on, do not reload");
  assert.equal(voice.say(state("lost", 9), 10_100), "Offline, 9 waiting: chart on, do not reload");
  assert.equal(voice.say(state("connected", 9), 10_200), "Connected, 9 on the way");
  assert.equal(voice.say(state("connected"), 13_200), "Connected, all saved");
});

test("a chart file with positions is taken in their order, without what a host added", () => {
  const lines = [
    { kind: "match", id: "m" },
    { id: "two", seq: 2, crc: "x", received: "y" },
    { id: "one", seq: 1 },
  ];
  const { header, entries } = chartFrom(lines.map((line) => JSON.stringify(line)).join("\n"));
  assert.equal(header.id, "m");
  assert.deepEqual(entries, [{ id: "one" }, { id: "two" }]);
});

test("a rally's end says once who ended it and how, who won it where that is another, and what it did to the score", () => {
  const header = { teams: { a: { name: "Reed" }, b: { name: "Reed; Sand" } } };
  /** @param {object} end @param {string} what */
  const words = (end, what) => entryWords(header, { entry: { id: "e", kind: "rally_end", ...end }, what, flags: [] });
  assert.equal(words({ how: "winner", by: "a" }, "rally to Reed (Reed, winner); point"), "winner by Reed · point");
  assert.equal(
    words({ how: "out", by: "a" }, "rally to Reed; Sand (Reed, out); side out"),
    "out by Reed · rally to Reed; Sand; side out",
  );
  assert.equal(
    words({ won_by: "b" }, "rally to Reed; Sand; point; change ends"),
    "rally to Reed; Sand · point; change ends",
  );
  assert.equal(
    words({ how: "net", by: "b" }, "not counted: the match is over"),
    "net by Reed; Sand · not counted: the match is over",
  );
});
