// The commentator's booth: the markup says what stands where, this wires it to
// the feed of the booth's role.

import "../elements/connection-state.js";
import "../elements/earlier-rallies.js";
import "../elements/evidence.js";
import "../elements/own-numbers.js";
import "../elements/player-numbers.js";
import "../elements/plugin-faults.js";
import "../elements/prompt-list.js";
import "../elements/rally-ribbon.js";
import "../elements/score-plate.js";
import "../elements/team-numbers.js";
import "../elements/tide-line.js";
import { RtElement } from "../elements/element.js";
import { daylightChoice } from "../shared/daylight.js";
import { setText } from "../shared/dom.js";
import { readOptions } from "../shared/options.js";
import { dressPage, pageSource } from "../shared/page.js";
import { needStyles } from "../shared/styles.js";

needStyles("../shared/controls.css", import.meta.url);
needStyles("booth.css", import.meta.url);

const options = readOptions(location.href);
const colors = dressPage(options);

const elements = [...document.querySelectorAll("*")].filter((node) => node instanceof RtElement);
document.querySelector(".top")?.append(daylightChoice());
const title = document.querySelector(".title");

pageSource(options, "booth").subscribe((view) => {
  colors.follow(view.match);
  if (title !== null) setText(title, view.match?.title ?? "Booth");
  document.title = view.match === null ? "Booth" : `${view.match.title} · Booth`;
  for (const element of elements) element.view = view;
});
