// A match as a form has it, and as a chart's header has it. Pure. Says what is
// wrong beside the field it is about; the host has the last word.

/** @import { DeskHeader } from "../../types/host.js" */
import { parseColor } from "../colors.js";

/** Colors to start from: either stands out from every panel, and in gray from the other. */
export const OWN_PAIR = { a: "#1f6fd0", b: "#dd7426" };

/** Characters a text may have, by the chart's format. */
const TEXT_LIMIT = 500;
/** A round or a time is a word or two. */
const DAY_LIMIT = 40;
/** On a panel a longer name cannot be read. */
const NAME_ADVICE = 60;

/** The fields of the form, all text, as a form keeps them. */
export const DEFAULTS = {
  title: "",
  round: "",
  time: "",
  court: "1",
  a: "",
  b: "",
  a0: "",
  a1: "",
  b0: "",
  b1: "",
  discipline: "doubles",
  scoring: "side_out",
  points: "11",
  win_by: "2",
  games: "1",
  winning_point: "any",
  positions: "swap",
  first_serve: "a",
  a_starts: "0",
  b_starts: "0",
  colored: "no",
  a_color: OWN_PAIR.a,
  b_color: OWN_PAIR.b,
};

/** @typedef {typeof DEFAULTS} Values */
/** @typedef {keyof Values} Field */

/**
 * Which fields have a meaning, given the others.
 * @param {Values} values
 * @returns {Set<Field>} those that have none
 */
export function idleFields(values) {
  /** @type {Set<Field>} */
  const idle = new Set();
  const singles = values.discipline === "singles";
  if (singles) for (const field of /** @type {const} */ (["a1", "b1", "a_starts", "b_starts"])) idle.add(field);
  if (values.a0.trim() === "" && values.a1.trim() === "") idle.add("a_starts");
  if (values.b0.trim() === "" && values.b1.trim() === "") idle.add("b_starts");
  if (values.scoring !== "rally") idle.add("winning_point");
  if (values.scoring !== "rally" || singles) idle.add("positions");
  if (values.colored !== "yes") idle.add("a_color").add("b_color");
  return idle;
}

/** What a court can be called. */
export const COURT_NAME_WORDS =
  "A court's name is 1 to 64 letters a to z, digits, - or _, without spaces: 1, 2 or center.";

/** @param {string} text */
export const isCourtName = (text) => /^[A-Za-z0-9_-]{1,64}$/.test(text);

/**
 * @param {Values} values
 * @returns {Map<Field, string>} a sentence for each field that is at fault
 */
export function problems(values) {
  /** @type {Map<Field, string>} */
  const found = new Map();
  const idle = idleFields(values);
  for (const [field, which] of /** @type {const} */ ([
    ["a", "first"],
    ["b", "second"],
  ])) {
    const name = values[field].trim();
    if (name === "") found.set(field, `Give the ${which} team a name, such as the players' last names.`);
    else if (name.length > NAME_ADVICE)
      found.set(
        field,
        `This name has ${name.length} characters; more than ${NAME_ADVICE} cannot be read on the graphic.`,
      );
  }
  if (!found.has("b") && values.a.trim() === values.b.trim())
    found.set("b", "Both teams have the same name; viewers could not tell them apart.");
  if (values.title.length > TEXT_LIMIT)
    found.set("title", `The title has ${values.title.length} characters; at most ${TEXT_LIMIT} are allowed.`);
  for (const field of /** @type {const} */ (["round", "time"])) {
    if (values[field].length > DAY_LIMIT)
      found.set(field, `At most ${DAY_LIMIT} characters; this has ${values[field].length}.`);
  }
  if (!isCourtName(values.court.trim())) found.set("court", COURT_NAME_WORDS);
  const points = Number(values.points);
  if (!/^\d+$/.test(values.points.trim()) || points < 1 || points > 99)
    found.set("points", "Points are a whole number from 1 to 99; 11, 15 and 21 are usual.");
  for (const team of /** @type {const} */ (["a", "b"])) {
    const pair = /** @type {const} */ ([`${team}0`, `${team}1`]);
    const given = pair.filter((field) => !idle.has(field) && values[field].trim() !== "");
    if (values.discipline === "doubles" && given.length === 1) {
      const missing = pair.find((field) => values[field].trim() === "") ?? pair[1];
      found.set(missing, "Name both players, or neither.");
    }
    const color = /** @type {const} */ (`${team}_color`);
    if (!idle.has(color) && parseColor(values[color]) === null) found.set(color, "A color looks like #0072b2.");
  }
  return found;
}

/**
 * @param {Values} values without problems
 * @param {DeskHeader} [before] the header that is being changed; what the form does not know stays
 * @returns {Omit<DeskHeader, "id"> & { id?: string }}
 */
export function headerFrom(values, before) {
  const idle = idleFields(values);
  const rally = values.scoring === "rally";
  const { round: _round, time: _time, ...rest } = before ?? /** @type {Partial<DeskHeader>} */ ({});
  return {
    ...rest,
    kind: "match",
    chart: 1,
    title: values.title.trim() || `${values.a.trim()} v ${values.b.trim()}`,
    court: values.court.trim(),
    teams: { a: teamFrom(values, "a", before), b: teamFrom(values, "b", before) },
    format: {
      discipline: values.discipline === "singles" ? "singles" : "doubles",
      scoring: rally ? "rally" : "side_out",
      points: Number(values.points),
      win_by: Number(values.win_by),
      games: Number(values.games),
      ...(idle.has("winning_point") ? {} : { winning_point: values.winning_point === "server" ? "server" : "any" }),
      ...(idle.has("positions") ? {} : { positions: values.positions === "static" ? "static" : "swap" }),
    },
    first_serve: values.first_serve === "b" ? "b" : "a",
    ...(values.round.trim() === "" ? {} : { round: values.round.trim() }),
    ...(values.time.trim() === "" ? {} : { time: values.time.trim() }),
  };
}

/** @param {Values} values @param {"a" | "b"} team @param {DeskHeader} [before] */
function teamFrom(values, team, before) {
  const names = [values[`${team}0`].trim(), values[`${team}1`].trim()];
  const ordered =
    values.discipline === "singles" ? names.slice(0, 1) : values[`${team}_starts`] === "1" ? names.reverse() : names;
  const { players: _players, color: _color, ...rest } = before?.teams[team] ?? { name: "" };
  const color = values.colored === "yes" ? parseColor(values[`${team}_color`]) : null;
  return {
    ...rest,
    name: values[team].trim(),
    ...(ordered.some((name) => name !== "") ? { players: ordered } : {}),
    ...(color === null ? {} : { color }),
  };
}

/** @param {DeskHeader} header @returns {Values} */
export function valuesFrom(header) {
  const { teams, format } = header;
  return {
    ...DEFAULTS,
    title: header.title ?? "",
    round: header.round ?? "",
    time: header.time ?? "",
    court: header.court || "1",
    a: teams.a.name,
    b: teams.b.name,
    a0: teams.a.players?.[0] ?? "",
    a1: teams.a.players?.[1] ?? "",
    b0: teams.b.players?.[0] ?? "",
    b1: teams.b.players?.[1] ?? "",
    discipline: format.discipline,
    scoring: format.scoring,
    points: String(format.points),
    win_by: String(format.win_by),
    games: String(format.games),
    winning_point: format.winning_point ?? "any",
    positions: format.positions ?? "swap",
    first_serve: header.first_serve,
    colored: teams.a.color === undefined && teams.b.color === undefined ? "no" : "yes",
    a_color: teams.a.color ?? OWN_PAIR.a,
    b_color: teams.b.color ?? OWN_PAIR.b,
  };
}

/** A file to fill in with any spreadsheet; two invented matches show how. */
export const TEMPLATE = `${[
  "Time,Court,Round,Title,Team 1,Team 2,Team 1 players,Team 2 players,Team 1 color,Team 2 color,Discipline,Scoring,Points,Win by,Best of,First serve",
  "09:00,1,Pool A,Morning,Quill / Abara,Fenn / Tarrow,Ines Quill / Tobi Abara,Maro Fenn / Lise Tarrow,blue,orange,doubles,side-out,11,2,1,1",
  "09:00,2,Pool B,Morning,Heron,Lantern,,,,,doubles,side-out,11,2,3,2",
].join("\r\n")}\r\n`;
