// The form that a charter starts a match with where the desk has planned none.

import { html } from "../../shared/html.js";

/** @param {string} problem what is wrong with what was entered */
export const setupForm = (problem) => html`
  <form class="setup">
    <h2>Start a match</h2>
    <p class="aside">
      Names may go on the stream: players, and the guardians of minors, have to agree first. The event's rules and local
      law come first. Keep this laptop, its stand and cables out of the players' way and at a safe distance.
    </p>
    <label>Title <input name="title" value="Match" required /></label>
    ${team("First team", "a")} ${team("Second team", "b")}
    <label>Doubles or singles <select name="discipline"><option>doubles</option><option>singles</option></select></label>
    <label>Scoring <select name="scoring"><option value="side_out">side-out</option><option value="rally">rally</option></select></label>
    <label>Points per game <input name="points" type="number" min="1" max="99" value="11" /></label>
    <label>Best of <select name="games"><option>1</option><option selected>3</option><option>5</option></select></label>
    <label>Serves first <select name="first_serve"><option value="a">first team</option><option value="b">second team</option></select></label>
    <button class="chief">Start</button>
    <label>Or continue from a chart file <input name="file" type="file" accept=".jsonl" @change=${fileDecides} /></label>
    <p class="setup-problem" role="alert">${problem}</p>
  </form>`;

/** Where a file says who plays, the fields need not. @param {Event} event */
function fileDecides({ target }) {
  const { form, files } = /** @type {HTMLInputElement} */ (target);
  if (form !== null) form.noValidate = files?.length === 1;
}

/** @param {string} words @param {"a" | "b"} team */
const team = (words, team) => html`
  <label>${words} <input name=${team} required /></label>
  <label>
    Its players
    <input name="${team}0" required aria-label="${words}, player 1" />
    <input name="${team}1" aria-label="${words}, player 2" />
  </label>`;
