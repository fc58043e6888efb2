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

/** @import { IncomingMessage, Server, ServerResponse } from "node:http" */
/** @import { WebSocket } from "ws" */
/** @import { CourtList, MatchState } from "../../types/host.js" */
/** @import { FakeDesk } from "./fake-desk.js" */

/** @type {Record<string, string>} */
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
  /** Every feed address asked for, in order. @type {string[]} */
  asked = [];
  /** What a new feed is sent first; null: nothing. A string goes as it is. @type {unknown} */
  greeting = null;
  /** How many beats pages have asked for. */
  beats = 0;
  /** Whether a page that asks for a beat gets one. */
  answersBeats = true;
  /** @type {CourtList} */
  courts = {
    courts: [
      { court: "1", match: { id: "m", title: "A match" } },
      { court: "2", match: null },
    ],
  };
  /** The matches there are, as the host lists them. @type {Pick<MatchState, "id" | "header">[]} */
  matches = [];
  /** Whether a feed's key fits; `replaceKey` makes it not. */
  letsIn = true;
  /** Whether a test has cut a page off, so that its requests fail on purpose. */
  hasCut = false;
  /** Paths that the desk has refused on purpose. @type {string[]} */
  refused = [];
  /** Answers what the desk asks; null: there is no desk. @type {FakeDesk | null} */
  desk = null;
  /** A page of somebody else, served at `/mine`; null: there is none. @type {string | null} */
  own = null;
  port = 0;
  url = "";
  /** @type {Server | null} */
  #http = null;
  /** @type {Set<WebSocket>} */
  #sockets = new Set();

  static async start() {
    const host = new FakeHost();
    await host.listen(0);
    return host;
  }

  /** @param {number} port 0 takes a free one; the same again after `stop` */
  async listen(port) {
    const http = createServer((request, response) => void this.#answer(request, response));
    this.#http = http;
    const feeds = new WebSocketServer({
      server: http,
      verifyClient: (_info, decide) => decide(this.letsIn, 403),
    });
    feeds.on("connection", (socket, request) => {
      socket.on("message", (data) => this.#heard(socket, String(data)));
      this.asked.push(request.url ?? "");
      this.#sockets.add(socket);
      socket.on("close", () => this.#sockets.delete(socket));
      if (this.greeting !== null) socket.send(JSON.stringify(this.greeting));
    });
    await new Promise((resolve) => http.listen(port, "127.0.0.1", () => resolve(undefined)));
    const address = http.address();
    if (address === null || typeof address === "string") throw new Error(`the host listens at no port: ${address}`);
    this.port = address.port;
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
    const http = this.#http;
    http?.closeAllConnections();
    await new Promise((resolve) => (http === null ? resolve(undefined) : http.close(resolve)));
  }

  /** @param {WebSocket} socket @param {string} text */
  #heard(socket, text) {
    if (JSON.parse(text).type !== "beat") return;
    this.beats += 1;
    if (this.answersBeats) socket.send('{"type":"beat"}');
  }

  /** @param {IncomingMessage} request @param {ServerResponse} response */
  async #answer(request, response) {
    const { pathname } = new URL(request.url ?? "/", "http://host");
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
    const folder = folderOf(pathname);
    if (folder !== null) {
      // As the host does it: the page's links are meant beside its files.
      const page = await readFile(join(OVERLAY, folder, "index.html"), "utf8");
      response.setHeader("content-type", "text/html; charset=utf-8");
      response.end(page.replace("<head>", `<head><base href="/${folder}/">`));
      return;
    }
    const file = fileOf(pathname);
    // Recordings are kept packed.
    if (file?.endsWith(".jsonl") && (await stat(`${file}.gz`).catch(() => null)) !== null) {
      response.setHeader("content-type", TYPES[".jsonl"]);
      response.end(gunzipSync(await readFile(`${file}.gz`)));
      return;
    }
    if (file === null || !(await stat(file).catch(() => null))?.isFile()) {
      response.statusCode = 404;
      response.end("not found");
      return;
    }
    response.setHeader("content-type", TYPES[extname(file)] ?? "application/octet-stream");
    response.setHeader("access-control-allow-origin", "*");
    createReadStream(file).pipe(response);
  }
}

/** The folder of a page that stands at another address. @param {string} pathname */
function folderOf(pathname) {
  if (pathname === "/") return "index";
  if (pathname === "/desk" || pathname === "/event") return pathname.slice(1);
  if (/^\/review\/[^/.]+$/.test(pathname)) return "review";
  return /^\/courts\/[^/]+\/(graphic|booth|cues)$/.exec(pathname)?.[1] ?? null;
}

/** @param {string} pathname */
function fileOf(pathname) {
  // Browsers ask for it by themselves where a page names no icon.
  if (pathname === "/favicon.ico") return join(OVERLAY, "shared/icon.svg");
  const ofReview = /^\/review\/([^/]+\.(?:js|css))$/.exec(pathname)?.[1];
  if (ofReview !== undefined) return join(OVERLAY, "review", ofReview);
  // The tree stands at the root, as at the host, and below a folder, as at any
  // file server.
  const inside = normalize(decodeURIComponent(pathname)).replace(/^\/(any\/folder\/)?/, "");
  return inside.startsWith("..") ? null : join(OVERLAY, inside);
}
