// The first match, step by step: plan it, hand out the charting link, put the overlay
// into the streaming program. Done when the first entry arrives.

/**
 * @import { MatchState } from "../../types/host.js"
 * @import { Desk } from "../host/desk.js"
 * @import { Page, Where } from "../files/addresses.js"
 */
import { countWords } from "../../shared/format.js";
import { html, nothing } from "../../shared/html.js";
import { freshForm, matchForm } from "../../shared/match-form/match-form.js";
import { keepDraft } from "../drafts.js";
import { addressChoice } from "../files/address-choice.js";
import { pageLink } from "../files/addresses.js";
import { lettingIn, reachWords } from "../files/letting-in.js";
import { Refused } from "../host/host.js";
import { handedLink } from "../page/handed-link.js";
import { charterWords, scorersOf, versus } from "../page/telling.js";
import { courtOf, matchOf, plannedCourt } from "../state.js";
import { start } from "./actions.js";
import { CABLE_CAUTION, FLASH_CAUTION } from "./cautions.js";

export const firstSteps = { view, hear };

/** Whether anything has been charted. @param {Desk} desk */
function isBegun({ state: { host } }) {
  return (
    host !== null && (host.courts.some(({ entries }) => entries > 0) || host.matches.some(({ entries }) => entries > 0))
  );
}

/** They stand from the first look at a host where nothing has been charted. @param {Desk} desk */
function hear(desk) {
  const { first, host } = desk.state;
  if (host === null || first.isShown || first.isLeft || isBegun(desk)) return;
  desk.change({ first: { ...first, isShown: true } });
  const isFree = host.courts.every(({ match }) => match === null);
  if (isFree && document.activeElement === document.body)
    /** @type {HTMLElement | null} */ (document.querySelector(".first input"))?.focus();
}

/** @param {Desk} desk */
function view(desk) {
  const { state } = desk;
  if (!state.first.isShown || state.first.isLeft || state.host === null) return nothing;
  const { host } = state;
  const on = host.courts.find(({ match }) => match !== null) ?? null;
  const match = matchOf(state, on?.match ?? null);
  const begun = isBegun(desk);
  const isSeen = host.courts.some(({ viewers }) => viewers.viewer > 0);
  const now = match === null && !begun ? "match" : !begun ? "chart" : isSeen ? "" : "graphic";
  const court = on?.court ?? host.courts[0]?.court ?? "1";
  /** @param {string} name @param {unknown} content */
  const step = (name, content) => html`<li aria-current=${name === now ? "step" : nothing}>${content}</li>`;
  return html`<section class="first" aria-label="First steps">
    <h2>Your first match</h2>
    <p class="quiet lead">Three steps, and the overlay runs.</p>
    <p class="done" role="status">${doneWords(begun, isSeen)}</p>
    <ol>
      ${step("match", whoPlays(desk, match, on?.court ?? null))} ${step("chart", charterStep(desk, court))}
      ${step("graphic", overlayStep(desk, court))}
    </ol>
    <div class="row">
      <button type="button" class=${begun && isSeen ? "chief" : ""} @click=${() => leave(desk)}>
        ${begun ? "Done" : "Skip"}<span class="rt-hidden"> the first steps</span>
      </button>
    </div>
  </section>`;
}

/** @param {boolean} begun @param {boolean} isSeen */
function doneWords(begun, isSeen) {
  if (!begun) return "";
  return isSeen
    ? "The first entry has arrived: charter, host and overlay are connected. Everything works."
    : "The first entry has arrived: the charter's laptop is connected. No graphic is open yet; step 3 has its address.";
}

/** @param {Desk} desk @param {MatchState | null} match @param {string | null} court */
function whoPlays(desk, match, court) {
  const heading = html`<h3>Who plays?</h3>`;
  if (match !== null) return html`${heading}<p class="done">${versus(match.header)} is on court ${court}.</p>`;
  const waiting = (desk.state.host?.matches ?? []).filter(({ state }) => state === "planned");
  const next = waiting[0];
  if (next !== undefined) {
    const many = countWords(waiting.length, "match is", "matches are");
    return html`${heading}
      <p class="done">${many} planned. The first one is for court ${plannedCourt(next)}.</p>
      <button type="button" class="chief" @click=${() => startPlanned(desk, next)}>Send ${versus(next.header)} to court</button>`;
  }
  const { first } = desk.state;
  return html`${heading}
  ${matchForm({
    id: "first",
    form: first.form,
    submit: "Start this match on its court",
    isShort: true,
    change: (part) => {
      const form = { ...desk.state.first.form, ...part };
      if (part.values !== undefined) keepDraft("first", part.values);
      desk.change({ first: { ...desk.state.first, form } });
    },
    save: (header) => begin(desk, header),
  })}`;
}

/** @param {Desk} desk @param {string} court @param {Page} page @param {Where} where */
const linkTo = (desk, court, page, where) => pageLink({ court, page, where, links: desk.state.links, own: desk.host });

/** @param {Desk} desk @param {string} court */
function charterStep(desk, court) {
  const { state } = desk;
  const elsewhere =
    state.links?.reachable === true
      ? "Connect that laptop to the same Wi-Fi as this one and open this link in its browser: type it, or scan the code. "
      : "";
  const on = courtOf(state, court);
  return html`
    <h3>The scorer's laptop (“charter”)</h3>
    <p>A volunteer at the court records what happens with one key a shot. ${elsewhere}To chart on this computer, press Open.</p>
    ${addressChoice(desk, "first-address")}
    ${handedLink(desk, {
      label: "charting page",
      href: linkTo(desk, court, "chart", "other"),
      open: linkTo(desk, court, "chart", "this"),
      withCode: true,
    })}
    <p class="advice">${reachWords(state)}</p>
    ${lettingIn(desk)}
    <p class="who" role="status">${whoWords(desk, on?.match === null ? null : on)}</p>
    <p class="caution">${CABLE_CAUTION}</p>
  `;
}

/** @param {Desk} desk @param {ReturnType<typeof courtOf>} on */
function whoWords({ state }, on) {
  if (on === null) return "";
  if (scorersOf(on.charters).length === 0 && state.trouble === "") return "No laptop has opened it yet.";
  const words = charterWords(on.charters, { ...state, match: on.match });
  return `${words.map((one) => one.replace(/\.$/, "")).join(". ")}.`;
}

/** @param {Desk} desk @param {string} court */
function overlayStep(desk, court) {
  return html`
    <h3>The overlay</h3>
    <p>
      In your streaming program, add a web-page layer 1920 wide and 1080 high with this address, above the camera. Its
      background is transparent.
    </p>
    ${handedLink(desk, { label: "graphic", href: linkTo(desk, court, "graphic", "this") })}
    <p>The commentator opens this one, on a tablet or laptop:</p>
    ${handedLink(desk, {
      label: "booth page",
      href: linkTo(desk, court, "booth", "other"),
      open: linkTo(desk, court, "booth", "this"),
      withCode: true,
    })}
    <p class="caution">${FLASH_CAUTION}</p>
  `;
}

/** @param {Desk} desk */
function leave(desk) {
  desk.change({ first: { ...desk.state.first, isLeft: true } });
  document.querySelector("main")?.focus();
}

const focusLink = () =>
  /** @type {HTMLElement | null} */ (document.querySelector(".first [aria-current] .handed button"))?.focus();

/** @param {Desk} desk @param {MatchState} next */
async function startPlanned(desk, next) {
  if (await start(desk, next.id, plannedCourt(next))) focusLink();
}

/** @param {Desk} desk @param {Parameters<Desk["host"]["addMatch"]>[0]} header */
async function begin(desk, header) {
  const court = /** @type {{ court: string }} */ (header).court;
  let id = "";
  const done = await desk.act(
    async () => {
      if (id === "") id = (await desk.host.addMatch(header, null)).id;
      await desk.host.putOn(court, id, false);
    },
    `The match is on court ${court}. Now the charter's laptop.`,
    { said: "The match is removed.", run: () => takeBack(desk, court, id) },
  );
  if (!done) return;
  keepDraft("first", null);
  desk.change({ first: { ...desk.state.first, form: freshForm(null) } });
  focusLink();
}

/** @param {Desk} desk @param {string} court @param {string} id */
async function takeBack(desk, court, id) {
  if ((courtOf(desk.state, court)?.entries ?? 0) > 0) {
    const words =
      "The match has been charted since; nothing is removed. To remove it from its court, use More on the court: what was charted is kept.";
    throw new Refused(words, 409);
  }
  await desk.host.takeOff(court);
  await desk.host.removeMatch(id);
}
