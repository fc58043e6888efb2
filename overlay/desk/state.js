// What the desk page knows: what the host says, where somebody is on the page, and
// what is half typed. Everything is drawn from this one object. Pure.

/**
 * @import { CourtState, DeskHeader, EntryJson, HostState, ImportAnswer, Links, ListedEntry, MatchState, PluginReport, Preview } from "../types/host.js"
 * @import { Reading } from "../types/messages.js"
 * @import { MatchForm } from "../shared/match-form/match-form.js"
 * @import { Composition } from "./graphic/composing.js"
 * @import { Heard } from "./graphic/delay-finder.js"
 * @import { Shown } from "./matches/filtering.js"
 */
import { freshForm } from "../shared/match-form/match-form.js";
import { freshComposition } from "./graphic/composing.js";
import { freshFinder } from "./graphic/delay-finder.js";

/** @typedef {{ run: () => Promise<unknown>, said: string }} Undo */
/** @typedef {{ said: string, undo: Undo | null, bad: boolean, news: string }} Notice */
/**
 * @typedef {object} Question before something happens
 * @property {string} title
 * @property {string} words
 * @property {{ value: string, label: string }[]} answers besides Cancel
 * @property {(answer: string) => void} resolve empty: nothing is to happen
 */
/**
 * @typedef {object} Correction a court's chart being put right
 * @property {string} court
 * @property {DeskHeader | null} header
 * @property {ListedEntry[]} entries
 * @property {ListedEntry | "score" | null} chosen
 * @property {Record<string, string>} values of the fields that were touched
 * @property {EntryJson[]} wanted what is to be recorded; empty: nothing yet
 * @property {number} asked how often the host was asked what it would do
 * @property {Preview | null} effect
 * @property {string} trouble
 * @property {boolean} busy
 */

/**
 * @typedef {object} SheetChoices what somebody has said about a sheet; null: the host finds out
 * @property {string | null} tab of a workbook
 * @property {number | null} heading the row of the headings; 0: there are none
 * @property {(string | null)[] | null} columns what each means, from the left
 */
/**
 * @typedef {object} SheetImport matches being imported from a sheet
 * @property {string} text its rows
 * @property {File | null} file a workbook, in place of rows
 * @property {SheetChoices} choices
 * @property {string} headings those that the host found by itself, as a key to what was said of them before
 * @property {ImportAnswer | null} found
 * @property {string} said
 * @property {boolean} isStepOpen which column is which had to be asked
 * @property {boolean} isOver a file is dragged over the desk
 * @property {boolean} isBusy the host is being asked
 */

/**
 * @typedef {object} State
 * @property {HostState | null} host
 * @property {Links | null} links the address that goes into links stands first
 * @property {string[]} offered the host's addresses in the order it offers them
 * @property {PluginReport | null} plugins
 * @property {string} trouble why there is no fresh word from the host; empty while there is
 * @property {number} heardAt when the host was last heard, this computer's clock, ms; 0: never
 * @property {{ links: string, plugins: string }} missing why they are not known, though the host answers
 * @property {readonly string[] | null} paths those the host describes; null: it does not say, so all of them
 * @property {number} clockMs host's clock minus this computer's
 * @property {{ room: string, rest: string[] }} place where somebody is, by the address
 * @property {Notice} notice
 * @property {Question | null} question
 * @property {string | null} courtDialog the court whose rare actions and links are open
 * @property {{ match: string, to: string, fault: string }} courtForm what is chosen there
 * @property {Correction | null} correction
 * @property {{ isShown: boolean, isLeft: boolean, form: MatchForm }} first
 * @property {{ match: string, court: string | null, fault: string }} start
 * @property {MatchForm} planned
 * @property {{ id: string, form: MatchForm } | null} edited
 * @property {{ show: Shown, text: string }} filter
 * @property {SheetImport} sheet
 * @property {Record<string, { mark: boolean, place: string, fault: string }>} downloads by match
 * @property {Graphic} graphic
 * @property {Record<string, { typed: Record<string, string>, faults: Record<string, string> }>} settings by plugin
 * @property {{ text: string | null, fault: string }} folder
 * @property {boolean} sounds
 */
/**
 * @typedef {object} Graphic
 * @property {Composition} now
 * @property {string} court empty: the first one
 * @property {"live" | "sample"} shown
 * @property {string} ground
 * @property {string} previewed the address in the preview
 * @property {Heard} heard
 * @property {string} heardOf
 * @property {readonly Reading[]} readings of the court, to know the slots that there are
 * @property {string | null} delayText while it is being typed
 * @property {string} pick
 * @property {{ text: string, fault: string }} name
 */

/** @returns {State} */
export function freshState() {
  return {
    host: null,
    links: null,
    offered: [],
    plugins: null,
    trouble: "",
    heardAt: 0,
    missing: { links: "", plugins: "" },
    paths: null,
    clockMs: 0,
    place: { room: "courts", rest: [] },
    notice: { said: "", undo: null, bad: false, news: "" },
    question: null,
    courtDialog: null,
    courtForm: { match: "", to: "", fault: "" },
    correction: null,
    first: { isShown: false, isLeft: false, form: freshForm(null) },
    start: { match: "", court: null, fault: "" },
    planned: freshForm(null),
    edited: null,
    filter: { show: "all", text: "" },
    sheet: {
      text: "",
      file: null,
      choices: nothingSaid(),
      headings: "",
      found: null,
      said: "",
      isStepOpen: false,
      isOver: false,
      isBusy: false,
    },
    downloads: {},
    graphic: {
      now: freshComposition(),
      court: "",
      shown: "live",
      ground: "court",
      previewed: "about:blank",
      heard: freshFinder(),
      heardOf: "",
      readings: [],
      delayText: null,
      pick: "",
      name: { text: "", fault: "" },
    },
    settings: {},
    folder: { text: null, fault: "" },
    sounds: false,
  };
}

/** @returns {SheetChoices} */
export const nothingSaid = () => ({ tab: null, heading: null, columns: null });

/** What this host cannot do is not offered. @param {Pick<State, "paths">} state @param {string} path */
export function can({ paths }, path) {
  return paths === null || paths.includes(path);
}

/** @param {State} state @param {string | null} id @returns {MatchState | null} */
export function matchOf({ host }, id) {
  return host?.matches.find((one) => one.id === id) ?? null;
}

/** @param {State} state @param {string | null} name @returns {CourtState | null} */
export function courtOf({ host }, name) {
  return host?.courts.find((one) => one.court === name) ?? null;
}

/** The court a match was planned for. @param {MatchState} match */
export const plannedCourt = (match) => match.header.court || "1";

/** The next planned match of a court. @param {State} state @param {string} court */
export function nextOn({ host }, court) {
  return host?.matches.find((one) => one.state === "planned" && plannedCourt(one) === court) ?? null;
}
