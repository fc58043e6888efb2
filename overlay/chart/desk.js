// The match under the charter's hands: takes actions, asks the recorder what they
// mean, the pocket what follows, keeps the entries on disk and hands them to the
// outbox. Gives one `View` for the page to draw. Draws nothing itself.

/**
 * @import { MatchHeader, Score } from "../types/messages.js"
 * @import { Answer, Entry, Pocket } from "./pocket.js"
 * @import { Content, Recorded, State } from "./recorder.js"
 * @import { KeptEntry, Shelf } from "./shelf.js"
 * @import { Line, Welcome } from "./outbox.js"
 */
import { JOINED, doneBy } from "./editing.js";
import { Outbox, newId } from "./outbox.js";
import { freshState, press } from "./recorder.js";

/**
 * @typedef {object} View
 * @property {MatchHeader | null} header
 * @property {Answer | null} answer
 * @property {State} state
 * @property {Line} line
 * @property {string} message the host's or the recorder's latest word
 * @property {number} waiting entries the host does not have yet
 * @property {boolean} kept whether all of it is on this laptop's disk
 * @property {boolean} welcomed whether the court has answered since the page was opened
 */

/** Lines on which this page must not chart. */
const STOPPED = new Set(["taken_over", "elsewhere", "other_match"]);

export class Desk {
  #pocket;
  #shelf;
  #court;
  #draw;
  #outbox;
  /** @type {Map<string, KeptEntry>} */
  #kept = new Map();
  #place = 0;
  #unwritten = 0;
  /** @type {Welcome | null} */
  #lastWelcome = null;
  /** @type {View} */
  view = { header: null, answer: null, state: freshState(), line: "connecting", message: "", waiting: 0, kept: true, welcomed: false };

  /**
   * @param {{ pocket: Pocket, shelf: Shelf, court: string, client: string, url: string }} parts
   * @param {(view: View) => void} draw
   */
  constructor({ pocket, shelf, court, client, url }, draw) {
    this.#pocket = pocket;
    this.#shelf = shelf;
    this.#court = court;
    this.#draw = draw;
    this.#outbox = new Outbox(url, client, {
      onLine: (line, message) => this.#change({ line, message: message ?? "" }),
      onWelcome: (welcome) => void this.#welcomed(welcome),
      onStored: (id) => void this.#settled(id, "stored", ""),
      onRefused: (id, _, message) => void this.#settled(id, "refused", `the host refused an entry: ${message}`),
    });
  }

  /** Takes up what this laptop has of the court, then the line. */
  async start() {
    const { match, entries } = await this.#shelf.read(this.#court);
    if (match !== undefined) {
      this.#open(match.header, match.joined);
      for (const kept of entries) {
        this.#kept.set(kept.entry.id, kept);
        this.#place = kept.place + 1;
        if (kept.state !== "refused") this.view.answer = this.#pocket.take(kept.entry);
      }
      Object.assign(this.view.state, doneBy(entries.filter(({ state }) => state !== "refused").map(({ entry }) => entry)));
      this.#outbox.add(entries.filter(({ state }) => state === "waiting").map(({ entry }) => entry));
    }
    this.#change({});
    this.#outbox.connect();
  }

  /** @param {MatchHeader} header @param {readonly Entry[]} [entries] of a chart that was loaded */
  async begin(header, entries = []) {
    const answer = this.#pocket.open(header);
    if (answer.refused !== undefined) throw new Error(answer.refused.message);
    await this.#shelf.begin({ court: this.#court, header, joined: null, taken: false });
    this.#kept.clear();
    this.#place = 0;
    this.#open(header, null);
    this.#change({ state: freshState(), message: "" });
    this.#take(entries);
    this.#outbox.connect();
  }

  /** @param {string} action @param {number} [at] ms since 1970, where a video's time counts */
  press(action, at = Date.now()) {
    const { answer, header, line } = this.view;
    if (answer === null || header === null || STOPPED.has(line)) return;
    const outcome = press(this.view.state, action, { answer, header, nextId: newId });
    this.#record(outcome.entries, at, outcome.state, outcome.say ?? "");
  }

  /** Records what no key means, such as the referee's word. @param {Content} content @param {number} [at] ms since 1970 */
  say(content, at = Date.now()) {
    if (this.view.header === null || STOPPED.has(this.view.line)) return;
    const id = newId();
    const { state } = this.view;
    this.#record([{ id, ...content }], at, { ...state, done: [...state.done, id], undone: [] }, "");
  }

  takeOver() {
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
    this.#change({ state: freshState(), line: "connecting", message: "" });
  }

  /** Leaves the match kept here for the one on the court, if there is one. */
  async leave() {
    const welcome = this.#lastWelcome;
    this.clear();
    this.#outbox.replace = false;
    if (welcome !== null && welcome.match !== null) await this.#join(welcome.match, welcome.score);
    this.#change({ state: freshState() });
    this.#outbox.connect();
  }

  /** @returns {string} the chart as a file's text */
  file() {
    return this.#pocket.file();
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
      const answer = this.#pocket.take(entry);
      this.view.answer = answer.refused === undefined ? answer : this.view.answer;
      if (answer.refused !== undefined) refused = answer.refused.message;
      else taken.push({ court: this.#court, place: this.#place++, entry, state: "waiting" });
    }
    if (taken.length > 0) void this.#keepAndSend(taken);
    return refused;
  }

  /** @param {KeptEntry[]} taken disk first; the order of writing is the order of sending */
  async #keepAndSend(taken) {
    for (const kept of taken) this.#kept.set(kept.entry.id, kept);
    const outbox = this.#outbox;
    this.#unwritten += taken.length;
    try {
      await this.#shelf.keep(taken);
    } catch (error) {
      this.#change({ kept: false, message: `this laptop's disk did not take it: ${String(error)}` });
    }
    this.#unwritten -= taken.length;
    outbox.add(taken.map(({ entry }) => entry));
    this.#change({});
  }

  /** @param {string} id @param {"stored" | "refused"} state @param {string} message */
  async #settled(id, state, message) {
    const kept = this.#kept.get(id);
    if (kept === undefined || kept.state === state) return;
    kept.state = state;
    this.#change(message === "" ? {} : { message });
    await this.#shelf.keep([kept]);
  }

  /** @param {Welcome} welcome */
  async #welcomed(welcome) {
    this.#lastWelcome = welcome;
    if (this.view.header === null && welcome.match !== null) await this.#join(welcome.match, welcome.score);
    this.#change({ welcomed: true });
  }

  /** Charts on where another laptop was: the score so far is taken on trust. @param {MatchHeader} header @param {Score | null} score */
  async #join(header, score) {
    await this.#shelf.begin({ court: this.#court, header, joined: score, taken: true });
    this.#open(header, score);
  }

  /** @param {MatchHeader} header @param {Score | null} joined */
  #open(header, joined) {
    this.view.header = header;
    this.#outbox.header = header;
    this.view.answer = this.#pocket.open(header);
    if (joined === null) return;
    const { points, serving, server, games } = joined;
    const fix = { id: JOINED, at: new Date().toISOString(), kind: "score_fix", points, serving, games };
    const answer = this.#pocket.take(server === null ? fix : { ...fix, server });
    if (answer.refused === undefined) this.view.answer = answer;
  }

  /** @param {Partial<View>} change */
  #change(change) {
    Object.assign(this.view, change);
    this.view.waiting = this.#outbox.waiting + this.#unwritten;
    this.#draw(this.view);
  }
}
