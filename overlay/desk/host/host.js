// The desk's requests: the only module here that speaks to the host. Every answer
// is data or a `Refused` with a sentence for the person at the desk. The key of
// the page's own address goes along with each.

/**
 * @import { EntryJson, HostState, ImportAnswer, Links, ListedEntry, PluginReport, Preview, Role, SettingValue, Taken, DeskHeader } from "../../types/host.js"
 * @import { Snapshot } from "../../types/messages.js"
 * @import { SheetChoices } from "../state.js"
 */

/** How long the host may take to answer, ms. */
const PATIENCE_MS = 8000;
/** For what is asked each second: a host that is silent for so long is not there. */
const STATE_PATIENCE_MS = 4000;
/** For a file that is made of a whole match, behind others. */
const FILE_PATIENCE_MS = 60_000;

/** What to do about a host that is away. */
export const AWAY = "Is Rallytide running and the network up? This page keeps trying.";

/** Why something did not happen, in a sentence for the person at the desk. */
export class Refused extends Error {
  /** @param {string} message @param {number} status 0: the host was not reached */
  constructor(message, status) {
    super(message);
    this.status = status;
  }
}

export class DeskHost {
  #origin;
  #key;
  #tag = "";

  /** @param {string} href the page's own address */
  constructor(href) {
    const address = new URL(href);
    this.#origin = address.origin;
    this.#key = address.searchParams.get("key");
  }

  get key() {
    return this.#key;
  }

  get origin() {
    return this.#origin;
  }

  /** @returns {Promise<HostState | null>} null: nothing has changed since the last answer */
  async state() {
    const response = await this.#send(
      "GET",
      "/desk/state",
      undefined,
      this.#tag === "" ? {} : { "if-none-match": this.#tag },
      STATE_PATIENCE_MS,
    );
    if (response.status === 304) {
      // Left unread, an answer counts as broken off.
      await response.text();
      return null;
    }
    this.#tag = response.headers.get("etag") ?? "";
    return response.json();
  }

  /** @returns {Promise<string[] | null>} the paths this host describes; null: it describes none */
  async paths() {
    try {
      return Object.keys((await this.#ask("GET", "/openapi.json")).paths ?? {});
    } catch (error) {
      if (error instanceof Refused && error.status === 404) return null;
      throw error;
    }
  }

  /** @returns {Promise<Links>} */
  links() {
    return this.#ask("GET", "/desk/links");
  }

  /** @param {Role} role @returns {Promise<Links>} */
  newKey(role) {
    return this.#ask("POST", "/desk/keys", { role });
  }

  /** @param {boolean} letIn @returns {Promise<Links>} */
  letOthersIn(letIn) {
    return this.#ask("PUT", "/desk/others", { let_in: letIn });
  }

  /** @param {unknown} header @param {string | null} court @returns {Promise<{ id: string, header: DeskHeader }>} */
  addMatch(header, court) {
    return this.#ask("POST", "/matches", court === null ? header : { .../** @type {object} */ (header), court });
  }

  /** @param {string} id @param {DeskHeader} header */
  changeMatch(id, header) {
    return this.#ask("PUT", `/matches/${encodeURIComponent(id)}`, header);
  }

  /** @param {string} id */
  removeMatch(id) {
    return this.#ask("DELETE", `/matches/${encodeURIComponent(id)}`);
  }

  /**
   * All or nothing.
   * @param {string | Blob} sheet rows as text, or a file as it is
   * @param {"check" | "import"} how
   * @param {SheetChoices} choices
   * @returns {Promise<ImportAnswer>} with its problems, if there are any
   */
  async importMatches(sheet, how, { tab, heading, columns }) {
    const said = new URLSearchParams();
    if (how === "check") said.set("dry", "true");
    if (tab !== null) said.set("tab", tab);
    if (heading !== null) said.set("heading", String(heading));
    if (columns !== null) said.set("columns", columns.map((meaning) => meaning ?? "").join(","));
    const path = said.size === 0 ? "/matches/import" : `/matches/import?${said}`;
    const type = typeof sheet === "string" ? "text/csv; charset=utf-8" : "application/octet-stream";
    const response = await this.#fetch("POST", path, sheet, { "content-type": type }, FILE_PATIENCE_MS);
    if (response.status !== 422 && !response.ok) throw await refusal(response);
    const text = await response.text();
    try {
      return JSON.parse(text);
    } catch {
      throw new Refused(text.trim(), response.status);
    }
  }

  /** @param {string} court @param {string} match @param {boolean} replace also where another is being played */
  putOn(court, match, replace) {
    return this.#ask("PUT", `${courtPath(court)}/match`, { match, replace });
  }

  /** To a court where nothing is being played. @param {string} match @param {string} court */
  move(match, court) {
    return this.#ask("PUT", `${courtPath(court)}/match`, { match, replace: false, move: true });
  }

  /** @param {string} court */
  takeOff(court) {
    return this.#ask("DELETE", `${courtPath(court)}/match`);
  }

  /** @param {string} court @param {boolean} paused */
  pause(court, paused) {
    return this.#ask("PUT", `${courtPath(court)}/pause`, { paused });
  }

  /** @param {string} court @param {{ finished: boolean, retired?: "a" | "b" }} how */
  finish(court, how) {
    return this.#ask("PUT", `${courtPath(court)}/finish`, how);
  }

  /** @param {string} court */
  removeCourt(court) {
    return this.#ask("DELETE", courtPath(court));
  }

  /** @param {string} court @param {number} limit @returns {Promise<{ entries: ListedEntry[] }>} */
  entries(court, limit) {
    return this.#ask("GET", `${courtPath(court)}/entries?limit=${limit}`);
  }

  /** @param {string} court @param {EntryJson[]} entries @returns {Promise<Preview>} */
  preview(court, entries) {
    return this.#ask("POST", `${courtPath(court)}/preview`, { entries });
  }

  /** @param {string} court @param {EntryJson[]} entries @returns {Promise<Taken>} */
  record(court, entries) {
    return this.#ask("POST", `${courtPath(court)}/entries`, { entries });
  }

  /** What viewers of a court are shown. @param {string} court @returns {Promise<Snapshot>} */
  now(court) {
    return this.#ask("GET", `${courtPath(court)}/now`);
  }

  /** @param {string | null} folder */
  writeTextFiles(folder) {
    return this.#ask("PUT", "/text-files", { folder });
  }

  /** @returns {Promise<PluginReport>} */
  plugins() {
    return this.#ask("GET", "/plugins");
  }

  /** @param {string} plugin @param {boolean} on */
  switchPlugin(plugin, on) {
    return this.#ask("PUT", `/plugins/${encodeURIComponent(plugin)}/switch`, { on });
  }

  /** @param {string} plugin @param {Record<string, SettingValue>} chosen */
  setPlugin(plugin, chosen) {
    return this.#ask("PUT", `/plugins/${encodeURIComponent(plugin)}/settings`, chosen);
  }

  /** A file to keep. @param {string} path @returns {Promise<Blob>} */
  async file(path) {
    return (await this.#send("GET", path, undefined, {}, FILE_PATIENCE_MS)).blob();
  }

  /** An address of this host that the browser follows by itself. @param {string} path */
  follow(path) {
    const address = new URL(path, this.#origin);
    if (this.#key !== null) address.searchParams.set("key", this.#key);
    return address.href;
  }

  /** @param {string} method @param {string} path @param {unknown} [body] @returns {Promise<any>} */
  async #ask(method, path, body) {
    const response = await this.#send(method, path, body);
    const text = await response.text();
    return text === "" ? null : JSON.parse(text);
  }

  /** @param {string} method @param {string} path @param {unknown} [body] @param {Record<string, string>} [headers] @param {number} [patience] ms */
  async #send(method, path, body, headers = {}, patience = PATIENCE_MS) {
    const json = body === undefined ? undefined : JSON.stringify(body);
    const typed = json === undefined ? headers : { ...headers, "content-type": "application/json" };
    const response = await this.#fetch(method, path, json, typed, patience);
    if (response.ok || response.status === 304) return response;
    throw await refusal(response);
  }

  /** @param {string} method @param {string} path @param {string | Blob | undefined} body @param {Record<string, string>} headers @param {number} [patience] ms */
  async #fetch(method, path, body, headers, patience = PATIENCE_MS) {
    const permitted = this.#key === null ? headers : { ...headers, authorization: `Bearer ${this.#key}` };
    const stop = new AbortController();
    const timer = setTimeout(() => stop.abort(), patience);
    try {
      return await fetch(new URL(path, this.#origin), {
        method,
        headers: permitted,
        cache: "no-store",
        signal: stop.signal,
        ...(body === undefined ? {} : { body }),
      });
    } catch {
      const word = stop.signal.aborted
        ? `The host did not answer within ${patience / 1000} seconds`
        : "Can't reach the host";
      throw new Refused(`${word}. Is Rallytide running? Nothing you typed is lost; try again.`, 0);
    } finally {
      clearTimeout(timer);
    }
  }
}

/** @param {string} court */
function courtPath(court) {
  return `/courts/${encodeURIComponent(court)}`;
}

/** @param {Response} response @returns {Promise<Refused>} */
async function refusal(response) {
  const sentence = (await response.text()).trim();
  const bare = `the host cannot do this (it answers ${response.status}). This page may be older or newer than the host: reload it`;
  return new Refused(asSentence(sentence === "" ? bare : sentence), response.status);
}

/** The host's sentences begin small, end without a stop, and mark words as programmers do. @param {string} text */
export function asSentence(text) {
  const plain = text.replaceAll(/`([^`]*)`/g, "“$1”");
  const begun = plain.charAt(0).toUpperCase() + plain.slice(1);
  return /[.!?]$/.test(begun) ? begun : `${begun}.`;
}
