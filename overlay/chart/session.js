// The match under the charter's hands: takes actions, asks the recorder what they
// mean, the local chart what follows, keeps the entries on disk and hands them to the
// outbox. Gives one `View` for the page to draw. Draws nothing itself.

/**
 * @import { MatchHeader, Score } from "../types/messages.js"
 * @import { Answer, Entry, LocalChart } from "../shared/charting/local-chart.js"
 * @import { Content, Recorded, State } from "../shared/charting/recorder.js"
 * @import { KeptEntry, Shelf } from "./line/shelf.js"
 * @import { CourtNow, Line, Welcome } from "./line/outbox.js"
 */
import { chartedSoFar, matchOn, ofThisSeat } from "./line/charted-so-far.js";
import { JOINED } from "../shared/charting/editing.js";
import { newId } from "../shared/ids.js";
import { otherWindows } from "../shared/other-windows.js";
import { Outbox } from "./line/outbox.js";
import { freshState, press } from "../shared/charting/recorder.js";
import { doneBy } from "../shared/charting/steps.js";

/**
 * @typedef {object} View
 * @property {MatchHeader | null} header
 * @property {Answer | null} answer
 * @property {State} state
 * @property {Line} line
 * @property {string} message the host's or the recorder's latest word
 * @property {number} waiting entries the host does not have yet
 * @property {boolean} kept whether all of it is on this laptop's disk
 * @property {number} refused entries the host did not take
 * @property {CourtNow | null} court how the court is, where the host has told since this page was opened
 * @property {() => Answer["recent"]} ends every end of a rally of the match
 * @property {boolean} welcomed whether the court has answered since the page was opened
 */

/** Lines on which this page must not chart. */
const STOPPED = new Set(["taken_over", "elsewhere", "other_match"]);

export class Session {
  #localChart;
  #shelf;
  #court;
  #draw;
  #outbox;
  /** Other windows of this browser, which share its disk and its name with the host. */
  #windows;
  /** What waited here when this laptop took the court over. @type {ReadonlySet<string>} */
  #aside = new Set();
  /** How many of the host's entries this laptop knows of. */
  #known = 0;
  /** @type {Map<string, KeptEntry>} */
  #kept = new Map();
  #place = 0;
  /** What `message` says of the line. */
  #ofTheLine = "";
  /** @type {View} */
  view = {
    header: null,
    answer: null,
    state: freshState(),
    line: "connecting",
    message: "",
    waiting: 0,
    kept: true,
    refused: 0,
    court: null,
    ends: () => this.#localChart.ends(),
    welcomed: false,
  };

  /**
   * @param {{ localChart: LocalChart, shelf: Shelf, court: string, client: string, url: string }} parts
   * @param {(view: View) => void} draw
   */
  constructor({ localChart, shelf, court, client, url }, draw) {
    this.#localChart = localChart;
    this.#shelf = shelf;
    this.#court = court;
    this.#draw = draw;
    this.#outbox = new Outbox(url, client, {
      onLine: (line, message) => this.#lineIs(line, message),
      onWelcome: (welcome, tookOver) => this.#welcomed(welcome, tookOver),
      onStored: (id, seq) => void this.#settled(id, "stored", "", seq),
      onCourt: (now) => void this.#courtIs(now),
      onTurnedAway: () => void this.#turnedAway(),
      onRefused: (id, _, message) => void this.#settled(id, "refused", `the host refused an entry: ${message}`, null),
    });
    this.#windows = otherWindows(`rallytide.chart.${court}`, () =>
      this.#outbox.yield("another window of this browser charts this court"),
    );
  }

  /** Takes up what this laptop has of the court, then the line. */
  async start() {
    this.view.kept = this.#shelf.keeps;
    await this.#takeUp();
    this.#change({});
    this.#charts();
    this.#outbox.connect();
  }

  /** What is said of the line goes with it; what was said of the match stays. @param {View["line"]} line @param {string} [message] */
  #lineIs(line, message = "") {
    const isOfTheLine = this.view.message === this.#ofTheLine;
    this.#ofTheLine = message;
    this.#change({ line, message: message === "" && !isOfTheLine ? this.view.message : message });
  }

  async #takeUp() {
    const { match, entries } = await this.#shelf.read(this.#court);
    if (match === undefined) return;
    this.#outbox.setAside(new Set(this.#kept.keys()));
    this.#fill(match.header, match.joined, entries);
    this.#known = match.joinedAt ?? 0;
    for (const { state, seq } of entries) if (state === "stored") this.#learn(seq ?? null);
    this.#outbox.add(entries.filter(({ state }) => state === "waiting").map(({ entry }) => entry));
  }

  /** Other windows of this browser stop: two would write over each other's entries on disk. */
  #charts() {
    this.#windows.tell();
  }

  /** @param {MatchHeader} header @param {readonly Entry[]} [entries] of a chart that was loaded */
  async begin(header, entries = []) {
    this.#tryOut(header, entries);
    await this.#shelf
      .begin({ court: this.#court, header, joined: null, joinedAt: 0, taken: false })
      .catch((error) => this.#notKept(error));
    this.#known = 0;
    this.#fill(header, null, []);
    this.#change({ message: "" });
    this.#charts();
    this.#take(entries);
    this.#outbox.connect();
  }

  /** A chart is brought whole or not at all. @param {MatchHeader} header @param {readonly Entry[]} entries @throws with the line */
  #tryOut(header, entries) {
    const lines = [() => this.#localChart.open(header), ...entries.map((entry) => () => this.#localChart.take(entry))];
    for (const [at, take] of lines.entries()) {
      const { refused } = take();
      if (refused !== undefined)
        throw new Error(entries.length === 0 ? refused.message : `line ${at + 1} of the file: ${refused.message}`);
    }
  }

  /** @param {string} action @param {number} [at] ms since 1970, where a video's time counts */
  press(action, at = Date.now()) {
    const { answer, header, line } = this.view;
    if (answer === null || header === null || STOPPED.has(line)) return;
    const context = { answer, header, nextId: newId, now: performance.now(), ends: this.view.ends };
    const outcome = press(this.view.state, action, context);
    this.#record(outcome.entries, at, outcome.state, outcome.say ?? "");
  }

  /** Records what no key means, such as the referee's word. @param {Content} content @param {number} [at] ms since 1970 */
  say(content, at = Date.now()) {
    if (this.view.header === null || STOPPED.has(this.view.line)) return;
    const id = newId();
    const { state } = this.view;
    this.#record([{ id, ...content }], at, { ...state, done: [...state.done, id], undone: [] }, "");
  }

  /** Charts on here; another laptop or window that charts this court is told and stops. */
  async takeOver() {
    await this.#takeUp();
    this.#aside = new Set(
      [...this.#kept.values()].filter(({ state }) => state === "waiting").map(({ entry }) => entry.id),
    );
    this.#charts();
    this.#outbox.takeOver();
  }

  /** Makes room for a new match, which then takes the old one off the court. */
  clear() {
    this.#kept.clear();
    this.#place = 0;
    this.view.header = null;
    this.view.answer = null;
    this.#outbox = this.#outbox.successor();
    this.#outbox.replace = true;
    this.#change({ state: { ...freshState(), detail: this.view.state.detail }, line: "connecting", message: "" });
  }

  /** Leaves the match kept here for the one on the court, if there is one: the host says which. */
  async leave() {
    await this.#shelf.forget(this.#court).catch((error) => this.#notKept(error));
    this.clear();
    this.#outbox.replace = false;
    this.#charts();
    this.#change({ refused: 0, court: null });
    this.#outbox.connect();
  }

  /**
   * The court is no longer as it was: its match again, in other words or with other entries, or
   * another one. A page on which nothing has been charted goes with the court by itself.
   * @param {CourtNow} now
   */
  async #courtIs(now) {
    const { header, line } = this.view;
    this.#change({ court: now });
    if (header === null) {
      if (now.match !== null) this.#outbox.again();
    } else if (now.match?.id === header.id) {
      if (line === "other_match" || now.last_seq > this.#known || !sameWords(header, now.match)) this.#outbox.again();
    } else if (this.#kept.size === 0 && now.moved_to === null) await this.leave();
    else this.#outbox.standBy();
  }

  /** Which match the court has instead is known only where the host has told. */
  async #turnedAway() {
    const told = this.view.court;
    const match = await matchOn(this.#court);
    if (this.view.line !== "other_match" || this.view.court !== told) return;
    const state = match === null ? "empty" : "playing";
    this.#change({ court: { last_seq: 0, moved_to: null, ...told, match, state } });
  }

  /** @returns {string} the chart as a file's text */
  file() {
    return this.#localChart.file();
  }

  /** @param {readonly Recorded[]} entries @param {number} at @param {State} state @param {string} message */
  #record(entries, at, state, message) {
    const stamped = entries.map(({ id, ...content }) => ({ id, at: new Date(at).toISOString(), ...content }));
    const refused = this.#take(stamped);
    if (refused === null) this.#change({ state, message });
    else this.#change({ message: refused });
  }

  /** @param {readonly Entry[]} entries @returns {string | null} why one was refused */
  #take(entries) {
    /** @type {KeptEntry[]} */
    const taken = [];
    let refused = null;
    for (const entry of entries) {
      const answer = this.#localChart.take(entry);
      this.view.answer = answer.refused === undefined ? answer : this.view.answer;
      if (answer.refused !== undefined) refused = answer.refused.message;
      else taken.push({ court: this.#court, place: this.#place++, entry, state: "waiting" });
    }
    if (taken.length > 0) this.#keepAndSend(taken);
    return refused;
  }

  /**
   * To the disk and to the host at once: what only the host got before this page
   * was lost comes back with the chart so far. @param {KeptEntry[]} taken
   */
  #keepAndSend(taken) {
    for (const kept of taken) this.#kept.set(kept.entry.id, kept);
    void this.#keep(taken);
    this.#outbox.add(taken.map(({ entry }) => entry));
  }

  /** @param {string} id @param {"stored" | "refused"} state @param {string} message @param {number | null} seq */
  async #settled(id, state, message, seq) {
    const kept = this.#kept.get(id);
    if (kept === undefined || kept.state === state) return;
    kept.state = state;
    if (seq !== null) kept.seq = seq;
    if (state === "refused") this.view.refused += 1;
    else if (seq !== null && seq > this.#known + 1) this.#outbox.again();
    else this.#learn(seq);
    this.#change(message === "" ? {} : { message });
    await this.#keep([kept]);
  }

  /** @param {number | null} seq of an entry the host has */
  #learn(seq) {
    this.#known = seq === null ? this.#known + 1 : Math.max(this.#known, seq);
  }

  /** @param {Welcome} welcome @param {boolean} tookOver */
  async #welcomed(welcome, tookOver) {
    const { line, header } = this.view;
    const { match } = welcome;
    // Out of another match a page comes only with its own one: else it would not be welcomed.
    const charting = (line === "other_match" || !STOPPED.has(line)) && match !== null;
    if (charting && (header === null || welcome.last_seq > this.#known || !sameWords(header, match)))
      await this.#catchUp(welcome, tookOver);
    this.#change({ welcomed: true });
  }

  /**
   * Others have charted since, on another laptop, from the second seat or at the desk: what the host has
   * counts, then what waits here. But what waited before this laptop took the court
   * over, the other one has seen, too: it is set aside, so that nothing counts twice.
   * @param {Welcome} welcome @param {boolean} tookOver
   */
  async #catchUp(welcome, tookOver) {
    const { match, score, last_seq } = welcome;
    if (match === null) return;
    const charted = await chartedSoFar(this.#court, match.id);
    const stored = new Set((charted ?? []).map(({ entry }) => entry.id));
    const aside = tookOver ? this.#aside : new Set();
    this.#outbox.setAside(aside);
    const waiting = [...this.#kept.values()].filter(
      ({ state, entry }) => state === "waiting" && !stored.has(entry.id) && !aside.has(entry.id),
    );
    const kept = [...(charted ?? []), ...waiting].map((one, place) => ({ ...one, court: this.#court, place }));
    // Without the host's chart its word on the score has to do.
    const joined = charted === null ? score : null;
    this.#known = charted?.at(-1)?.seq ?? last_seq;
    const news = (charted ?? []).filter(({ entry }) => !this.#kept.has(entry.id));
    const before = this.view.header;
    const areCues = news.length > 0 && news.every(({ seat }) => seat === "cues");
    const isChanged = before?.id === match.id && !tookOver && !(areCues && sameWords(before, match));
    this.#fill(match, joined, kept);
    if (isChanged) this.view.message = "changed at the desk: this is how it stands now";
    await this.#shelf
      .begin({ court: this.#court, header: match, joined, joinedAt: joined === null ? 0 : last_seq, taken: true })
      .catch((error) => this.#notKept(error));
    await this.#keep(kept);
  }

  /** Takes up a match as it is kept. @param {MatchHeader} header @param {Score | null} joined @param {readonly KeptEntry[]} entries */
  #fill(header, joined, entries) {
    const { state } = this.view;
    // What waits for its second key is not lost where the same match comes anew.
    const { armed, sameSide, before } = this.view.header?.id === header.id ? state : freshState();
    this.#kept.clear();
    this.#place = (entries.at(-1)?.place ?? -1) + 1;
    this.#open(header, joined);
    const counted = entries.filter(({ state }) => state !== "refused");
    for (const kept of entries) this.#kept.set(kept.entry.id, kept);
    for (const { entry } of counted) {
      const answer = this.#localChart.take(entry);
      if (answer.refused === undefined) this.view.answer = answer;
    }
    const { detail } = state;
    this.view.state = {
      ...freshState(),
      detail,
      armed,
      sameSide,
      before,
      ...doneBy(ofThisSeat(counted)),
    };
    this.view.refused = entries.length - counted.length;
  }

  /** @param {KeptEntry[]} kept */
  #keep(kept) {
    return this.#shelf.keep(kept).catch((error) => this.#notKept(error));
  }

  /** @param {unknown} error */
  #notKept(error) {
    console.warn(`this browser did not keep it: ${String(error)}`);
    this.#change({ kept: false, message: "not saved in this browser: keep the page open" });
  }

  /** @param {MatchHeader} header @param {Score | null} joined */
  #open(header, joined) {
    this.view.header = header;
    this.#outbox.header = header;
    this.view.answer = this.#localChart.open(header);
    if (joined === null) return;
    const { points, serving, server, games } = joined;
    const fix = { id: JOINED, at: new Date().toISOString(), kind: "score_fix", points, serving, games };
    const answer = this.#localChart.take(server === null ? fix : { ...fix, server });
    if (answer.refused === undefined) this.view.answer = answer;
  }

  /** @param {Partial<View>} change */
  #change(change) {
    Object.assign(this.view, change);
    this.view.waiting = this.#outbox.waiting;
    this.#draw(this.view);
  }
}

/** Whether two headers of a match say the same about it. @param {MatchHeader} one @param {MatchHeader} other */
const sameWords = (one, other) => canonical(one) === canonical(other);

/** @param {unknown} value @returns {string} the same for the same content, whatever the order of the fields */
const canonical = (value) =>
  JSON.stringify(value, (_, part) =>
    part !== null && typeof part === "object" && !Array.isArray(part)
      ? Object.fromEntries(Object.entries(part).sort(([one], [other]) => (one < other ? -1 : 1)))
      : part,
  );
