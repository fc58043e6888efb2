// Adding, changing and removing matches: what is half typed is kept in this tab until
// the host has it, and each can be undone.

/**
 * @import { MatchState } from "../../types/host.js"
 * @import { Desk } from "../host/desk.js"
 * @import { State } from "../state.js"
 * @import { MatchForm } from "../../shared/match-form/match-form.js"
 */
import { formOf, freshForm } from "../../shared/match-form/match-form.js";
import { keepDraft, readDraft } from "../drafts.js";
import { versus } from "../page/telling.js";
import { matchOf } from "../state.js";

const ADDED = "match";
const changedName = (/** @type {string} */ id) => `edit.${id}`;

/** What was half typed before. @returns {Pick<State, "first" | "planned">} */
export function formDrafts() {
  return {
    first: { isShown: false, isLeft: false, form: freshForm(readDraft("first")) },
    planned: freshForm(readDraft(ADDED)),
  };
}

/** Opens the form of a match that the address asks to change, once the host has told of it. @param {Desk} desk */
export function enterMatch({ state }) {
  const [kind, id, what] = state.place.rest;
  const asked = state.place.room === "matches" && kind === "match" && what === "change" ? (id ?? null) : null;
  if (asked === null) state.edited = null;
  const match = matchOf(state, asked);
  if (match === null || state.edited?.id === asked) return;
  const how = { begun: match.entries > 0, isOn: match.state === "on" };
  state.edited = { id: match.id, form: formOf(match.header, how, readDraft(changedName(match.id))) };
}

/** @param {string} [rest] what of the room Matches is open */
export const openMatches = (rest = "") => {
  location.hash = rest === "" ? "matches" : `matches/${rest}`;
};

/** @param {Desk} desk @param {Partial<MatchForm>} part */
export function changeAdded(desk, part) {
  if (part.values !== undefined) keepDraft(ADDED, part.values);
  desk.change({ planned: { ...desk.state.planned, ...part } });
}

/** @param {Desk} desk @param {Parameters<Desk["host"]["addMatch"]>[0]} header */
export async function add(desk, header) {
  /** @type {{ id: string } | null} */
  let made = null;
  const done = await desk.act(
    async () => {
      made = await desk.host.addMatch(header, null);
    },
    "Match added. Start it in the room Courts.",
    { said: "The match is removed.", run: async () => made !== null && desk.host.removeMatch(made.id) },
  );
  if (!done) return;
  keepDraft(ADDED, null);
  desk.change({ planned: freshForm(null) });
}

/** @param {Desk} desk @param {Partial<MatchForm>} part */
export function changeEdited(desk, part) {
  const { edited } = desk.state;
  if (edited === null) return;
  if (part.values !== undefined) keepDraft(changedName(edited.id), part.values);
  desk.change({ edited: { ...edited, form: { ...edited.form, ...part } } });
}

/** @param {Desk} desk @param {string} id */
export function leaveEdited(desk, id) {
  keepDraft(changedName(id), null);
  desk.change({ edited: null });
  openMatches(`match/${id}`);
}

/** @param {Desk} desk @param {string} id @param {Parameters<Desk["host"]["addMatch"]>[0]} header */
export async function save(desk, id, header) {
  const before = matchOf(desk.state, id)?.header;
  if (before === undefined) return;
  const done = await desk.act(
    () =>
      desk.host.changeMatch(
        id,
        /** @type {import("../../types/host.js").DeskHeader} */ ({ .../** @type {object} */ (header), id }),
      ),
    "Saved. Open pages follow at once.",
    { said: "The change is undone.", run: () => desk.host.changeMatch(id, before) },
  );
  if (done) leaveEdited(desk, id);
}

/** @param {Desk} desk @param {MatchState} match */
export async function remove(desk, match) {
  const done = await desk.act(() => desk.host.removeMatch(match.id), `Removed: ${versus(match.header)}.`, {
    said: "The match is planned again.",
    run: () => desk.host.addMatch(match.header, null),
  });
  if (done) openMatches();
}
