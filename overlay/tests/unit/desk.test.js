// What the desk makes of forms, links, taps and corrections, without a browser.

import assert from "node:assert/strict";
import { test } from "node:test";
import { clashes, stillPlaying } from "../../desk/courts/clashes.js";
import { changedSince, placeChangeWords } from "../../desk/courts/places.js";
import { addressWords, pageLink, preferring } from "../../desk/files/addresses.js";
import { colorWords, grayOf } from "../../shared/match-form/team-colors.js";
import { countOf, wanted } from "../../desk/matches/filtering.js";
import { freshComposition, optionsOf } from "../../desk/graphic/composing.js";
import {
  amend,
  contentOf,
  endOf,
  insert,
  rallyEnd,
  refereesWord,
  shotLike,
} from "../../desk/corrections/correcting.js";
import { offeredNumbers } from "../../desk/graphic/numbers.js";
import { DEFAULTS, TEMPLATE, headerFrom, idleFields, problems, valuesFrom } from "../../shared/match-form/values.js";
import {
  changedWords,
  chosenOf,
  settingChanges,
  settingProblem,
  settingValue,
  undoneWords,
} from "../../desk/plugins/settings.js";
import { charterWords, lineWords, matchLine, scoreLine, stoppedLine } from "../../desk/page/telling.js";
import { attemptWords, pluginCost, pluginState } from "../../desk/plugins/plugin-words.js";
import { contrast } from "../../shared/colors.js";
import { readOptions } from "../../shared/options.js";
import { news } from "../../desk/host/watching.js";
import { PLUGINS } from "../support/fake-desk.js";
import { SCORE } from "../support/states.js";

const NAMED = { ...DEFAULTS, a: "Quill / Abara", b: "Fenn / Tarrow" };

test("two_names_are_enough_for_a_match_with_the_usual_rules", () => {
  assert.deepEqual([...problems(NAMED)], []);
  assert.deepEqual(headerFrom(NAMED), {
    kind: "match",
    chart: 1,
    title: "Quill / Abara v Fenn / Tarrow",
    court: "1",
    teams: { a: { name: "Quill / Abara" }, b: { name: "Fenn / Tarrow" } },
    format: { discipline: "doubles", scoring: "side_out", points: 11, win_by: 2, games: 1 },
    first_serve: "a",
  });
});

for (const [field, change] of [
  ["a", { a: " " }],
  ["b", { b: "Quill / Abara" }],
  ["a", { a: "x".repeat(61) }],
  ["court", { court: "court one" }],
  ["court", { court: "" }],
  ["points", { points: "0" }],
  ["points", { points: "100" }],
  ["points", { points: "11.5" }],
  ["points", { points: "" }],
  ["a1", { a0: "Ines Quill" }],
  ["title", { title: "x".repeat(501) }],
  ["a_color", { colored: "yes", a_color: "blue" }],
  ["round", { round: "x".repeat(41) }],
]) {
  test(`${JSON.stringify(change).slice(0, 40)}_is_told_beside_the_field_${field}`, () => {
    assert.deepEqual([...problems({ ...NAMED, ...change }).keys()], [field]);
  });
}

test("options_stand_only_where_they_belong", () => {
  const rally = { ...NAMED, scoring: "rally", winning_point: "server", positions: "static" };
  assert.deepEqual(headerFrom(rally).format, {
    discipline: "doubles",
    scoring: "rally",
    points: 11,
    win_by: 2,
    games: 1,
    winning_point: "server",
    positions: "static",
  });
  const singles = { ...rally, discipline: "singles", a0: "Ines Quill", a1: "left over", a_starts: "1" };
  assert.deepEqual(headerFrom(singles).format, {
    discipline: "singles",
    scoring: "rally",
    points: 11,
    win_by: 2,
    games: 1,
    winning_point: "server",
  });
  assert.deepEqual(headerFrom(singles).teams.a.players, ["Ines Quill"]);
  assert.deepEqual(headerFrom({ ...rally, scoring: "side_out" }).format, {
    discipline: "doubles",
    scoring: "side_out",
    points: 11,
    win_by: 2,
    games: 1,
  });
  assert.ok(idleFields(NAMED).has("positions"));
});

test("the_starting_server_stands_first_in_the_header", () => {
  const header = headerFrom({ ...NAMED, a0: "Ines Quill", a1: "Tobi Abara", a_starts: "1" });
  assert.deepEqual(header.teams.a.players, ["Tobi Abara", "Ines Quill"]);
});

test("a_header_survives_the_form_also_what_the_form_does_not_know", () => {
  const header = {
    ...headerFrom({
      ...NAMED,
      title: "Last round",
      round: "QF 2",
      time: "14:40",
      a0: "Ines Quill",
      a1: "Tobi Abara",
      colored: "yes",
      a_color: "#0072b2",
      b_color: "#d55e00",
    }),
    id: "m1",
    venue: "harbour",
  };
  header.teams.a.country = "none";
  assert.deepEqual(headerFrom(valuesFrom(header), header), header);
});

test("the_sheet_to_fill_in_has_a_cell_for_every_column", () => {
  const lines = TEMPLATE.trim()
    .split("\r\n")
    .map((line) => line.split(","));
  for (const cells of lines) assert.equal(cells.length, lines[0].length);
});

const LINKS = {
  addresses: ["http://192.168.1.20:7447"],
  reachable: true,
  keys: { desk: "d", charter: "c", booth: "b", viewer: "v" },
};
const HERE = { origin: "http://127.0.0.1:7447", key: null };

test("a_link_for_another_machine_has_its_address_and_its_key", () => {
  assert.equal(
    pageLink({ court: "1", page: "chart", where: "other", links: LINKS, own: HERE }),
    "http://192.168.1.20:7447/courts/1/chart?key=c",
  );
  assert.equal(
    pageLink({ court: "1", page: "booth", where: "other", links: LINKS, own: HERE }),
    "http://192.168.1.20:7447/courts/1/booth?key=b",
  );
});

test("a_link_for_this_machine_has_neither", () => {
  assert.equal(
    pageLink({ court: "1", page: "graphic", where: "this", links: LINKS, own: HERE }),
    "http://127.0.0.1:7447/courts/1/graphic",
  );
});

test("a_desk_on_another_machine_hands_out_its_own_address_with_keys", () => {
  const own = { origin: "http://192.168.1.20:7447", key: "d" };
  assert.equal(
    pageLink({ court: "1", page: "graphic", where: "this", links: LINKS, own }),
    "http://192.168.1.20:7447/courts/1/graphic?key=v",
  );
});

test("where_nobody_else_can_reach_the_host_every_link_is_of_this_machine", () => {
  const links = { ...LINKS, addresses: [], reachable: false };
  assert.equal(
    pageLink({ court: "1", page: "chart", where: "other", links, own: HERE }),
    "http://127.0.0.1:7447/courts/1/chart",
  );
});

test("the_plain_graphic_needs_no_options", () => {
  assert.deepEqual(optionsOf(freshComposition()), {});
});

test("what_is_composed_is_what_the_graphic_reads", () => {
  const composition = {
    pieces: ["score", "ribbon"],
    show: [],
    at: { score: "bottom-left", ribbon: "top", tide: "left" },
    theme: "light",
    scale: 1.2,
    still: true,
    delayMs: 2500,
  };
  const link = pageLink({
    court: "1",
    page: "graphic",
    where: "this",
    links: LINKS,
    own: HERE,
    options: optionsOf(composition),
  });
  assert.equal(
    link,
    "http://127.0.0.1:7447/courts/1/graphic?pieces=score,ribbon&at=score:bottom-left,ribbon:top&theme=light&scale=1.2&motion=off&delay=2.5s",
  );
  const read = readOptions(link);
  assert.deepEqual(read.problems, []);
  assert.deepEqual(
    [read.pieces, read.at, read.theme, read.scale, read.still, read.delayMs],
    [["score", "ribbon"], { score: "bottom-left", ribbon: "top" }, "light", 1.2, true, 2500],
  );
});

test("numbers_of_plugins_go_into_the_link_as_the_graphic_reads_them", () => {
  const link = (more) =>
    pageLink({
      court: "1",
      page: "graphic",
      where: "this",
      links: LINKS,
      own: HERE,
      options: optionsOf({ ...freshComposition(), ...more }),
    });
  const show = ["rally.longest", "third.won/drop"];
  const all = link({ show, at: { show: "top-right" } });
  assert.equal(all, "http://127.0.0.1:7447/courts/1/graphic?show=rally.longest,third.won/drop&at=show:top-right");
  const read = readOptions(link({ show, pieces: ["score"] }));
  assert.deepEqual([read.problems, read.pieces, read.show], [[], ["score", "show"], show]);
  assert.equal(link({ at: { show: "top-right" } }), "http://127.0.0.1:7447/courts/1/graphic");
});

test("every_number_a_plugin_provides_is_offered_slot_by_slot_and_prompts_are_not", () => {
  const plugin = (id, provides, on = true) => ({ ...PLUGINS.plugins[0], id, provides, on });
  const plugins = [
    plugin("strokes", ["third.won", "rally.tempo"]),
    plugin("club", ["club.mood", "club.zone"]),
    plugin("prompts", ["prompt"]),
    plugin("off", ["off.one"], false),
  ];
  const readings = [
    ["third.won", "dink"],
    ["club.zone", "left"],
    ["club.zone", "a,b"],
  ].map(([indicator, slot]) => ({ indicator, team: "a", player: null, slot }));
  assert.deepEqual(
    offeredNumbers(plugins, readings).map(({ name, plugin }) => [name, plugin]),
    [
      ["third.won/drop", "strokes"],
      ["third.won/drive", "strokes"],
      ["third.won/lob", "strokes"],
      ["third.won/dink", "strokes"],
      ["club.mood", "club"],
      ["club.zone/left", "club"],
    ],
  );
});

test("links_lead_to_the_chosen_address_else_to_the_pages_own_else_to_the_hosts_first", () => {
  const links = { ...LINKS, addresses: ["http://10.0.0.4:7447", "http://192.168.1.20:7447", "http://[fd00::2]:7447"] };
  const first = (chosen, origin) => preferring(links, chosen, origin).addresses;
  assert.deepEqual(first("http://192.168.1.20:7447", HERE.origin), [
    "http://192.168.1.20:7447",
    "http://10.0.0.4:7447",
    "http://[fd00::2]:7447",
  ]);
  assert.equal(first("", "http://[fd00::2]:7447")[0], "http://[fd00::2]:7447");
  assert.equal(first("http://172.16.0.9:7447", HERE.origin)[0], "http://10.0.0.4:7447");
  assert.equal(addressWords("http://192.168.1.20:7447", "wlan0"), "192.168.1.20:7447 (wlan0)");
});

test("a_host_that_is_not_reached_is_told_plainly_and_nobody_is_called_connected", () => {
  const host = { version: "0.1.0" };
  assert.equal(lineWords({ trouble: "", heardAt: 1, host }), "Connected, Rallytide 0.1.0");
  assert.match(
    lineWords({
      trouble: "Is Rallytide running and the network up? This page keeps trying.",
      heardAt: Date.now(),
      host,
    }),
    /^Can't reach the host\. Shown below: as of \d\d:\d\d:\d\d\. Is Rallytide running and the network up\? This page keeps trying\.$/,
  );
  const charter = { client: "laptop-7f", seat: "chart", holds: true, late_ms: 56_000, clock_ms: 0 };
  assert.deepEqual(charterWords([charter], { trouble: "gone", match: null }), [
    "Who is connected is not known: can't reach the host.",
  ]);
});

test("another_winner_turns_round_who_struck", () => {
  const entry = {
    id: "e1",
    at: "t",
    seq: 4,
    received: "t",
    kind: "rally_end",
    won_by: "b",
    how: "net",
    by: "a",
    player: 1,
  };
  assert.deepEqual(endOf(entry), { wonBy: "b", how: "net" });
  assert.deepEqual(rallyEnd(contentOf(entry), "a", "net"), { kind: "rally_end", won_by: "a", how: "net", by: "b" });
  assert.deepEqual(rallyEnd(contentOf(entry), "a", "winner"), {
    kind: "rally_end",
    won_by: "a",
    how: "winner",
    by: "a",
    player: 1,
  });
  assert.deepEqual(rallyEnd(contentOf(entry), "a", ""), { kind: "rally_end", won_by: "a" });
  assert.deepEqual(rallyEnd({}, "b", "unknown"), { kind: "rally_end", won_by: "b", how: "unknown" });
});

test("who_won_follows_from_how_and_by_where_it_is_not_said", () => {
  assert.deepEqual(endOf({ id: "e", kind: "rally_end", how: "winner", by: "b" }), { wonBy: "b", how: "winner" });
  assert.deepEqual(endOf({ id: "e", kind: "rally_end", how: "out", by: "b" }), { wonBy: "a", how: "out" });
});

test("a_fault_is_said_only_of_a_fault", () => {
  const fault = { kind: "rally_end", won_by: "b", how: "fault", by: "a", fault: "kitchen" };
  assert.equal(rallyEnd(fault, "b", "fault").fault, "kitchen");
  assert.equal("fault" in rallyEnd(fault, "b", "out"), false);
});

test("a_shot_of_the_other_team_loses_its_player_and_keeps_its_cues", () => {
  const shot = { kind: "shot", team: "a", stroke: "drop", player: 1, cues: ["attackable"], contact: "air" };
  assert.deepEqual(shotLike(shot, { team: "b", stroke: "dink", contact: "" }), {
    kind: "shot",
    team: "b",
    stroke: "dink",
    cues: ["attackable"],
  });
  assert.equal("contact" in shotLike(shot, { team: "a", stroke: "serve", contact: "air" }), false);
});

test("corrections_have_the_form_of_the_chart", () => {
  const stamp = { id: "d1", at: "t" };
  assert.deepEqual(amend("e1", { kind: "cue", cue: "awkward" }, stamp), {
    id: "d1",
    at: "t",
    kind: "amend",
    target: "e1",
    with: { kind: "cue", cue: "awkward" },
  });
  assert.deepEqual(insert(null, { kind: "replay" }, stamp), {
    id: "d1",
    at: "t",
    kind: "insert",
    after: null,
    entry: { kind: "replay" },
  });
  assert.deepEqual(refereesWord({ a: 3, b: 5, serving: "b", server: null, games: null }), {
    kind: "score_fix",
    points: { a: 3, b: 5 },
    serving: "b",
  });
});

test("what_will_be_corrected_is_said_with_its_contrast", () => {
  assert.deepEqual(colorWords("#003a70", "#f08a45"), [
    "First team's color is too close to the dark panel (1.4:1, needs 3:1); it is drawn as #477198 there.",
    "Second team's color is too close to the light panel (2.4:1, needs 3:1); it is drawn as #d87c3e there.",
  ]);
  assert.ok(colorWords("#102030", "#302010").some((sentence) => sentence.includes("In gray both look alike")));
});

test("the_colors_the_form_begins_with_pass_its_own_check", () => {
  assert.deepEqual(colorWords(DEFAULTS.a_color, DEFAULTS.b_color), ["Both stand out from every panel as they are."]);
});

test("a_gray_is_as_light_as_its_color", () => {
  for (const color of ["#2b8fd0", "#e2712c", "#102030", "#f0e442"])
    assert.ok(contrast(color, grayOf(color)) < 1.02, `${color} ${grayOf(color)}`);
});

test("a_late_charter_and_a_wrong_clock_are_told", () => {
  const charter = {
    client: "laptop-7f",
    seat: "chart",
    holds: true,
    address: "192.168.1.31",
    match: null,
    late_ms: 140,
    clock_ms: -35,
  };
  const told = (charters, match = null) => charterWords(charters, { trouble: "", match });
  assert.deepEqual(told([charter]), ["Laptop laptop-7f at 192.168.1.31: connected, scoring, delay 140 ms"]);
  assert.deepEqual(
    told([
      { ...charter, late_ms: 2400, clock_ms: -5000 },
      { client: "x", seat: "chart", holds: false, address: null, late_ms: null, clock_ms: null },
    ]),
    [
      "Laptop laptop-7f at 192.168.1.31: connected, scoring, delay 2.4 s: check its Wi-Fi, clock 5.0 s slow (corrected)",
      "Laptop x: connected, not scoring (another laptop is)",
    ],
  );
  assert.deepEqual(told([{ ...charter, match: "m1" }], "m2"), [
    "Laptop laptop-7f at 192.168.1.31: connected, still on another match, delay 140 ms",
  ]);
});

test("a_stopped_plugin_says_where_and_why", () => {
  const [initiative, prompts] = PLUGINS.plugins;
  assert.deepEqual(pluginState(prompts, PLUGINS), {
    state: "stopped",
    words: "Stopped on court 1",
    faults: ["Court 1: it used up its fuel"],
  });
  assert.deepEqual(pluginState(initiative, PLUGINS), { state: "running", words: "Running", faults: [] });
  assert.equal(pluginState({ ...prompts, on: false }, PLUGINS).words, "Off");
  assert.equal(pluginCost(initiative, PLUGINS), "40 calls, 8.0 µs a call (longest 0.0 ms), 1.1 MiB");
  assert.equal(pluginCost(prompts, PLUGINS), "12 calls, 750 µs a call (longest 8.2 ms), 1.1 MiB, 1 fault");
});

test("a_file_that_does_not_run_says_why_and_what_to_change", () => {
  const [refused] = PLUGINS.attempts;
  assert.equal(
    attemptWords(refused),
    "tempo.wasm: not a plugin. It imports “clock”, which no plugin is given. What to change: Leave out what needs a clock.",
  );
  const down = {
    ...refused,
    plugin: "tempo",
    version: "2.0.0",
    outcome: "turned_down",
    message: "it panicked",
    hint: null,
  };
  assert.equal(attemptWords(down), "tempo.wasm (tempo 2.0.0): rejected. It panicked.");
});

test("a_plugin_given_up_says_so_and_one_that_runs_again_says_what_was", () => {
  const [initiative, prompts] = PLUGINS.plugins;
  const fault = { message: "it panicked" };
  const [running, stopped] = PLUGINS.courts[1];
  const report = {
    ...PLUGINS,
    courts: {
      1: [
        { ...running, faults: 1, last_fault: fault },
        { ...stopped, state: "switched_off", fault: undefined, why: "three faults in this match", last_fault: fault },
      ],
    },
  };
  assert.deepEqual(pluginState(prompts, report), {
    state: "given_up",
    words: "Off after repeated faults, court 1",
    faults: ["Court 1: three faults in this match", "Court 1: its last fault: it panicked"],
  });
  assert.deepEqual(pluginState(initiative, report).faults, ["Court 1: it was at fault and runs again: it panicked"]);
});

test("what_happens_by_itself_is_told_once", () => {
  const court = {
    court: "1",
    state: "playing",
    match: "m",
    score: SCORE,
    entries: 1,
    last_entry: null,
    charters: [{ client: "x" }],
    viewers: { viewer: 0, booth: 0 },
  };
  const host = (change = {}) => ({ courts: [{ ...court, ...change }], matches: [] });
  const known = (change, plugins = null) => ({ host: host(change), plugins });
  const told = (before, now) => news(before, now).map(({ words }) => words);
  assert.match(told(known(), known({ charters: [] })).join(), /^Court 1: the charter's laptop is gone/);
  assert.equal(news(known(), known({ charters: [] }))[0].isUrgent, true, "worth a sound");
  assert.deepEqual(told(known({ charters: [] }), known()), ["Court 1: a charter is connected."]);
  assert.deepEqual(told(known(), known({ score: { ...SCORE, winner: "a" } })), ["Court 1: the match is over."]);
  assert.deepEqual(
    told(known({ score: { ...SCORE, winner: "a" } }), known()),
    ["Court 1: the match is being played again."],
    "what no longer holds is not left standing",
  );
  assert.deepEqual(news(known(), known({ match: "other", charters: [] })), []);
  assert.deepEqual(news({ host: null, plugins: null }, known({}, PLUGINS)), []);
  const well = { ...PLUGINS, courts: {} };
  assert.match(told(known({}, well), known({}, PLUGINS)).join(), /^The plugin prompts was stopped/);
  assert.deepEqual(news(known({}, PLUGINS), known({}, PLUGINS)), []);
});

test("a_change_of_settings_is_called_by_what_changed_and_so_is_its_undo", () => {
  const { settings } = PLUGINS.plugins[1];
  const one = settingChanges(settings, {}, { least_sample: 12 });
  assert.equal(changedWords("prompts", one, 0), "prompts: least sample is 12 now, it was 8.");
  assert.equal(
    changedWords("prompts", one, 1),
    "prompts: least sample is 12 now, it was 8. The match on court has been worked out again with it.",
  );
  assert.equal(undoneWords("prompts", one), "prompts: least sample is 8 again.");
  const both = settingChanges(settings, { least_sample: 12 }, { during_rally: false });
  assert.equal(
    changedWords("prompts", both, 2),
    "prompts: least sample is 8 now, it was 12; during rally is no now, it was yes. The matches on court have been worked out again with it.",
  );
  assert.deepEqual(settingChanges(settings, null, { least_sample: 8, during_rally: true }), []);
});

test("a_default_is_not_chosen", () => {
  const { settings } = PLUGINS.plugins[1];
  assert.deepEqual(chosenOf(settings, { least_sample: 12, during_rally: true }), { least_sample: 12 });
  assert.deepEqual(chosenOf(settings, { least_sample: 8, during_rally: true }), {});
});

test("a_setting_out_of_its_range_is_told_with_the_range", () => {
  const whole = { name: "n", about: "", type: "whole", from: 1, to: 100, default: 8 };
  for (const wrong of ["", "0", "101", "2.5", "x"])
    assert.equal(settingProblem(whole, wrong), "A whole number from 1 to 100.");
  assert.equal(settingProblem(whole, "100"), "");
  assert.equal(settingValue(whole, "12"), 12);
  assert.equal(settingValue({ name: "t", about: "", type: "truth", default: true }, "false"), false);
  assert.match(settingProblem({ name: "t", about: "", type: "text", longest: 3, default: "" }, "four"), /At most 3/);
});

test("nobody_is_to_serve_in_a_match_declared_over_before_anybody_won_it", () => {
  const header = headerFrom(NAMED);
  const score = { ...SCORE, winner: null, points: { a: 4, b: 2 } };
  assert.match(scoreLine(score, header), /to serve/);
  assert.equal(stoppedLine(score, header), "ended without a winner at 4–2, Game to 11");
  const won = { ...score, winner: "a", finished: [{ a: 11, b: 4 }] };
  assert.equal(stoppedLine(won, header), scoreLine(won, header));
});

test("a_retirement_is_no_result_of_nought_to_nought", () => {
  const header = headerFrom(NAMED);
  const score = { ...SCORE, winner: "a", games: { a: 0, b: 0 }, points: { a: 3, b: 5 }, finished: [] };
  assert.equal(scoreLine(score, header), "Quill / Abara won the match, opponents retired: 3–5 when they stopped");
});

/** A match of the schedule, as the host tells it. */
const scheduled = (id, names, { state = "planned", court = "1", time = "" } = {}) => ({
  id,
  state,
  court,
  entries: 0,
  winner: null,
  score: null,
  places: [],
  header: {
    ...headerFrom({ ...NAMED, a: names[0], b: names[1], court, time, round: "QF 2" }),
    id,
  },
});

test("a_team_that_still_plays_elsewhere_is_named_for_the_next_match_alone", () => {
  const on = scheduled("m1", ["Heron", "Owl"], { state: "on", court: "2" });
  const next = scheduled("m2", ["Lantern", "heron "]);
  const later = scheduled("m3", ["Owl", "Kite"]);
  const all = [on, next, later];
  assert.deepEqual(clashes(next, all), ["heron is still playing on court 2."]);
  assert.deepEqual(clashes(later, all), [], "it is not its turn yet");
  assert.deepEqual(stillPlaying(later, all), ["Owl is still playing on court 2."]);
  assert.deepEqual(clashes(on, all), []);
});

test("a_place_that_is_open_is_named_at_the_next_match_and_one_that_changed_wherever_the_match_stands", () => {
  const place = { team: "a", outcome: "winner", of: "qf-2", called: "QF 2", now: null, differs: false };
  const next = { ...scheduled("m1", ["Winner of QF 2", "Owl"]), places: [place] };
  assert.deepEqual(clashes(next, [next]), ["It is not known yet who is the winner of QF 2."]);
  const changed = { ...place, now: { name: "Heron", players: [] }, differs: true };
  const on = { ...scheduled("m2", ["Lantern", "Owl"], { state: "on" }), places: [changed, { ...place, team: "b" }] };
  assert.deepEqual(
    changedSince(on).map((one) => placeChangeWords(on, one)),
    ["This match was begun with Lantern, but the winner of QF 2 is now Heron."],
  );
  assert.equal(
    placeChangeWords(on, { ...changed, now: null }),
    "This match was begun with Lantern, but the winner of QF 2 is open again.",
  );
});

test("a_player_who_is_planned_twice_at_one_time_is_named", () => {
  const one = scheduled("m1", ["Heron", "Owl"], { time: "14:40" });
  const other = scheduled("m2", ["Lantern", "Kite"], { time: "14:40", court: "2" });
  assert.deepEqual(clashes(one, [one, other]), []);
  other.header.teams.b.players = ["Heron", "Ada Wren"];
  assert.deepEqual(clashes(one, [one, other]), ["Heron is also planned for 14:40 on court 2."]);
  other.header.time = "15:00";
  assert.deepEqual(clashes(one, [one, other]), []);
});

test("the_schedule_keeps_the_order_of_the_sheet_whatever_is_looked_for", () => {
  const all = [
    scheduled("z", ["Heron", "Owl"], { state: "finished" }),
    scheduled("m", ["Lantern", "Kite"], { time: "14:40", court: "5" }),
    scheduled("a", ["Heron", "Kite"], { state: "on" }),
    scheduled("b", ["Owl", "Wren"], { state: "put_aside" }),
  ];
  const ids = (show, text = "") => wanted(all, { show, text }).map(({ id }) => id);
  assert.deepEqual(ids("all"), ["z", "m", "a", "b"]);
  assert.deepEqual([ids("running"), ids("planned"), ids("finished")], [["a"], ["m", "b"], ["z"]]);
  assert.deepEqual(ids("all", "KITE her"), ["a"]);
  assert.deepEqual(ids("all", "14:40"), ["m"]);
  assert.deepEqual(ids("all", "court 5"), ["m"]);
  assert.equal(countOf(all, "planned"), 2);
  assert.equal(matchLine(all[1].header), "14:40 · QF 2");
});
