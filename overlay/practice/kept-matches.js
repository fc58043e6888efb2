// Made-up matches to practice on: asked from the host while it is there, kept in
// this browser, so that practice goes on when the network does not. One that was
// practiced on before is used again only where there is no other.

import { keptJson } from "../shared/memory.js";

/** @typedef {{ seed: number, text: string, played: number }} Kept `played`: how often */

const KEPT = "rallytide.practice.matches";
/** As many as wait here unplayed, and as many as are kept at all. */
const AHEAD = 3;
const AT_MOST = 6;
/** More of a match than a set needs only takes room. */
const RALLIES = 60;

export class KeptMatches {
  #storage;
  #ask;
  #seed;

  /**
   * @param {Pick<Storage, "getItem" | "setItem">} storage
   * @param {(seed: number) => Promise<string>} ask the host for the chart of a match
   * @param {() => number} seed a new one
   */
  constructor(storage, ask, seed) {
    this.#storage = storage;
    this.#ask = ask;
    this.#seed = seed;
  }

  /** @returns {Kept[]} */
  get all() {
    return keptJson(this.#storage, KEPT, Array.isArray, []);
  }

  /** Asks for matches until enough wait here. @throws where the host does not give one */
  async fill() {
    while (this.all.filter(({ played }) => played === 0).length < AHEAD) await this.#fetch(this.#seed());
  }

  /** @param {number} [seed] this very match @returns {Promise<string>} a chart file's text @throws where there is none to be had */
  async take(seed) {
    const wanted = seed === undefined ? this.#fresh() : this.all.find((kept) => kept.seed === seed);
    const match = wanted ?? (await this.#fetch(seed ?? this.#seed()).catch((error) => this.#again(error)));
    this.#keep(this.all.map((kept) => (kept.seed === match.seed ? { ...kept, played: kept.played + 1 } : kept)));
    return match.text;
  }

  #fresh() {
    return this.all.find(({ played }) => played === 0);
  }

  /** @param {unknown} error why there is no new one @returns {Kept} the one played least */
  #again(error) {
    const least = this.all.sort((one, other) => one.played - other.played)[0];
    if (least === undefined)
      throw new Error(
        `No made-up match is kept in this browser yet, and the host ${error instanceof Error ? error.message : String(error)}. Check that Rallytide is running and the network is up, then press Start again.`,
      );
    return least;
  }

  /** @param {number} seed */
  async #fetch(seed) {
    const match = { seed, text: beginningOf(await this.#ask(seed)), played: 0 };
    const others = this.all.filter((kept) => kept.seed !== seed).sort((one, other) => one.played - other.played);
    this.#keep([...others.slice(0, AT_MOST - 1), match]);
    return match;
  }

  /** @param {Kept[]} kept */
  #keep(kept) {
    this.#storage.setItem(KEPT, JSON.stringify(kept));
  }
}

/** @param {string} text a chart file @returns {string} its first rallies */
function beginningOf(text) {
  let ends = 0;
  const lines = text.split("\n");
  const enough = lines.findIndex((line) => line.includes('"rally_end"') && (ends += 1) === RALLIES);
  return enough === -1 ? text : `${lines.slice(0, enough + 1).join("\n")}\n`;
}
