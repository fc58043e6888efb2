/**
 * A charter's client: says hello and brings entries, one connection, no second try.
 */
import { Socket } from "./socket.mjs";

/** Entries in one message: far below the limit of a message's size. */
const BATCH = 50;

export class Charter {
  /**
   * @param {import('./host.mjs').Host} host
   * @param {{ court?: string, headers?: Record<string, string> }} [options]
   * @returns {Promise<Charter>} connected, but nothing said yet
   */
  static async connect(host, { court = "1", headers } = {}) {
    const charter = new Charter();
    charter.socket = await Socket.open(host.ws(`/courts/${court}/intake`), { headers });
    return charter;
  }

  /**
   * Connects and says hello; the host has to welcome it.
   * @param {import('./host.mjs').Host} host
   * @param {{ court?: string, client?: string, chart?: object, after?: number }} [options]
   * @returns {Promise<Charter>}
   */
  static async welcomed(host, { court, client = "tablet", ...rest } = {}) {
    const charter = await Charter.connect(host, { court });
    const answer = await charter.hello({ client, ...rest });
    if (answer.type !== "welcome") throw new Error(`no welcome but ${JSON.stringify(answer)}`);
    charter.welcome = answer;
    return charter;
  }

  /** @param {object} fields of the message @returns {Promise<any>} `welcome` or `refused` */
  async hello(fields) {
    return this.say({ type: "hello", ...fields });
  }

  /** Says something that has one answer. @param {string|object} message @returns {Promise<any>} */
  async say(message) {
    this.socket.send(message);
    // Notices come when they come and answer nothing.
    const answer = await this.socket.receive("the answer to a message", ({ type }) => type !== "notice");
    return answer.message;
  }

  /** @returns {Promise<string>} the next thing the host has to say by itself */
  async notice() {
    const { message } = await this.socket.receive("a notice", ({ type }) => type === "notice");
    return message.message;
  }

  /** Sends without waiting for anything. @param {object[]} entries */
  send(entries) {
    this.socket.send({ type: "entries", entries });
  }

  /** @param {string} id @returns {Promise<any>} the next answer about the entry */
  async answer(id) {
    const { message } = await this.socket.receive(`the answer about entry \`${id}\``, (one) => one.id === id);
    return message;
  }

  /**
   * Brings entries and waits for every answer.
   * @param {object[]} entries
   * @returns {Promise<any[]>} the answers, in the order of the entries
   */
  async bring(entries) {
    const answers = [];
    for (let start = 0; start < entries.length; start += BATCH) {
      const part = entries.slice(start, start + BATCH);
      this.send(part);
      for (const { id } of part) answers.push(await this.answer(id));
    }
    return answers;
  }

  /** Brings entries that all have to be accepted. @param {object[]} entries */
  async chart(entries) {
    const answers = await this.bring(entries);
    const refused = answers.find(({ type }) => type !== "accepted");
    if (refused !== undefined) throw new Error(`not accepted: ${JSON.stringify(refused)}`);
    return answers;
  }

  close() {
    return this.socket.close();
  }
}
