/**
 * A WebSocket connection whose messages can be waited for one by one. It knows JSON and nothing
 * of what the messages mean. Protocol by the `ws` package, an implementation of its own.
 */
import { WebSocket } from "ws";
import { PATIENCE_MS, inTime } from "./wait.mjs";

/**
 * @typedef {object} Received
 * @property {string} text as it came
 * @property {any} message
 */

export class Socket {
  /** @type {Received[]} what came and has not been taken yet, oldest first */
  inbox = [];
  /** @type {any[]} every message that ever came */
  seen = [];
  /** @type {{ matches: (message: any) => boolean, resolve: (one: Received) => void, reject: (error: Error) => void }[]} */
  #waiting = [];
  /** @type {{ code: number, reason: string }|null} */
  closed = null;
  #ws;

  /**
   * @param {string} url
   * @param {{ headers?: Record<string, string> }} [options]
   * @returns {Promise<Socket>} an open connection
   */
  static async open(url, options = {}) {
    const socket = new Socket();
    await inTime(`a connection to ${url}`, socket.#connect(url, options));
    return socket;
  }

  #connect(url, options) {
    const ws = new WebSocket(url, options);
    this.#ws = ws;
    ws.on("message", (data) => this.#take(data.toString("utf8")));
    ws.on("close", (code, reason) => this.#close(code, reason.toString("utf8")));
    return new Promise((resolve, reject) => {
      ws.once("open", resolve);
      ws.on("error", reject);
      ws.once("unexpected-response", (request, response) => {
        reject(new Refused(url, response.statusCode));
        request.destroy();
      });
    });
  }

  #take(text) {
    const received = { text, message: JSON.parse(text) };
    this.seen.push(received.message);
    const place = this.#waiting.findIndex(({ matches }) => matches(received.message));
    if (place < 0) this.inbox.push(received);
    else this.#waiting.splice(place, 1)[0].resolve(received);
  }

  #close(code, reason) {
    this.closed = { code, reason };
    const error = new Error(`the connection was closed with ${code} ${reason}`);
    for (const { reject } of this.#waiting.splice(0)) reject(error);
  }

  /** @param {string|object} message text as it is, or an object as JSON */
  send(message) {
    this.#ws.send(typeof message === "string" ? message : JSON.stringify(message));
  }

  /** @param {Buffer} bytes sent as a text message, also if they are no text */
  sendText(bytes) {
    this.#ws.send(bytes, { binary: false });
  }

  /** @param {Buffer} bytes a binary message */
  sendBinary(bytes) {
    this.#ws.send(bytes, { binary: true });
  }

  /**
   * Takes the first message that fits, from the inbox or as it comes.
   * @param {string} label what is waited for
   * @param {(message: any) => boolean} [matches]
   * @param {number} [within]
   * @returns {Promise<Received>}
   */
  async receive(label, matches = () => true, within = PATIENCE_MS) {
    const place = this.inbox.findIndex(({ message }) => matches(message));
    if (place >= 0) return this.inbox.splice(place, 1)[0];
    if (this.closed !== null) throw new Error(`${label}: the connection is closed`);
    const coming = new Promise((resolve, reject) => this.#waiting.push({ matches, resolve, reject }));
    return inTime(label, coming, { within, seen: () => this.inbox.slice(-5).map(({ text }) => text.slice(0, 300)) });
  }

  /** @returns {Promise<{ code: number, reason: string }>} how the other side closed */
  async whenClosed() {
    if (this.closed === null) {
      await inTime("the connection to be closed", new Promise((resolve) => this.#ws.once("close", resolve)));
    }
    return this.closed;
  }

  /** Stops reading from the network: the kernel's buffers fill up and nothing more is taken. */
  stopReading() {
    this.#ws.pause();
  }

  readAgain() {
    this.#ws.resume();
  }

  /** Closes in good order. */
  async close() {
    this.#ws.close();
    await this.whenClosed();
  }

  /** Breaks the connection off. */
  terminate() {
    this.#ws.terminate();
  }
}

/** A host that answers with something else than a WebSocket. */
export class Refused extends Error {
  constructor(url, status) {
    super(`${url} answers ${status}`);
    this.status = status;
  }
}
