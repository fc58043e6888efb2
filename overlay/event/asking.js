// Asks the host how the event stands, every few seconds and only while somebody
// looks. The one module of this page that sends a request. No socket: a crowd of
// phones keeps no connection open, and what has not changed is not sent again.

/** @import { EventDay } from "../types/host.js" */
import { withKey } from "../shared/key.js";

/** How often the host is asked, ms; after a failure twice as long each time, up to the longest. */
const EVERY_MS = 2000;
const LONGEST_MS = 16_000;
/** A host that is silent for so long is not there, ms. */
const PATIENCE_MS = 6000;

/** @typedef {"" | "away" | "replaced" | "refused"} Trouble why there is no fresh word; empty while there is */
/** @typedef {{ day: EventDay | null, heardAt: number, trouble: Trouble }} Heard */

/**
 * @param {string} page its own address
 * @param {(heard: Heard) => void} tell called after every answer and every failure
 */
export function askAbout(page, tell) {
  const address = withKey("event.json", page);
  /** @type {Heard} */
  let heard = { day: null, heardAt: 0, trouble: "" };
  let tag = "";
  let pause = EVERY_MS;
  let timer = 0;
  let isAsking = false;

  async function ask() {
    if (isAsking) return;
    isAsking = true;
    clearTimeout(timer);
    try {
      heard = await answer();
      pause = heard.trouble === "" ? EVERY_MS : LONGEST_MS;
    } catch (error) {
      console.warn(`asking the host at ${address.pathname}: ${String(error)}`);
      heard = { ...heard, trouble: "away" };
      pause = Math.min(pause * 2, LONGEST_MS);
    }
    isAsking = false;
    tell(heard);
    if (document.visibilityState === "visible") timer = setTimeout(ask, pause);
  }

  /** @returns {Promise<Heard>} */
  async function answer() {
    const response = await fetch(address, {
      cache: "no-store",
      headers: tag === "" ? {} : { "if-none-match": tag },
      signal: AbortSignal.timeout(PATIENCE_MS),
    });
    const heardAt = Date.now();
    if (response.status === 304) {
      // Left unread, an answer counts as broken off.
      await response.text();
      return { ...heard, heardAt, trouble: "" };
    }
    if (response.status === 403) return { ...heard, trouble: heard.day === null ? "refused" : "replaced" };
    if (!response.ok) throw new Error(`it answers ${response.status}`);
    const day = await response.json();
    tag = response.headers.get("etag") ?? "";
    return { day, heardAt, trouble: "" };
  }

  // A phone that was in a pocket shows the score of now, not the one of then.
  document.addEventListener("visibilitychange", () => {
    clearTimeout(timer);
    if (document.visibilityState === "visible") void ask();
  });
  void ask();
}
