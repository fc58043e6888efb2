// Team colours on a page: the address decides, else the match's own header
// (`teams.a.colour`, "#RRGGBB"), else the look. Each is lifted until it stands
// out from the plate. What a header says wrongly is said once on the console.

/**
 * @import { MatchHeader } from "../types/messages.js"
 * @import { Side } from "../types/view.js"
 */
import { fitTeam, parseColour } from "./colours.js";
import { PLATE } from "./palette.js";
import { whenStyled } from "./styles.js";

/** A header is written by programs: one way to write a colour is enough. */
const HEADER_COLOUR = /^#[0-9a-f]{6}$/i;

export class TeamColours {
  #asked;
  #root;
  /** @type {Record<Side, string | null>} as the header has it, right or wrong */
  #said = { a: null, b: null };

  /**
   * @param {{ a: string | null, b: string | null }} asked by the address, `#rrggbb`
   * @param {HTMLElement} root
   */
  constructor(asked, root) {
    this.#asked = asked;
    this.#root = root;
    // The plate's colour is known once the sheets, a streamer's own among them, are there.
    void whenStyled().then(() => this.#paint());
    // Between night and daylight the plate is another one.
    new MutationObserver(() => this.#paint()).observe(root, { attributeFilter: ["data-theme"] });
  }

  /** @param {MatchHeader | null} match may have other colours than before */
  follow(match) {
    const said = { a: colourSaid(match, "a"), b: colourSaid(match, "b") };
    if (said.a === this.#said.a && said.b === this.#said.b) return;
    for (const team of /** @type {const} */ (["a", "b"])) {
      const colour = said[team];
      if (colour !== null && colour !== this.#said[team] && !HEADER_COLOUR.test(colour)) {
        console.warn(`the match says team ${team}'s colour is \`${colour}\`; a colour looks like #0072B2`);
      }
    }
    this.#said = said;
    void whenStyled().then(() => this.#paint());
  }

  #paint() {
    const style = getComputedStyle(this.#root);
    /** @param {string} name */
    const read = (name) => parseColour(style.getPropertyValue(name));
    // Without a plate the rim is what stands next to a shape.
    const plate = read("--rt-plate") ?? read("--rt-rim") ?? PLATE.dark;
    for (const team of /** @type {const} */ (["a", "b"])) {
      const said = this.#said[team];
      const colour = this.#asked[team] ?? (said !== null && HEADER_COLOUR.test(said) ? said.toLowerCase() : null);
      const fitted = colour === null ? null : fitTeam(colour, plate);
      this.#set(`--rt-${team}`, fitted?.fill ?? null);
      this.#set(`--rt-on-${team}`, fitted?.ink ?? null);
    }
  }

  /**
   * @param {string} property
   * @param {string | null} colour null: the look's own
   */
  #set(property, colour) {
    if (colour === null) this.#root.style.removeProperty(property);
    else this.#root.style.setProperty(property, colour);
  }
}

/**
 * @param {MatchHeader | null} match
 * @param {Side} team
 * @returns {string | null} as it came, null where nothing is said
 */
function colourSaid(match, team) {
  const sheet = match?.teams[team];
  if (sheet === undefined || !("colour" in sheet)) return null;
  return sheet.colour == null ? null : String(sheet.colour);
}
