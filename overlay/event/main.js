// The page for everybody: wires what is heard, what is asked for, and the drawing.

import { daylightChoice, followDaylight } from "../shared/daylight.js";
import { render } from "../shared/html.js";
import { needStyles } from "../shared/styles.js";
import { askAbout } from "./asking.js";
import { page } from "./drawing.js";

needStyles("../shared/theme.css", import.meta.url);
needStyles("../shared/controls.css", import.meta.url);
needStyles("event.css", import.meta.url);
followDaylight(new URLSearchParams(location.search).get("theme"));

const root = /** @type {HTMLElement} */ (document.querySelector(".event"));
document.querySelector("footer")?.append(daylightChoice());

/** @type {import("./asking.js").Heard} */
let heard = { day: null, heardAt: 0, trouble: "" };
const asked = { text: "", team: teamOf(location.hash) };

function draw() {
  render(
    page(heard, asked, (text) => {
      asked.text = text;
      draw();
    }),
    root,
  );
}

/** A team's own matches have an address, to keep or to send on. @param {string} hash */
function teamOf(hash) {
  return new URLSearchParams(hash.replace(/^#/, "")).get("team") ?? "";
}

window.addEventListener("hashchange", () => {
  const team = teamOf(location.hash);
  if (team === asked.team) return;
  asked.team = team;
  draw();
  scrollTo(0, 0);
});

askAbout(location.href, (told) => {
  heard = told;
  draw();
});
draw();
