/**
 * Reads a chart file and works out the effective chart: what remains once every correction has
 * been taken into account.
 *
 * Written from the description of the chart format alone, without sight of the program it is
 * compared with. It is for charts that are valid: it checks only what it needs in order not to
 * compute nonsense, and throws a `ChartError` there. It knows nothing about score or readings.
 */

/** The two teams, in the order in which everything is listed. */
export const TEAMS = ["a", "b"];

/** @param {'a'|'b'} team @returns {'a'|'b'} the opponents */
export const opponentsOf = (team) => (team === "a" ? "b" : "a");

/** Kinds of entries that stand for themselves. */
export const PLAIN_KINDS = [
  "shot",
  "cue",
  "depth",
  "rally_end",
  "replay",
  "time_out",
  "penalty",
  "score_fix",
  "lineup",
  "retire",
  "note",
];

/** Kinds of entries that change what other entries say. */
export const CORRECTION_KINDS = ["retract", "amend", "insert"];

/** What the host adds to a stored line; no part of what the charter recorded. */
const HOST_FIELDS = ["seq", "received", "crc"];

/** A chart that cannot be read; the message says which line is at fault. */
export class ChartError extends Error {}

/**
 * @typedef {object} FileEntry one line of the file, in the order that counts
 * @property {string} id
 * @property {string} at
 * @property {number} seq its `seq` where the file has them, else its position, from 1
 * @property {any} entry the whole line
 */

/**
 * @typedef {object} EffectiveEntry
 * @property {string} id
 * @property {string} at
 * @property {number} seq that of the line that brought it in, also when amended
 * @property {boolean} inserted
 * @property {any} entry what is true after all corrections: `kind` and its fields
 */

/**
 * @param {string} text a whole chart file
 * @returns {{header: any, entries: FileEntry[]}}
 */
export function parseChart(text) {
  const lines = text.split("\n");
  while (lines.length > 0 && lines.at(-1).trim() === "") lines.pop();
  const objects = lines.map((line, index) => parseLine(line, index + 1));
  const header = objects.shift();
  if (header?.kind !== "match") throw new ChartError("line 1: no match header");
  return { header, entries: inOrderOfRecord(dropRepeats(objects)) };
}

function parseLine(line, number) {
  let value;
  try {
    value = JSON.parse(line);
  } catch (cause) {
    throw new ChartError(`line ${number}: not JSON`, { cause });
  }
  if (value === null || typeof value !== "object" || Array.isArray(value)) {
    throw new ChartError(`line ${number}: not an object`);
  }
  if (number > 1) checkEntry(value, number);
  return value;
}

function checkEntry(entry, number) {
  const known = [...PLAIN_KINDS, ...CORRECTION_KINDS];
  if (!known.includes(entry.kind)) {
    throw new ChartError(`line ${number}: unknown kind \`${entry.kind}\`, known: ${known.join(", ")}`);
  }
  if (typeof entry.id !== "string") throw new ChartError(`line ${number}: no \`id\``);
  if (Number.isNaN(Date.parse(entry.at))) throw new ChartError(`line ${number}: no time \`at\``);
}

/** The same `id` with the same content again is the same entry; with other content it is refused. */
function dropRepeats(objects) {
  const seen = new Map();
  return objects.filter((entry) => {
    const content = JSON.stringify(contentOf(entry));
    if (!seen.has(entry.id)) {
      seen.set(entry.id, content);
      return true;
    }
    if (seen.get(entry.id) !== content) throw new ChartError(`id_conflict: \`${entry.id}\``);
    return false;
  });
}

function contentOf(entry) {
  const keys = Object.keys(entry)
    .filter((key) => !HOST_FIELDS.includes(key))
    .sort();
  return keys.map((key) => [key, entry[key]]);
}

/** `seq` orders the entries if every one has it, the file if none has. */
function inOrderOfRecord(objects) {
  const numbered = objects.filter((entry) => entry.seq !== undefined).length;
  if (numbered !== 0 && numbered !== objects.length) {
    throw new ChartError("some entries have `seq` and some have not");
  }
  const entries = objects.map((entry, index) => ({
    id: entry.id,
    at: entry.at,
    seq: entry.seq ?? index + 1,
    entry,
  }));
  return entries.sort((left, right) => left.seq - right.seq);
}

/**
 * @param {FileEntry[]} entries in the order that counts
 * @returns {EffectiveEntry[]}
 */
export function effectiveChart(entries) {
  checkReferences(entries);
  const deciding = decidingCorrections(entries);
  return inOrderOfPlay(entries)
    .map((line) => asCorrected(line, deciding.get(line.id)))
    .filter((entry) => entry !== null);
}

/** `target` and `after` name an entry that stands earlier; an `amend` never names a correction. */
function checkReferences(entries) {
  const kinds = new Map();
  for (const { id, entry } of entries) {
    const named = entry.kind === "insert" ? entry.after : entry.target;
    const names = CORRECTION_KINDS.includes(entry.kind) && named !== null;
    if (names && !kinds.has(named)) throw new ChartError(`bad_correction: \`${id}\` names nothing`);
    const needsPlain = entry.kind === "amend" || entry.kind === "insert";
    if (names && needsPlain && ["retract", "amend"].includes(kinds.get(named))) {
      throw new ChartError(`bad_correction: \`${id}\` names a correction`);
    }
    kinds.set(id, entry.kind);
  }
}

/**
 * For each corrected entry the correction that decides: the latest of those in force. Walking
 * backwards, whatever could undo a correction has already been judged when we come to it.
 * @returns {Map<string, any>} id of the corrected entry → the `retract` or `amend`
 */
function decidingCorrections(entries) {
  const deciding = new Map();
  for (const { id, entry } of entries.toReversed()) {
    if (entry.kind !== "retract" && entry.kind !== "amend") continue;
    const inForce = !deciding.has(id);
    if (inForce && !deciding.has(entry.target)) deciding.set(entry.target, entry);
  }
  return deciding;
}

/** Originals as recorded; each insert right after what it names, a later one nearer to it. */
function inOrderOfPlay(entries) {
  const insertsAfter = new Map();
  for (const line of entries) {
    if (line.entry.kind !== "insert") continue;
    const anchor = line.entry.after;
    if (!insertsAfter.has(anchor)) insertsAfter.set(anchor, []);
    insertsAfter.get(anchor).push(line);
  }
  const originals = entries.filter((line) => PLAIN_KINDS.includes(line.entry.kind));
  // A stack whose top is what comes next: pushed in file order, the latest insert is on top.
  const stack = [...originals.toReversed(), ...(insertsAfter.get(null) ?? [])];
  const order = [];
  while (stack.length > 0) {
    const line = stack.pop();
    order.push(line);
    stack.push(...(insertsAfter.get(line.id) ?? []));
  }
  return order;
}

/** @returns {EffectiveEntry|null} null where the entry has been retracted */
function asCorrected(line, correction) {
  if (correction?.kind === "retract") return null;
  const inserted = line.entry.kind === "insert";
  const recorded = inserted ? line.entry.entry : line.entry;
  const truth = correction?.kind === "amend" ? correction.with : recorded;
  return { id: line.id, at: line.at, seq: line.seq, inserted, entry: truth };
}

/**
 * @param {string} text a whole chart file
 * @returns {{header: any, entries: FileEntry[], effective: EffectiveEntry[]}}
 */
export function readChart(text) {
  const { header, entries } = parseChart(text);
  return { header, entries, effective: effectiveChart(entries) };
}
