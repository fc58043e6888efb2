/**
 * A viewer of the feed that puts together what it is sent: snapshots replace everything, updates
 * change readings and score. Readings are kept as the bytes that came.
 */
import { rawElements, rawField } from "./raw-json.mjs";
import { Socket } from "./socket.mjs";

/** Parts of a reading's identity, in the order they are sorted by. */
const IDENTITY = ["indicator", "team", "player", "slot"];

/** Sorts by indicator, team, player, slot; null comes first. */
function compareKeys(left, right) {
  const one = JSON.parse(left);
  const other = JSON.parse(right);
  for (let place = 0; place < IDENTITY.length; place += 1) {
    const [a, b] = [one[place] ?? "", other[place] ?? ""];
    if (a !== b) return a < b ? -1 : 1;
  }
  return 0;
}

const keyOf = (reading) => JSON.stringify(IDENTITY.map((name) => reading[name] ?? null));

export class Viewer {
  seq = -1;
  revision = -1;
  header = null;
  score = null;
  /** @type {any} the message taken last */
  last = null;
  /** @type {string} the same as it came */
  lastText = "";
  /** @type {Map<string, string>} identity → reading, as it came */
  #readings = new Map();

  /**
   * @param {import('./host.mjs').Host} host
   * @param {{ court?: string, query?: string }} [options]
   * @returns {Promise<Viewer>} connected; nothing taken yet
   */
  static async connect(host, { court = "1", query = "" } = {}) {
    const viewer = new Viewer();
    viewer.socket = await Socket.open(host.ws(`/courts/${court}/feed${query}`));
    return viewer;
  }

  /** Comes back over a new connection, with everything it has seen. @param {string} query */
  async comeBack(host, query) {
    this.socket = (await Viewer.connect(host, { query })).socket;
  }

  /** Takes the next message. @returns {Promise<any>} */
  async next(label = "the next message of the feed") {
    const { text, message } = await this.socket.receive(label, ({ type }) => type !== "beat");
    if (message.type === "snapshot") this.#snapshot(text, message);
    else if (message.type === "update") this.#update(text, message);
    else throw new Error(`the feed sends ${text.slice(0, 200)}`);
    this.last = message;
    this.lastText = text;
    return message;
  }

  /** Takes messages until the one about position `seq` has come. @returns {Promise<any>} */
  async upTo(seq) {
    while (this.seq < seq) await this.next(`position ${seq} of the feed`);
    return this.last;
  }

  #snapshot(text, message) {
    this.header = message.match;
    this.score = message.score;
    this.#readings = new Map(this.#rawReadings(text));
    this.#place(message);
  }

  #update(text, message) {
    if (message.revision !== this.revision) {
      throw new Error(`an update of revision ${message.revision} on a state of ${this.revision}`);
    }
    for (const key of message.gone ?? []) this.#readings.delete(keyOf(key));
    for (const [key, raw] of this.#rawReadings(text)) this.#readings.set(key, raw);
    this.score = message.score ?? this.score;
    this.#place(message);
  }

  #place({ seq, revision }) {
    this.seq = seq;
    this.revision = revision;
  }

  #rawReadings(text) {
    return rawElements(rawField(text, "readings")).map((raw) => [keyOf(JSON.parse(raw)), raw]);
  }

  /** @returns {string} all current readings as an array, sorted as they have to be */
  readings() {
    const keys = [...this.#readings.keys()].sort(compareKeys);
    return `[${keys.map((key) => this.#readings.get(key)).join(",")}]`;
  }

  close() {
    return this.socket.close();
  }
}
