// The desk: from nothing to a running match by keyboard, forms that lose nothing,
// what can be undone and what asks first.

import assert from "node:assert/strict";
import { test } from "node:test";
import { until } from "../support/browser.js";
import { FakeDesk } from "../support/fake-desk.js";
import { seeText, useStage } from "../support/stage.js";
import { HEADER, SCORE } from "../support/states.js";

const stage = useStage();
const LAPTOP = { viewport: { width: 1366, height: 768 } };
/** Keys from the empty desk to a match on its court: two names, a step between, and Enter. */
const STEPS_LIMIT = 5;

/** @param {FakeDesk} desk @param {string} room @param {(page: any, host: any) => Promise<void>} scene @param {object} [more] */
const atDesk = (desk, room, scene, more = {}) =>
  stage.play({ path: `/desk${room}`, desk, context: LAPTOP, ...more }, async (page, host) => {
    await seeText(page, ".line", "Connected");
    await scene(page, host);
  });
const playing = () => new FakeDesk().play("1", { ...HEADER, id: "m1" });
const said = (page, text) => seeText(page, ".said", text);
const press = (page, name) => page.getByRole("button", { name }).filter({ visible: true }).first().click();
/** What is rare on a court. */
async function more(page, name, court = 1) {
  await press(page, new RegExp(`^More\\s?, court ${court}$`));
  await page.locator(".court-dialog").getByRole("button", { name }).click();
}

test("from_nothing_to_a_match_on_court_by_keyboard_in_five_steps", () => {
  const desk = new FakeDesk();
  return atDesk(desk, "", async (page) => {
    let steps = 0;
    const key = async (name) => ((steps += 1), page.keyboard.press(name));
    const type = async (text) => ((steps += 1), page.keyboard.type(text));
    await until(
      () => page.evaluate(() => document.activeElement.matches("input")),
      "the first field to have the focus",
    );
    await type("Quill / Abara");
    await key("Tab");
    await type("Fenn / Tarrow");
    await key("Enter");
    await seeText(page, ".first", "Quill / Abara v Fenn / Tarrow is on court 1.");
    assert.ok(steps <= STEPS_LIMIT, `${steps} steps`);
    await seeText(page, ".first .address", "http://192.168.1.20:7447/courts/1/chart?key=charter-key");
    await until(
      () => page.evaluate(() => document.activeElement.getAttribute("aria-label") === "Copy the link: charting page"),
      "the copy button to have the focus",
    );
    await seeText(page, ".who", "No laptop has opened it yet.");
    desk.court("1").charters = [
      { client: "laptop-7f", seat: "chart", holds: true, address: "192.168.1.31", late_ms: 90, clock_ms: 0 },
    ];
    await seeText(page, ".who", "Laptop laptop-7f at 192.168.1.31: connected, scoring");
    Object.assign(desk.court("1"), {
      entries: 1,
      state: "playing",
      last_entry: { id: "e1", kind: "shot", at: "", received: new Date().toISOString() },
    });
    await seeText(page, ".first > .done", "No graphic is open yet");
    assert.match(await page.locator(".first li[aria-current]").innerText(), /^The overlay/);
    desk.court("1").viewers = { viewer: 1, booth: 0 };
    await seeText(page, ".first > .done", "Everything works");
    const { bottom, notice } = await page.evaluate(() => ({
      bottom: document.querySelector(".first > .done").getBoundingClientRect().bottom,
      notice: document.querySelector(".notice").getBoundingClientRect().top,
    }));
    assert.ok(bottom <= notice, "that all works is seen without scrolling");
    await press(page, /^Done/);
    await page.locator(".first").waitFor({ state: "detached" });
    assert.deepEqual(desk.writes(), ["POST /matches", "PUT /courts/1/match"]);
  });
});

test("where_only_this_machine_reaches_the_host_the_page_says_how_to_let_others_in", () => {
  const desk = new FakeDesk();
  desk.links = {
    ...desk.links,
    addresses: [],
    reachable: false,
    let_in: false,
    hint: "Let other machines in, if you trust who is in this network.",
  };
  return atDesk(desk, "", async (page, host) => {
    await seeText(page, ".first .advice", "if you trust who is in this network");
    await seeText(page, ".first .address", `${host.url}/courts/1/chart`);
    const letIn = page.locator(".first").getByRole("button", { name: "Allow other devices" });
    await letIn.focus();
    await page.keyboard.press("Enter");
    await seeText(page, ".first .address", "http://192.168.1.20:7447/courts/1/chart?key=charter-key");
    assert.equal(await letIn.isVisible(), false);
    assert.equal(
      await page.evaluate(() => document.activeElement?.closest("li") !== null),
      true,
      "the focus stays in the step",
    );
    await page.locator(".notice").getByRole("button", { name: "Undo" }).click();
    await seeText(page, ".first .advice", "For now only this computer can open it");
    assert.deepEqual(desk.writes(), ["PUT /desk/others", "PUT /desk/others"]);
  });
});

test("who_was_let_in_is_shut_out_again_in_the_room_of_links_and_files", () => {
  const desk = playing();
  desk.links = { ...desk.links, let_in: true };
  return atDesk(desk, "#files", async (page) => {
    await press(page, "This computer only");
    await said(page, "Other devices can no longer connect");
    await seeText(page, "[aria-label='Access links']", "Only this computer reaches the host.");
  });
});

test("faults_stand_beside_their_fields_and_the_first_one_has_the_focus", () =>
  atDesk(playing(), "#matches/new", async (page) => {
    const form = page.getByRole("region", { name: "New match" });
    await form.getByLabel("Second team", { exact: true }).fill("Fenn / Tarrow");
    await form.getByText("Scoring, games").click();
    await form.getByLabel("Points per game").fill("0");
    await form.getByText("Scoring, games").click();
    await form.getByRole("button", { name: "Add match" }).click();
    const first = form.getByLabel("First team", { exact: true });
    assert.equal(await first.evaluate((node) => node === document.activeElement), true);
    assert.equal(await first.getAttribute("aria-invalid"), "true");
    const described = await first.evaluate((node) =>
      node
        .getAttribute("aria-describedby")
        .split(" ")
        .map((id) => document.getElementById(id).textContent)
        .join(" "),
    );
    assert.match(described, /Give the first team a name/);
    await first.fill("Quill / Abara");
    await form.getByRole("button", { name: "Add match" }).click();
    await seeText(page, ".fault", "Points are a whole number from 1 to 99");
    assert.equal(await form.getByLabel("Points per game").evaluate((node) => node === document.activeElement), true);
  }));

test("a_half_filled_form_survives_a_reload_and_a_refusal", () => {
  const desk = playing();
  return atDesk(desk, "#matches/new", async (page) => {
    const name = page.getByRole("region", { name: "New match" }).getByLabel("First team", { exact: true });
    await name.fill("Heron");
    await page.reload();
    await seeText(page, ".line", "Connected");
    assert.equal(await name.inputValue(), "Heron");
    await page.getByRole("region", { name: "New match" }).getByLabel("Second team", { exact: true }).fill("Lantern");
    desk.refusal = "there is no room for more matches";
    await press(page, "Add match");
    await said(page, "There is no room for more matches.");
    assert.equal(await name.inputValue(), "Heron");
    desk.refusal = null;
    await press(page, "Add match");
    await seeText(page, ".matches", /Heron\s+v\s+Lantern/);
    await until(async () => (await name.inputValue()) === "", "the form to be empty");
    await press(page, "Undo");
    await said(page, "The match is removed.");
    assert.equal(await page.locator(".matches").getByText("Heron").count(), 0);
  });
});

test("a_sheet_with_problems_imports_nothing_and_names_their_lines", () => {
  const desk = playing();
  desk.importProblems = [{ line: 3, column: "points", message: "“abc” is no number.", row: "Owl · Kite · abc" }];
  return atDesk(desk, "#matches/import", async (page) => {
    await page.locator(".sheet textarea").fill("team_a,team_b,points\nHeron,Lantern,11\nOwl,Kite,abc\n");
    await press(page, "Check");
    await seeText(page, ".sheet-said", "1 problem. Nothing is imported");
    assert.deepEqual(await page.locator(".sheet tbody tr td").allInnerTexts(), [
      "3",
      "points",
      "“abc” is no number.",
      "Owl · Kite · abc",
    ]);
    assert.equal(await page.getByRole("button", { name: /^Import \d/ }).count(), 0);
    assert.deepEqual(desk.writes(), ["POST /matches/import?dry=true"]);
  });
});

test("a_good_sheet_is_shown_first_then_imported_whole_and_can_be_taken_back", () => {
  const desk = playing();
  desk.ignored = ["Referee"];
  return atDesk(desk, "#matches/import", async (page) => {
    await page.locator(".sheet input[type=file]").setInputFiles({
      name: "m.csv",
      mimeType: "text/csv",
      buffer: Buffer.from("team_a,team_b\nHeron,Lantern\nOwl,Kite\n"),
    });
    await seeText(page, ".sheet-said", "2 matches found, no problem. Nothing is imported yet.");
    await seeText(page, ".sheet-ignored", "This column is not used: Referee.");
    await seeText(page, ".sheet table", "Owl v Kite");
    await press(page, "Import 2 matches");
    await said(page, "2 matches imported.");
    await seeText(page, ".matches", /Owl\s+v\s+Kite/);
    await press(page, "Undo");
    await said(page, "removed");
    assert.equal(desk.matches.length, 1);
  });
});

/** A sheet as a drag carries it. */
function sheetInHand(page, text) {
  return page.evaluateHandle((lines) => {
    const carried = new DataTransfer();
    carried.items.add(new File([lines], "m.csv", { type: "text/csv" }));
    return carried;
  }, text);
}

test("a_file_dropped_on_the_sheet_is_checked", () =>
  atDesk(playing(), "#matches/import", async (page) => {
    const dropped = await sheetInHand(page, "team_a,team_b\nHeron,Lantern\n");
    await page.locator(".sheet").dispatchEvent("drop", { dataTransfer: dropped });
    await seeText(page, ".sheet-said", "1 match found");
  }));

test("a_file_that_replaces_pasted_rows_can_be_taken_back", () =>
  atDesk(playing(), "#matches/import", async (page) => {
    const lines = page.locator(".sheet textarea");
    await lines.fill("team_a,team_b\nPasted,By hand\n");
    await page
      .locator(".sheet input[type=file]")
      .setInputFiles({ name: "m.csv", mimeType: "text/csv", buffer: Buffer.from("team_a,team_b\nHeron,Lantern\n") });
    await said(page, "The rows of m.csv replace those that stood there.");
    assert.match(await lines.inputValue(), /Heron/);
    await page.locator(".notice").getByRole("button", { name: "Undo" }).click();
    await said(page, "The rows from before are back.");
    assert.match(await lines.inputValue(), /Pasted,By hand/);
  }));

test("a_file_dropped_in_another_room_is_checked_and_the_page_stays", () =>
  atDesk(playing(), "", async (page) => {
    const dropped = await sheetInHand(page, "team_a,team_b\nHeron,Lantern\nOwl,Kite\n");
    const wasHeld = await page
      .locator(".court")
      .evaluate(
        (node, dataTransfer) =>
          !node.dispatchEvent(new DragEvent("dragover", { dataTransfer, bubbles: true, cancelable: true })),
        dropped,
      );
    assert.ok(wasHeld, "the browser would put the file in place of the page");
    await page.locator(".court").dispatchEvent("drop", { dataTransfer: dropped });
    await seeText(page, ".sheet-said", "2 matches found");
    assert.match(page.url(), /#matches\/import$/);
    await until(
      () => page.locator(".sheet").evaluate((node) => node.getBoundingClientRect().top < innerHeight),
      "the sheet to be in sight",
    );
  }));

test("names_can_be_changed_while_a_match_is_on_and_its_scoring_cannot", () => {
  const desk = playing();
  return atDesk(desk, "#matches", async (page) => {
    await page.locator(".matches a").first().click();
    await press(page, "Change: Quill / Abara v Fenn / Tarrow");
    const form = page.getByRole("region", { name: "Change a match" });
    await form.getByText("Scoring, games").click();
    assert.equal(await form.getByLabel("Points per game").isDisabled(), true);
    assert.equal(await form.getByLabel("Court").isDisabled(), true, "a match is moved on its court, not in a label");
    await form.getByLabel("First team", { exact: true }).fill("Quill / Otter");
    await press(page, "Save");
    await said(page, "Saved. Open pages follow at once.");
    await seeText(page, ".matches", /Quill \/ Otter\s+v\s+Fenn \/ Tarrow/);
    assert.deepEqual(desk.match("m1").header.format, HEADER.format);
    await press(page, "Undo");
    await seeText(page, ".matches", /Quill \/ Abara\s+v\s+Fenn \/ Tarrow/);
  });
});

test("pause_and_resume_are_said_and_can_be_undone", () => {
  const desk = playing();
  return atDesk(desk, "", async (page) => {
    await press(page, /^Pause\s?, court 1$/);
    await said(page, "The graphic says that play is paused");
    await seeText(page, ".court .state", "Paused");
    await press(page, "Undo");
    await seeText(page, ".court .state", "Playing");
    assert.deepEqual(
      desk.asked.filter(({ path }) => path.endsWith("/pause")).map(({ body }) => body),
      [{ paused: true }, { paused: false }],
    );
  });
});

test("ending_asks_how_and_cancel_does_nothing", () => {
  const desk = playing();
  return atDesk(desk, "", async (page) => {
    await more(page, "End match …");
    await seeText(page, "dialog", "How did the match end?");
    await page.keyboard.press("Escape");
    assert.deepEqual(desk.writes(), []);
    await more(page, "End match …");
    await press(page, "Fenn / Tarrow retired");
    await said(page, "Fenn / Tarrow retired; the match is over.");
    assert.deepEqual(desk.asked.at(-1) && desk.asked.find(({ path }) => path === "/courts/1/finish").body, {
      finished: true,
      retired: "b",
    });
  });
});

test("taking_a_match_off_that_is_being_played_asks_first", () => {
  const desk = playing();
  return atDesk(desk, "", async (page) => {
    await more(page, "Remove from court");
    await seeText(page, "dialog", "Everything charted is kept");
    await press(page, "Cancel");
    assert.deepEqual(desk.writes(), []);
    await more(page, "Remove from court");
    await press(page, "Remove it");
    await seeText(page, ".court .state", "No match");
    await press(page, "Undo");
    await seeText(page, ".court .state", "Playing");
  });
});

test("a_match_that_was_paused_is_paused_again_when_its_court_is_as_it_was", () => {
  const desk = playing();
  desk.court("1").state = "paused";
  desk.addMatch({ ...HEADER, id: "next", teams: { a: { name: "Heron" }, b: { name: "Lantern" } } });
  return atDesk(desk, "", async (page) => {
    await more(page, "Remove from court");
    await press(page, "Remove it");
    await seeText(page, ".court .state", "No match");
    await press(page, "Undo");
    await seeText(page, ".court .state", "Paused");
    await press(page, /^More/);
    await page.getByLabel("Another match for court 1").selectOption("next");
    await press(page, "Start");
    await page.getByRole("dialog").getByRole("button", { name: "Start Heron v Lantern" }).click();
    await seeText(page, ".court .state", "Ready");
    await press(page, "Undo");
    await seeText(page, ".court .state", "Paused");
  });
});

test("reopening_a_retirement_and_thinking_better_of_it_names_the_same_team", () => {
  const desk = playing();
  Object.assign(desk.court("1"), {
    state: "finished",
    score: { ...SCORE, winner: "a" },
    last_entry: { id: "d1", kind: "retire", at: "", received: new Date().toISOString() },
  });
  return atDesk(desk, "", async (page) => {
    await press(page, /^Reopen\s?, court 1$/);
    await seeText(page, ".court .state", "Playing");
    await press(page, "Undo");
    await seeText(page, ".court .state", "Finished");
    assert.deepEqual(
      desk.asked.filter(({ path }) => path.endsWith("/finish")).map(({ body }) => body),
      [{ finished: false }, { finished: true, retired: "b" }],
    );
  });
});

test("a_court_is_removed_only_after_saying_what_becomes_of_its_matches", () => {
  const desk = playing();
  desk.court("9");
  return atDesk(desk, "", async (page) => {
    await more(page, "Remove this court", 9);
    await seeText(page, "dialog", "No match is lost");
    await press(page, "Cancel");
    assert.deepEqual(desk.writes(), []);
    await more(page, "Remove this court", 9);
    await press(page, "Remove it");
    await said(page, "Court 9 is removed.");
    assert.deepEqual(desk.writes(), ["DELETE /courts/9"]);
  });
});

test("the_next_planned_match_of_a_court_is_one_press_away", () => {
  const desk = playing();
  desk.court("1").state = "finished";
  desk.addMatch({ ...HEADER, id: "next", teams: { a: { name: "Heron" }, b: { name: "Lantern" } } });
  return atDesk(desk, "", async (page) => {
    await press(page, /^Start next: Heron v Lantern/);
    await seeText(page, ".court .teams", /Heron[\s\d]+Lantern/);
    assert.deepEqual(desk.writes(), ["PUT /courts/1/match"]);
  });
});

test("from_another_machine_the_key_of_the_address_goes_along", () => {
  const desk = playing();
  return stage.play({ path: "/desk?key=desk-key#matches/match/m1", desk, context: LAPTOP }, async (page) => {
    await seeText(page, ".line", "Connected");
    assert.ok(
      desk.keys.every((key) => key === "Bearer desk-key"),
      String(desk.keys),
    );
    const href = await page.locator(".files a").first().getAttribute("href");
    assert.equal(new URL(href).searchParams.get("key"), "desk-key");
  });
});

test("a_host_that_is_gone_is_told_in_words_and_nothing_typed_is_lost", () =>
  atDesk(playing(), "#matches/new", async (page, host) => {
    const form = page.getByRole("region", { name: "New match" });
    await form.getByLabel("First team", { exact: true }).fill("Heron");
    await form.getByLabel("Second team", { exact: true }).fill("Lantern");
    await host.stop();
    await seeText(page, ".line", "Can't reach the host. Shown below: as of");
    await press(page, "Add match");
    await said(page, "Can't reach the host");
    assert.equal(await form.getByLabel("First team", { exact: true }).inputValue(), "Heron");
    await host.listen(host.port);
    await seeText(page, ".line", "Connected");
    await press(page, "Add match");
    await seeText(page, ".matches", /Heron\s+v\s+Lantern/);
  }));

test("where_matches_are_planned_already_the_first_step_starts_one", () => {
  const desk = new FakeDesk();
  for (const name of ["Heron", "Owl"])
    desk.addMatch({ ...HEADER, id: name, court: "centre", teams: { a: { name }, b: { name: "Lantern" } } });
  return atDesk(desk, "", async (page) => {
    await seeText(page, ".first", "2 matches are planned. The first one is for court centre.");
    assert.equal(await page.locator(".first .match-form").count(), 0);
    await press(page, "Send Heron v Lantern to court");
    await seeText(page, ".first", "Heron v Lantern is on court centre.");
    await press(page, "Undo");
    await seeText(page, ".first", "2 matches are planned.");
  });
});

test("a_room_is_entered_at_its_top", () =>
  atDesk(playing(), "#graphic", async (page) => {
    const main = page.locator("main");
    await main.evaluate((node) => node.scrollTo(0, 300));
    assert.ok((await main.evaluate((node) => node.scrollTop)) > 0);
    await page.getByRole("link", { name: "Plugins" }).click();
    await seeText(page, "main", "Plugin files found");
    await until(() => main.evaluate((node) => node.scrollTop === 0), "the room to be at its top");
  }));

test("a_finished_match_is_not_offered_to_its_own_court_and_an_absent_laptop_is_told", () => {
  const desk = playing();
  desk.court("1").charters = [];
  return atDesk(desk, "", async (page) => {
    await seeText(page, ".court .health", "Charter not connected");
    Object.assign(desk.court("1"), { state: "finished" });
    Object.assign(desk.match("m1"), { state: "finished" });
    await seeText(page, ".court .state", "Finished");
    await press(page, /^More/);
    assert.equal(await page.locator(".court-dialog select").count(), 0);
    desk.addMatch({ ...HEADER, id: "next" });
    await seeText(page, ".court-dialog", "Another match for court 1");
    assert.deepEqual(await page.locator(".court-dialog option").evaluateAll((all) => all.map(({ value }) => value)), [
      "next",
    ]);
  });
});

test("while_the_host_is_gone_nobody_is_shown_as_connected", () =>
  atDesk(playing(), "", async (page, host) => {
    await seeText(page, ".court .place[data-how=good]", "Charter");
    await host.stop();
    await seeText(page, ".line[data-bad]", /Can't reach the host\. Shown below: as of \d\d:\d\d:\d\d/);
    await seeText(page, ".court .health", "Who is connected is not known");
    await seeText(page, ".court .state", "Playing (last known)");
    assert.equal(await page.locator("[data-how=good]").count(), 0);
    await press(page, /^More/);
    await seeText(page, ".court-dialog .charters", "Who is connected is not known");
    await seeText(page, ".court-dialog .address", "http://192.168.1.20:7447/courts/1/chart?key=charter-key");
    await host.listen(host.port);
    await seeText(page, ".court-dialog .charters", "connected, scoring");
  }));

test("of_several_addresses_the_chosen_one_goes_into_links_and_codes_and_is_remembered", () => {
  const desk = playing();
  desk.links = {
    ...desk.links,
    addresses: ["http://10.0.0.4:7447", "http://192.168.1.20:7447"],
    networks: { "http://10.0.0.4:7447": "eth0", "http://192.168.1.20:7447": "wlan0" },
  };
  return atDesk(desk, "", async (page) => {
    await press(page, /^More/);
    const code = () => page.locator(".court-dialog .qr path").first().getAttribute("d");
    await seeText(page, ".court-dialog .address", "http://10.0.0.4:7447/courts/1/chart?key=charter-key");
    const before = await code();
    await page
      .getByLabel("Network address used in links")
      .filter({ visible: true })
      .selectOption({ label: "192.168.1.20:7447 (wlan0)" });
    await seeText(page, ".court-dialog .address", "http://192.168.1.20:7447/courts/1/chart?key=charter-key");
    await said(page, "Links and QR codes now use 192.168.1.20:7447.");
    assert.notEqual(await code(), before);
    await page.reload();
    await press(page, /^More/);
    await seeText(page, ".court-dialog .address", "http://192.168.1.20:7447/courts/1/chart?key=charter-key");
  });
});

test("the_notice_at_the_foot_keeps_its_buttons_in_one_line_whatever_is_said", () =>
  atDesk(playing(), "", async (page) => {
    const long =
      "Featherstonehaugh-Whitcombe / Papadimitropoulos v Montgomery-Oyelaran / Wisniewska is on court centre, and a good deal more is said about it here than anybody ever wanted to read";
    for (const width of [1920, 1366, 1024, 768]) {
      await page.setViewportSize({ width, height: 768 });
      await page.evaluate((words) => {
        document.querySelector(".said").textContent = words;
        for (const name of ["undo", "close"]) document.querySelector(`.notice .${name}`).hidden = false;
      }, long);
      const box = (name) => page.locator(`.notice .${name}`).boundingBox();
      const [said, undo, close] = [await box("said"), await box("undo"), await box("close")];
      assert.equal(undo.y, close.y, `at ${width}`);
      assert.ok(
        said.x + said.width <= undo.x && undo.x + undo.width <= close.x && close.x + close.width <= width,
        `at ${width}`,
      );
      assert.ok(close.height <= 60, `at ${width} the button is ${close.height} high`);
    }
  }));

test("what_happens_by_itself_is_announced_in_every_room", () => {
  const desk = playing();
  desk.plugins.courts = {};
  return atDesk(desk, "#matches", async (page) => {
    await seeText(page, ".rooms", /Plugins/);
    desk.court("1").charters = [];
    await seeText(page, ".news[role=status]", "the charter's laptop is gone");
    desk.plugins.courts = {
      1: [
        {
          plugin: "prompts",
          state: "stopped",
          fault: { message: "it panicked" },
          calls: 1,
          fuel: 1,
          time_us: 1,
          most_time_us: 1,
          memory_bytes: 1,
          faults: 1,
        },
      ],
    };
    await seeText(page, ".news[role=status]", "The plugin prompts was stopped");
    await seeText(page, ".rooms a", "Plugins: 1 stopped");
    await press(page, "Close");
    assert.equal(await page.locator(".news").innerText(), "");
  });
});

test("what_a_host_does_not_describe_is_not_offered", () => {
  const desk = playing();
  desk.paths = ["/desk/state", "/matches"];
  return atDesk(desk, "#matches", async (page) => {
    await until(async () => (await page.getByText("Import matches").count()) === 0, "the sheet to be put away");
    await page.getByRole("link", { name: "Links and files" }).click();
    await seeText(page, "main", "This host writes no text files and has no access links.");
    assert.ok(!desk.asked.some(({ path }) => path === "/desk/links"));
    desk.paths = ["/desk/state", "/matches", "/matches/import", "/text-files"];
    await page.reload();
    await seeText(page, "main", "Text files for streaming programs");
    assert.equal(await page.getByRole("heading", { name: "Access links", exact: true }).isVisible(), false);
    await page.getByRole("link", { name: "Matches" }).click();
    await press(page, "Import matches");
    await seeText(page, ".sheet", "Import matches");
  });
});

test("links_the_host_does_not_tell_are_missing_alone", () => {
  const desk = playing();
  desk.links = { status: 404, body: "there is nothing here" };
  return atDesk(desk, "#files", async (page) => {
    await seeText(page, ".card", "How other devices reach this host is not known");
    assert.equal(
      await page
        .getByRole("button", { name: /^New link/ })
        .first()
        .isDisabled(),
      true,
    );
    await page.getByRole("link", { name: "Courts" }).click();
    await seeText(page, ".court .teams", /Quill \/ Abara[\s\d]+Fenn \/ Tarrow/);
  });
});
