// The review page: asks the host for the match that the address names, once, and
// hands it on; says which matches there are where it cannot.

import { daylightChoice } from "../shared/daylight.js";
import { make, setText } from "../shared/dom.js";
import { withKey } from "../shared/key.js";
import { readOptions } from "../shared/options.js";
import { dressPage } from "../shared/page.js";
import { needStyles, whenStyled } from "../shared/styles.js";
import { DEPTH_WORDS } from "../shared/charted.js";
import { depthOfReview } from "./filters.js";
import { ReviewPage, outcomeWords } from "./review.js";

needStyles("../shared/theme.css", import.meta.url);
needStyles("../shared/controls.css", import.meta.url);
needStyles("review.css", import.meta.url);

const colors = dressPage(readOptions(location.href));
const result = /** @type {HTMLElement} */ (document.querySelector(".result"));
const main = /** @type {HTMLElement} */ (document.querySelector("main"));
document.querySelector("header")?.append(daylightChoice());
const ask = (/** @type {string} */ path) => fetch(withKey(new URL(path, location.origin), location.href));
const id = decodeURIComponent(location.pathname.split("/").at(-1) ?? "");

try {
  await show();
} catch (error) {
  console.error(error);
  setText(
    result,
    "The match cannot be shown. Check that Rallytide is running and the network is up, then reload this page.",
  );
}

async function show() {
  const answer = await ask(`/matches/${encodeURIComponent(id)}/review.json`);
  if (answer.status === 404) return showMatches();
  if (!answer.ok) throw new Error((await answer.text()).trim());
  const review = await answer.json();
  await whenStyled();
  colors.follow(review.match);
  const title = review.match.title || "Review";
  setText(/** @type {HTMLElement} */ (document.querySelector("h1")), title);
  document.title = `${title} · Review`;
  const missing = review.unavailable.map(
    (/** @type {{ plugin: string, message: string }} */ one) => `${one.plugin} is not available: ${one.message}`,
  );
  const depth = depthOfReview(review);
  const charted = depth === null ? [] : [`Charted: ${DEPTH_WORDS[depth]}`];
  setText(result, [outcomeWords(review), ...charted, ...missing].join(". "));
  main.hidden = false;
  new ReviewPage(main, review);
}

async function showMatches() {
  const answer = await ask("/matches.json");
  if (!answer.ok) throw new Error((await answer.text()).trim());
  /** @type {{ matches: { id: string, header: { title?: string } }[] }} */
  const { matches } = await answer.json();
  setText(
    result,
    `There is no match “${id}” on this host. ${matches.length === 0 ? "None has been charted yet; the first page leads to the desk." : "Choose one of these:"}`,
  );
  result.after(
    make(
      "ul",
      { class: "matches" },
      ...matches.map((match) => {
        const href = withKey(new URL(`/review/${encodeURIComponent(match.id)}`, location.origin), location.href).href;
        return make("li", {}, make("a", { href }, match.header.title || match.id));
      }),
    ),
  );
}
