/**
 * The intake: what a charter's client is told, what is refused, and that nothing of a refused
 * message is stored.
 */
import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";
import { Dice } from "./oracle/random-values.mjs";
import { Charter } from "./support/charter.mjs";
import { chartFile, headerFor, numbered, rallies, randomMatch } from "./support/charts.mjs";
import { freshFolder } from "./support/folders.mjs";
import { Host } from "./support/host.mjs";
import { linesOf, rallytide } from "./support/program.mjs";
import { Refused } from "./support/socket.mjs";
import { until } from "./support/wait.mjs";

const AT = "2025-05-03T10:00:00.000Z";

/** A message is at most so long, in bytes. */
const MESSAGE_LIMIT = 64 * 1024;

/** An entry with an id and a time. */
const entry = (id, content) => ({ id, at: AT, ...content });
const shot = (team, stroke, more = {}) => ({ kind: "shot", team, stroke, ...more });
const asEntries = (...entries) => ({ type: "entries", entries });

/** What stands in the chart when the refusals begin. */
const STANDING = [
  entry("s1", shot("a", "serve")),
  entry("s2", shot("b", "return")),
  entry("c1", { kind: "cue", cue: "awkward" }),
  entry("k1", { kind: "retract", target: "c1" }),
  entry("k2", { kind: "amend", target: "s2", with: shot("b", "drive") }),
  entry("i1", { kind: "insert", after: "s2", entry: shot("a", "drop") }),
];

/**
 * What is refused: what it is, the entry, the code, and what the sentence has to name. Each is one
 * message; the codes are the format's own words where it gives them.
 */
const REFUSED_ENTRIES = [
  ["an_unknown_kind", { kind: "smash" }, "unknown_kind", ["smash", "shot", "rally_end", "insert"]],
  ["a_kind_that_is_a_number", { kind: 7 }, "bad_field", ["kind", "shot"]],
  ["an_entry_without_kind", {}, "missing_field", ["kind"]],
  ["a_header_among_the_entries", { ...headerFor("x1"), id: "x1" }, "unknown_kind", ["match"]],
  ["an_unknown_stroke", shot("a", "moonball"), "unknown_stroke", ["moonball", "serve", "atp"]],
  ["an_unknown_cue", { kind: "cue", cue: "tired" }, "unknown_cue", ["tired", "net_cord"]],
  ["an_unknown_cue_on_a_shot", shot("a", "dink", { cues: ["awkward", "tired"] }), "unknown_cue", ["tired"]],
  ["a_shot_without_team", { kind: "shot", stroke: "dink" }, "missing_field", ["team"]],
  ["a_team_that_is_neither_a_nor_b", shot("c", "dink"), "bad_field", ["team", "c"]],
  ["a_player_that_is_neither_0_nor_1", shot("a", "dink", { player: 2 }), "bad_field", ["player"]],
  ["a_contact_that_there_is_not", shot("a", "dink", { contact: "ground" }), "bad_field", ["contact", "half_volley"]],
  ["cues_that_are_no_list", shot("a", "dink", { cues: "awkward" }), "bad_field", ["cues"]],
  ["a_depth_that_there_is_not", { kind: "depth", team: "a", depth: "middle" }, "bad_field", ["depth", "transition"]],
  ["a_rally_that_nobody_won", { kind: "rally_end" }, "missing_field", ["won_by"]],
  ["how_unknown_without_won_by", { kind: "rally_end", how: "unknown" }, "missing_field", ["won_by"]],
  ["how_without_by_and_won_by", { kind: "rally_end", how: "net" }, "missing_field", ["won_by"]],
  [
    "won_by_against_how_and_by",
    { kind: "rally_end", won_by: "a", how: "net", by: "a" },
    "contradiction",
    ["won_by", "how"],
  ],
  ["a_winner_by_the_loser", { kind: "rally_end", won_by: "a", how: "winner", by: "b" }, "contradiction", ["won_by"]],
  ["negative_points", { kind: "score_fix", points: { a: -1, b: 0 }, serving: "a" }, "bad_field", ["a", "0"]],
  ["a_score_fix_without_the_serving_team", { kind: "score_fix", points: { a: 1, b: 0 } }, "missing_field", ["serving"]],
  [
    "a_third_server",
    { kind: "score_fix", points: { a: 1, b: 0 }, serving: "a", server: 3 },
    "bad_field",
    ["server", "1", "2"],
  ],
  ["a_lineup_without_server", { kind: "lineup", team: "a" }, "missing_field", ["starting_server"]],
  ["medical_that_is_no_truth_value", { kind: "time_out", team: "a", medical: "yes" }, "bad_field", ["medical"]],
  ["a_note_of_501_characters", { kind: "note", text: "x".repeat(501) }, "too_long", ["501", "500"]],
  ["a_note_without_text", { kind: "note" }, "missing_field", ["text"]],
  [
    "a_cue_about_a_shot_that_does_not_exist",
    { kind: "cue", cue: "awkward", shot: "nowhere" },
    "unknown_shot",
    ["nowhere"],
  ],
  ["a_retract_of_what_does_not_exist", { kind: "retract", target: "nowhere" }, "bad_correction", ["nowhere"]],
  [
    "an_amend_of_what_does_not_exist",
    { kind: "amend", target: "nowhere", with: shot("a", "dink") },
    "bad_correction",
    ["nowhere"],
  ],
  [
    "an_insert_after_what_does_not_exist",
    { kind: "insert", after: "nowhere", entry: shot("a", "dink") },
    "bad_correction",
    ["nowhere"],
  ],
  ["a_retract_without_target", { kind: "retract" }, "missing_field", ["target"]],
  ["an_insert_without_after", { kind: "insert", entry: shot("a", "dink") }, "missing_field", ["after"]],
  ["an_amend_of_a_retract", { kind: "amend", target: "k1", with: shot("a", "dink") }, "bad_correction", ["k1"]],
  ["an_amend_of_an_amend", { kind: "amend", target: "k2", with: shot("a", "dink") }, "bad_correction", ["k2"]],
  ["an_insert_after_an_amend", { kind: "insert", after: "k2", entry: shot("a", "dink") }, "bad_correction", ["k2"]],
  [
    "an_amend_into_a_correction",
    { kind: "amend", target: "s1", with: { kind: "retract", target: "s2" } },
    "bad_correction",
    ["with"],
  ],
  [
    "an_insert_of_a_correction",
    { kind: "insert", after: "s1", entry: { kind: "retract", target: "s2" } },
    "bad_correction",
    ["entry"],
  ],
  [
    "an_amend_into_an_unknown_stroke",
    { kind: "amend", target: "s1", with: shot("a", "moonball") },
    "unknown_stroke",
    ["moonball"],
  ],
  [
    "an_insert_of_a_cue_about_nothing",
    { kind: "insert", after: "s1", entry: { kind: "cue", cue: "awkward", shot: "nowhere" } },
    "unknown_shot",
    ["nowhere"],
  ],
];

/** The same for whole messages, which have no entry to name. */
const REFUSED_MESSAGES = [
  ["text_that_is_no_json", '{"type":"entries",', "malformed", []],
  ["json_that_is_no_object", "[1,2]", "malformed", []],
  ["json_nested_too_deeply", `{"type":"entries","entries":${"[".repeat(9_000)}${"]".repeat(9_000)}}`, "malformed", []],
  ["a_message_without_type", "{}", "bad_field", ["hello", "entries"]],
  ["a_message_of_an_unknown_type", '{"type":"shout"}', "bad_field", ["hello", "entries"]],
  ["entries_that_are_no_list", '{"type":"entries","entries":{}}', "missing_field", ["entries"]],
  ["an_entry_that_is_no_object", '{"type":"entries","entries":[7]}', "malformed", []],
  ["an_entry_without_id", { type: "entries", entries: [{ at: AT, kind: "replay" }] }, "missing_field", ["id"]],
  ["an_id_with_other_characters", asEntries(entry("a b", { kind: "replay" })), "bad_field", ["id", "64"]],
  ["an_id_of_65_characters", asEntries(entry("x".repeat(65), { kind: "replay" })), "bad_field", ["id", "64"]],
  ["an_entry_without_time", { type: "entries", entries: [{ id: "x1", kind: "replay" }] }, "missing_field", ["at"]],
  [
    "a_time_that_is_none",
    { type: "entries", entries: [{ id: "x1", at: "noon", kind: "replay" }] },
    "bad_field",
    ["at"],
  ],
  ["a_hello_without_client", '{"type":"hello"}', "missing_field", ["client"]],
  ["a_hello_with_a_negative_position", '{"type":"hello","client":"x","after":-1}', "bad_field", ["after"]],
  ["a_message_above_64_kib", "too long", "too_large", ["65536"]],
];

/** The longest message that is allowed, or one byte more, around a harmless entry. */
function padded(id, bytes) {
  const message = asEntries(entry(id, { kind: "replay", padding: "" }));
  message.entries[0].padding = "x".repeat(bytes - Buffer.byteLength(JSON.stringify(message)));
  return JSON.stringify(message);
}

describe("what is refused is answered with code and sentence and not stored", () => {
  const header = headerFor("refusals");
  /** @type {{ host: Host, charter: Charter, standing: string, close: () => Promise<void> }} */
  let the;

  before(async () => {
    const closing = [];
    const host = await Host.start({ after: (close) => closing.push(close) });
    const charter = await Charter.welcomed(host, { chart: header });
    await charter.chart(STANDING);
    the = { host, charter, standing: await host.now(), closing };
  });

  after(async () => {
    for (const close of the.closing.reverse()) await close();
  });

  async function nothingStored() {
    assert.equal(await the.host.now(), the.standing, "the state has to be as it was");
    const logged = await the.host.logged(header.id);
    assert.deepEqual(
      logged.map(({ id }) => id),
      STANDING.map(({ id }) => id),
      "the log has to be as it was",
    );
  }

  function assertRefused(answer, id, code, named) {
    assert.deepEqual(
      { type: answer.type, id: answer.id, code: answer.code },
      { type: "refused", id, code },
      JSON.stringify(answer),
    );
    assert.match(answer.message, /^\S.{10,}[^.]$/, "a sentence");
    for (const word of named) assert.ok(answer.message.includes(word), `\`${word}\` is not named: ${answer.message}`);
  }

  for (const [what, content, code, named] of REFUSED_ENTRIES) {
    test(`${what} is refused`, async () => {
      assertRefused(await the.charter.say(asEntries(entry("x1", content))), "x1", code, named);
      await nothingStored();
    });
  }

  for (const [what, message, code, named] of REFUSED_MESSAGES) {
    test(`${what} is refused`, async () => {
      const sent = code === "too_large" ? padded("x1", MESSAGE_LIMIT + 1) : message;
      const answer = await the.charter.say(sent);
      const id = sent?.entries?.[0].id ?? null;
      assertRefused(answer, id, code, named);
      await nothingStored();
    });
  }

  test("an_id_that_stands_there_with_other_content_is_refused", async () => {
    const answer = await the.charter.say(asEntries(entry("s1", shot("b", "serve"))));
    assertRefused(answer, "s1", "id_conflict", ["s1", "1"]);
    await nothingStored();
  });

  test("another_client_is_refused_the_id_of_the_first_one", async () => {
    const other = await Charter.welcomed(the.host, { client: "phone" });
    assertRefused(await other.say(asEntries(entry("s2", shot("a", "lob")))), "s2", "id_conflict", ["s2"]);
    await other.close();
    await nothingStored();
  });

  test("entries_before_hello_are_refused", async () => {
    const silent = await Charter.connect(the.host);
    const answer = await silent.say(asEntries(entry("x1", { kind: "replay" })));
    assert.equal(answer.type, "refused");
    assert.equal(answer.code, "hello_first");
    await silent.close();
    await nothingStored();
  });

  test("entries_for_a_court_without_a_match_are_refused", async () => {
    const early = await Charter.welcomed(the.host, { court: "empty" });
    assert.equal(early.welcome.match, null);
    assertRefused(await early.say(asEntries(entry("x1", { kind: "replay" }))), "x1", "no_match", ["empty", "hello"]);
    await early.close();
  });

  test("another_match_is_refused_while_one_is_being_played", async () => {
    const other = await Charter.connect(the.host);
    const answer = await other.hello({ client: "phone", chart: headerFor("another") });
    assert.equal(answer.type, "refused");
    assert.equal(answer.code, "court_busy");
    assert.ok(answer.message.includes(header.id), answer.message);
    await other.close();
    await nothingStored();
  });

  test("the_same_match_with_another_header_is_refused", async () => {
    const other = await Charter.connect(the.host);
    const answer = await other.hello({ client: "phone", chart: { ...header, title: "Another title" } });
    assert.equal(answer.code, "id_conflict");
    await other.close();
    await nothingStored();
  });

  test("a_match_that_is_on_another_court_is_refused", async () => {
    const other = await Charter.connect(the.host, { court: "2" });
    const answer = await other.hello({ client: "phone", chart: header });
    assert.equal(answer.code, "court_busy");
    assert.ok(answer.message.includes("1"), answer.message);
    await other.close();
    await nothingStored();
  });

  for (const [what, chart] of [
    ["a_header_of_a_later_version", { ...headerFor("bad"), chart: 2 }],
    ["a_header_with_four_games", headerFor("bad", { games: 4 })],
    ["a_header_with_rally_options_in_side_out", headerFor("bad", { winning_point: "any" })],
    [
      "a_header_with_positions_in_singles",
      headerFor("bad", { discipline: "singles", scoring: "rally", positions: "static" }),
    ],
    [
      "a_header_with_three_players",
      {
        ...headerFor("bad"),
        teams: { a: { name: "A", players: ["1", "2", "3"] }, b: { name: "B", players: ["4", "5"] } },
      },
    ],
    ["a_header_with_a_path_as_id", headerFor("../../etc/passwd")],
  ]) {
    test(`${what} is refused`, async () => {
      const other = await Charter.connect(the.host, { court: "bad" });
      const answer = await other.hello({ client: "phone", chart });
      assert.equal(answer.type, "refused", JSON.stringify(answer));
      assert.equal(answer.code, "bad_field", JSON.stringify(answer));
      await other.close();
    });
  }

  test("one_refused_entry_does_not_hold_back_its_neighbours", async (t) => {
    const host = await Host.start(t);
    const charter = await Charter.welcomed(host, { chart: headerFor("neighbours") });
    const entries = [entry("g1", shot("a", "serve")), entry("g2", { kind: "smash" }), entry("g3", shot("b", "return"))];
    const answers = await charter.bring(entries);
    assert.deepEqual(
      answers.map(({ type, seq }) => [type, seq]),
      [
        ["accepted", 1],
        ["refused", undefined],
        ["accepted", 2],
      ],
    );
  });

  test("the_connection_goes_on_after_every_refusal", async () => {
    assert.equal(the.charter.socket.closed, null);
    const answer = await the.charter.say({ type: "hello", client: "tablet" });
    assert.equal(answer.last_seq, STANDING.length);
  });
});

test("a_message_of_exactly_64_kib_is_taken", async (t) => {
  const host = await Host.start(t);
  const charter = await Charter.welcomed(host, { chart: headerFor("limit") });
  charter.socket.send(padded("p1", MESSAGE_LIMIT));
  assert.equal((await charter.answer("p1")).type, "accepted");
});

test("after_the_match_only_corrections_and_notes_are_taken", async (t) => {
  const host = await Host.start(t);
  const charter = await Charter.welcomed(host, { chart: headerFor("over", { points: 2, games: 1 }) });
  await charter.chart(numbered(rallies("aa")));
  assert.equal(JSON.parse(await host.now()).score.winner, "a");
  for (const content of [
    shot("a", "serve"),
    ...rallies("b"),
    { kind: "time_out", team: "a" },
    { kind: "retire", team: "b" },
  ]) {
    const answer = await charter.say(asEntries(entry("late", content)));
    assert.deepEqual([answer.type, answer.code], ["refused", "match_over"], JSON.stringify(content));
  }
  const taken = await charter.bring([
    entry("n1", { kind: "note", text: "well played" }),
    entry("k1", { kind: "amend", target: "e2", with: { kind: "rally_end", won_by: "b" } }),
    entry("e3", shot("b", "serve")),
  ]);
  assert.deepEqual(
    taken.map(({ type, seq }) => [type, seq]),
    [
      ["accepted", 3],
      ["accepted", 4],
      ["accepted", 5],
    ],
  );
  assert.equal(JSON.parse(await host.now()).score.winner, null);
});

test("an_entry_sent_again_is_accepted_with_its_first_seq_and_counts_once", async (t) => {
  const host = await Host.start(t);
  const charter = await Charter.welcomed(host, { chart: headerFor("again") });
  const entries = numbered(rallies("abab"));
  await charter.chart(entries);
  const before = await host.now();
  const [again] = await charter.chart([entries[1]]);
  assert.equal(again.seq, 2);
  const turned = Object.fromEntries(Object.entries(entries[2]).reverse());
  assert.equal((await charter.chart([turned]))[0].seq, 3, "the order of the fields is no part of the content");
  const other = await Charter.welcomed(host, { client: "phone" });
  assert.equal((await other.chart([entries[3]]))[0].seq, 4, "whoever sends it");
  assert.equal(await host.now(), before);
  assert.equal((await host.logged("again")).length, 4);
});

test("a_client_that_comes_back_is_told_which_of_its_entries_are_there", async (t) => {
  const host = await Host.start(t);
  const header = headerFor("back");
  const tablet = await Charter.welcomed(host, { client: "tablet", chart: header });
  const { type, court, match, last_seq: lastSeq, score, ids: none } = tablet.welcome;
  assert.deepEqual(
    { type, court, match, lastSeq, none },
    { type: "welcome", court: "1", match: header, lastSeq: 0, none: [] },
  );
  assert.equal(score.call, "0-0-2");
  const phone = await Charter.welcomed(host, { client: "phone", chart: header });
  await tablet.chart([entry("t1", shot("a", "serve")), entry("t2", shot("b", "return"))]);
  await phone.chart([entry("p1", { kind: "cue", cue: "awkward" })]);
  await tablet.chart([entry("t3", shot("a", "drop")), entry("t4", { kind: "retract", target: "t3" })]);
  tablet.socket.terminate();
  for (const [client, after_, ids] of [
    ["tablet", undefined, ["t1", "t2", "t3", "t4"]],
    ["tablet", 1, ["t2", "t3", "t4"]],
    ["tablet", 5, []],
    ["phone", undefined, ["p1"]],
    ["stranger", undefined, []],
  ]) {
    const back = await Charter.welcomed(host, { client, after: after_ });
    assert.deepEqual(back.welcome.ids, ids, `${client} after ${after_}`);
    assert.equal(back.welcome.last_seq, 5);
    await back.close();
  }
});

test("a_welcome_brings_header_and_score_of_the_running_match", async (t) => {
  const host = await Host.start(t);
  const chart = randomMatch(11, "score");
  const charter = await Charter.welcomed(host, { chart: chart.header });
  await charter.chart(chart.entries);
  const back = await Charter.welcomed(host, { client: "phone" });
  assert.deepEqual(back.welcome.match, chart.header);
  const file = await chartFile(await freshFolder(t), chart);
  const scores = await linesOf(["score", "--json", file]);
  assert.deepEqual(back.welcome.score, JSON.parse(scores.at(-1)).score);
});

test("what_looks_odd_is_accepted_with_a_flag", async (t) => {
  const host = await Host.start(t);
  const charter = await Charter.welcomed(host, { chart: headerFor("flags") });
  const steps = [
    [shot("b", "serve"), ["serve_by_receivers"]],
    [shot("b", "drive"), ["missed_shot"]],
    [{ kind: "rally_end", won_by: "a" }, []],
    [shot("a", "drive"), ["no_serve"]],
    [shot("a", "drop"), ["missed_shot", "no_serve"]],
    [{ kind: "cue", cue: "awkward", shot: "e1" }, ["no_shot"]],
    [{ kind: "replay" }, []],
    [{ kind: "time_out", team: "b" }, []],
    [{ kind: "time_out", team: "b" }, []],
    [{ kind: "time_out", team: "b", medical: true }, []],
    [{ kind: "time_out", team: "b" }, ["no_time_out_left"]],
    [shot("a", "serve"), []],
  ];
  const answers = await charter.chart(numbered(steps.map(([content]) => content)));
  assert.deepEqual(
    answers.map(({ id, seq, flags }) => ({ id, seq, flags: [...flags].sort() })),
    steps.map(([, flags], index) => ({ id: `e${index + 1}`, seq: index + 1, flags })),
  );
});

test("a_correction_is_answered_with_the_flags_of_what_it_puts_there", async (t) => {
  const host = await Host.start(t);
  const charter = await Charter.welcomed(host, { chart: headerFor("corrected-flags") });
  await charter.chart([entry("s1", shot("a", "serve")), entry("s2", shot("b", "return"))]);
  const [amended] = await charter.chart([entry("k1", { kind: "amend", target: "s2", with: shot("a", "drive") })]);
  assert.deepEqual(amended.flags, ["missed_shot"]);
  const [inserted] = await charter.chart([entry("k2", { kind: "insert", after: null, entry: shot("b", "serve") })]);
  assert.deepEqual(inserted.flags, ["serve_by_receivers"]);
});

test("fields_that_nobody_knows_are_kept", async (t) => {
  const host = await Host.start(t);
  const header = headerFor("unknown", {}, { x_umpire: { name: "Ines" } });
  const charter = await Charter.welcomed(host, { chart: header });
  const odd = entry("u1", { ...shot("a", "serve"), x_speed: 41.5, x_list: [null, "süß \u{1F3D3}", { deep: true }] });
  await charter.chart([odd]);
  const [logged] = await host.logged("unknown");
  for (const [name, value] of Object.entries(odd)) assert.deepEqual(logged[name], value, name);
  assert.deepEqual(JSON.parse(await host.now()).match, header);
});

test("what_the_host_adds_cannot_be_brought_in_from_outside", async (t) => {
  const host = await Host.start(t);
  const charter = await Charter.welcomed(host, { chart: headerFor("forged") });
  const forged = entry("f1", { ...shot("a", "serve"), seq: 900, received: AT, crc: "00000000" });
  const [answer] = await charter.chart([forged]);
  assert.equal(answer.seq, 1);
  const [logged] = await host.logged("forged");
  assert.equal(logged.seq, 1);
  assert.notEqual(logged.received, AT);
  assert.notEqual(logged.crc, "00000000");
});

test("charters_that_bring_the_same_match_at_the_same_moment_are_all_welcome", async (t) => {
  const host = await Host.start(t);
  for (let round = 1; round <= 5; round += 1) {
    const header = headerFor(`round-${round}`);
    const court = `c${round}`;
    const charters = await Promise.all(["tablet", "phone", "laptop"].map(() => Charter.connect(host, { court })));
    const answers = await Promise.all(charters.map((charter) => charter.hello({ client: "any", chart: header })));
    assert.deepEqual(
      answers.map(({ type, match }) => ({ type, match })),
      answers.map(() => ({ type: "welcome", match: header })),
      JSON.stringify(answers),
    );
    await Promise.all(charters.map((charter) => charter.close()));
  }
});

test("two_charters_share_a_chart_and_no_entry_is_lost_or_doubled", async (t) => {
  const host = await Host.start(t);
  const header = headerFor("two", { points: 99, games: 5 });
  const names = ["tablet", "phone"];
  const charters = [];
  for (const client of names) charters.push(await Charter.welcomed(host, { client, chart: header }));
  const own = names.map((name) =>
    numbered(rallies("ab".repeat(60))).map((one) => ({ ...one, id: `${name}-${one.id}` })),
  );
  const answers = (await Promise.all(charters.map((charter, place) => charter.chart(own[place])))).flat();
  assert.deepEqual(
    answers.map(({ seq }) => seq).sort((one, other) => one - other),
    Array.from({ length: 240 }, (_, index) => index + 1),
  );
  const logged = await host.logged("two");
  names.forEach((client, place) => {
    const ids = logged.filter(({ id }) => id.startsWith(client)).map(({ id }) => id);
    assert.deepEqual(
      ids,
      own[place].map(({ id }) => id),
      `the entries of ${client} keep their order`,
    );
  });
});

test("a_charter_is_told_that_another_one_is_there", async (t) => {
  const host = await Host.start(t);
  const header = headerFor("company");
  const tablet = await Charter.welcomed(host, { client: "tablet", chart: header });
  await Charter.welcomed(host, { client: "phone", chart: header });
  assert.match(await tablet.notice(), /phone/);
});

test("entries_for_a_match_that_has_left_the_court_do_not_get_into_the_next_one", async (t) => {
  const host = await Host.start(t);
  const tablet = await Charter.welcomed(host, {
    client: "tablet",
    chart: headerFor("before", { points: 2, games: 1 }),
  });
  await tablet.chart(numbered(rallies("aa")));
  await Charter.welcomed(host, { client: "phone", chart: headerFor("next") });
  const answer = await tablet.say(asEntries(entry("n1", { kind: "note", text: "late word" })));
  assert.deepEqual([answer.type, answer.id, answer.code], ["refused", "n1", "other_match"]);
  assert.ok(answer.message.includes("next"), answer.message);
  assert.equal(JSON.parse(await host.now()).seq, 0);
  assert.equal((await host.logged("before")).length, 2);
});

test("a_page_of_another_site_may_not_write", async (t) => {
  const host = await Host.start(t);
  for (const origin of [
    "https://elsewhere.example",
    `https://elsewhere.example:${host.port}`,
    "null",
    `http://127.0.0.1:${host.port + 1}`,
  ]) {
    await assert.rejects(Charter.connect(host, { headers: { origin } }), (error) => {
      assert.ok(error instanceof Refused, String(error));
      assert.equal(error.status, 403, origin);
      return true;
    });
  }
  const own = await Charter.connect(host, { headers: { origin: `http://${host.address}` } });
  assert.equal((await own.hello({ client: "page", chart: headerFor("own") })).type, "welcome");
});

test("a_connection_that_breaks_the_protocol_is_closed_and_the_host_goes_on", async (t) => {
  const host = await Host.start(t);
  // A message that is not read to its end makes the kernel reset the connection,
  // and the reset can overtake the close frame on its way to the client.
  const faults = [
    [[1003], ({ socket }) => socket.sendBinary(Buffer.from("{}"))],
    [[1007], ({ socket }) => socket.sendText(Buffer.from([0x7b, 0xff, 0xfe, 0x7d]))],
    [[1009, 1006], ({ socket }) => socket.send("x".repeat(2 * 1024 * 1024))],
  ];
  for (const [codes, commit] of faults) {
    const charter = await Charter.connect(host);
    commit(charter);
    const { code } = await charter.socket.whenClosed();
    assert.ok(codes.includes(code), `closed with ${code}, not ${codes}`);
  }
  const charter = await Charter.welcomed(host, { chart: headerFor("going-on") });
  assert.equal((await charter.chart(numbered(rallies("a"))))[0].seq, 1);
});

test("messages_full_of_slips_are_refused_one_by_one_and_stop_nobody", async (t) => {
  const host = await Host.start(t);
  const header = headerFor("slips");
  const charter = await Charter.welcomed(host, { chart: header });
  const dice = new Dice(3);
  const whole = JSON.stringify(asEntries(...STANDING));
  let accepted = 0;
  for (let message = 0; message < 400; message += 1) {
    const letters = [...whole];
    for (let slips = dice.between(1, 4); slips > 0; slips -= 1) {
      const place = dice.between(0, letters.length - 1);
      letters[place] = dice.pick([
        "",
        '"',
        "{",
        "}",
        "[",
        "]",
        ",",
        ":",
        "\\",
        "\n",
        "0",
        "\u00e9",
        letters[dice.between(0, letters.length - 1)],
      ]);
    }
    charter.socket.send(letters.join(""));
    charter.socket.send({ type: "beat" });
    for (let type = null; type !== "beat"; ) {
      ({ type } = (await charter.socket.receive("an answer")).message);
      assert.ok(["accepted", "refused", "welcome", "beat"].includes(type), type);
      accepted += type === "accepted" ? 1 : 0;
    }
  }
  assert.ok(accepted > 0, "some slips do no harm");
  const logged = await host.logged(header.id);
  assert.equal(new Set(logged.map(({ id }) => id)).size, logged.length);
  const { status, stdout } = await rallytide(["check", host.logFile(header.id)]);
  assert.equal(status, 0, stdout);
});

test("links_with_slips_in_them_do_not_fill_the_host_with_courts", async (t) => {
  const host = await Host.start(t);
  let refusal = null;
  for (let court = 1; refusal === null && court <= 500; court += 1) {
    try {
      (await Charter.connect(host, { court: `c${court}` })).socket.terminate();
    } catch (error) {
      assert.ok(error instanceof Refused, String(error));
      refusal = { court, status: error.status };
    }
  }
  assert.deepEqual(refusal, { court: 201, status: 503 });
  const charter = await Charter.welcomed(host, { court: "c1", chart: headerFor("still") });
  assert.equal(charter.welcome.court, "c1");
});

test("a_client_that_sends_and_goes_has_its_entries_in_the_log", async (t) => {
  const host = await Host.start(t);
  const charter = await Charter.welcomed(host, { chart: headerFor("gone", { points: 99 }) });
  charter.send(numbered(rallies("ab".repeat(20))));
  await charter.close();
  const logged = await until("all entries to be in the log", async () => {
    const entries = await host.logged("gone");
    return entries.length === 40 && entries;
  });
  assert.deepEqual(
    logged.map(({ seq }) => seq),
    Array.from({ length: 40 }, (_, index) => index + 1),
  );
});
