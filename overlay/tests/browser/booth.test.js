// The booth: numbers with their samples, evidence, prompts that hold still.

import assert from "node:assert/strict";
import { test } from "node:test";
import { until } from "../support/browser.js";
import { seeText, useStage } from "../support/stage.js";
import { HEADER, held, initiative, rally, reading, reason, shot, snapshot, update } from "../support/states.js";

const BOOTH = "/courts/1/booth";
const TABLET = { viewport: { width: 1280, height: 800 }, hasTouch: true };
const stage = useStage();

const prompt = (slot, seq, text) =>
  reading("prompt", null, { type: "text", text }, { slot, seq, why: [reason("air", "a", "r12s3")] });
const promptTexts = (page) => page.locator("rt-prompt-list summary").allInnerTexts();
const withReadings = (...more) => ({ ...held("b"), readings: [...held("b").readings, ...more] });

test("the_booth_asks_in_its_own_role_and_shows_score_and_state", () =>
  stage.play({ path: BOOTH, greeting: held("b"), context: TABLET }, async (page, host) => {
    await seeText(page, "rt-evidence .rt-headline", "Fenn / Tarrow on offense");
    await seeText(page, "rt-score-plate", "5–3–1");
    await seeText(page, "rt-score-plate", "Lise Tarrow");
    await seeText(page, "rt-score-plate", "2 time-outs left");
    await seeText(page, ".title", HEADER.title);
    assert.match(host.asked[0], /role=booth$/);
  }));

test("a_reason_leads_to_its_shot_in_words", () =>
  stage.play({ path: BOOTH, greeting: held("b"), context: TABLET }, async (page) => {
    await seeText(page, "rt-evidence .rt-reasons", "Quill / Abara: taken in the air");
    await seeText(page, "rt-evidence .rt-reasons", "shot 3, Fenn / Tarrow: drop");
  }));

test("numbers_stand_side_by_side_with_their_samples", () =>
  stage.play({ path: BOOTH, greeting: held("b"), context: TABLET }, async (page, host) => {
    const row = page.locator("rt-team-numbers tr", { hasText: "Came out of pressure" });
    await row.waitFor();
    const cells = (await row.locator("td").allInnerTexts()).map((text) => text.trim());
    assert.deepEqual(cells, ["2 of 3", "9 of 14 (64%)\n39 to 84%"], "a range only where there is a percentage");
    await seeText(page, "rt-team-numbers .rt-note", "likely true value");
    host.send(update(42, { gone: [{ indicator: "escape.share", team: "b", player: null, slot: null }] }));
    await seeText(page, "rt-team-numbers", "not available");
  }));

test("a_slot_that_one_team_has_and_the_other_not_yet_is_none_yet_and_no_fault", () =>
  stage.play(
    {
      path: BOOTH,
      greeting: withReadings(reading("speedup.won", "a", { type: "share", part: 0, whole: 1 }, { slot: "other" })),
      context: TABLET,
    },
    async (page) => {
      const row = page.locator("rt-team-numbers tr", { hasText: "Other speedups, won" });
      await row.waitFor();
      assert.deepEqual(
        (await row.locator("td").allInnerTexts()).map((text) => text.trim()),
        ["0 of 1", "none yet"],
      );
    },
  ));

test("where_the_score_alone_is_charted_numbers_about_shots_stay_away", () => {
  const none = (indicator, team) => reading(indicator, team, { type: "share", part: 0, whole: 0 });
  const readings = [
    none("escape.share", "a"),
    none("escape.share", "b"),
    reading("gift.share", "a", { type: "share", part: 0, whole: 3 }),
    reading("serve.won", "a", { type: "share", part: 3, whole: 5 }),
    reading("rally.longest", null, { type: "count", n: 0 }),
  ];
  const end = { entry: "r12e", won_by: "a", how: null, by: null };
  const greeting = snapshot({ readings, rally: { number: 12, shots: [], end, earlier: [] } });
  return stage.play({ path: BOOTH, greeting, context: TABLET }, async (page, host) => {
    await seeText(page, "rt-team-numbers", "3 of 5");
    const said = await page.locator("rt-team-numbers").innerText();
    assert.match(said, /Charted: score only/);
    assert.doesNotMatch(said, /pressure|unpressed|Longest/);
    host.send(update(42, { readings: [reading("rally.longest", null, { type: "count", n: 4 })] }));
    await seeText(page, "rt-team-numbers", "Came out of pressure");
    assert.equal(await page.getByText("Charted: score only").isVisible(), false);
  });
});

test("what_nobody_charted_is_said_so_and_is_no_zero", () => {
  const none = { type: "share", part: 0, whole: 0 };
  const greeting = withReadings(
    ...["a", "b"].flatMap((team) => [
      reading("sitter.punished", team, none),
      reading("gift.share", team, none),
      reading("offense.finished", team, none),
    ]),
  );
  return stage.play({ path: BOOTH, greeting }, async (page) => {
    const cells = (label) => page.locator("rt-team-numbers tr", { hasText: label }).locator("td").allInnerTexts();
    await seeText(page, "rt-team-numbers", "Won off a high ball");
    assert.deepEqual(await cells("Won off a high ball"), ["none marked", "none marked"]);
    assert.deepEqual(await cells("Lost by an unforced error"), ["not charted", "not charted"]);
    assert.deepEqual(await cells("Attacks won"), ["none yet", "none yet"]);
    await seeText(page, "rt-team-numbers", "Charted: every shot");
  });
});

test("rallies_under_pressure_lead_the_numbers", () => {
  const share = (indicator, part, whole) => reading(indicator, "a", { type: "share", part, whole });
  return stage.play(
    { path: BOOTH, greeting: withReadings(share("pressed.won", 26, 58), share("unpressed.won", 32, 41)) },
    async (page) => {
      await seeText(page, "rt-team-numbers", "Rallies won under pressure");
      const rows = await page.locator("rt-team-numbers tbody tr").allInnerTexts();
      assert.match(rows[0], /26 of 58.*Rallies won under pressure/s);
      assert.match(rows[1], /32 of 41.*otherwise/s);
    },
  );
});

test("from_how_many_cases_on_a_share_is_a_percentage_is_the_pages_to_say", () =>
  stage.play(
    {
      path: `${BOOTH}?min-cases=10`,
      greeting: withReadings(reading("gift.share", "a", { type: "share", part: 4, whole: 9 })),
      context: TABLET,
    },
    async (page) => {
      await seeText(page, "rt-team-numbers", "9 of 14 (64%)");
      await seeText(page, "rt-team-numbers", "4 of 9");
      assert.doesNotMatch(await page.locator("rt-team-numbers").innerText(), /44%/);
      for (const [name, said] of [
        ["escape.share", "9 of 14 (64%), range 39 to 84%"],
        ["gift.share", "4 of 9"],
      ]) {
        await page.getByLabel("Add a statistic").fill(name);
        await page.keyboard.press("Enter");
        await seeText(page, "rt-own-numbers", said);
      }
      assert.doesNotMatch(await page.locator("rt-own-numbers").innerText(), /44%/);
    },
  ));

test("a_later_hosts_numbers_appear_by_their_type_and_the_charters_tempo_does_not", () =>
  stage.play({ path: BOOTH, greeting: held("b"), context: TABLET }, async (page, host) => {
    await seeText(page, "rt-team-numbers", "Came out of pressure");
    host.send(
      update(42, {
        readings: [
          reading("win.match", "a", { type: "chance", p: 0.62 }),
          reading("third.won", "b", { type: "share", part: 3, whole: 5 }, { slot: "drop" }),
          reading("rally.tempo", null, { type: "duration", ms: 700 }),
          reading("somebody.elses", "a", { type: "count", n: 3 }),
        ],
      }),
    );
    await seeText(page, "rt-team-numbers", "62%");
    await seeText(page, "rt-team-numbers", "3 of 5");
    const text = await page.locator("rt-team-numbers").innerText();
    assert.doesNotMatch(text, /tempo|0\.7 s|somebody/);
  }));

test("at_most_three_prompts_stand_newest_first", () =>
  stage.play(
    {
      path: BOOTH,
      greeting: withReadings(
        prompt("p1", 50, "one"),
        prompt("p2", 53, "two"),
        prompt("p3", 51, "three"),
        prompt("p4", 52, "four"),
      ),
      context: TABLET,
    },
    async (page) => {
      await seeText(page, "rt-prompt-list", "two");
      assert.deepEqual(await promptTexts(page), ["two", "four", "three"]);
    },
  ));

test("nothing_moves_under_a_pointer_and_the_newer_waits_behind_a_button", () =>
  stage.play(
    { path: BOOTH, greeting: withReadings(prompt("p1", 50, "one"), prompt("p2", 51, "two")), context: TABLET },
    async (page, host) => {
      await seeText(page, "rt-prompt-list", "two");
      await page.locator("rt-prompt-list summary").first().hover();
      host.send(update(42, { readings: [prompt("p3", 52, "three")] }));
      await seeText(page, "rt-prompt-list button", "Show 1 newer");
      assert.deepEqual(await promptTexts(page), ["two", "one"]);
      // The way of a mouse, over the gap between list and button.
      const { x, y, width, height } = await page.locator("rt-prompt-list .rt-newer").boundingBox();
      await page.mouse.move(x + width / 2, y + height / 2, { steps: 20 });
      assert.deepEqual(await promptTexts(page), ["two", "one"]);
      await page.mouse.down();
      await page.mouse.up();
      await seeText(page, "rt-prompt-list summary", "three");
      assert.deepEqual(await promptTexts(page), ["three", "two", "one"]);
      assert.equal(await page.locator("rt-prompt-list .rt-newer").isVisible(), false);
    },
  ));

test("the_evidence_of_a_prompt_reads_as_words_with_its_figure_and_its_shot", () => {
  const line = reading(
    "prompt",
    null,
    { type: "text", text: "Fenn and Tarrow have won 4 of 9 rallies with a third-shot drop, and 1 of 2 with a drive." },
    {
      slot: "r0012.01.compare",
      why: [
        reason("escape.share", "b", "r12s3"),
        reason("erne", "b", "r12s3"),
        reason("third.won/drop", "b", "r12s3"),
        reason("third.won/drive", "b", "r3s3"),
        reason("win.swing", null, "r3s3"),
        reason("point", "a", "r12e"),
      ],
    },
  );
  const drops = reading("third.won", "b", { type: "share", part: 4, whole: 9 }, { slot: "drop" });
  const drives = reading("third.won", "b", { type: "share", part: 1, whole: 2 }, { slot: "drive" });
  const swing = reading("win.swing", null, { type: "chance", p: 0.31 });
  return stage.play(
    { path: BOOTH, greeting: withReadings(line, drops, drives, swing), context: TABLET },
    async (page) => {
      await page.locator("rt-prompt-list summary").click();
      await seeText(page, "rt-prompt-list .rt-reasons", "won with a third-shot drop");
      assert.deepEqual(
        await page.locator("rt-prompt-list .rt-reasons li").evaluateAll((rows) =>
          rows.map((row) =>
            [...row.children]
              .map((part) => part.textContent)
              .filter(Boolean)
              .join(" | "),
          ),
        ),
        [
          "Fenn / Tarrow: came out of pressure, 9 of 14 (64%), range 39 to 84% | shot 3, Fenn / Tarrow: drop",
          "Fenn / Tarrow: the erne | shot 3, Fenn / Tarrow: drop",
          "Fenn / Tarrow: won with a third-shot drop, 4 of 9 (44%), range 19 to 73% | shot 3, Fenn / Tarrow: drop",
          "Fenn / Tarrow: won with a third-shot drive, 1 of 2",
          "Swing of the next rally, 31%",
          "The score, 5–3–1",
        ],
      );
    },
  );
});

test("an_open_prompt_with_the_focus_stays_open_and_in_place", () =>
  stage.play(
    { path: BOOTH, greeting: withReadings(prompt("p1", 50, "one"), prompt("p2", 51, "two")), context: TABLET },
    async (page, host) => {
      await seeText(page, "rt-prompt-list", "two");
      await page.locator("rt-prompt-list summary").last().focus();
      await page.keyboard.press("Enter");
      await seeText(page, "rt-prompt-list .rt-reasons", "shot 3, Fenn / Tarrow: drop");
      host.send(update(42, { readings: [prompt("p3", 52, "three")] }));
      await seeText(page, "rt-prompt-list button", "1 newer");
      assert.deepEqual(await promptTexts(page), ["two", "one"]);
      assert.equal(await page.evaluate(() => document.activeElement.textContent), "one");
      await page.keyboard.press("Shift+Tab");
      await page.evaluate(() => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve))));
      assert.deepEqual(await promptTexts(page), ["two", "one"], "moving on within the list lets nothing move");
      await page.evaluate(() => document.activeElement.blur());
      await seeText(page, "rt-prompt-list summary", "three");
      assert.equal(await page.locator("rt-prompt-list details[open]").count(), 1);
    },
  ));

test("the_evidence_of_a_prompt_opens_its_rallys_ribbon_with_the_shots_in_words", () => {
  const end = { entry: "r11e", won_by: "a", how: "winner", by: "a" };
  const shots = [
    shot(1, "a", "serve", { entry: "r11s1", contact: null }),
    shot(2, "b", "return", { entry: "r11s2" }),
    shot(3, "a", "drive", { entry: "r11s3", toward: "b", strength: 1 }),
  ];
  const greeting = withReadings(
    reading(
      "prompt",
      null,
      { type: "text", text: "one" },
      { slot: "p1", seq: 50, why: [reason("air", "a", "r11s3"), reason("point", "a", "r11e")] },
    ),
  );
  greeting.rally = { ...greeting.rally, earlier: [{ number: 11, shots, end }] };
  return stage.play({ path: BOOTH, greeting, context: TABLET }, async (page, host) => {
    await seeText(page, "rt-prompt-list", "one");
    assert.equal(await page.locator("rt-prompt-rally").isVisible(), false, "one tap away");
    await page.locator("rt-prompt-list summary").tap();
    await seeText(page, "rt-prompt-rally", "Rally 11: won by Quill / Abara, winner");
    assert.equal(await page.locator("rt-prompt-rally .rt-mark").count(), 3);
    const lines = await page.locator("rt-prompt-rally .rt-shots li").allInnerTexts();
    assert.deepEqual(
      lines.map((line) => line.replaceAll(/\s+/g, " ")),
      ["Quill / Abara: serveneutral", "Fenn / Tarrow: returnneutral", "Quill / Abara: driveFenn / Tarrow on offense"],
    );
    assert.match(await page.locator("rt-prompt-rally [data-meant]").innerText(), /drive/);
    const isInSight = () =>
      page.evaluate(() => {
        const [shot, place] = ["rt-prompt-rally [data-meant]", ".rt-behind"].map((one) =>
          document.querySelector(one).getBoundingClientRect(),
        );
        return shot.top >= place.top && shot.bottom <= place.bottom + 1;
      });
    await until(isInSight, "the shot that is meant in sight");
    const kept = await page.locator("rt-prompt-rally").evaluateHandle((node) => node);
    host.send(update(42, { rally: { number: 12, shots: [shot(4, "a", "reset")] } }));
    await seeText(page, "rt-rally-ribbon", "reset");
    assert.ok(await kept.evaluate((node) => node.isConnected), "it stays as it is while play goes on");
  });
});

test("the_last_rallies_open_to_their_shots_in_words", () =>
  stage.play({ path: BOOTH, greeting: held("b"), context: TABLET }, async (page, host) => {
    await seeText(page, "rt-earlier-rallies", "No rally has ended yet");
    const end = { entry: "r12e", won_by: "b", how: "out", by: "a" };
    host.send(update(42, { readings: [initiative(null)], rally: { number: 12, shots: [], end } }));
    await seeText(page, "rt-earlier-rallies summary", "Rally 12: won by Fenn / Tarrow, ball out by Quill / Abara");
    await page.locator("rt-earlier-rallies summary").click();
    await seeText(page, "rt-earlier-rallies .rt-shots", "Fenn / Tarrow: drop");
    host.send(update(43, { rally: { number: 13, shots: [shot(1, "b", "serve", { entry: "r13s1" })] } }));
    await seeText(page, "rt-rally-ribbon", "serve");
    assert.equal(await page.locator("rt-earlier-rallies details[open]").count(), 1);
  }));

test("without_the_initiative_no_shot_of_a_rally_is_called_neutral", () =>
  stage.play(
    {
      path: BOOTH,
      greeting: snapshot({
        readings: [initiative(null)],
        rally: rally(null, { end: { entry: "r12e", won_by: "b", how: "out", by: "a" } }),
      }),
      context: TABLET,
    },
    async (page, host) => {
      await page.locator("rt-earlier-rallies summary").click();
      await seeText(page, "rt-earlier-rallies .rt-where", "neutral");
      host.send(update(42, { gone: [{ indicator: "initiative", team: null, player: null, slot: null }] }));
      await until(
        async () => !(await page.locator("rt-earlier-rallies .rt-shots").innerText()).includes("neutral"),
        "what is not known not to be said",
      );
      await seeText(page, "rt-earlier-rallies .rt-shots", "Fenn / Tarrow: drop");
      // Nor drawn so: the marks of the ribbon stand in a row that leads nowhere.
      for (const place of ["rt-rally-ribbon", "rt-earlier-rallies"]) {
        assert.ok((await page.locator(`${place} .rt-mark`).count()) > 0, place);
        assert.equal(await page.locator(`${place} :is(.rt-axis, .rt-thread, .rt-key)`).count(), 0, place);
      }
      assert.equal(await page.locator("rt-rally-ribbon svg[aria-label*='neutral']").count(), 0);
    },
  ));

test("a_time_out_is_said_large_until_the_next_serve_and_on_a_page_opened_meanwhile", () => {
  const end = { entry: "r12e", won_by: "b", how: "out", by: "a" };
  const between = { id: "t1", kind: "time_out", team: "a" };
  const rest = { ...snapshot(), rally: { ...rally(), end } };
  return stage.play({ path: BOOTH, greeting: rest, context: TABLET }, async (page, host) => {
    await seeText(page, "rt-evidence .rt-headline", "Between rallies");
    host.send(update(42, { entry: between }));
    await seeText(page, "rt-evidence .rt-headline", "Time-out, Quill / Abara");
    await seeText(page, "rt-evidence .rt-detail", "Last rally: won by Fenn / Tarrow");
    await seeText(page, 'rt-score-plate .rt-row[data-team="a"]', "time-out");
    host.greeting = { ...rest, seq: 42, between };
    await page.reload();
    await seeText(page, "rt-evidence .rt-headline", "Time-out, Quill / Abara");
    host.send(
      update(43, {
        entry: { id: "s", kind: "shot" },
        readings: [initiative(null)],
        rally: { number: 13, shots: [shot(1, "b", "serve", { entry: "r13s1" })] },
      }),
    );
    await seeText(page, "rt-evidence .rt-headline", "Neutral");
    assert.equal(await page.locator("rt-score-plate .rt-stake").count(), 0);
  });
});

test("a_stopped_plugin_is_named_with_its_reason", () =>
  stage.play(
    {
      path: BOOTH,
      greeting: snapshot({ unavailable: [{ plugin: "escape", message: "used more time than it may" }] }),
      context: TABLET,
    },
    async (page, host) => {
      await seeText(page, "rt-plugin-faults", "Not available: escape (used more time than it may)");
      host.send(
        snapshot({
          seq: 42,
          unavailable: [
            { plugin: "prompts", message: "it waits for a number which no plugin provides and ".repeat(9) },
          ],
        }),
      );
      await seeText(page, "rt-plugin-faults", "Not available: prompts");
      const { tall, line } = await page
        .locator("rt-plugin-faults li")
        .evaluate((node) => ({ tall: node.clientHeight, line: Number.parseFloat(getComputedStyle(node).fontSize) }));
      assert.ok(tall < 3.6 * line, "a long reason leaves the rallies their room");
      host.send(snapshot({ seq: 43 }));
      await page.locator("rt-plugin-faults li").waitFor({ state: "detached" });
    },
  ));

/** The prompt rows' texts and what their buttons say. */
const promptRows = (page) =>
  page
    .locator("rt-prompt-list .rt-prompts > li")
    .evaluateAll((rows) =>
      rows.map((row) => [...row.querySelectorAll("summary, button")].map((one) => one.textContent).join(" ")),
    );

test("a_pinned_prompt_stays_first_over_newer_ones_and_over_a_reload", () =>
  stage.play(
    { path: BOOTH, greeting: withReadings(prompt("p1", 50, "one"), prompt("p2", 51, "two")), context: TABLET },
    async (page, host) => {
      await seeText(page, "rt-prompt-list", "two");
      await page.getByRole("button", { name: "Pin: one" }).click();
      await page.mouse.move(5, 5);
      await page.evaluate(() => document.activeElement.blur());
      host.send(update(42, { readings: [prompt("p3", 60, "three"), prompt("p4", 61, "four")] }));
      await until(
        async () => (await promptRows(page)).join() === "one Unpin Dismiss,four Pin Dismiss,three Pin Dismiss",
        "the pinned one to stay first",
      );
      await page.reload();
      await until(async () => (await promptRows(page))[0] === "one Unpin Dismiss", "the pin to be remembered");
      host.send(update(43, { gone: [{ indicator: "prompt", team: null, player: null, slot: "p1" }] }));
      await until(
        async () => !(await promptRows(page)).join().includes("one"),
        "what the host takes back to go though pinned",
      );
    },
  ));

test("a_prompt_waved_away_goes_when_the_finger_leaves_stays_away_and_can_come_back", () =>
  stage.play(
    { path: BOOTH, greeting: withReadings(prompt("p1", 50, "one"), prompt("p2", 51, "two")), context: TABLET },
    async (page, host) => {
      await seeText(page, "rt-prompt-list", "two");
      await page.getByRole("button", { name: "Dismiss: two" }).click();
      await until(
        async () => (await promptRows(page)).join() === "two Pin Restore,one Pin Dismiss",
        "the row to stay under the pointer",
      );
      await page.mouse.move(5, 5);
      await page.evaluate(() => document.activeElement.blur());
      await until(async () => (await promptRows(page)).join() === "one Pin Dismiss", "the row to go");
      await page.reload();
      await until(async () => (await promptRows(page)).join() === "one Pin Dismiss", "it to stay away");
      host.send(update(42, { readings: [prompt("p2", 60, "two anew")] }));
      await until(async () => (await promptRows(page)).length === 2, "other words in its slot to be shown");
      host.send(update(43, { readings: [prompt("p2", 61, "two")] }));
      await page.getByRole("button", { name: "Restore 1 dismissed" }).click();
      await until(async () => (await promptRows(page)).join() === "two Pin Dismiss,one Pin Dismiss", "it to come back");
    },
  ));

test("any_statistic_can_be_added_by_its_words_and_is_remembered", () =>
  stage.play(
    { path: BOOTH, greeting: withReadings(reading("my.pace", "a", { type: "duration", ms: 1500 })), context: TABLET },
    async (page, host) => {
      await seeText(page, "rt-team-numbers", "Came out of pressure");
      const field = page.getByLabel("Add a statistic");
      assert.deepEqual(await page.locator("rt-own-numbers option").evaluateAll((all) => all.map((one) => one.value)), [
        "Came out of pressure",
        "Current streak out of pressure",
        "initiative",
        "my pace",
      ]);
      await field.fill("no name");
      await page.keyboard.press("Enter");
      await seeText(page, "rt-own-numbers", "There is no statistic “no name”. Choose one from the list.");
      await field.fill("My pace");
      await page.keyboard.press("Enter");
      await seeText(page, "rt-own-numbers", "1.5 s");
      await page.reload();
      await seeText(page, "rt-own-numbers", "1.5 s");
      host.send(update(42, { gone: [{ indicator: "my.pace", team: "a", player: null, slot: null }] }));
      await seeText(page, "rt-own-numbers", "my pace: not available");
      await page.getByRole("button", { name: "Remove my pace" }).click();
      await until(async () => (await page.locator("rt-own-numbers li").count()) === 0, "it to be removed");
    },
  ));

/** As long as lines get. */
const LONGEST_LINE =
  "Off high balls, Fenn and Tarrow have won 18 of 19 rallies, against 13 of 20 for Quill and Abara-Brandvik.";

for (const viewport of [
  { width: 1366, height: 768 },
  { width: 1280, height: 720 },
]) {
  test(`on_a_laptop_of_${viewport.height}_lines_nothing_of_the_booth_is_below_the_fold`, () => {
    const many = Array.from({ length: 24 }, (_, at) => reading(`club.number_${at}`, "a", { type: "count", n: at }));
    const three = ["one", "two", "three"].map((slot, at) => prompt(slot, 41 - at, LONGEST_LINE));
    return stage.play(
      { path: BOOTH, greeting: withReadings(...many, ...three), context: { viewport } },
      async (page) => {
        await seeText(page, "rt-evidence .rt-headline", "Fenn / Tarrow on offense");
        for (const { indicator } of many.slice(0, 8)) {
          await page.getByLabel("Add a statistic").fill(indicator);
          await page.getByRole("button", { name: "Add" }).press("Enter");
        }
        const room = await page.evaluate(() => ({ page: document.documentElement.scrollHeight, seen: innerHeight }));
        assert.equal(room.page, room.seen, "the page does not scroll");
        const rallies = await page.locator(".rallies").boundingBox();
        assert.ok(
          rallies !== null && rallies.height >= 90 && rallies.y + rallies.height <= viewport.height,
          JSON.stringify(rallies),
        );
        const prompts = await page.locator(".say").boundingBox();
        const last = await page.locator("rt-prompt-list summary").last().boundingBox();
        assert.ok(
          prompts !== null && last !== null && last.y + last.height <= prompts.y + prompts.height,
          `three prompts are seen whole: ${JSON.stringify([prompts, last])}`,
        );
      },
    );
  });
}

test("on_a_phone_what_to_say_comes_before_the_tide_and_the_ribbon_and_is_in_sight", () =>
  stage.play(
    {
      path: BOOTH,
      greeting: withReadings(prompt("one", 41, "Fenn and Tarrow have come out of pressure.")),
      context: { viewport: { width: 390, height: 844 }, hasTouch: true },
    },
    async (page) => {
      await seeText(page, "rt-evidence .rt-headline", "Fenn / Tarrow on offense");
      const [state, say, tide, ribbon] = await Promise.all(
        [".state", ".say", "rt-tide-line", ".now rt-rally-ribbon"].map(
          async (part) => (await page.locator(part).boundingBox())?.y ?? -1,
        ),
      );
      assert.ok(state < say && say < tide && tide < ribbon, JSON.stringify([state, say, tide, ribbon]));
      const first = await page.locator("rt-prompt-list summary").first().boundingBox();
      assert.ok(first !== null && first.y + first.height < 844, JSON.stringify(first));
    },
  ));
