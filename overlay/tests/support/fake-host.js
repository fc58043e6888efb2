// A host for tests: serves the pages at the host's addresses and a feed that
// says what a test tells it to. It checks nothing and computes nothing.

import { createReadStream } from "node:fs";
import { readFile, stat } from "node:fs/promises";
import { createServer } from "node:http";
import { extname, join, normalize } from "node:path";
import { fileURLToPath } from "node:url";
import { gunzipSync } from "node:zlib";
import { WebSocketServer } from "ws";

const OVERLAY = fileURLToPath(new URL("../../", import.meta.url));

const TYPES = {
  ".css": "text/css",
  ".html": "text/html",
  ".svg": "image/svg+xml",
  ".js": "text/javascript",
  ".jsonl": "application/x-ndjson",
  ".woff2": "font/woff2",
};

/** What a court without a match says. @satisfies {import("../../types/messages.js").Snapshot} */
const EMPTY_COURT = {
  type: "snapshot",
  seq: 0,
  revision: 0,
  match: null,
  score: null,
  readings: [],
  rally: null,
  unavailable: [],
  paused: false,
};

export class FakeHost {
  /** Every feed address asked for, in order. */
  asked = [];
  /** What a new feed is sent first; null: nothing. */
  greeting = null;
  /** How many beats pages have asked for. */
  beats = 0;
  /** Whether a page that asks for a beat gets one. */
  answersBeats = true;
  courts = {
    courts: [
      { court: "1", match: { id: "m", title: "A match" } },
      { court: "2", match: null },
    ],
  };
  /** The matches there are, as the host lists them. */
  matches = [];
  /** Whether a feed's key fits; `replaceKey` makes it not. */
  letsIn = true;
  /** Whether a test has cut a page off, so that its requests fail on purpose. */
  hasCut = false;
  /** Paths that the desk has refused on purpose. @type {string[]} */
  refused = [];
  /** Answers what the desk asks; null: there is no desk. */
  desk = null;
  /** A page of somebody else, served at `/mine`; null: there is none. */
  own = null;
  #http;
  #sockets = new Set();

  static async start() {
    const host = new FakeHost();
    await host.listen(0);
    return host;
  }

  /** @param {number} port 0 takes a free one; the same again after `stop` */
  async listen(port) {
    this.#http = createServer((request, response) => void this.#answer(request, response));
    const feeds = new WebSocketServer({
      server: this.#http,
      verifyClient: (_info, decide) => decide(this.letsIn, 403),
    });
    feeds.on("connection", (socket, request) => {
      socket.on("message", (data) => this.#heard(socket, String(data)));
      this.asked.push(request.url);
      this.#sockets.add(socket);
      socket.on("close", () => this.#sockets.delete(socket));
      if (this.greeting !== null) socket.send(JSON.stringify(this.greeting));
    });
    await new Promise((resolve) => this.#http.listen(port, "127.0.0.1", resolve));
    this.port = this.#http.address().port;
    this.url = `http://127.0.0.1:${this.port}`;
  }

  /** @param {unknown} message an object for JSON, or a string as it is */
  send(message) {
    const text = typeof message === "string" ? message : JSON.stringify(message);
    for (const socket of this.#sockets) socket.send(text);
  }

  get connected() {
    return this.#sockets.size;
  }

  drop() {
    this.hasCut = true;
    for (const socket of this.#sockets) socket.terminate();
  }

  /** As the desk does it: what is open is cut off, and the old key opens nothing. */
  replaceKey() {
    this.hasCut = true;
    this.letsIn = false;
    for (const socket of this.#sockets)
      socket.close(1008, "this link was replaced by a new one; ask for it at the desk");
  }

  async stop() {
    this.drop();
    this.#http.closeAllConnections();
    await new Promise((resolve) => this.#http.close(resolve));
  }

  #heard(socket, text) {
    if (JSON.parse(text).type !== "beat") return;
    this.beats += 1;
    if (this.answersBeats) socket.send('{"type":"beat"}');
  }

  async #answer(request, response) {
    const { pathname } = new URL(request.url, "http://host");
    if (pathname === "/courts") {
      response.setHeader("content-type", "application/json");
      response.end(JSON.stringify(this.courts));
      return;
    }
    if (/^\/courts\/[^/]+\/now$/.test(pathname)) {
      response.setHeader("content-type", "application/json");
      response.end(JSON.stringify(this.greeting ?? EMPTY_COURT));
      return;
    }
    if (pathname === "/matches.json") {
      response.setHeader("content-type", "application/json");
      response.end(JSON.stringify({ matches: this.matches }));
      return;
    }
    if (/^\/courts\/[^/]+\/feed$/.test(pathname)) {
      response.statusCode = this.letsIn ? 400 : 403;
      response.end("a feed is a socket");
      return;
    }
    if (this.desk !== null && (await this.desk.answer(request, response))) {
      if (response.statusCode >= 400) this.refused.push(pathname);
      return;
    }
    if (this.own !== null && pathname === "/mine") {
      response.setHeader("content-type", "text/html");
      response.end(this.own);
      return;
    }
    const file = fileOf(pathname);
    // Recordings are kept packed.
    if (file?.endsWith(".jsonl") && (await stat(`${file}.gz`).catch(() => null)) !== null) {
      response.setHeader("content-type", TYPES[".jsonl"]);
      response.end(gunzipSync(await readFile(`${file}.gz`)));
      return;
    }
    const found = file !== null && (await stat(file).catch(() => null))?.isFile();
    if (!found) {
      response.statusCode = 404;
      response.end("not found");
      return;
    }
    response.setHeader("content-type", TYPES[extname(file)] ?? "application/octet-stream");
    response.setHeader("access-control-allow-origin", "*");
    createReadStream(file).pipe(response);
  }
}

/** @param {string} pathname */
function fileOf(pathname) {
  if (pathname === "/") return join(OVERLAY, "index/index.html");
  if (pathname === "/event") return join(OVERLAY, "event/index.html");
  if (pathname === "/desk") return join(OVERLAY, "desk/index.html");
  // Browsers ask for it by themselves where a page names no icon.
  if (pathname === "/favicon.ico") return join(OVERLAY, "shared/icon.svg");
  if (/^\/review\/[^/.]+$/.test(pathname)) return join(OVERLAY, "review/index.html");
  const page = /^\/courts\/[^/]+\/(graphic|booth)$/.exec(pathname)?.[1];
  if (page !== undefined) return join(OVERLAY, page, "index.html");
  const ofReview = /^\/review\/([^/]+\.(?:js|css))$/.exec(pathname)?.[1];
  if (ofReview !== undefined) return join(OVERLAY, "review", ofReview);
  // The tree stands at the root, as at the host, and below a folder, as at any
  // file server.
  const inside = normalize(decodeURIComponent(pathname)).replace(/^\/(any\/folder\/)?/, "");
  return inside.startsWith("..") ? null : join(OVERLAY, inside);
}
