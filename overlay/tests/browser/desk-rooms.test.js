// The desk's corrections, graphic, plugins, files and keys; and that everybody can
// use them: axe, keyboard, sizes, what is announced.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { test } from "node:test";
import { until } from "../support/browser.js";
import { FakeDesk } from "../support/fake-desk.js";
import { seeText, useStage } from "../support/stage.js";
import { HEADER, SCORE, held } from "../support/states.js";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
const stage = useStage();
const LAPTOP = { viewport: { width: 1366, height: 768 } };

const atDesk = (desk, room, scene, more = {}) =>
  stage.play({ path: `/desk${room}`, desk, context: LAPTOP, ...more }, async (page, host) => {
    await seeText(page, ".line", "Connected");
    await scene(page, host);
  });
const said = (page, text) => seeText(page, ".said", text);
const press = (page, name) => page.getByRole("button", { name }).filter({ visible: true }).first().click();

const ENTRIES = [
  {
    seq: 41,
    entry: { id: "e41", at: "t", kind: "rally_end", won_by: "b", how: "net", by: "a" },
    state: "original",
    score: SCORE,
    rally: 12,
  },
  {
    seq: 40,
    entry: { id: "e40", at: "t", kind: "shot", team: "a", stroke: "drop", cues: ["attackable"] },
    state: "amended",
    correction: "c1",
    score: SCORE,
    rally: 12,
  },
  {
    seq: 39,
    entry: { id: "e39", at: "t", kind: "shot", team: "b", stroke: "return" },
    state: "retracted",
    score: SCORE,
    rally: 12,
  },
];
function playing() {
  const desk = new FakeDesk().play("1", { ...HEADER, id: "m1" });
  desk.entries = ENTRIES;
  return desk;
}

async function openCorrections(page) {
  await press(page, /^Correct …/);
  await seeText(page, ".entries", "Rally 12: net by Quill / Abara");
}

test("a_correction_shows_what_it_does_before_it_is_made_and_can_be_taken_back", () => {
  const desk = playing();
  return atDesk(desk, "", async (page) => {
    await openCorrections(page);
    await press(page, "Rally 12: net by Quill / Abara");
    assert.equal(await page.getByRole("button", { name: "Apply" }).isVisible(), false);
    await page.getByLabel("Won by").first().selectOption("a");
    await seeText(page, ".effect", "Rally 7: Fenn / Tarrow won, 5-3-1 → Quill / Abara won, 4-4-1");
    await seeText(page, ".effect .after", "Quill / Abara 4, Fenn / Tarrow 4");
    assert.deepEqual(desk.writes(), ["POST /courts/1/preview"]);
    await press(page, "Apply");
    await said(page, "Corrected. Open pages follow at once.");
    const [{ body }] = desk.asked
      .filter(({ path }) => path === "/courts/1/entries")
      .filter(({ method }) => method === "POST");
    const { id, at, ...amend } = body.entries[0];
    assert.deepEqual(amend, {
      kind: "amend",
      target: "e41",
      with: { kind: "rally_end", won_by: "a", how: "net", by: "b" },
    });
    assert.match(at, /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/);
    await press(page, "Undo");
    await said(page, "The correction is undone.");
    const undone = desk.asked.filter(({ path, method }) => path === "/courts/1/entries" && method === "POST").at(-1)
      .body.entries[0];
    assert.deepEqual([undone.kind, undone.target], ["retract", id]);
  });
});

test("what_the_host_refuses_in_the_preview_cannot_be_made", () => {
  const desk = playing();
  desk.preview = {
    ...desk.preview,
    refused: [{ id: "x", code: "contradiction", message: "`won_by` and `how` do not agree" }],
  };
  return atDesk(desk, "", async (page) => {
    await openCorrections(page);
    await press(page, "Rally 12: drop, Quill / Abara");
    await press(page, "Remove it");
    await seeText(page, ".effect", "Not possible: “won_by” and “how” do not agree.");
    assert.equal(await page.getByRole("button", { name: "Apply" }).isVisible(), false);
  });
});

for (const [what, act, expected] of [
  [
    "a_shot_can_be_another_stroke",
    async (page) => {
      await press(page, "Rally 12: drop, Quill / Abara");
      await page.getByLabel("Stroke").first().selectOption("lob");
    },
    { kind: "amend", target: "e40", with: { kind: "shot", team: "a", stroke: "lob", cues: ["attackable"] } },
  ],
  [
    "what_was_removed_can_be_brought_back",
    async (page) => {
      await press(page, "Rally 12: return, Fenn / Tarrow");
      await press(page, "Bring it back");
    },
    { kind: "amend", target: "e39", with: { kind: "shot", team: "b", stroke: "return" } },
  ],
  [
    "a_correction_can_be_taken_back_later",
    async (page) => {
      await press(page, "Rally 12: drop, Quill / Abara");
      await press(page, "Undo correction");
    },
    { kind: "retract", target: "c1" },
  ],
  [
    "what_was_missed_can_be_inserted",
    async (page) => {
      await press(page, "Rally 12: drop, Quill / Abara");
      await page.getByText("Add a missed entry after this").click();
      await page.getByLabel("Struck by").last().selectOption("b");
      await page.getByLabel("Stroke").last().selectOption("dink");
      await press(page, "Add it after this one");
    },
    { kind: "insert", after: "e40", entry: { kind: "shot", team: "b", stroke: "dink" } },
  ],
  [
    "the_referees_word_puts_the_score_right",
    async (page) => {
      await press(page, "Set the score (referee's ruling)");
      await page.getByLabel("Points of Quill / Abara").fill("7");
      await page.getByLabel("Server number").selectOption("2");
    },
    { kind: "score_fix", points: { a: 7, b: 5 }, serving: "b", server: 2, games: { a: 1, b: 0 } },
  ],
]) {
  test(what, () => {
    const desk = playing();
    return atDesk(desk, "", async (page) => {
      await openCorrections(page);
      await act(page);
      await seeText(page, ".effect", "Effect: ");
      const {
        id: _id,
        at: _at,
        ...entry
      } = desk.asked.filter(({ path }) => path.endsWith("/preview")).at(-1).body.entries[0];
      assert.deepEqual(entry, expected);
    });
  });
}

test("any_number_of_any_plugin_is_put_on_the_graphic_by_clicking_or_by_name", () => {
  const desk = playing();
  desk.plugins.plugins.push({ ...desk.plugins.plugins[0], id: "club", provides: ["club.mood"], built_in: false });
  return atDesk(desk, "#graphic", async (page, host) => {
    const offered = page.getByLabel("Add a statistic");
    await until(
      async () => (await offered.locator("option").allInnerTexts()).includes("club mood (club.mood)"),
      "the plugin's number to be offered",
    );
    await offered.selectOption("club.mood");
    await press(page, "Add the chosen statistic");
    await seeText(page, ".graphic-room .address", `${host.url}/courts/1/graphic?show=club.mood`);
    await page.getByText("Another one, by its name in a plugin", { exact: true }).click();
    await page.getByLabel("Indicator name").fill("Third won");
    await page.keyboard.press("Enter");
    await seeText(page, ".fault", "A name of small letters");
    await page.getByLabel("Indicator name").fill("third.won/drop");
    await page.keyboard.press("Enter");
    await page.getByLabel("Position of: the extra statistics").selectOption("top-right");
    const link = `${host.url}/courts/1/graphic?show=club.mood,third.won/drop&at=show:top-right`;
    await seeText(page, ".graphic-room .address", link);
    await until(
      async () => (await page.locator(".screen iframe").getAttribute("src")) === link,
      "the preview to follow",
    );
    await press(page, "Remove: club mood (club.mood)");
    await seeText(page, ".graphic-room .address", `${host.url}/courts/1/graphic?show=third.won/drop&at=show:top-right`);
  });
});

test("the_graphic_is_composed_by_clicking_and_the_preview_follows", () =>
  atDesk(
    playing(),
    "#graphic",
    async (page, host) => {
      await until(
        async () =>
          (
            await page
              .frameLocator("iframe")
              .locator("rt-strap")
              .innerText()
              .catch(() => "")
          ).includes("Quill"),
        "the preview to show the court",
      );
      await page.getByLabel("After a long rally").first().uncheck();
      await page.getByLabel("Style").selectOption("light");
      await page.getByLabel("Position of: Score strap").selectOption("bottom-left");
      await page.getByLabel("Delay in seconds").fill("2,5");
      const link = `${host.url}/courts/1/graphic?pieces=strap&at=strap:bottom-left&theme=light&delay=2.5s`;
      await seeText(page, ".graphic-room .address", link);
      await until(async () => (await page.locator("iframe").getAttribute("src")) === link, "the preview to follow");
      await page.reload();
      await seeText(page, ".graphic-room .address", link);
      const another = await page.context().newPage();
      await another.goto(`${host.url}/desk#graphic`);
      await seeText(another, ".graphic-room .address", link);
      await another.close();
      await press(page, "Reset");
      const address = page.locator(".graphic-room .address");
      await until(
        async () => (await address.innerText()) === `${host.url}/courts/1/graphic`,
        "the link to be the plain one",
      );
      await press(page, "Undo");
      await seeText(page, ".said", "as they were");
      assert.equal(await address.innerText(), link);
      assert.equal(await page.getByLabel("Delay in seconds").inputValue(), "2.5");
    },
    { greeting: held("a") },
  ));

test("a_preview_out_of_sight_is_no_viewer", () =>
  atDesk(
    playing(),
    "#graphic",
    async (page, host) => {
      await until(() => host.connected === 1, "the preview to look on");
      await page.getByRole("link", { name: "Courts" }).click();
      await until(() => host.connected === 0, "the preview to be gone");
      await page.getByRole("link", { name: "Graphic" }).click();
      await until(() => host.connected === 1, "the preview to be back");
    },
    { greeting: held("a") },
  ));

test("the_delay_is_found_by_watching_the_picture", () => {
  const desk = playing();
  return atDesk(desk, "#graphic", async (page) => {
    await press(page, "I see the rally end now");
    await seeText(page, ".graphic-room", "No rally end has come from the charter for this one");
    const heard = page.waitForResponse(
      async (response) =>
        response.url().endsWith("/desk/state") && (await response.text()).includes('"kind":"rally_end"'),
    );
    desk.court("1").last_entry = {
      id: "e42",
      kind: "rally_end",
      at: "",
      received: new Date(Date.now() - 20_000).toISOString(),
    };
    await heard;
    await press(page, "Start over");
    await press(page, "I see the rally end now");
    await seeText(page, ".graphic-room", /You saw one end 2\d\.\d s after the host heard of it/);
    await press(page, /^Use 2\d\.\d s$/);
    await until(
      async () => /delay=2\d(\.\d)?s$/.test(await page.locator(".graphic-room .address").innerText()),
      "the link to hold the delay",
    );
  });
});

test("a_plugins_fault_its_settings_and_its_switch_are_at_hand", () => {
  const desk = playing();
  return atDesk(desk, "#plugins", async (page) => {
    await seeText(page, ".plugins", "Stopped on court 1");
    await seeText(page, ".plugins .trouble", "Court 1: it used up its fuel");
    await seeText(
      page,
      ".attempts",
      "tempo.wasm: not a plugin. It imports “clock”, which no plugin is given. What to change: Leave out what needs a clock.",
    );
    await page.getByText("2 settings").click();
    await page.getByLabel("Least sample").fill("0");
    await press(page, "Save");
    await seeText(page, ".fault", "A whole number from 1 to 100.");
    assert.deepEqual(desk.writes(), []);
    await page.getByLabel("Least sample").fill("12");
    await press(page, "Save");
    await said(
      page,
      "prompts: least sample is 12 now, it was 8. The match on court has been worked out again with it.",
    );
    assert.deepEqual(desk.plugins.plugins[1].chosen, { least_sample: 12 });
    await press(page, /^Turn off\s+prompts/);
    await said(page, "prompts is off");
    await seeText(page, ".plugins .state", "Off");
    await press(page, "Undo");
    await until(
      async () => (await page.getByRole("button", { name: /^Turn off\s+prompts/ }).count()) === 1,
      "the plugin to be on",
    );
  });
});

test("a_single_setting_keeps_the_focus_says_what_changed_and_can_be_undone", () => {
  const desk = playing();
  return atDesk(desk, "#plugins", async (page) => {
    const chosen = () => desk.plugins.plugins[1].chosen;
    const sample = page.getByLabel("Least sample");
    await page.getByText("2 settings").click();
    await press(page, "Save");
    await said(page, "Nothing to change: prompts runs with these settings already.");
    assert.deepEqual(desk.writes(), []);
    await page.getByLabel("During rally").selectOption("false");
    await sample.fill("12.0");
    await sample.press("Enter");
    await said(page, "prompts: least sample is 12 now, it was 8; during rally is no now, it was yes.");
    await press(page, "Undo");
    await said(page, "prompts: least sample is 8 again; during rally is yes again.");
    assert.deepEqual(
      [chosen(), await sample.inputValue(), await page.getByLabel("During rally").inputValue()],
      [{}, "8", "true"],
    );
    await sample.fill("15");
    await sample.press("Enter");
    await said(page, "prompts: least sample is 15 now, it was 8.");
    assert.ok(await sample.evaluate((field) => field === document.activeElement), "the focus stays in the field");
    await page.getByLabel("During rally").selectOption("false");
    desk.plugins.plugins[1].chosen = { least_sample: 20 };
    await until(async () => (await sample.inputValue()) === "20", "a value chosen at another desk to be shown");
    assert.equal(await page.getByLabel("During rally").inputValue(), "false", "what is typed is left alone");
    await press(page, "Reset");
    await said(page, "prompts: least sample is 8 now, it was 20.");
    assert.deepEqual([chosen(), await page.getByLabel("During rally").inputValue()], [{}, "true"]);
    await press(page, "Undo");
    await said(page, "prompts: least sample is 20 again.");
    assert.deepEqual(chosen(), { least_sample: 20 });
    desk.refusal = "this does not fit: the plugin fails that way";
    await sample.fill("30");
    await sample.press("Enter");
    await said(page, "This does not fit: the plugin fails that way.");
    assert.equal(await sample.inputValue(), "30", "a refusal leaves it where it is");
  });
});

test("a_matchs_files_are_saved_with_what_they_need_to_be_told", () => {
  const desk = playing();
  return atDesk(desk, "#matches/match/m1", async (page) => {
    const saved = async (label) => {
      const [download] = await Promise.all([
        page.waitForEvent("download"),
        page
          .locator(".saves a", { hasText: new RegExp(`^${label}$`) })
          .first()
          .click(),
      ]);
      await said(page, `Saved, where this browser puts its downloads: ${download.suggestedFilename()}`);
      const { path, query } = desk.asked.filter(({ path: one }) => one.startsWith("/matches/m1/")).at(-1);
      return [download.suggestedFilename(), path, query];
    };
    await page.getByText("Download", { exact: true }).click();
    assert.deepEqual(await saved("shots"), ["m1.shots.csv", "/matches/m1/export/shots.csv", {}]);
    await page.getByLabel("Accents look wrong").check();
    assert.deepEqual(await saved("rallies"), ["m1.rallies.csv", "/matches/m1/export/rallies.csv", { bom: "true" }]);
    assert.deepEqual(await saved("page"), ["m1.match.html", "/matches/m1/export/match.html", {}]);
    const place = page.getByLabel("Where in the video the chart starts");
    await place.fill("noon");
    const before = desk.asked.length;
    await page.locator(".saves a", { hasText: "captions" }).click();
    await seeText(page, ".saves .fault", "A place in the video");
    assert.ok(await place.evaluate((field) => field === document.activeElement));
    assert.ok(desk.asked.slice(before).every(({ path }) => !path.includes("captions")));
    await place.fill("-0:40");
    assert.deepEqual(await saved("captions"), [
      "m1.captions.vtt",
      "/matches/m1/export/captions.vtt",
      { offset: "-40" },
    ]);
    assert.match(
      await page.locator(".saves a", { hasText: "chapters" }).getAttribute("href"),
      /\/matches\/m1\/export\/chapters\.vtt\?offset=-40$/,
    );
    assert.deepEqual(await saved("chart"), ["m1.chart.jsonl", "/matches/m1/chart.jsonl", {}]);
    desk.noFile = "all 12 cues end before the video begins";
    await page.locator(".saves a", { hasText: "captions" }).click();
    await said(page, "All 12 cues end before the video begins.");
    await page.reload();
    await page.getByText("Download", { exact: true }).click();
    assert.equal(await place.inputValue(), "-0:40", "what is typed stays in this tab");
  });
});

test("a_host_that_makes_no_exports_offers_what_it_has", () => {
  const desk = playing();
  desk.paths = ["/desk/state", "/matches"];
  return atDesk(desk, "#matches/match/m1", async (page) => {
    await page.getByText("Download", { exact: true }).click();
    await seeText(page, ".saves", "recording");
    assert.deepEqual(await page.locator(".saves a:visible").allInnerTexts(), ["chart", "recording", "statistics"]);
  });
});

test("text_files_and_new_links", () => {
  const desk = playing();
  return atDesk(desk, "#files", async (page) => {
    await page.getByLabel("Folder").fill("/home/me/stream");
    await page.keyboard.press("Enter");
    await said(page, "Writing to /home/me/stream.");
    await press(page, /^New link …\s+for charting laptops$/);
    await seeText(
      page,
      "dialog",
      "pages open with them on other devices are cut off at once, also where a match is on",
    );
    await press(page, "Make a new link");
    await said(page, "The link is new, and 2 open pages with the old one were cut off: hand it out again.");
    assert.equal(desk.links.keys.charter, "new-key");
  });
});

for (const [room, region, ...words] of [
  ["", "Links and QR codes", /cables/, /flash/],
  ["#matches/new", "New match", /guardians of minors.*local law/],
  ["#matches/import", "Import matches", /guardians of minors.*local law/],
  ["#graphic", "Preview", /flash/],
  ["#files", "Text files", /guardians of minors.*local law/],
]) {
  test(`the_caution_stands_at_${region.toLowerCase().replaceAll(" ", "_")}`, () =>
    atDesk(playing(), room, async (page) => {
      if (room === "") await press(page, /^More/);
      const cautions = await page
        .getByRole("region", { name: region, exact: true })
        .locator(".caution:visible")
        .allInnerTexts();
      for (const one of words)
        assert.ok(
          cautions.some((text) => one.test(text)),
          `${one} among ${JSON.stringify(cautions)}`,
        );
    }));
}

const SCENES = [
  ["empty", () => new FakeDesk(), "", async () => {}],
  ["courts", playing, "", async () => {}],
  ["one_court", playing, "", (page) => press(page, /^More/)],
  [
    "corrections",
    playing,
    "",
    async (page) => {
      await openCorrections(page);
      await press(page, "Rally 12: net by Quill / Abara");
      await page.getByLabel("Won by").first().selectOption("a");
      await seeText(page, ".effect", "Effect: ");
    },
  ],
  ["matches", playing, "#matches", async () => {}],
  [
    "new_match",
    playing,
    "#matches/new",
    async (page) => {
      await page.locator("details").evaluateAll((all) => all.forEach((one) => (one.open = true)));
      await press(page, "Add match");
      await page.getByLabel("Team colors").selectOption("yes");
    },
  ],
  [
    "import",
    playing,
    "#matches/import",
    async (page) => {
      await page.locator(".sheet textarea").fill("team_a,team_b\nHeron,Lantern\n");
      await press(page, "Check");
      await seeText(page, ".sheet table", "Heron v Lantern");
    },
  ],
  ["graphic", playing, "#graphic", async () => {}],
  ["plugins", playing, "#plugins", (page) => page.getByText("2 settings").click()],
  ["files", playing, "#files", async () => {}],
];

const DAY_AND_NIGHT = [
  ...SCENES.map((scene) => [...scene, "light"]),
  ...SCENES.filter(([name]) => ["courts", "corrections", "new_match"].includes(name)).map((scene) => [
    ...scene,
    "dark",
  ]),
];
for (const [name, desk, room, prepare, colorScheme] of DAY_AND_NIGHT) {
  test(`axe_finds_nothing_wrong_with_the_room_${name}_by_${colorScheme === "dark" ? "night" : "day"}`, () =>
    atDesk(
      desk(),
      room,
      async (page) => {
        await prepare(page);
        await page.addScriptTag({ content: AXE });
        const { violations } = await page.evaluate(
          (tags) => globalThis.axe.run(document, { runOnly: tags, iframes: false }),
          TAGS,
        );
        assert.deepEqual(
          violations.map((one) => ({ id: one.id, at: one.nodes.map((node) => node.html) })),
          [],
        );
      },
      { greeting: held("a"), context: { ...LAPTOP, colorScheme } },
    ));
}

for (const [name, viewport] of [
  ["a_small_laptop", LAPTOP.viewport],
  ["a_tablet_upright", { width: 820, height: 1180 }],
  ["a_phone", { width: 390, height: 844 }],
]) {
  test(`nothing_scrolls_sideways_and_targets_are_large_enough_on_${name}`, () =>
    atDesk(
      playing(),
      "",
      async (page) => {
        for (const room of ["courts", "matches", "graphic", "plugins", "files"]) {
          await page.evaluate((hash) => (location.hash = hash), room);
          await page.locator(`.rooms a[href="#${room}"][aria-current]`).waitFor();
          assert.ok(
            await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth),
            `${room} is wider than the screen`,
          );
          const boxes = await page
            .locator("button, summary, a, input:not([type=checkbox]):not([type=range]), select")
            .evaluateAll((all) =>
              all
                .filter((one) => one.checkVisibility())
                .map((one) => ({
                  what: one.outerHTML.slice(0, 80),
                  height: one.getBoundingClientRect().height,
                  // Forty of them fit a laptop's screen; for fingers they are as high as all else.
                  least: one.matches(".matches a") && innerWidth > 1100 ? 32 : 47.5,
                })),
            );
          assert.deepEqual(
            boxes.filter(({ height, least }) => height < least),
            [],
            room,
          );
          const cut = await page.locator("select").evaluateAll((all) =>
            all
              .filter((one) => one.checkVisibility())
              .filter((one) => {
                const alone = one.cloneNode(false);
                alone.append(new Option(one.selectedOptions[0]?.text));
                alone.style.cssText = "position: absolute; width: max-content; min-width: 0";
                one.after(alone);
                const needed = alone.offsetWidth;
                alone.remove();
                return needed > one.offsetWidth + 1;
              })
              .map((one) => one.selectedOptions[0]?.text),
          );
          assert.deepEqual(cut, [], `what is chosen is not read whole in ${room}`);
        }
      },
      { context: { viewport } },
    ));
}

test("every_control_of_a_court_is_reached_by_keyboard", () =>
  atDesk(playing(), "", async (page) => {
    const reached = new Set();
    for (let step = 0; step < 14; step += 1) {
      await page.keyboard.press("Tab");
      reached.add(
        await page.evaluate(() => document.activeElement.textContent.trim().replace(/(\s*, court 1|: 1 stopped)$/, "")),
      );
    }
    for (const name of ["Courts", "Matches", "Graphic", "Plugins", "Links and files", "Pause", "Correct …", "More"])
      assert.ok(reached.has(name), name);
  }));

test("the_focus_stays_while_the_host_is_asked_again_and_again", () => {
  const desk = playing();
  return atDesk(desk, "", async (page) => {
    await page.getByRole("button", { name: /^Correct …/ }).focus();
    for (const points of [6, 7]) {
      desk.court("1").score = { ...SCORE, points: { a: 3, b: points } };
      await seeText(page, ".court .points", String(points));
    }
    assert.match(await page.evaluate(() => document.activeElement.textContent), /^Correct …/);
  });
});
