// The desk's states worth looking at: a room, a size, what the host says, and what
// somebody does there.

import { FakeDesk } from "./fake-desk.js";
import { HEADER, SCORE } from "./states.js";

const LAPTOP = { width: 1366, height: 768 };
const LARGE = { width: 1920, height: 1080 };
const UPRIGHT = { width: 800, height: 1280 };
const LONG = {
  a: { name: "Featherstonehaugh-Whitcombe / Papadimitropoulos" },
  b: { name: "Montgomery-Oyelaran / Wiśniewska" },
};
const WON = {
  ...SCORE,
  winner: "a",
  call: null,
  games: { a: 2, b: 0 },
  finished: [
    { a: 11, b: 7 },
    { a: 11, b: 9 },
  ],
};

const empty = () => new FakeDesk();

function planned() {
  const desk = new FakeDesk();
  desk.putOn("1", desk.addMatch({ ...HEADER, id: "m1" }).id);
  return desk;
}

function one() {
  const desk = new FakeDesk().play("1", { ...HEADER, id: "m1" });
  desk.entries = [
    {
      seq: 41,
      entry: { id: "e41", kind: "rally_end", won_by: "b", how: "net", by: "a" },
      state: "original",
      score: SCORE,
      rally: 12,
    },
    {
      seq: 40,
      entry: { id: "e40", kind: "shot", team: "a", stroke: "drop", cues: ["attackable"] },
      state: "amended",
      correction: "c1",
      score: SCORE,
      rally: 12,
    },
    {
      seq: 39,
      entry: { id: "e39", kind: "shot", team: "b", stroke: "return" },
      state: "original",
      score: SCORE,
      rally: 12,
    },
    {
      seq: 38,
      entry: { id: "e38", kind: "shot", team: "a", stroke: "serve" },
      state: "retracted",
      correction: "c2",
      score: SCORE,
      rally: 12,
    },
  ];
  return desk;
}

function four() {
  const desk = one();
  const late = [
    { client: "abcdef0123456789", seat: true, address: "192.168.1.32", late_ms: 2400, clock_ms: 5000 },
    { client: "second", seat: false, address: null, late_ms: null, clock_ms: null },
  ];
  desk.play("2", { ...HEADER, id: "m2", teams: LONG }, { state: "paused", charters: late });
  desk.play("3", { ...HEADER, id: "m3" }, { state: "ready", charters: [], entries: 0, last_entry: null });
  desk.play("centre", { ...HEADER, id: "m4" }, { state: "finished", score: WON });
  desk.addMatch({
    ...HEADER,
    id: "next",
    court: "centre",
    title: "Evening round",
    teams: { a: { name: "Heron" }, b: { name: "Lantern" } },
  });
  return desk;
}

function badSheet() {
  const desk = one();
  desk.importProblems = [
    { line: 3, column: "points", message: "`abc` is no whole number from 1 to 99" },
    { line: 5, column: null, message: "it has 7 cells, the first line has 12" },
  ];
  return desk;
}

const form = (page) => page.getByRole("region", { name: "A new match" });
const press = (page, name) => page.getByRole("button", { name }).filter({ visible: true }).first().click();
const openAll = (page) => page.locator("details").evaluateAll((all) => all.forEach((details) => (details.open = true)));

async function faults(page) {
  await openAll(page);
  await form(page).getByLabel("Points a game").fill("0");
  await press(page, "Plan this match");
}

async function lookOver(page) {
  await page.locator(".sheet textarea").fill("team_a,team_b,points\nHeron,Lantern,11\nOwl,Kite,abc\n");
  await press(page, "Look it over");
  await page.locator(".sheet table").waitFor();
}

async function drowning(page) {
  await openAll(page);
  await form(page).getByLabel("Team colours").selectOption("yes");
  await form(page).getByLabel("First team's colour").fill("#102030");
  await form(page).getByLabel("Second team's colour").fill("#302010");
}

async function correct(page) {
  await press(page, /^Correct …/);
  await page.locator(".entries button").first().click();
  await page.getByLabel("Won by").first().selectOption("a");
  await page.locator(".effect .after").waitFor();
}

const desk = (name, host, room, size, more = {}) => ({
  name: `desk-${name}`,
  path: `/desk${room}`,
  size,
  messages: [],
  desk: host,
  ...more,
});

export const DESK_SCENES = [
  desk("empty", empty, "", LAPTOP),
  desk("empty-large", empty, "", LARGE),
  desk("empty-upright", empty, "", UPRIGHT, { full: true }),
  desk("second-step", planned, "", LAPTOP, { full: true }),
  desk("one-court", one, "", LAPTOP),
  desk("four-courts", four, "", LAPTOP, { full: true }),
  desk("four-courts-large", four, "", LARGE),
  desk("four-courts-tablet", four, "", { width: 1280, height: 800 }, { full: true }),
  desk("links", one, "", LAPTOP, { act: openAll, full: true }),
  desk("finish", one, "", LAPTOP, { act: (page) => press(page, /^Finish …/) }),
  desk("corrections", one, "", LAPTOP, { act: correct }),
  desk("corrections-upright", one, "", UPRIGHT, { act: correct }),
  desk("form-faults", one, "#matches", LAPTOP, { act: faults, full: true }),
  desk("sheet-problems", badSheet, "#matches", LAPTOP, { act: lookOver, full: true }),
  desk("colours", one, "#matches", LAPTOP, { act: drowning, full: true }),
  desk("saves", one, "#matches", LAPTOP, { act: openAll, full: true }),
  desk("saves-upright", one, "#matches", UPRIGHT, { act: openAll, full: true }),
  desk("graphic", one, "#graphic", LAPTOP, { full: true }),
  desk("graphic-large", one, "#graphic", LARGE),
  desk("graphic-upright", one, "#graphic", UPRIGHT, { full: true }),
  desk("plugins", four, "#plugins", LAPTOP, { act: openAll, full: true }),
  desk("files", one, "#files", LAPTOP),
];
