// The form a match is planned or changed with, drawn from what its page keeps of it.
// What the fields mean, and what is wrong with them, is in values.js.

/**
 * @import { DeskHeader } from "../../types/host.js"
 * @import { Field, Values } from "./values.js"
 */
import { choiceField, focusFault, textField } from "../fields.js";
import { html, nothing } from "../html.js";
import { colorSample } from "./color-sample.js";
import { DEFAULTS, headerFrom, idleFields, problems, valuesFrom } from "./values.js";

/** What cannot change any more once a match has begun. */
const FIXED_ONCE_BEGUN = new Set(
  /** @type {Field[]} */ ([
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
  ]),
);
/** Wherever names are entered or go out. */
export const CONSENT_CAUTION =
  "Names are personal data. Ask players before they go on a stream, and the guardians of minors. The event's rules and local law come first.";

/** @type {Record<Field, { label: string, advice?: string, choices?: [string, string][], type?: string, inputmode?: "numeric" }>} */
const FIELDS = {
  a: { label: "First team", advice: "Shown left and above, with a round mark. Not known yet? Write winner of QF 2" },
  b: { label: "Second team", advice: "Shown right and below, with a diamond. Or: loser of QF 2" },
  court: { label: "Court", advice: "1, 2, center …" },
  title: { label: "Title", advice: "Optional" },
  round: { label: "Round", advice: "Optional: Pool A, QF 2 …" },
  time: { label: "Time", advice: "Optional: 14:40" },
  a0: { label: "First team, player 1" },
  a1: { label: "First team, player 2" },
  b0: { label: "Second team, player 1" },
  b1: { label: "Second team, player 2" },
  a_starts: { label: "First team's starting server", choices: serves() },
  b_starts: { label: "Second team's starting server", choices: serves() },
  discipline: {
    label: "Doubles or singles",
    choices: [
      ["doubles", "doubles"],
      ["singles", "singles"],
    ],
  },
  scoring: {
    label: "Scoring",
    advice: "Side-out: only the serving team scores. Rally: a point every rally",
    choices: [
      ["side_out", "side-out"],
      ["rally", "rally"],
    ],
  },
  points: { label: "Points per game", advice: "Usual: 11, 15, 21", inputmode: "numeric" },
  win_by: {
    label: "Win by",
    choices: [
      ["2", "two points"],
      ["1", "one point"],
    ],
  },
  games: {
    label: "Games",
    choices: [
      ["1", "one game"],
      ["3", "best of three"],
      ["5", "best of five"],
    ],
  },
  winning_point: {
    label: "Winning point",
    choices: [
      ["any", "either side can score it"],
      ["server", "only the serving side can score it"],
    ],
  },
  positions: {
    label: "Partners",
    choices: [
      ["swap", "swap sides on a point"],
      ["static", "keep their sides"],
    ],
  },
  first_serve: {
    label: "Serves first",
    choices: [
      ["a", "first team"],
      ["b", "second team"],
    ],
  },
  colored: {
    label: "Team colors",
    choices: [
      ["no", "default (blue and orange)"],
      ["yes", "my own"],
    ],
  },
  a_color: { label: "First team's color", type: "color" },
  b_color: { label: "Second team's color", type: "color" },
};

/** @returns {[string, string][]} */
function serves() {
  return [
    ["0", "player 1"],
    ["1", "player 2"],
  ];
}

/**
 * What a page keeps of a form.
 * @typedef {object} MatchForm
 * @property {Values} values
 * @property {boolean} tried nobody is told off while still typing the first time
 * @property {boolean} busy it is being saved
 * @property {DeskHeader} [before] the header that is being changed
 * @property {boolean} [begun] the match has been charted: its rules stand
 * @property {boolean} [isOn] the match is on a court, which is not changed here
 */

/** @param {unknown} kept what was half typed before, as far as it is of this form @returns {MatchForm} */
export function freshForm(kept) {
  return { values: valuesOf(kept, DEFAULTS), tried: false, busy: false };
}

/**
 * @param {DeskHeader} header @param {{ begun: boolean, isOn: boolean }} how @param {unknown} kept
 * @returns {MatchForm}
 */
export function formOf(header, how, kept) {
  return { values: valuesOf(kept, valuesFrom(header)), tried: false, busy: false, before: header, ...how };
}

/** @param {unknown} kept @param {Values} otherwise @returns {Values} */
function valuesOf(kept, otherwise) {
  if (typeof kept !== "object" || kept === null) return otherwise;
  const texts = Object.entries(kept).filter(([name, value]) => name in otherwise && typeof value === "string");
  return { ...otherwise, ...Object.fromEntries(texts) };
}

/**
 * @param {object} form
 * @param {string} form.id of this form, the fields' own begin with it
 * @param {MatchForm} form.form
 * @param {string} form.submit what its button says
 * @param {(change: Partial<MatchForm>) => void} form.change
 * @param {(header: Omit<DeskHeader, "id"> & { id?: string }) => Promise<unknown>} form.save
 * @param {() => void} [form.cancel] there is a way out
 * @param {boolean} [form.isShort] the least is shown first
 */
export function matchForm({ id, form, submit, change, save, cancel, isShort = false }) {
  const { values } = form;
  const idle = idleFields(values);
  const found = form.tried ? problems(values) : new Map();
  /** @param {Field} name */
  const one = (name) => {
    if (idle.has(name)) return nothing;
    const { choices, ...field } = FIELDS[name];
    const moved = name === "court" && form.isOn === true;
    const whole = {
      ...field,
      id: `${id}-${name}`,
      value: values[name],
      fault: found.get(name) ?? "",
      disabled: moved || (form.begun === true && FIXED_ONCE_BEGUN.has(name)),
      ...(moved ? { advice: "It is on court: to move it, use More on its court" } : {}),
      /** @param {string} value */
      put: (value) => change({ values: { ...values, [name]: value } }),
    };
    return choices === undefined ? textField(whole) : choiceField({ ...whole, choices });
  };
  const grid = (/** @type {Field[]} */ ...names) => html`<div class="grid">${names.map(one)}</div>`;
  const many = found.size === 1 ? "One field needs another look." : `${found.size} fields need another look.`;
  return html`<form
    class="match-form"
    novalidate
    @submit=${(/** @type {SubmitEvent} */ event) => {
      event.preventDefault();
      void submitForm(/** @type {HTMLFormElement} */ (event.currentTarget), form, change, save);
    }}
  >
    ${grid("a", "b", "court")}
    <details class="more" ?open=${!isShort}>
      <summary>Time, round, title</summary>
      ${grid("time", "round", "title")}
    </details>
    <details class="more" ?open=${form.before !== undefined && form.begun !== true}>
      <summary>Scoring, games, who serves</summary>
      ${grid("discipline", "scoring", "points", "win_by", "games", "winning_point", "positions", "first_serve")}
    </details>
    <details class="more">
      <summary>Players</summary>
      ${grid("a0", "a1", "a_starts")} ${grid("b0", "b1", "b_starts")}
    </details>
    <details class="more">
      <summary>Colors</summary>
      ${grid("colored", "a_color", "b_color")}
      ${values.colored === "yes" ? colorSample(values.a_color, values.b_color) : nothing}
    </details>
    <p class="caution">${CONSENT_CAUTION}</p>
    <p class="trouble" role="alert">${found.size === 0 ? "" : many}</p>
    <div class="row">
      <button class="chief">${submit}</button>
      ${cancel === undefined ? nothing : html`<button type="button" @click=${cancel}>Cancel</button>`}
    </div>
  </form>`;
}

/**
 * @param {HTMLFormElement} node @param {MatchForm} form @param {(change: Partial<MatchForm>) => void} change
 * @param {(header: Omit<DeskHeader, "id"> & { id?: string }) => Promise<unknown>} save
 */
async function submitForm(node, form, change, save) {
  if (form.busy) return;
  change({ tried: true });
  if (problems(form.values).size > 0) return focusFault(node);
  change({ busy: true });
  await save(headerFrom(form.values, form.before));
  change({ busy: false });
}
