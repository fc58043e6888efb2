// The first page: the desk, where an event is run from, the page for everybody, and
// below them which courts there are and what is played on them, with the links that matter. It asks the
// host once a page view; it does not update.

import { daylightChoice, followDaylight } from "../shared/daylight.js";
import { make, setText } from "../shared/dom.js";
import { withKey } from "../shared/key.js";
import { needStyles } from "../shared/styles.js";

needStyles("../shared/theme.css", import.meta.url);
needStyles("../shared/controls.css", import.meta.url);
needStyles("index.css", import.meta.url);
followDaylight(new URLSearchParams(location.search).get("theme"));

/** @typedef {{ court: string, match: { id: string, title: string } | null }} Court */

/** Something the host says no to, in words for whoever reads the page. */
class Refused extends Error {}

const UNREACHABLE =
  "Can't reach the host. Check that Rallytide is running and the network is up, then reload this page.";

/** Pages of a court, in the order somebody needs them. */
const PAGES = [
  { page: "chart", label: "Chart", use: "record the match" },
  { page: "cues", label: "Cues", use: "a second person marks high balls …" },
  { page: "graphic", label: "Graphic", use: "for the video" },
  { page: "booth", label: "Booth", use: "for commentary" },
];

const desk = /** @type {HTMLAnchorElement} */ (document.querySelector(".desk a"));
desk.href = withKey("desk", location.href).href;
/** @type {HTMLAnchorElement} */ (document.querySelector(".everybody a")).href = withKey("event", location.href).href;
/** @type {HTMLAnchorElement} */ (document.querySelector(".newcomer a")).href = withKey("practice", location.href).href;
document.querySelector("footer")?.append(daylightChoice());
const status = /** @type {HTMLElement} */ (document.querySelector(".status"));
const list = /** @type {HTMLElement} */ (document.querySelector(".courts"));

setText(status, "Looking for courts …");
try {
  show(await fetchCourts(withKey("courts", location.href)));
} catch (error) {
  setText(status, error instanceof Refused ? error.message : UNREACHABLE);
  console.error(error);
}

void listReviews();

/** The matches to go through afterwards, for whoever may: others see no such list. */
async function listReviews() {
  const response = await fetch(withKey("matches.json", location.href)).catch(() => null);
  if (!response?.ok) return;
  /** @type {{ matches: { id: string, header: { title?: string } }[] }} */
  const { matches } = await response.json();
  if (matches.length === 0) return;
  const links = matches.map(({ id, header }) =>
    make(
      "li",
      {},
      make(
        "a",
        { class: "button", href: withKey(`review/${encodeURIComponent(id)}`, location.href).href },
        header.title || id,
      ),
    ),
  );
  list.after(
    make(
      "section",
      { class: "reviews", "aria-labelledby": "reviews-heading" },
      make("h2", { id: "reviews-heading" }, "Review a match"),
      make("ul", {}, ...links),
    ),
  );
}

/**
 * @param {URL} address
 * @returns {Promise<Court[]>}
 */
async function fetchCourts(address) {
  const response = await fetch(address);
  if (response.status === 403)
    throw new Refused("This link does not open the list of courts. Take a new one from the desk.");
  if (!response.ok) throw new Error(`the host answers ${response.status} at ${address.pathname}`);
  const answer = await response.json();
  if (!Array.isArray(answer?.courts)) throw new Error(`the host's list at ${address.pathname} holds no \`courts\``);
  return answer.courts;
}

/** @param {Court[]} courts */
function show(courts) {
  setText(status, courts.length === 0 ? "No court yet. The desk takes you through your first match." : "");
  list.replaceChildren(...courts.map(courtItem));
}

/** @param {Court} court */
function courtItem({ court, match }) {
  const links = PAGES.map(({ page, label, use }) =>
    make(
      "a",
      {
        href: withKey(`courts/${encodeURIComponent(court)}/${page}`, location.href).href,
        class: "button",
      },
      label,
      make("small", {}, use),
      make("span", { class: "rt-hidden" }, ` on court ${court}`),
    ),
  );
  return make(
    "li",
    { class: "card" },
    make("span", { class: "court" }, `Court ${court}`),
    make("span", { class: "match" }, match === null ? "no match" : match.title || "a match without a title"),
    make("nav", { "aria-label": `Court ${court}` }, ...links),
  );
}
