// The desk's side of a host for tests: keeps what it is told and says it back, in
// the form of the real one. It scores nothing and checks next to nothing; a test
// sets what matters to it.

/**
 * @import { IncomingMessage, ServerResponse } from "node:http"
 * @import { CourtState, DeskHeader, ImportProblem, Links, ListedEntry, MatchState, PluginReport, Preview, TextFilesState } from "../../types/host.js"
 * @import { Score } from "../../types/messages.js"
 */
import { SCORE } from "./states.js";

/** @typedef {{ method: string, path: string, body: any, query: Record<string, string> }} Asked `body`: whatever a page has sent */

/** @type {Score} */
export const FRESH_SCORE = {
  ...SCORE,
  game: 1,
  games: { a: 0, b: 0 },
  points: { a: 0, b: 0 },
  call: "0-0-2",
  serving: "a",
  server: 2,
  finished: [],
  rallies: 0,
};

const SHA = "0".repeat(64);
/** What a plugin has done on a court that runs it quietly. */
const QUIET = {
  faults: 0,
  last_fault: null,
  switched_off_by_faults: false,
  version: "0.1.0",
  sha256: SHA,
  most_fuel: 4_000,
  readings: 6,
  log: [],
  log_dropped: 0,
};

/** @type {PluginReport} */
export const PLUGINS = {
  plugins: [
    {
      id: "initiative",
      version: "0.1.0",
      about: "Says who holds the initiative and why.",
      provides: ["initiative", "depth"],
      reads: [],
      settings: [],
      file: "rallytide-initiative",
      sha256: SHA,
      size: 91_000,
      called_for: null,
      built_in: true,
      on: true,
      chosen: null,
    },
    {
      id: "prompts",
      version: "0.1.0",
      about: "Offers the commentator lines to say.",
      provides: ["prompt"],
      reads: ["initiative"],
      settings: [
        {
          name: "least_sample",
          about: "Fewest cases from which a share is said.",
          type: "whole",
          from: 1,
          to: 100,
          default: 8,
        },
        {
          name: "during_rally",
          about: "Whether a need is offered while the rally is on.",
          type: "truth",
          default: true,
        },
      ],
      file: "rallytide-prompts",
      sha256: SHA,
      size: 120_000,
      called_for: null,
      built_in: true,
      on: true,
      chosen: null,
    },
  ],
  courts: {
    1: [
      {
        ...QUIET,
        plugin: "initiative",
        file: "rallytide-initiative",
        state: "running",
        calls: 40,
        fuel: 80_000,
        time_us: 320,
        most_time_us: 41,
        memory_bytes: 1_114_112,
      },
      {
        ...QUIET,
        plugin: "prompts",
        file: "rallytide-prompts",
        state: "stopped",
        fault: { plugin: "prompts", kind: "out_of_fuel", message: "it used up its fuel", entry: null, seq: 12 },
        calls: 12,
        fuel: 5_000_000,
        time_us: 9000,
        most_time_us: 8200,
        memory_bytes: 1_114_112,
        faults: 1,
      },
    ],
  },
  attempts: [
    {
      at: "2026-11-26T10:00:00.000Z",
      file: "tempo.wasm",
      plugin: null,
      version: null,
      outcome: "refused",
      message: "it imports `clock`, which no plugin is given",
      hint: "leave out what needs a clock",
    },
  ],
};

const KEYS = { desk: "desk-key", charter: "charter-key", booth: "booth-key", viewer: "viewer-key" };

export class FakeDesk {
  /** What was asked, and the key each came with. @type {Asked[]} */
  asked = [];
  /** @type {(string | null)[]} */
  keys = [];
  /** @type {Links} */
  links = { addresses: ["http://192.168.1.20:7447"], networks: {}, reachable: true, keys: KEYS };
  /** @type {CourtState[]} */
  courts = [];
  /** @type {MatchState[]} */
  matches = [];
  /** @type {TextFilesState} */
  textFiles = { folder: null, problem: null };
  plugins = structuredClone(PLUGINS);
  /** @type {ListedEntry[]} */
  entries = [];
  /** @type {Preview} */
  preview = {
    score: { before: SCORE, after: { ...SCORE, points: { a: 4, b: 4 }, call: "4-4-1", serving: "a" } },
    rallies: [{ number: 7, before: "b won, 5-3-1", after: "a won, 4-4-1" }],
    readings: { changed: 3 },
    refused: [],
    flags: [],
  };
  /** What an import finds; the lines' own cells are not read. @type {ImportProblem[]} */
  importProblems = [];
  /** The columns it leaves out. @type {string[]} */
  ignored = [];
  /** The paths it describes; null: it describes none. @type {string[] | null} */
  paths = null;
  /** A sentence: every write is refused with it. @type {string | null} */
  refusal = null;
  /** A sentence: no file is handed out, and that is why. @type {string | null} */
  noFile = null;
  #made = 0;

  /** A match that is on a court and has been charted. @param {string} court @param {DeskHeader} header @param {Partial<CourtState>} [more] */
  play(court, header, more = {}) {
    this.matches.push({
      id: header.id,
      header: { ...header, court },
      state: "on",
      court,
      entries: 41,
      winner: null,
      score: more.score ?? SCORE,
      places: [],
    });
    this.courts.push({
      court,
      state: "playing",
      match: header.id,
      score: SCORE,
      entries: 41,
      last_entry: { id: "r3s4", kind: "shot", at: new Date().toISOString(), received: new Date().toISOString() },
      charters: [
        {
          client: "laptop-7f",
          seat: "chart",
          holds: true,
          address: "192.168.1.31",
          match: header.id,
          late_ms: 140,
          clock_ms: -35,
        },
      ],
      viewers: { viewer: 2, booth: 1 },
      ...more,
    });
    return this;
  }

  /** @param {IncomingMessage} request @param {ServerResponse} response @returns {Promise<boolean>} whether it was the desk's to answer */
  async answer(request, response) {
    const { pathname, searchParams } = new URL(request.url ?? "/", "http://host");
    const route = ROUTES.find(([method, path]) => method === request.method && path.test(pathname));
    if (route === undefined) return false;
    let text = "";
    for await (const part of request) text += part;
    const body = text.startsWith("{") ? JSON.parse(text) : text;
    this.asked.push({
      method: request.method ?? "",
      path: pathname + (searchParams.get("dry") === null ? "" : "?dry=true"),
      body,
      query: Object.fromEntries(searchParams),
    });
    this.keys.push(request.headers.authorization ?? null);
    if (this.refusal !== null && request.method !== "GET") {
      response.statusCode = 409;
      response.end(this.refusal);
      return true;
    }
    const name = decodeURIComponent(route[1].exec(pathname)?.[1] ?? "");
    const said = route[2](this, name, body, searchParams);
    response.statusCode = said?.status ?? 200;
    response.setHeader("content-type", "application/json");
    response.end(
      said === undefined ? "" : typeof said.body === "string" ? said.body : JSON.stringify(said.body ?? said),
    );
    return true;
  }

  writes() {
    return this.asked.filter(({ method }) => method !== "GET").map(({ method, path }) => `${method} ${path}`);
  }

  /** @param {Omit<DeskHeader, "id"> & { id?: string }} header */
  addMatch(header) {
    const id = header.id ?? `match-${(this.#made += 1)}`;
    const whole = /** @type {DeskHeader} */ ({ ...header, id });
    this.matches.push({
      id,
      header: whole,
      state: "planned",
      court: whole.court || null,
      entries: 0,
      winner: null,
      score: null,
      places: [],
    });
    return { id, header: whole };
  }

  /** @param {string} id */
  match(id) {
    const found = this.matches.find((one) => one.id === id);
    if (found === undefined) throw new Error(`the fake desk has no match \`${id}\``);
    return found;
  }

  /** @param {string} id */
  plugin(id) {
    const found = this.plugins.plugins.find((one) => one.id === id);
    if (found === undefined) throw new Error(`the fake desk has no plugin \`${id}\``);
    return found;
  }

  /** @param {string} name @returns {CourtState} made where there is none */
  court(name) {
    const known = this.courts.find(({ court }) => court === name);
    if (known !== undefined) return known;
    /** @type {CourtState} */
    const made = {
      court: name,
      state: "empty",
      match: null,
      score: null,
      entries: 0,
      last_entry: null,
      charters: [],
      viewers: { viewer: 0, booth: 0 },
    };
    this.courts.push(made);
    return made;
  }

  /** @param {string} name */
  takeOff(name) {
    const court = this.court(name);
    if (court.match !== null)
      Object.assign(this.match(court.match), { state: court.entries === 0 ? "planned" : "put_aside", court: null });
    Object.assign(court, { state: "empty", match: null, score: null, entries: 0, last_entry: null });
  }

  /** @param {string} name @param {string} id */
  putOn(name, id) {
    this.takeOff(name);
    const match = this.match(id);
    const left = this.courts.find((one) => one.match === id);
    if (left !== undefined)
      Object.assign(left, { state: "empty", match: null, score: null, entries: 0, last_entry: null });
    Object.assign(match, { state: "on", court: name });
    Object.assign(this.court(name), {
      state: match.entries === 0 ? "ready" : "playing",
      match: id,
      score: match.entries === 0 ? FRESH_SCORE : SCORE,
      entries: match.entries,
    });
  }

  /** The same, as everybody may see it. @returns {import("../../types/host.js").EventDay} */
  event() {
    const waits = (/** @type {string} */ court) =>
      this.matches.find((one) => one.state === "planned" && one.header.court === court)?.id;
    return {
      courts: this.courts.map(({ court, state, match }) => ({ court, state, match, next: waits(court) ?? null })),
      matches: this.matches.map(({ id, header, state, court, score }) => {
        const [a, b] = [header.teams.a, header.teams.b].map(({ name, players = [] }) => ({ name, players }));
        const { title = "", round = "", time = "", format } = header;
        const { points, games } = format;
        return { id, title, round, time, state, court, teams: { a, b }, format: { points, games }, score };
      }),
    };
  }

  /** @param {string} csv @param {boolean} dry */
  import(csv, dry) {
    if (this.importProblems.length > 0)
      return {
        status: 422,
        body: { matches: [], ignored: [], left_out: [], problems: this.importProblems, sheet: null },
      };
    const lines = csv.trim().split(/\r?\n/).slice(1);
    /** @type {DeskHeader[]} */
    const matches = lines.map((line, at) => ({
      kind: "match",
      chart: 1,
      id: `sheet-${at + 1}`,
      title: "Sheet",
      court: "1",
      first_serve: "a",
      teams: { a: { name: line.split(",")[0] ?? "" }, b: { name: line.split(",")[1] ?? "" } },
      format: { discipline: "doubles", scoring: "side_out", points: 11, win_by: 2, games: 1 },
    }));
    if (!dry) for (const header of matches) this.addMatch(header);
    return { matches, ignored: this.ignored, left_out: [], problems: [], sheet: null };
  }
}

/**
 * Method, path, answer. What a page sends is as its own types have it, which `host.d.ts` names; here it is only passed on.
 * @type {[method: string, path: RegExp, answer: (desk: FakeDesk, name: string, body: any, query: URLSearchParams) => any][]}
 */
const ROUTES = [
  [
    "GET",
    /^\/desk\/state$/,
    (desk) => ({
      now: new Date().toISOString(),
      version: "0.1.0",
      courts: desk.courts,
      matches: desk.matches,
      text_files: desk.textFiles,
    }),
  ],
  [
    "GET",
    /^\/openapi\.json$/,
    (desk) =>
      desk.paths === null ? { status: 404 } : { paths: Object.fromEntries(desk.paths.map((path) => [path, {}])) },
  ],
  ["GET", /^\/event\.json$/, (desk) => desk.event()],
  ["GET", /^\/desk\/links$/, (desk) => desk.links],
  [
    "PUT",
    /^\/desk\/others$/,
    (desk, _, { let_in }) =>
      (desk.links = {
        ...desk.links,
        let_in,
        reachable: let_in,
        addresses: let_in ? ["http://192.168.1.20:7447"] : [],
      }),
  ],
  [
    "POST",
    /^\/desk\/keys$/,
    (desk, _, { role }) => (desk.links = { ...desk.links, keys: { ...desk.links.keys, [role]: "new-key" }, ended: 2 }),
  ],
  ["GET", /^\/plugins$/, (desk) => desk.plugins],
  ["PUT", /^\/plugins\/([^/]+)\/switch$/, (desk, id, { on }) => void (desk.plugin(id).on = on)],
  ["PUT", /^\/plugins\/([^/]+)\/settings$/, (desk, id, chosen) => void (desk.plugin(id).chosen = chosen)],
  ["POST", /^\/matches\/import$/, (desk, _, csv, query) => desk.import(csv, query.get("dry") === "true")],
  ["POST", /^\/matches$/, (desk, _, header) => ({ status: 201, body: desk.addMatch(header) })],
  [
    "GET",
    /^\/matches\/([^/]+)\/(?:export\/)?[^/]+\.(?:csv|vtt|html|jsonl)$/,
    (desk) => (desk.noFile === null ? { made: "up" } : { status: 422, body: desk.noFile }),
  ],
  ["PUT", /^\/matches\/([^/]+)$/, (desk, id, header) => void (desk.match(id).header = header)],
  ["DELETE", /^\/matches\/([^/]+)$/, (desk, id) => void (desk.matches = desk.matches.filter((one) => one.id !== id))],
  ["PUT", /^\/courts\/([^/]+)\/match$/, (desk, court, { match }) => void desk.putOn(court, match)],
  ["DELETE", /^\/courts\/([^/]+)\/match$/, (desk, court) => void desk.takeOff(court)],
  [
    "PUT",
    /^\/courts\/([^/]+)\/pause$/,
    (desk, court, { paused }) => void (desk.court(court).state = paused ? "paused" : "playing"),
  ],
  [
    "PUT",
    /^\/courts\/([^/]+)\/finish$/,
    (desk, court, { finished }) => void (desk.court(court).state = finished ? "finished" : "playing"),
  ],
  [
    "DELETE",
    /^\/courts\/([^/]+)$/,
    (desk, name) => void (desk.courts = desk.courts.filter(({ court }) => court !== name)),
  ],
  ["GET", /^\/courts\/([^/]+)\/entries$/, (desk) => ({ entries: desk.entries })],
  ["POST", /^\/courts\/([^/]+)\/preview$/, (desk) => desk.preview],
  [
    "POST",
    /^\/courts\/([^/]+)\/entries$/,
    (_desk, _court, { entries }) => ({
      accepted: entries.map((/** @type {{ id: string }} */ { id }, /** @type {number} */ at) => ({
        id,
        seq: 42 + at,
        flags: [],
      })),
      refused: [],
    }),
  ],
  ["PUT", /^\/text-files$/, (desk, _, { folder }) => void (desk.textFiles = { folder, problem: null })],
];
