// The forms of a correction: what can be done to a shot, a rally end, anything else,
// and to the score. Each tells what it wants as entries; nothing is sent here.

/**
 * @import { DeskHeader, EntryJson, ListedEntry } from "../../types/host.js"
 * @import { Score } from "../../types/messages.js"
 * @import { Desk } from "../host/desk.js"
 * @import { Choices } from "../../shared/fields.js"
 */
import { choiceField, textField } from "../../shared/fields.js";
import { html, nothing } from "../../shared/html.js";
import { CONTACTS, STROKES } from "../../shared/trade-words.js";
import { courtOf } from "../state.js";
import { HOWS, amend, contentOf, endOf, insert, rallyEnd, refereesWord, retract, shotLike } from "./correcting.js";
import { change, stamp, want } from "./correction.js";

/** @type {Choices} */
const STROKE_CHOICES = Object.entries(STROKES);
/** @type {Choices} */
const CONTACT_CHOICES = [["", "default for this stroke"], ...Object.entries(CONTACTS)];
const MISSED = /** @type {const} */ ([
  ["shot", "a shot"],
  ["rally_end", "a rally end"],
]);

/** @param {DeskHeader} header @returns {Choices} */
const teams = ({ teams: { a, b } }) => [
  ["a", a.name],
  ["b", b.name],
];
/** @param {string} value */
const asTeam = (value) => (value === "b" ? "b" : "a");

/**
 * What stands in the fields of the form: what was chosen, else what there is.
 * @template {Record<string, string>} T
 * @param {Desk} desk @param {T} standing @returns {T}
 */
function valuesOf({ state }, standing) {
  return { ...standing, ...state.correction?.values };
}

/**
 * A field of the form; once touched, the whole form is wanted.
 * @param {Desk} desk @param {string} name @param {string} label @param {Choices} choices @param {Record<string, string>} values
 * @param {(values: Record<string, string>) => void} tell
 */
function one(desk, name, label, choices, values, tell) {
  return choiceField({
    id: `correction-${name}`,
    label,
    choices,
    value: values[name] ?? "",
    put: (value) => {
      change(desk, { values: { ...desk.state.correction?.values, [name]: value } });
      tell({ ...values, [name]: value });
    },
  });
}

/** @param {Desk} desk @param {ListedEntry} listed */
export function entryForm(desk, listed) {
  const { entry, state, correction = null } = listed;
  const header = desk.state.correction?.header;
  if (header == null) return nothing;
  if (state === "retracted") {
    const back = () =>
      want(desk, [correction === null ? amend(entry.id, contentOf(entry), stamp()) : retract(correction, stamp())]);
    return html`<p>It was removed.</p>
      <div class="row"><button type="button" @click=${back}>Bring it back</button></div>`;
  }
  return html`
    ${entry.kind === "rally_end" ? endForm(desk, entry, header) : nothing}
    ${entry.kind === "shot" ? shotForm(desk, entry, header) : nothing}
    <div class="row">
      <button type="button" @click=${() => want(desk, [retract(entry.id, stamp())])}>Remove it</button>
      ${
        state === "amended" && correction !== null
          ? html`<button type="button" @click=${() => want(desk, [retract(correction, stamp())])}>Undo correction</button>`
          : nothing
      }
    </div>
    ${missedForm(desk, entry, header)}
  `;
}

/** @param {Desk} desk @param {EntryJson} entry @param {DeskHeader} header */
function endForm(desk, entry, header) {
  const { wonBy, how } = endOf(entry);
  const values = valuesOf(desk, { won: wonBy, how });
  /** @param {Record<string, string>} now */
  const tell = (now) =>
    want(desk, [amend(entry.id, rallyEnd(contentOf(entry), asTeam(now["won"] ?? ""), now["how"] ?? ""), stamp())]);
  return html`<div class="grid">
    ${one(desk, "won", "Won by", teams(header), values, tell)} ${one(desk, "how", "How it ended", HOWS, values, tell)}
  </div>`;
}

/** @param {Desk} desk @param {EntryJson} entry @param {DeskHeader} header */
function shotForm(desk, entry, header) {
  const word = (/** @type {string} */ name) => String(entry[name] ?? "");
  const standing = { team: word("team"), stroke: word("stroke"), contact: word("contact") };
  const values = valuesOf(desk, standing);
  /** @param {Record<string, string>} now */
  const tell = ({ team = "", stroke = "", contact = "" }) =>
    want(desk, [amend(entry.id, shotLike(contentOf(entry), { team, stroke, contact }), stamp())]);
  return html`<div class="grid">
    ${one(desk, "team", "Struck by", teams(header), values, tell)}
    ${one(desk, "stroke", "Stroke", STROKE_CHOICES, values, tell)}
    ${one(desk, "contact", "Contact", CONTACT_CHOICES, values, tell)}
  </div>`;
}

/** Something after this entry was missed. @param {Desk} desk @param {EntryJson} entry @param {DeskHeader} header */
function missedForm(desk, entry, header) {
  const values = valuesOf(desk, { missed: "shot", missedTeam: "a", missedStroke: "serve", missedHow: "" });
  const ends = values.missed === "rally_end";
  const nothingYet = () => {};
  const put = () => {
    const content = ends
      ? rallyEnd({}, asTeam(values.missedTeam), values.missedHow)
      : shotLike({}, { team: values.missedTeam, stroke: values.missedStroke, contact: "" });
    want(desk, [insert(entry.id, content, stamp())]);
  };
  return html`<details class="more">
    <summary>Add a missed entry after this</summary>
    <div class="grid">
      ${one(desk, "missed", "What", MISSED, values, nothingYet)}
      ${one(desk, "missedTeam", ends ? "Won by" : "Struck by", teams(header), values, nothingYet)}
      ${
        ends
          ? one(desk, "missedHow", "How it ended", HOWS, values, nothingYet)
          : one(desk, "missedStroke", "Stroke", STROKE_CHOICES, values, nothingYet)
      }
    </div>
    <div class="row"><button type="button" @click=${put}>Add it after this one</button></div>
  </details>`;
}

/** @param {Desk} desk */
export function scoreForm(desk) {
  const { correction } = desk.state;
  const score = courtOf(desk.state, correction?.court ?? null)?.score ?? null;
  if (score === null || correction === null || correction.header === null) return nothing;
  const { header } = correction;
  const { a, b } = header.teams;
  const several = header.format.games > 1;
  const values = scoreValues(desk, score);
  /** @param {string} name @param {string} label */
  const number = (name, label) =>
    textField({
      id: `correction-${name}`,
      label,
      value: values[name] ?? "",
      inputmode: "numeric",
      longest: 3,
      fault: isNumber(values[name]) ? "" : "A whole number, 0 to 999.",
      put: (value) => {
        change(desk, { values: { ...desk.state.correction?.values, [name]: value } });
        tellScore(desk, score, several);
      },
    });
  const tell = () => tellScore(desk, score, several);
  return html`<div class="grid">
    ${number("a", `Points of ${a.name}`)} ${number("b", `Points of ${b.name}`)}
    ${several ? [number("gamesA", `Games won by ${a.name}`), number("gamesB", `Games won by ${b.name}`)] : nothing}
    ${one(desk, "serving", "Serving", teams(header), values, tell)}
    ${
      score.server === null
        ? nothing
        : one(
            desk,
            "server",
            "Server number",
            [
              ["1", "1"],
              ["2", "2"],
            ],
            values,
            tell,
          )
    }
  </div>`;
}

/** @param {string | undefined} text */
const isNumber = (text) => /^\d{1,3}$/.test((text ?? "").trim());

/** @param {Desk} desk @param {Score} score @returns {Record<string, string>} */
function scoreValues(desk, { points, games, serving, server }) {
  const standing = { a: points.a, b: points.b, gamesA: games.a, gamesB: games.b, serving, server: server ?? "" };
  return valuesOf(desk, Object.fromEntries(Object.entries(standing).map(([name, value]) => [name, String(value)])));
}

/** @param {Desk} desk @param {Score} score @param {boolean} several games */
function tellScore(desk, score, several) {
  const values = scoreValues(desk, score);
  const names = several ? ["a", "b", "gamesA", "gamesB"] : ["a", "b"];
  if (!names.every((name) => isNumber(values[name]))) return want(desk, []);
  const word = refereesWord({
    a: Number(values["a"]),
    b: Number(values["b"]),
    serving: values["serving"] ?? "a",
    server: score.server === null ? null : Number(values["server"]),
    games: several ? { a: Number(values["gamesA"]), b: Number(values["gamesB"]) } : null,
  });
  // After the match only corrections are taken: the word is then inserted after the last entry.
  const last = score.winner === null ? null : (desk.state.correction?.entries[0]?.entry.id ?? null);
  want(desk, [last === null ? { ...stamp(), ...word } : insert(last, word, stamp())]);
}
