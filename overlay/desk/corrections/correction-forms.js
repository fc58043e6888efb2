// The forms of a correction: what can be done to a shot, a rally end, anything
// else, and to the score. Each tells what it wants as entries; nothing is sent here.

/** @import { DeskHeader, EntryJson, ListedEntry } from "../../types/desk.js" */
/** @import { Score } from "../../types/messages.js" */
/** @import { Stamp } from "./correcting.js" */
import { make, setText } from "../../shared/dom.js";
import { button, choice, field, input } from "../page/controls.js";
import { HOWS, amend, contentOf, endOf, insert, refereesWord, rallyEnd, retract, shotLike } from "./correcting.js";

/** @typedef {(wanted: EntryJson[]) => void} Want */
/** @typedef {() => Stamp} MakeStamp */

const STROKES = /** @type {const} */ ([
  "serve",
  "return",
  "drive",
  "drop",
  "dink",
  "lob",
  "reset",
  "volley",
  "block",
  "speedup",
  "overhead",
  "erne",
  "atp",
  "other",
]);
const STROKE_CHOICES = STROKES.map(
  (stroke) => /** @type {const} */ ([stroke, stroke === "atp" ? "around the post" : stroke]),
);
const CONTACTS = /** @type {const} */ ([
  ["", "as the stroke says"],
  ["bounce", "off the bounce"],
  ["air", "in the air"],
  ["half_volley", "half volley"],
]);

/** @param {DeskHeader} header */
const teams = (header) =>
  /** @type {const} */ ([
    ["a", header.teams.a.name],
    ["b", header.teams.b.name],
  ]);

/**
 * @param {ListedEntry} listed @param {DeskHeader} header @param {MakeStamp} stamp @param {Want} want
 * @returns {HTMLElement}
 */
export function formFor({ entry, state, correction = null }, header, stamp, want) {
  if (state === "retracted") {
    const back = button("Bring it back", () =>
      want([correction === null ? amend(entry.id, contentOf(entry), stamp()) : retract(correction, stamp())]),
    );
    return make("div", {}, make("p", {}, "It was removed."), make("div", { class: "row" }, back));
  }
  const parts =
    entry.kind === "rally_end"
      ? [endForm(entry, header, stamp, want)]
      : entry.kind === "shot"
        ? [shotForm(entry, header, stamp, want)]
        : [];
  const remove = button("Remove it", () => want([retract(entry.id, stamp())]));
  const undo =
    state === "amended" && correction !== null
      ? [button("Take its correction back", () => want([retract(correction, stamp())]))]
      : [];
  return make(
    "div",
    {},
    ...parts,
    make("div", { class: "row" }, remove, ...undo),
    missedForm(entry, header, stamp, want),
  );
}

/** @param {EntryJson} entry @param {DeskHeader} header @param {MakeStamp} stamp @param {Want} want */
function endForm(entry, header, stamp, want) {
  const now = endOf(entry);
  const won = choice(teams(header));
  const how = choice(HOWS);
  won.value = now.wonBy;
  how.value = now.how;
  const tell = () =>
    want([amend(entry.id, rallyEnd(contentOf(entry), won.value === "b" ? "b" : "a", how.value), stamp())]);
  for (const one of [won, how]) one.addEventListener("change", tell);
  return make("div", { class: "grid" }, field("Won by", won).node, field("How it ended", how).node);
}

/** @param {EntryJson} entry @param {DeskHeader} header @param {MakeStamp} stamp @param {Want} want */
function shotForm(entry, header, stamp, want) {
  const team = choice(teams(header));
  const stroke = choice(STROKE_CHOICES);
  const contact = choice(CONTACTS);
  team.value = String(entry["team"]);
  stroke.value = String(entry["stroke"]);
  contact.value = String(entry["contact"] ?? "");
  const tell = () =>
    want([
      amend(
        entry.id,
        shotLike(contentOf(entry), { team: team.value, stroke: stroke.value, contact: contact.value }),
        stamp(),
      ),
    ]);
  for (const one of [team, stroke, contact]) one.addEventListener("change", tell);
  return make(
    "div",
    { class: "grid" },
    field("Struck by", team).node,
    field("Stroke", stroke).node,
    field("The ball was taken", contact).node,
  );
}

/** Something after this entry was missed. @param {EntryJson} entry @param {DeskHeader} header @param {MakeStamp} stamp @param {Want} want */
function missedForm(entry, header, stamp, want) {
  const what = choice([
    ["shot", "a shot"],
    ["rally_end", "a rally end"],
  ]);
  const team = choice(teams(header));
  const stroke = choice(STROKE_CHOICES);
  const how = choice(HOWS);
  const by = field("Struck by", team);
  const kind = field("Stroke", stroke);
  const end = field("How it ended", how);
  const label = /** @type {HTMLElement} */ (by.node.querySelector("label"));
  const draw = () => {
    const ends = what.value === "rally_end";
    kind.node.hidden = ends;
    end.node.hidden = !ends;
    setText(label, ends ? "Won by" : "Struck by");
  };
  what.addEventListener("change", draw);
  draw();
  const put = button("Insert it after this one", () => {
    const content =
      what.value === "rally_end"
        ? rallyEnd({}, team.value === "b" ? "b" : "a", how.value)
        : shotLike({}, { team: team.value, stroke: stroke.value, contact: "" });
    want([insert(entry.id, content, stamp())]);
  });
  return make(
    "details",
    { class: "more" },
    make("summary", {}, "Something after it was missed"),
    make("div", { class: "grid" }, field("What", what).node, by.node, kind.node, end.node),
    make("div", { class: "row" }, put),
  );
}

/**
 * @param {Score} score @param {DeskHeader} header
 * @param {string | null} after null: the match is on, the word stands at its end
 * @param {MakeStamp} stamp @param {Want} want
 */
export function scoreForm(score, header, after, stamp, want) {
  const number = (/** @type {number} */ value) => input({ inputmode: "numeric", value: String(value), maxlength: "3" });
  const a = field(`Points of ${header.teams.a.name}`, number(score.points.a));
  const b = field(`Points of ${header.teams.b.name}`, number(score.points.b));
  const games = {
    a: field(`Games of ${header.teams.a.name}`, number(score.games.a)),
    b: field(`Games of ${header.teams.b.name}`, number(score.games.b)),
  };
  const serving = choice(teams(header));
  serving.value = score.serving;
  const server = choice([
    ["1", "server 1"],
    ["2", "server 2"],
  ]);
  server.value = String(score.server ?? 1);
  const several = header.format.games > 1;
  const numbers = [a, b, ...(several ? [games.a, games.b] : [])];
  const tell = () => {
    for (const one of numbers) one.blame(/^\d{1,3}$/.test(one.control.value.trim()) ? "" : "A whole number, 0 to 999.");
    if (numbers.some(({ control }) => control.getAttribute("aria-invalid") === "true")) {
      want([]);
      return;
    }
    const word = refereesWord({
      a: Number(a.control.value),
      b: Number(b.control.value),
      serving: serving.value,
      server: score.server === null ? null : Number(server.value),
      games: several ? { a: Number(games.a.control.value), b: Number(games.b.control.value) } : null,
    });
    want([after === null ? { ...stamp(), ...word } : insert(after, word, stamp())]);
  };
  const node = make(
    "div",
    { class: "grid" },
    a.node,
    b.node,
    ...(several ? [games.a.node, games.b.node] : []),
    field("Serving", serving).node,
    ...(score.server === null ? [] : [field("Server number", server).node]),
  );
  node.addEventListener("input", tell);
  return node;
}
