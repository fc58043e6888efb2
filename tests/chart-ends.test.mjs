/**
 * A whole made-up match charted with ends and cues alone, as the charting page's own recorder
 * does it: of every rally the last two shots and how it ended. No rally goes to the wrong team,
 * and no last shot stands on the wrong side.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { LocalChart } from "../overlay/shared/charting/local-chart.js";
import { freshState, press } from "../overlay/shared/charting/recorder.js";
import { startHost } from "./support/chart-page.mjs";
import { linesOf } from "./support/program.mjs";

/** @param {any[]} entries @returns {{ shots: any[], end: any }[]} */
function ralliesOf(entries) {
  const rallies = [];
  let shots = [];
  for (const entry of entries) {
    if (entry.kind === "shot") shots.push(entry);
    if (entry.kind !== "rally_end") continue;
    rallies.push({ shots, end: entry });
    shots = [];
  }
  return rallies;
}

test("a match charted by its ends gives every rally, and its last shots, to the right team", async (t) => {
  const host = await startHost(t);
  const localChart = await LocalChart.from(await (await host.get("/chart/chart.wasm")).arrayBuffer());
  const [header, ...entries] = (await linesOf(["simulate", "--seed", "3", "--plain"])).map((line) => JSON.parse(line));
  const rallies = ralliesOf(entries);
  assert.ok(rallies.length > 50, `only ${rallies.length} rallies`);
  let answer = localChart.open(header);
  let state = { ...freshState(), detail: "ends" };
  let ids = 0;
  const key = (action) => {
    const outcome = press(state, action, { answer, header, nextId: () => `k${(ids += 1)}` });
    state = outcome.state;
    for (const entry of outcome.entries) answer = localChart.take({ ...entry, at: "2026-05-09T10:00:00.000Z" });
    assert.equal(answer.refused, undefined);
  };
  const wrong = { rallies: [], sides: [] };
  for (const [number, { shots, end }] of rallies.entries()) {
    const last = shots.slice(-2);
    for (const { stroke } of last) key(stroke === "volley" ? "next" : `stroke:${stroke}`);
    key(`end:${end.how === "ace" ? "winner" : end.how}`);
    const { rally } = answer;
    key("confirm");
    assert.equal(answer.rally, rally, "Enter ended a rally whose sides nobody knew");
    key(`team:${end.by}`);
    if (end.how === "fault" && last.length > 0) key(`team:${last.at(-1).team}`);
    const { recent } = answer;
    const ended = recent.at(-1).entry;
    const charted = recent.filter(({ entry }) => entry.kind === "shot").slice(-last.length);
    const winner = ["winner", "ace"].includes(ended.how) ? ended.by : ended.by === "a" ? "b" : "a";
    const truth = ["winner", "ace"].includes(end.how) ? end.by : end.by === "a" ? "b" : "a";
    if (winner !== truth) wrong.rallies.push(number + 1);
    const sides = charted.map(({ entry }) => entry.team).join("");
    if (sides !== last.map(({ team }) => team).join("")) wrong.sides.push(`${number + 1}: ${end.how} by ${end.by}`);
  }
  t.diagnostic(`${rallies.length} rallies`);
  assert.deepEqual(wrong, { rallies: [], sides: [] });
});
