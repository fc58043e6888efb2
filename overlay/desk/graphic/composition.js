// What is done in the room of the graphic: the composition becomes a link and a
// preview, the court's rally ends and readings are followed, the delay is found.

/**
 * @import { Desk } from "../host/desk.js"
 * @import { Graphic } from "../state.js"
 * @import { Composition } from "./composing.js"
 */
import { keepDraft, readDraft } from "../drafts.js";
import { pageLink } from "../files/addresses.js";
import { courtOf } from "../state.js";
import { freshComposition, optionsOf } from "./composing.js";
import { freshFinder, hear, seconds, tap, verdict } from "./delay-finder.js";

const DRAFT = "graphic";
/** The streamer comes back to it on the next day of the event. */
const HOW = { isLasting: true };
const LONGEST_MS = 300_000;
/** How many looks at the host pass between two at a court's readings. */
const READINGS_EVERY = 5;
/** While a slider is dragged the preview waits for it to rest, ms. */
const REST_MS = 200;
let timer = 0;
let looks = 0;

/** @returns {Pick<Graphic, "now">} */
export const graphicDraft = () => ({ now: { ...freshComposition(), ...readDraft(DRAFT, HOW) } });

/** @param {Desk} desk @param {Partial<Graphic>} part */
export function changeGraphic(desk, part) {
  desk.change({ graphic: { ...desk.state.graphic, ...part } });
  if (!("now" in part || "shown" in part || "court" in part)) return;
  clearTimeout(timer);
  timer = window.setTimeout(() => preview(desk), REST_MS);
}

/** @param {Desk} desk @param {Partial<Composition>} part */
export function compose(desk, part) {
  const now = { ...desk.state.graphic.now, ...part };
  keepDraft(DRAFT, now, HOW);
  changeGraphic(desk, { now });
}

/** The court that is shown: the chosen one, else the first. @param {Desk} desk */
export function shownCourt({ state }) {
  const courts = state.host?.courts ?? [];
  const { court } = state.graphic;
  return courts.some((one) => one.court === court) ? court : (courts[0]?.court ?? "1");
}

/** @param {Desk} desk @param {Record<string, string>} [more] @returns {string} */
export function graphicAddress(desk, more = {}) {
  return pageLink({
    court: shownCourt(desk),
    page: "graphic",
    where: "this",
    links: desk.state.links,
    own: desk.host,
    options: { ...optionsOf(desk.state.graphic.now), ...more },
  });
}

/** @param {Desk} desk */
export function preview(desk) {
  const { shown, previewed } = desk.state.graphic;
  // A sample needs no waiting; the live graphic is shown as viewers will get it.
  const address = graphicAddress(desk, shown === "sample" ? { recorded: "/samples/invented-match.jsonl" } : {});
  if (address !== previewed) desk.change({ graphic: { ...desk.state.graphic, previewed: address } });
}

/** Hears of rally ends, whichever room is open, and of readings where they are chosen from. @param {Desk} desk */
export function followGraphic(desk) {
  const { graphic, place, host } = desk.state;
  if (host === null) return;
  const name = shownCourt(desk);
  const court = courtOf(desk.state, name);
  const before = graphic.heardOf === name ? graphic.heard : freshFinder();
  const heard = court === null ? before : hear(before, court.last_entry);
  desk.state.graphic = { ...graphic, heardOf: name, heard };
  if (place.room !== "graphic") return;
  if (graphic.previewed === "about:blank") preview(desk);
  if (court?.match == null) return;
  if (looks % READINGS_EVERY === 0) void readReadings(desk, name);
  looks += 1;
}

/** @param {Desk} desk @param {string} court */
async function readReadings(desk, court) {
  try {
    const { readings } = await desk.host.now(court);
    changeGraphic(desk, { readings });
  } catch (error) {
    // The line on top says that the host is away; what is offered stays.
    console.debug("the court's readings are not to be had", error);
  }
}

/** @param {Desk} desk @param {string} text seconds, as they are typed */
export function typeDelay(desk, text) {
  const typed = Number(text.replace(",", "."));
  if (text.trim() !== "" && typed >= 0 && typed * 1000 <= LONGEST_MS)
    compose(desk, { delayMs: Math.round(typed * 1000) });
  changeGraphic(desk, { delayText: text });
}

/** @param {string | null} text */
export function delayFault(text) {
  if (text === null) return "";
  const typed = Number(text.replace(",", "."));
  const fits = text.trim() !== "" && typed >= 0 && typed * 1000 <= LONGEST_MS;
  return fits ? "" : "A number of seconds from 0 to 300, such as 2.5.";
}

/** @param {Desk} desk */
const hostNow = ({ state }) => Date.now() + state.clockMs;

/** @param {Desk} desk */
export const found = (desk) => verdict(desk.state.graphic.heard, hostNow(desk));

/** @param {Desk} desk */
export const tapNow = (desk) => changeGraphic(desk, { heard: tap(desk.state.graphic.heard, hostNow(desk)) });

/** @param {Desk} desk */
export const startOver = (desk) =>
  changeGraphic(desk, { heard: { ...freshFinder(), ends: desk.state.graphic.heard.ends } });

/** @param {Desk} desk @param {number} delayMs */
export function useDelay(desk, delayMs) {
  const words = `The graphic now waits ${seconds(delayMs)}. Give the streaming program the new link.`;
  return replace(desk, { ...desk.state.graphic.now, delayMs }, words);
}

/** @param {Desk} desk */
export const resetGraphic = (desk) =>
  replace(
    desk,
    freshComposition(),
    "The graphic is back to its defaults, without a delay. Give the streaming program the new link.",
  );

/**
 * Several choices at once, with their undo.
 * @param {Desk} desk @param {Composition} composition @param {string} said
 */
function replace(desk, composition, said) {
  const before = desk.state.graphic.now;
  return desk.act(async () => compose(desk, composition), said, {
    said: "The graphic and its link are as they were.",
    run: async () => compose(desk, before),
  });
}
