// The form a match is planned or changed with. What is typed is kept in this tab
// until it has been saved. What the fields mean is in planning.js.

/**
 * @import { DeskHeader } from "../../types/desk.js"
 * @import { Field, Values } from "./planning.js"
 */
import { make, setText } from "../../shared/dom.js";
import { ColourSample } from "./colour-choice.js";
import { button, choice, draft, field, input } from "../page/controls.js";
import { DEFAULTS, headerFrom, idleFields, problems, valuesFrom } from "./planning.js";

/** What cannot change any more once a match has begun. */
const FIXED_ONCE_BEGUN = /** @type {const} */ ([
  "discipline",
  "scoring",
  "points",
  "win_by",
  "games",
  "winning_point",
  "positions",
  "first_serve",
  "a_starts",
  "b_starts",
]);
/** Wherever names are entered or go out. */
export const CONSENT_CAUTION =
  "Names are personal data. Ask players before they go on a stream, and the guardians of minors. The event's rules and local law come first.";
const SERVES = /** @type {const} */ ([
  ["0", "the first one named"],
  ["1", "the second one named"],
]);

/** @returns {Record<Field, ReturnType<typeof field>>} */
function allFields() {
  const colour = () => input({ type: "color" });
  return {
    a: field("First team", input(), "Shown left and above, with a round mark"),
    b: field("Second team", input(), "Shown right and below, with a diamond"),
    court: field("Court", input(), "1, 2, centre …"),
    title: field("Title", input(), "May be left empty"),
    a0: field("First team, a player", input()),
    a1: field("First team, partner", input()),
    b0: field("Second team, a player", input()),
    b1: field("Second team, partner", input()),
    a_starts: field("First team's starting server", choice(SERVES)),
    b_starts: field("Second team's starting server", choice(SERVES)),
    discipline: field(
      "Doubles or singles",
      choice([
        ["doubles", "doubles"],
        ["singles", "singles"],
      ]),
    ),
    scoring: field(
      "Scoring",
      choice([
        ["side_out", "side-out"],
        ["rally", "rally"],
      ]),
      "Side-out: only the serving team scores. Rally: a point every rally",
    ),
    points: field("Points a game", input({ inputmode: "numeric" }), "Usual: 11, 15, 21"),
    win_by: field(
      "Win by",
      choice([
        ["2", "two points"],
        ["1", "one point"],
      ]),
    ),
    games: field(
      "Games",
      choice([
        ["1", "one game"],
        ["3", "best of three"],
        ["5", "best of five"],
      ]),
    ),
    winning_point: field(
      "Winning point",
      choice([
        ["any", "either side can score it"],
        ["server", "only the serving side can score it"],
      ]),
    ),
    positions: field(
      "Partners",
      choice([
        ["swap", "swap courts when they score"],
        ["static", "each keeps a court"],
      ]),
    ),
    first_serve: field(
      "Serves first",
      choice([
        ["a", "first team"],
        ["b", "second team"],
      ]),
    ),
    coloured: field(
      "Team colours",
      choice([
        ["no", "the safe pair (blue and orange)"],
        ["yes", "chosen here"],
      ]),
    ),
    a_colour: field("First team's colour", colour()),
    b_colour: field("Second team's colour", colour()),
  };
}

export class MatchForm {
  #fields = allFields();
  #sample = new ColourSample();
  #draft;
  /** @type {DeskHeader | undefined} */
  #before;
  #tried = false;
  #begun = false;
  #trouble = make("p", { class: "trouble", role: "alert" });
  #submit = make("button", { class: "chief" }, "");
  #colours = make("div", { class: "colours" });
  #format = make("details", { class: "more" }, make("summary", {}, "Scoring, games, who serves"));
  #players = make("details", { class: "more" }, make("summary", {}, "Players"));
  #colour = make("details", { class: "more" }, make("summary", {}, "Team colours"));
  node;

  /**
   * @param {object} setting
   * @param {string} setting.name of what is kept in this tab
   * @param {string} setting.label of the button
   * @param {(header: Omit<DeskHeader, "id"> & { id?: string }) => Promise<boolean>} setting.save true: it is saved
   * @param {() => void} [setting.leave] there is a way out
   */
  constructor({ name, label, save, leave }) {
    this.#draft = draft(name);
    setText(this.#submit, label);
    const f = this.#fields;
    const nodes = (/** @type {Field[]} */ ...names) => names.map((one) => f[one].node);
    this.#format.append(
      make(
        "div",
        { class: "grid" },
        ...nodes("discipline", "scoring", "points", "win_by", "games", "winning_point", "positions", "first_serve"),
      ),
    );
    this.#players.append(
      make(
        "fieldset",
        { class: "team-players" },
        make("legend", {}, "First team"),
        make("div", { class: "grid" }, ...nodes("a0", "a1", "a_starts")),
      ),
      make(
        "fieldset",
        { class: "team-players" },
        make("legend", {}, "Second team"),
        make("div", { class: "grid" }, ...nodes("b0", "b1", "b_starts")),
      ),
    );
    this.#colours.append(...nodes("a_colour", "b_colour"), this.#sample.node);
    this.#colour.append(f.coloured.node, this.#colours);
    this.node = make(
      "form",
      { class: "match-form", novalidate: "" },
      make("div", { class: "grid" }, ...nodes("a", "b", "court", "title")),
      make("p", { class: "caution" }, CONSENT_CAUTION),
      this.#format,
      this.#players,
      this.#colour,
      this.#trouble,
      make("div", { class: "row" }, this.#submit, ...(leave === undefined ? [] : [button("Leave as it was", leave)])),
    );
    this.node.addEventListener("input", () => this.#changed());
    this.node.addEventListener("submit", (event) => {
      event.preventDefault();
      void this.#save(save);
    });
    this.fill(this.#draft.read() ?? DEFAULTS);
  }

  /** @param {Values} values */
  fill(values) {
    for (const [name, { control }] of Object.entries(this.#fields))
      control.value = values[/** @type {Field} */ (name)] ?? "";
    this.#tried = false;
    this.#draw();
  }

  /** @param {DeskHeader} header @param {boolean} begun */
  edit(header, begun) {
    this.#before = header;
    this.#begun = begun;
    this.fill(this.#draft.read() ?? valuesFrom(header));
    this.#format.open = !begun;
  }

  /** Forgets what was typed. */
  clear() {
    this.#draft.keep(null);
    this.#before = undefined;
    this.fill(DEFAULTS);
  }

  focus() {
    this.#fields.a.control.focus();
  }

  /** @returns {Values} */
  get values() {
    return /** @type {Values} */ (
      Object.fromEntries(Object.entries(this.#fields).map(([name, { control }]) => [name, control.value]))
    );
  }

  #changed() {
    this.#draft.keep(this.values);
    this.#draw();
  }

  #draw() {
    const values = this.values;
    const idle = idleFields(values);
    for (const [name, { node, control }] of Object.entries(this.#fields)) {
      node.hidden = idle.has(/** @type {Field} */ (name));
      control.disabled = this.#begun && FIXED_ONCE_BEGUN.some((fixed) => fixed === name);
    }
    this.#colours.hidden = values.coloured !== "yes";
    this.#sample.show(values.a_colour, values.b_colour);
    // Nobody is told off while still typing the first time.
    if (this.#tried) this.#blame(values);
  }

  /** @param {Values} values @returns {Map<Field, string>} */
  #blame(values) {
    const found = problems(values);
    for (const [name, one] of Object.entries(this.#fields)) one.blame(found.get(/** @type {Field} */ (name)) ?? "");
    const many = found.size === 1 ? "One field needs another look." : `${found.size} fields need another look.`;
    setText(this.#trouble, found.size === 0 ? "" : many);
    return found;
  }

  /** @param {(header: Omit<DeskHeader, "id"> & { id?: string }) => Promise<boolean>} save */
  async #save(save) {
    this.#tried = true;
    const values = this.values;
    const found = this.#blame(values);
    const first = Object.entries(this.#fields).find(([name]) => found.has(/** @type {Field} */ (name)));
    if (first !== undefined) {
      const details = first[1].node.closest("details");
      if (details !== null) details.open = true;
      first[1].control.focus();
      return;
    }
    this.#submit.disabled = true;
    const done = await save(headerFrom(values, this.#before));
    this.#submit.disabled = false;
    if (done) this.clear();
    else this.#submit.focus();
  }
}
