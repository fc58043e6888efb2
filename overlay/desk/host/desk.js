// What the desk page does: asks the host each second, runs what somebody chose and says
// what came of it, with its undo. Every change goes through here into the one state,
// from which all is drawn. Draws nothing itself.

/**
 * @import { Links } from "../../types/host.js"
 * @import { Question, State, Undo } from "../state.js"
 */
import { chosenAddress, keepAddress } from "../files/address-choice.js";
import { preferring } from "../files/addresses.js";
import { can, freshState } from "../state.js";
import { AWAY, DeskHost, Refused } from "./host.js";

/** How often the host is asked, ms; after a failure twice as long each time, up to the longest. */
const EVERY_MS = 1000;
const LONGEST_MS = 4000;
/** Plugins change seldom. */
const PLUGINS_EVERY = 3;
/** A computer may join a network while the desk is open. */
const LINKS_EVERY = 15;
/** How long a word stands at the foot: alone, and with something to do about it, ms. */
const STANDS_MS = 15_000;
const OFFERED_MS = 90_000;
/** Looked at again where somebody is just using it, ms. */
const HELD_MS = 3000;

export class Desk {
  state = freshState();
  #drawAll;
  #isHeld;
  /** @type {(() => void)[]} */
  #hears = [];
  #pause = EVERY_MS;
  #round = 0;
  /** What the host can do has been asked since it was last lost. */
  #acquainted = false;
  #clearing = 0;

  /**
   * @param {DeskHost} host
   * @param {{ draw: () => void, isHeld: () => boolean }} page `isHeld`: somebody is at the foot of the page
   */
  constructor(host, { draw, isHeld }) {
    this.host = host;
    this.#drawAll = draw;
    this.#isHeld = isHeld;
  }

  /** @param {Partial<State>} part */
  change(part) {
    Object.assign(this.state, part);
    this.#drawAll();
  }

  /** Called whenever the host has answered, before all is drawn. @param {() => void} hear */
  onHeard(hear) {
    this.#hears.push(hear);
  }

  async start() {
    for (;;) {
      await this.look();
      await new Promise((resolve) => setTimeout(resolve, this.#pause));
    }
  }

  /** Asks the host how things are, now. */
  async look() {
    const { state } = this;
    const asked = Date.now();
    try {
      const told = await this.host.state();
      if (told !== null) {
        // Half of the way there and back is the best guess at when the host looked at its clock.
        state.clockMs = Date.parse(told.now) - (asked + Date.now()) / 2;
        state.host = told;
      }
      if (!this.#acquainted) state.paths = await this.host.paths();
      this.#acquainted = true;
      if (this.#round % PLUGINS_EVERY === 0) state.plugins = await this.#part("plugins", () => this.host.plugins());
      if ((state.links === null || this.#round % LINKS_EVERY === 0) && can(state, "/desk/links"))
        this.takeLinks(await this.#part("links", () => this.host.links()));
      this.#round += 1;
      this.#pause = EVERY_MS;
      state.trouble = "";
      state.heardAt = Date.now();
    } catch (error) {
      this.#pause = Math.min(LONGEST_MS, this.#pause * 2);
      state.trouble = error instanceof Refused && error.status === 0 ? AWAY : sentenceOf(error);
      // After a break anything may be different.
      this.#round = 0;
      this.#acquainted = false;
    }
    for (const hear of this.#hears) hear();
    this.#drawAll();
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
      this.state.missing[name] = "";
      return answer;
    } catch (error) {
      if (!(error instanceof Refused) || error.status === 0) throw error;
      this.state.missing[name] = error.message;
      return null;
    }
  }

  /** @param {Links | null} links as the host says them */
  takeLinks(links) {
    this.state.offered = links?.addresses ?? [];
    this.state.links = links === null ? null : preferring(links, chosenAddress(), this.host.origin);
  }

  /** Which address goes into links and codes from now on. @param {string} address */
  chooseAddress(address) {
    const { links, offered } = this.state;
    if (links === null) return;
    keepAddress(address);
    this.state.links = preferring({ ...links, addresses: offered }, address, this.host.origin);
    this.tell(`Links and QR codes now use ${new URL(address).host}. Links handed out before still work.`);
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
      this.fail(error);
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

  /** What has happened by itself. @param {readonly string[]} sentences */
  announce(sentences) {
    this.state.notice = { ...this.state.notice, news: sentences.join(" ") };
    this.#clearLater(OFFERED_MS);
  }

  closeNotice() {
    this.change({ notice: { said: "", undo: null, bad: false, news: "" } });
  }

  /** @param {string} said @param {Undo | null} undo @param {boolean} bad */
  #say(said, undo, bad) {
    this.change({ notice: { ...this.state.notice, said, undo, bad } });
    this.#clearLater(undo === null && !bad ? STANDS_MS : OFFERED_MS);
  }

  /** What stands at the foot goes by itself, unless somebody is just using it. @param {number} ms */
  #clearLater(ms) {
    clearTimeout(this.#clearing);
    this.#clearing = window.setTimeout(() => {
      if (this.#isHeld()) this.#clearLater(HELD_MS);
      else this.closeNotice();
    }, ms);
  }

  /**
   * Asks before something happens.
   * @param {Omit<Question, "resolve">} question
   * @returns {Promise<string>} the answer's value, empty: nothing is to happen
   */
  ask(question) {
    return new Promise((resolve) => this.change({ question: { ...question, resolve } }));
  }

  /** @param {string} value */
  answer(value) {
    const { question } = this.state;
    if (question === null) return;
    this.change({ question: null });
    question.resolve(value);
  }
}

/** @param {unknown} error */
export function sentenceOf(error) {
  if (error instanceof Refused) return error.message;
  console.error(error);
  return "Something on this page went wrong. Reload it; if it happens again, the browser's console says more.";
}
