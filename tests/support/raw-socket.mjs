/**
 * A bare connection: bytes go out as they are, and nothing is read unless asked for. For clients
 * that keep to no protocol.
 */
import { connect } from "node:net";
import { inTime } from "./wait.mjs";

export class RawSocket {
  #socket;
  #closed;
  #text = "";

  /**
   * @param {import('./host.mjs').Host} host
   * @param {{ reads?: boolean }} [options] `reads: false`: what the host sends stays in the kernel
   * @returns {Promise<RawSocket>} connected
   */
  static async open(host, { reads = true } = {}) {
    const raw = new RawSocket();
    const [, name, port] = /^\[?([^\]]+)\]?:(\d+)$/.exec(host.address);
    const socket = connect({ host: name, port: Number(port) });
    raw.#socket = socket;
    raw.#closed = new Promise((resolve) => socket.on("close", resolve));
    socket.on("error", () => {}); // A reset is one way of being closed.
    await inTime("a bare connection", new Promise((resolve) => socket.once("connect", resolve)));
    if (reads) socket.on("data", (data) => (raw.#text += data.toString("latin1")));
    else socket.pause();
    return raw;
  }

  /** @param {string|Buffer} bytes @returns {boolean} whether the kernel takes more at once */
  send(bytes) {
    return this.#socket.write(bytes);
  }

  /** @returns {string} what has come so far, one character a byte */
  get text() {
    return this.#text;
  }

  /** Waits until the host has closed the connection. */
  whenClosed() {
    return inTime("the host to close a bare connection", this.#closed);
  }

  destroy() {
    this.#socket.destroy();
  }
}
