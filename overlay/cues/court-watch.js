// What happens on the court while somebody marks cues: the feed for the score and the
// depths, and the chart itself, entry by entry, for the strokes and their times.

/**
 * @import { Action, FeedState } from "../types/view.js"
 * @import { Stored } from "./timeline.js"
 */
import { FeedConnection } from "../shared/feed.js";
import { withKey } from "../shared/key.js";
import { socketAddress } from "../shared/source.js";
import { initialState, reduce } from "../shared/state.js";
import { ClockOffset } from "./matching.js";

/** Before the chart is asked for again, where it could not be had. */
const AGAIN_MS = 1_000;

export class CourtWatch {
  #court;
  #changed;
  #line;
  #fetching = false;
  /** The position that the chart is known to have reached. */
  #due = 0;
  /** Which match the entries are of. @type {string | null} */
  #matchId = null;
  /** @type {FeedState} */
  state = initialState();
  /** In the order of the host, none left out. @type {Stored[]} */
  entries = [];
  /** Between this device's clock and that of whoever records the strokes. */
  offset = new ClockOffset();

  /** @param {string} court @param {() => void} changed told of every change */
  constructor(court, changed) {
    this.#court = court;
    this.#changed = changed;
    const feed = withKey(`/courts/${court}/feed?role=viewer`, location.href);
    this.#line = new FeedConnection(
      socketAddress(feed.href),
      (action) => this.#take(action),
      () => this.#position(),
    );
  }

  start() {
    this.#line.start();
  }

  /** The position of the last entry that is known here. */
  get known() {
    return this.entries.at(-1)?.seq ?? 0;
  }

  #position() {
    const { seq, match, outOfStep } = this.state;
    return seq === null || outOfStep ? null : { seq, match: match?.id ?? null };
  }

  /** @param {Action} action */
  #take(action) {
    const before = this.state;
    this.state = reduce(before, action);
    if (this.state.outOfStep && !before.outOfStep) this.#line.resync();
    const matchId = this.state.match?.id ?? null;
    if (matchId !== this.#matchId) {
      this.#matchId = matchId;
      this.entries = [];
      this.#due = 0;
      this.offset = new ClockOffset();
    }
    if (action.type === "update") this.#follow(action);
    else if (action.type === "snapshot" && matchId !== null) void this.#catchUp(action.seq);
    this.#changed();
  }

  /** @param {Extract<Action, { type: "update" }>} update */
  #follow({ seq, entry }) {
    if (seq <= this.known) return;
    const follows = seq === this.known + 1 && entry !== undefined && !this.#fetching;
    if (!follows) return void this.#catchUp(seq);
    const stored = /** @type {Stored} */ (/** @type {unknown} */ ({ ...entry, seq }));
    this.entries = [...this.entries, stored];
    if (stored.kind === "shot") this.offset.note(Date.parse(stored.at), Date.now());
  }

  /** Fetches what the host has beyond what is known, at least up to `seq`. @param {number} seq */
  async #catchUp(seq) {
    this.#due = Math.max(this.#due, seq);
    if (this.#fetching) return;
    this.#fetching = true;
    while (this.#matchId !== null && this.known < this.#due) {
      const came = await this.#fetched(this.#matchId, this.known);
      if (came === null) await new Promise((resolve) => setTimeout(resolve, AGAIN_MS));
      else this.entries = [...this.entries, ...came.filter((one) => one.seq > this.known)];
    }
    this.#fetching = false;
    this.#changed();
  }

  /** @param {string} matchId @param {number} after @returns {Promise<Stored[] | null>} null where it cannot be had now */
  async #fetched(matchId, after) {
    try {
      const address = withKey(`/courts/${this.#court}/chart.jsonl?after=${after}`, location.href);
      const response = await fetch(address, { cache: "no-store" });
      if (!response.ok) throw new Error(`the host answers ${response.status}`);
      const [header, ...entries] = (await response.text())
        .trimEnd()
        .split("\n")
        .map((line) => JSON.parse(line));
      // Another match has come onto the court meanwhile: the feed tells, too.
      return header?.id === matchId && this.#matchId === matchId ? entries : null;
    } catch (error) {
      console.warn(`the strokes so far could not be fetched, they are asked for again: ${String(error)}`);
      return null;
    }
  }
}
