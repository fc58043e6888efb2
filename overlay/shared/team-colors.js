// Team colors on a page: the address decides, else the match's own header
// (`teams.a.color`, "#RRGGBB"), else the look. Each is lifted until it stands
// out from the plate. What a header says wrongly is said once on the console.

/**
 * @import { MatchHeader } from "../types/messages.js"
 * @import { Side } from "../types/view.js"
 */
import { fitTeam, parseColor } from "./colors.js";
import { PLATE } from "./palette.js";
import { whenStyled } from "./styles.js";

/** A header is written by programs: one way to write a color is enough. */
const HEADER_COLOR = /^#[0-9a-f]{6}$/i;

export class TeamColors {
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
    // The plate's color is known once the sheets, a streamer's own among them, are there.
    void whenStyled().then(() => this.#paint());
    // Between night and daylight the plate is another one.
    new MutationObserver(() => this.#paint()).observe(root, { attributeFilter: ["data-theme"] });
  }

  /** @param {MatchHeader | null} match may have other colors than before */
  follow(match) {
    const said = { a: colorSaid(match, "a"), b: colorSaid(match, "b") };
    if (said.a === this.#said.a && said.b === this.#said.b) return;
    for (const team of /** @type {const} */ (["a", "b"])) {
      const color = said[team];
      if (color !== null && color !== this.#said[team] && !HEADER_COLOR.test(color)) {
        console.warn(`the match says team ${team}'s color is \`${color}\`; a color looks like #0072B2`);
      }
    }
    this.#said = said;
    void whenStyled().then(() => this.#paint());
  }

  #paint() {
    const style = getComputedStyle(this.#root);
    /** @param {string} name */
    const read = (name) => parseColor(style.getPropertyValue(name));
    // Without a plate the rim is what stands next to a shape.
    const plate = read("--rt-plate") ?? read("--rt-rim") ?? PLATE.dark;
    for (const team of /** @type {const} */ (["a", "b"])) {
      const said = this.#said[team];
      const color = this.#asked[team] ?? (said !== null && HEADER_COLOR.test(said) ? said.toLowerCase() : null);
      const fitted = color === null ? null : fitTeam(color, plate);
      this.#set(`--rt-${team}`, fitted?.fill ?? null);
      this.#set(`--rt-on-${team}`, fitted?.ink ?? null);
    }
  }

  /**
   * @param {string} property
   * @param {string | null} color null: the look's own
   */
  #set(property, color) {
    if (color === null) this.#root.style.removeProperty(property);
    else this.#root.style.setProperty(property, color);
  }
}

/**
 * @param {MatchHeader | null} match
 * @param {Side} team
 * @returns {string | null} as it came, null where nothing is said
 */
function colorSaid(match, team) {
  const sheet = match?.teams[team];
  if (sheet === undefined || !("color" in sheet)) return null;
  return sheet.color == null ? null : String(sheet.color);
}
