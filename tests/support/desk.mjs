/** The streamer's desk, as a program that speaks HTTP. */
import assert from "node:assert/strict";

export class Desk {
  #host;

  /** @param {import('./host.mjs').Host} host */
  constructor(host) {
    this.#host = host;
  }

  /**
   * @param {string} method @param {string} path @param {unknown} [body] JSON, or a text as it is
   * @param {Record<string, string>} [headers]
   */
  send(method, path, body, headers = {}) {
    const text = body === undefined || typeof body === "string" ? body : JSON.stringify(body);
    return fetch(this.#host.http(path), { method, body: text, headers });
  }

  /** Does what has to succeed. @param {number} status @returns {Promise<any>} the answer, if it has one */
  async done(method, path, body, status, headers) {
    const answer = await this.send(method, path, body, headers);
    const text = await answer.text();
    assert.equal(answer.status, status, `${method} ${path}: ${text}`);
    return text === "" ? null : JSON.parse(text);
  }

  /** Does what has to be refused. @param {number} status @returns {Promise<string>} the sentence */
  async refused(method, path, body, status, headers) {
    const answer = await this.send(method, path, body, headers);
    const text = await answer.text();
    assert.equal(answer.status, status, `${method} ${path}: ${text}`);
    assert.match(answer.headers.get("content-type") ?? "", /^text\/plain/);
    assert.notEqual(text.trim(), "", "a refusal says why");
    return text;
  }

  /** @param {string} path @returns {Promise<string>} */
  async text(path) {
    const answer = await this.#host.get(path);
    const text = await answer.text();
    assert.equal(answer.status, 200, `${path}: ${text}`);
    return text;
  }

  /** @returns {Promise<any>} */
  async state() {
    return JSON.parse(await this.text("/desk/state"));
  }

  /** @param {string} [name] @returns {Promise<any>} the state of a court */
  async court(name = "1") {
    const { courts } = await this.state();
    const court = courts.find((one) => one.court === name);
    assert.ok(court, `court ${name} is in the state`);
    return court;
  }
}
