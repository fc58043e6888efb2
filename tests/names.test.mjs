/**
 * Players by name without a key: who serves and who returns follows from the score, in what the
 * exports and the review hold; names survive corrections, changes of the line-up and the referee's
 * word.
 */
import assert from "node:assert/strict";
import { test } from "node:test";
import { parse as parseCsv } from "csv-parse/sync";
import { chartText, headerFor, numbered } from "./support/charts.mjs";
import { linesOf, rallytide } from "./support/program.mjs";

async function exported(input, ...form) {
  const { status, stdout, stderr } = await rallytide(["export", "-", ...form], { input });
  assert.equal(status, 0, stderr);
  return stdout;
}

const table = async (input, what) =>
  parseCsv(await exported(input, "--as", "csv", "--what", what), { columns: true, record_delimiter: "\r\n" });

for (const options of [
  ["--seed", "31"],
  ["--seed", "32", "--scoring", "rally", "--points", "15"],
]) {
  test(`a fully charted match without a player key names serves and returns: ${options.join(" ")}`, async () => {
    const chart = await linesOf(["simulate", ...options, "--players", "none"]);
    assert.ok(
      !chart.slice(1).some((line) => JSON.parse(line).kind === "shot" && JSON.parse(line).player !== undefined),
    );
    const input = `${chart.join("\n")}\n`;
    const shots = await table(input, "shots");
    const rallies = new Map((await table(input, "rallies")).map((row) => [row.rally, row]));
    const opening = shots.filter(({ stroke }) => ["serve", "return"].includes(stroke));
    const named = opening.filter(({ player_name: name }) => name !== "");
    assert.ok(opening.length > 60, `${opening.length} serves and returns`);
    assert.ok(named.length >= opening.length * 0.95, `${named.length} of ${opening.length} are named`);
    for (const row of named) {
      const rally = rallies.get(row.rally);
      const expected = row.team === rally.serving ? rally.server_name : rally.receiver_name;
      assert.equal(row.player_name, expected, `${row.stroke} of rally ${row.rally}`);
      assert.equal(row.player_source, "score");
    }
  });
}

const shot = (team, stroke, more = {}) => ({ kind: "shot", team, stroke, ...more });
/** Side-out doubles: a1 of a serves the first game, then b. */
const HEADER = headerFor("names", { points: 2, win_by: 1, games: 3 });
const [A0, A1] = HEADER.teams.a.players;
const [B0, B1] = HEADER.teams.b.players;
const rally = (team, other, winner, third = {}) => [
  shot(team, "serve"),
  shot(other, "return"),
  shot(team, "drop", third),
  { kind: "rally_end", won_by: winner },
];

/** Names of the shots, rally by rally: who struck each, or the team's letter where nobody knows. */
async function namesOf(entries) {
  const rows = await table(chartText({ header: HEADER, entries }), "shots");
  const byRally = new Map();
  for (const row of rows) byRally.set(row.rally, [...(byRally.get(row.rally) ?? []), row.player_name || row.team]);
  return [...byRally.values()];
}

// Game 1 to 2, win by 1: a serves both rallies; the server stays and changes sides, so the receivers take turns.
const FIRST_GAME = [...rally("a", "b", "a", { player: 1 }), ...rally("a", "b", "a")];

test("server_and_receiver_follow_the_score_and_a_named_player_is_named", async () => {
  assert.deepEqual(await namesOf(numbered(FIRST_GAME)), [
    [A0, B0, A1],
    [A0, B1, "a"],
  ]);
});

test("a_change_of_the_line_up_names_the_other_partner_from_the_next_game_on_and_no_shot_before", async () => {
  const second = rally("b", "a", "b");
  const plain = await namesOf(numbered([...FIRST_GAME, ...second]));
  assert.deepEqual(plain[2], [B0, A0, "b"]);
  const changed = [
    ...FIRST_GAME.slice(0, 4),
    { kind: "lineup", team: "b", starting_server: 1 },
    ...FIRST_GAME.slice(4),
    ...second,
  ];
  assert.deepEqual(await namesOf(numbered(changed)), [plain[0], plain[1], [B1, A0, "b"]]);
});

test("names_survive_corrections_and_follow_the_score_that_a_correction_makes", async () => {
  const entries = numbered([...FIRST_GAME, ...rally("b", "a", "b")]);
  const at = "2025-05-03T11:00:00.000Z";
  const correct = (id, content) => ({ id, at, ...content });
  // Another stroke, with the player that the shot has; a cue put in; a fix taken back.
  const amended = [
    ...entries,
    correct("k1", { kind: "amend", target: "e3", with: shot("a", "drive", { player: 1 }) }),
    correct("k2", { kind: "insert", after: "e3", entry: { kind: "cue", cue: "attackable" } }),
    correct("k3", { kind: "amend", target: "e3", with: shot("a", "lob") }),
    correct("k4", { kind: "retract", target: "k3" }),
  ];
  assert.deepEqual(await namesOf(amended), await namesOf(entries));
  // The first rally was b's after all: the first turn of a game has one server, so that is a side out, and
  // the second rally is served out of turn: the score knows no player of it.
  const won = [...entries, correct("k5", { kind: "amend", target: "e4", with: { kind: "rally_end", won_by: "b" } })];
  const names = await namesOf(won);
  assert.deepEqual(names[0], [A0, B0, A1], "the rally itself keeps its names");
  assert.deepEqual(names[1], ["a", "b", "a"]);
  // A return that was missed and is put in is the receiver's.
  const missed = entries.filter(({ id }) => id !== "e6");
  const inserted = [...missed, correct("k6", { kind: "insert", after: "e5", entry: shot("b", "return") })];
  assert.deepEqual(await namesOf(inserted), await namesOf(entries));
});

test("report_and_captions_name_who_struck_and_who_erred", async () => {
  const entries = numbered([
    shot("a", "serve"),
    shot("b", "return"),
    shot("a", "drop", { player: 1 }),
    { kind: "rally_end", how: "net", by: "a" },
    shot("a", "serve"),
    { kind: "rally_end", how: "ace", by: "a" },
  ]);
  const input = chartText({ header: headerFor("names"), entries });
  const page = await exported(input, "--as", "html");
  for (const words of [`${A0}`, `2. ${B0}: return`, `3. ${A1}: drop`]) assert.ok(page.includes(words), words);
  const captions = await exported(input, "--as", "webvtt", "--what", "captions");
  assert.match(captions, new RegExp(`ball in the net by ${A1}`));
  const [first] = await table(input, "rallies");
  assert.deepEqual([first.by_player, first.by_player_name], ["1", A1]);
});
