// What the desk page knows and does: asks the host each second, tells every room,
// runs what somebody chose and says what came of it, with its undo. Draws nothing.

/** @import { DeskView, Links } from "../../types/desk.js" */
import { chosenAddress, keepAddress } from "../files/address-choice.js";
import { preferring } from "../files/addresses.js";
import { DeskHost, Refused } from "./host.js";

/** How often the host is asked, ms; after a failure twice as long each time, up to the longest. */
const EVERY_MS = 1000;
const LONGEST_MS = 4000;
/** Plugins change seldom. */
const PLUGINS_EVERY = 3;
/** A machine may join a network while the desk is open. */
const LINKS_EVERY = 15;

/** What to do about a host that is away. */
const AWAY =
  "Is Rallytide still running, and is the network there? This page asks on by itself; nothing you typed is lost.";

/** @typedef {{ label: string, run: () => Promise<unknown>, said: string }} Undo */
/** @typedef {(sentence: string, undo: Undo | null, bad: boolean) => void} Say */

export class Desk {
  /** @type {DeskView} */
  view = {
    host: null,
    links: null,
    offered: [],
    plugins: null,
    trouble: "",
    heardAt: 0,
    missing: { links: "", plugins: "" },
    paths: null,
    clockMs: 0,
  };
  #say;
  /** @type {((view: DeskView) => void)[]} */
  #draws = [];
  #pause = EVERY_MS;
  #round = 0;
  /** What the host can do has been asked since it was last lost. */
  #acquainted = false;

  /** @param {DeskHost} host @param {Say} say */
  constructor(host, say) {
    this.host = host;
    this.#say = say;
  }

  /** @param {(view: DeskView) => void} draw */
  onChange(draw) {
    this.#draws.push(draw);
  }

  async start() {
    for (;;) {
      await this.look();
      await new Promise((resolve) => setTimeout(resolve, this.#pause));
    }
  }

  /** Asks the host how things are, now. */
  async look() {
    const asked = Date.now();
    try {
      const state = await this.host.state();
      if (state !== null) {
        // Half of the way there and back is the best guess at when the host looked at its clock.
        this.view.clockMs = Date.parse(state.now) - (asked + Date.now()) / 2;
        this.view.host = state;
      }
      if (!this.#acquainted) this.view.paths = await this.host.paths();
      this.#acquainted = true;
      if (this.#round % PLUGINS_EVERY === 0) this.view.plugins = await this.#part("plugins", () => this.host.plugins());
      if ((this.view.links === null || this.#round % LINKS_EVERY === 0) && can(this.view, "/desk/links"))
        this.takeLinks(await this.#part("links", () => this.host.links()));
      this.#round += 1;
      this.#pause = EVERY_MS;
      this.view.trouble = "";
      this.view.heardAt = Date.now();
    } catch (error) {
      this.#pause = Math.min(LONGEST_MS, this.#pause * 2);
      this.view.trouble = error instanceof Refused && error.status === 0 ? AWAY : sentenceOf(error);
      // After a break anything may be different.
      this.#round = 0;
      this.#acquainted = false;
    }
    this.draw();
  }

  /**
   * A part of what the host knows; refused alone, it is missing alone.
   * @template T
   * @param {"links" | "plugins"} name @param {() => Promise<T>} ask
   * @returns {Promise<T | null>}
   */
  async #part(name, ask) {
    try {
      const answer = await ask();
      this.view.missing[name] = "";
      return answer;
    } catch (error) {
      if (!(error instanceof Refused) || error.status === 0) throw error;
      this.view.missing[name] = error.message;
      return null;
    }
  }

  /** @param {Links | null} links as the host says them */
  takeLinks(links) {
    this.view.offered = links?.addresses ?? [];
    this.view.links = links === null ? null : preferring(links, chosenAddress(), this.host.origin);
  }

  /** Which address goes into links and codes from now on. @param {string} address */
  chooseAddress(address) {
    const { links, offered } = this.view;
    if (links === null) return;
    keepAddress(address);
    this.view.links = preferring({ ...links, addresses: offered }, address, this.host.origin);
    this.tell(
      `Links and codes now lead to ${new URL(address).host}. Links handed out before still lead where they did.`,
    );
    this.draw();
  }

  draw() {
    for (const draw of this.#draws) draw(this.view);
  }

  /**
   * Does something, looks at what came of it, and says so. Never throws.
   * @param {() => Promise<unknown>} act
   * @param {string | (() => string)} said
   * @param {Undo | null} [undo]
   * @returns {Promise<boolean>} whether it was done
   */
  async act(act, said, undo = null) {
    try {
      await act();
    } catch (error) {
      this.#say(sentenceOf(error), null, true);
      return false;
    }
    this.#round = 0;
    await this.look();
    this.#say(typeof said === "string" ? said : said(), undo, false);
    return true;
  }

  /** @param {string} sentence */
  tell(sentence) {
    this.#say(sentence, null, false);
  }

  /** @param {unknown} error */
  fail(error) {
    this.#say(sentenceOf(error), null, true);
  }

  /** @param {string} id */
  match(id) {
    return this.view.host?.matches.find((one) => one.id === id) ?? null;
  }

  /** @param {string} name */
  court(name) {
    return this.view.host?.courts.find((one) => one.court === name) ?? null;
  }
}

/** What this host cannot do is not offered. @param {DeskView} view @param {string} path */
export function can({ paths }, path) {
  return paths === null || paths.includes(path);
}

/** @param {unknown} error */
export function sentenceOf(error) {
  if (error instanceof Refused) return error.message;
  console.error(error);
  return `Something in this page went wrong: ${error instanceof Error ? error.message : String(error)}`;
}
