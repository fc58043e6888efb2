// The desk's states worth looking at: a room, a size, what the host says, and what
// somebody does there.

/** @import { Page } from "playwright-core" */
/** @import { Charter } from "../../types/host.js" */
/** @import { Score } from "../../types/messages.js" */
import { FakeDesk } from "./fake-desk.js";
import { HEADER, SCORE } from "./states.js";

const LAPTOP = { width: 1366, height: 768 };
const TABLET = { width: 1024, height: 768 };
const LARGE = { width: 1920, height: 1080 };
const UPRIGHT = { width: 800, height: 1280 };
const LONG = {
  a: { name: "Featherstonehaugh-Whitcombe / Papadimitropoulos" },
  b: { name: "Montgomery-Oyelaran / Wiśniewska" },
};
/** @type {Score} */
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
  const asCharted = {
    correction: null,
    client: "laptop-7f",
    seat: /** @type {const} */ ("chart"),
    score: SCORE,
    rally: 12,
  };
  desk.entries = [
    {
      ...asCharted,
      seq: 41,
      entry: { id: "e41", kind: "rally_end", won_by: "b", how: "net", by: "a" },
      state: "original",
    },
    {
      ...asCharted,
      seq: 40,
      entry: { id: "e40", kind: "shot", team: "a", stroke: "drop", cues: ["attackable"] },
      state: "amended",
      correction: "c1",
    },
    {
      ...asCharted,
      seq: 39,
      entry: { id: "e39", kind: "shot", team: "b", stroke: "return" },
      state: "original",
    },
    {
      ...asCharted,
      seq: 38,
      entry: { id: "e38", kind: "shot", team: "a", stroke: "serve" },
      state: "retracted",
      correction: "c2",
    },
  ];
  return desk;
}

function four() {
  const desk = one();
  const known = { seat: /** @type {const} */ ("chart"), match: "m2" };
  /** @type {Charter[]} */
  const late = [
    { ...known, client: "abcdef0123456789", holds: true, address: "192.168.1.32", late_ms: 2400, clock_ms: 5000 },
    { ...known, client: "second", holds: false, address: null, late_ms: null, clock_ms: null },
  ];
  desk.play("2", { ...HEADER, id: "m2", teams: LONG }, { state: "paused", charters: late });
  desk.play("3", { ...HEADER, id: "m3" }, { state: "ready", charters: [], entries: 0, last_entry: null });
  desk.play("centre", { ...HEADER, id: "m4" }, { state: "finished", score: WON });
  desk.addMatch({
    ...HEADER,
    round: "QF 2",
    time: "14:40",
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
    {
      line: 3,
      column: "Points",
      message: "“abc” is no whole number from 1 to 99.",
      row: "9:30 · 2 · Heron · Lantern · abc",
    },
    {
      line: 5,
      column: "Team 2",
      message: "“Kite” has no opponent. Fill in the other team, or clear the row if it is no match.",
      row: "10:00 · 1 · Kite",
    },
  ];
  return desk;
}

const NAMES = ["Ueda / Jansen", "Brandt / Mbeki", "Ruiz / Thorsen", "Sato / Lind", "Zamora / Haddad", "Egan / Castel"];

/** Forty matches on four courts, half of them over. */
export function FORTY() {
  const desk = new FakeDesk();
  for (let at = 0; at < 40; at += 1) {
    const court = String(1 + (at % 4));
    const minutes = 9 * 60 + Math.floor(at / 4) * 40;
    const header = {
      ...HEADER,
      id: `m${at}`,
      title: "Harbour Day",
      round: at < 32 ? `Pool ${"ABCD"[at % 4]}` : `QF ${at - 31}`,
      time: `${String(Math.floor(minutes / 60)).padStart(2, "0")}:${String(minutes % 60).padStart(2, "0")}`,
      court,
      teams: { a: { name: NAMES[at % 6] }, b: { name: NAMES[(at + 1 + Math.floor(at / 6)) % 6] } },
    };
    if (at >= 16 && at < 19) desk.play(court, header, at === 18 ? { charters: [] } : {});
    else desk.addMatch(header);
    if (at < 16) Object.assign(desk.match(`m${at}`), { state: "finished", entries: 90, winner: "a", score: WON });
  }
  desk.court("4");
  return desk;
}

const form = (/** @type {Page} */ page) => page.getByRole("region", { name: "New match" });
const press = (/** @type {Page} */ page, /** @type {string | RegExp} */ name) =>
  page.getByRole("button", { name }).filter({ visible: true }).first().click();
const openAll = (/** @type {Page} */ page) =>
  page.locator("details").evaluateAll((all) => all.forEach((details) => details.setAttribute("open", "")));

/** @param {Page} page */
async function faults(page) {
  await openAll(page);
  await form(page).getByLabel("Points per game").fill("0");
  await press(page, "Add match");
}

/** @param {Page} page */
async function lookOver(page) {
  await page.locator(".sheet textarea").fill("team_a,team_b,points\nHeron,Lantern,11\nOwl,Kite,abc\n");
  await press(page, "Check");
  await page.locator(".sheet table").waitFor();
}

/** @param {Page} page */
async function drowning(page) {
  await openAll(page);
  await form(page).getByLabel("Team colors").selectOption("yes");
  await form(page).getByLabel("First team's color").fill("#102030");
  await form(page).getByLabel("Second team's color").fill("#302010");
}

/** @param {Page} page */
async function correct(page) {
  await press(page, /^Correct …/);
  await page.locator(".entries button").first().click();
  await page.getByLabel("Won by").first().selectOption("a");
  await page.locator(".effect .after").waitFor();
}

/**
 * @typedef {object} Scene what a page is told, and what somebody does there
 * @property {string} name
 * @property {string} path
 * @property {{ width: number, height: number }} size
 * @property {unknown[]} messages
 * @property {() => FakeDesk} [desk]
 * @property {(page: Page) => Promise<void>} [act]
 * @property {boolean} [full] the whole page, however long
 */

/** @param {string} name @param {() => FakeDesk} host @param {string} room @param {Scene["size"]} size @param {Partial<Scene>} [more] @returns {Scene} */
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
  desk("forty-courts", FORTY, "", LAPTOP),
  desk("forty-courts-large", FORTY, "", LARGE),
  desk("forty-courts-tablet", FORTY, "", TABLET),
  desk("forty-matches", FORTY, "#matches", LAPTOP),
  desk("forty-matches-large", FORTY, "#matches", LARGE),
  desk("forty-matches-tablet", FORTY, "#matches", TABLET),
  desk("one-match", FORTY, "#matches/match/m17", LAPTOP),
  desk("links", one, "", LAPTOP, { act: (page) => press(page, /^More/) }),
  desk("finish", one, "", LAPTOP, {
    act: async (page) => {
      await press(page, /^More/);
      await press(page, "End match …");
    },
  }),
  desk("corrections", one, "", LAPTOP, { act: correct }),
  desk("corrections-upright", one, "", UPRIGHT, { act: correct }),
  desk("form-faults", one, "#matches/new", LAPTOP, { act: faults, full: true }),
  desk("sheet-problems", badSheet, "#matches/import", LAPTOP, { act: lookOver, full: true }),
  desk("colors", one, "#matches/new", LAPTOP, { act: drowning, full: true }),
  desk("saves", one, "#matches/match/m1", LAPTOP, { act: openAll, full: true }),
  desk("saves-upright", one, "#matches/match/m1", UPRIGHT, { act: openAll, full: true }),
  desk("graphic", one, "#graphic", LAPTOP, { full: true }),
  desk("graphic-large", one, "#graphic", LARGE),
  desk("graphic-upright", one, "#graphic", UPRIGHT, { full: true }),
  desk("plugins", four, "#plugins", LAPTOP, { act: openAll, full: true }),
  desk("files", one, "#files", LAPTOP),
];
