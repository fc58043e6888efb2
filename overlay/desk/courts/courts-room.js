// The room where matches are run: the first steps, a plate for each court, and what is
// next beside them.

/** @import { Desk } from "../host/desk.js" */
import { html, repeat } from "../../shared/html.js";
import { firstSteps } from "./first-steps.js";
import { nextUp } from "./next-up.js";
import { plate } from "./plate.js";

/** @param {Desk} desk */
export function courtsRoom(desk) {
  const courts = desk.state.host?.courts ?? [];
  return html`
    ${firstSteps.view(desk)}
    <div class="courts-room">
      <section aria-label="Courts">
        <h2 class="rt-hidden">Courts</h2>
        <div class="plates" data-count=${Math.min(courts.length, 5)}>
          ${repeat(
            courts,
            ({ court }) => court,
            (court) => plate(desk, court),
          )}
        </div>
        ${courts.length === 0 ? html`<p class="quiet">A court appears here as soon as a match is started on it.</p>` : ""}
      </section>
      ${nextUp(desk)}
    </div>
  `;
}
