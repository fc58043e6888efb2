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
const press = (page, name) => page.getByRole("button", { name }).first().click();

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
    desk.court("1").charters = [{ client: "laptop-7f", seat: true, address: "192.168.1.31", late_ms: 90, clock_ms: 0 }];
    await seeText(page, ".who", "Laptop laptop-7f at 192.168.1.31: connected, may chart");
    Object.assign(desk.court("1"), {
      entries: 1,
      state: "playing",
      last_entry: { id: "e1", kind: "shot", at: "", received: new Date().toISOString() },
    });
    await seeText(page, ".first > .done", "No graphic is open yet");
    assert.match(await page.locator(".first li[aria-current]").innerText(), /^The picture/);
    desk.court("1").viewers = { viewer: 1, booth: 0 };
    await seeText(page, ".first > .done", "Everything works");
    const { bottom, notice } = await page.evaluate(() => ({
      bottom: document.querySelector(".first > .done").getBoundingClientRect().bottom,
      notice: document.querySelector(".notice").getBoundingClientRect().top,
    }));
    assert.ok(bottom <= notice, "that all works is seen without scrolling");
    await press(page, "Close these steps");
    assert.equal(await page.locator(".first").isVisible(), false);
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
    const letIn = page.locator(".first").getByRole("button", { name: "Let other machines in" });
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
    await seeText(page, ".first .advice", "For now only this machine can open it");
    assert.deepEqual(desk.writes(), ["PUT /desk/others", "PUT /desk/others"]);
  });
});

test("who_was_let_in_is_shut_out_again_in_the_room_of_files_and_keys", () => {
  const desk = playing();
  desk.links = { ...desk.links, let_in: true };
  return atDesk(desk, "#files", async (page) => {
    await press(page, "Let no other machine in");
    await said(page, "No other machine gets in any more");
    await seeText(page, "[aria-label='Keys']", "Only this machine reaches the host.");
  });
});

test("faults_stand_beside_their_fields_and_the_first_one_has_the_focus", () =>
  atDesk(playing(), "#matches", async (page) => {
    const form = page.getByRole("region", { name: "A new match" });
    await form.getByLabel("Second team", { exact: true }).fill("Fenn / Tarrow");
    await form.getByText("Scoring, games").click();
    await form.getByLabel("Points a game").fill("0");
    await form.getByText("Scoring, games").click();
    await form.getByRole("button", { name: "Plan this match" }).click();
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
    await form.getByRole("button", { name: "Plan this match" }).click();
    await seeText(page, ".fault", "Points are a whole number from 1 to 99");
    assert.equal(await form.getByLabel("Points a game").evaluate((node) => node === document.activeElement), true);
  }));

test("a_half_filled_form_survives_a_reload_and_a_refusal", () => {
  const desk = playing();
  return atDesk(desk, "#matches", async (page) => {
    const name = page.getByRole("region", { name: "A new match" }).getByLabel("First team", { exact: true });
    await name.fill("Heron");
    await page.reload();
    await seeText(page, ".line", "Connected");
    assert.equal(await name.inputValue(), "Heron");
    await page.getByRole("region", { name: "A new match" }).getByLabel("Second team", { exact: true }).fill("Lantern");
    desk.refusal = "there is no room for more matches";
    await press(page, "Plan this match");
    await said(page, "There is no room for more matches.");
    assert.equal(await name.inputValue(), "Heron");
    desk.refusal = null;
    await press(page, "Plan this match");
    await seeText(page, ".matches", "Heron v Lantern");
    assert.equal(await name.inputValue(), "");
    await press(page, "Undo: remove it again");
    await said(page, "The match is removed.");
    assert.equal(await page.locator(".matches").getByText("Heron v Lantern").count(), 0);
  });
});

test("a_sheet_with_problems_plans_nothing_and_names_their_lines", () => {
  const desk = playing();
  desk.importProblems = [{ line: 3, column: "points", message: "`abc` is no number" }];
  return atDesk(desk, "#matches", async (page) => {
    await page.locator(".sheet textarea").fill("team_a,team_b,points\nHeron,Lantern,11\nOwl,Kite,abc\n");
    await press(page, "Look it over");
    await seeText(page, ".sheet-said", "1 problem. Nothing has been planned");
    assert.deepEqual(await page.locator(".sheet tbody tr td").allInnerTexts(), [
      "3",
      "points",
      "`abc` is no number.",
      "Owl,Kite,abc",
    ]);
    assert.equal(
      await page
        .getByRole("button", { name: /^Plan (all|this match$|them)/ })
        .filter({ hasText: "all" })
        .count(),
      0,
    );
    assert.deepEqual(desk.writes(), ["POST /matches/import?dry=true"]);
  });
});

test("a_good_sheet_is_shown_first_then_planned_whole_and_can_be_taken_back", () => {
  const desk = playing();
  return atDesk(desk, "#matches", async (page) => {
    await page.locator(".sheet input[type=file]").setInputFiles({
      name: "m.csv",
      mimeType: "text/csv",
      buffer: Buffer.from("team_a,team_b\nHeron,Lantern\nOwl,Kite\n"),
    });
    await seeText(page, ".sheet-said", "2 matches found, no problem. Nothing has been planned yet.");
    await seeText(page, ".sheet table", "Owl v Kite");
    await press(page, "Plan all 2 matches");
    await said(page, "2 matches planned.");
    await seeText(page, ".matches", "Owl v Kite");
    await press(page, "Undo: remove them again");
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

test("a_file_dropped_on_the_sheet_is_looked_over", () =>
  atDesk(playing(), "#matches", async (page) => {
    const dropped = await sheetInHand(page, "team_a,team_b\nHeron,Lantern\n");
    await page.locator(".sheet").dispatchEvent("drop", { dataTransfer: dropped });
    await seeText(page, ".sheet-said", "1 match found");
  }));

test("a_file_that_takes_the_place_of_pasted_lines_can_be_taken_back", () =>
  atDesk(playing(), "#matches", async (page) => {
    const lines = page.locator(".sheet textarea");
    await lines.fill("team_a,team_b\nPasted,By hand\n");
    await page
      .locator(".sheet input[type=file]")
      .setInputFiles({ name: "m.csv", mimeType: "text/csv", buffer: Buffer.from("team_a,team_b\nHeron,Lantern\n") });
    await said(page, "The lines of m.csv are in the place of those that stood there.");
    assert.match(await lines.inputValue(), /Heron/);
    await page.locator(".notice").getByRole("button", { name: "Undo" }).click();
    await said(page, "The lines from before are back.");
    assert.match(await lines.inputValue(), /Pasted,By hand/);
  }));

test("a_file_dropped_in_another_room_is_looked_over_and_the_page_stays", () =>
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
    assert.match(page.url(), /#matches$/);
    await until(
      () => page.locator(".sheet").evaluate((node) => node.getBoundingClientRect().top < innerHeight),
      "the sheet to be in sight",
    );
  }));

test("names_can_be_changed_while_a_match_is_on_and_its_scoring_cannot", () => {
  const desk = playing();
  return atDesk(desk, "#matches", async (page) => {
    await press(page, "Change: Quill / Abara v Fenn / Tarrow");
    const form = page.getByRole("region", { name: "Change a match" });
    await form.getByText("Scoring, games").click();
    assert.equal(await form.getByLabel("Points a game").isDisabled(), true);
    await form.getByLabel("First team", { exact: true }).fill("Quill / Otter");
    await press(page, "Save the change");
    await said(page, "Changed; it is shown everywhere.");
    await seeText(page, ".matches", "Quill / Otter v Fenn / Tarrow");
    assert.deepEqual(desk.match("m1").header.format, HEADER.format);
    await press(page, "Undo the change");
    await seeText(page, ".matches", "Quill / Abara v Fenn / Tarrow");
  });
});

test("pause_and_go_on_are_said_and_can_be_undone", () => {
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

test("finishing_asks_how_and_doing_nothing_does_nothing", () => {
  const desk = playing();
  return atDesk(desk, "", async (page) => {
    await press(page, /^Finish …\s?, court 1$/);
    await seeText(page, "dialog", "How did the match end?");
    await page.keyboard.press("Escape");
    assert.deepEqual(desk.writes(), []);
    await press(page, /^Finish …\s?, court 1$/);
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
    await press(page, /^Take off\s?, court 1$/);
    await seeText(page, "dialog", "Everything charted stays");
    await press(page, "Do nothing");
    assert.deepEqual(desk.writes(), []);
    await press(page, /^Take off\s?, court 1$/);
    await press(page, "Take it off");
    await seeText(page, ".court .state", "No match");
    await press(page, "Undo: put it on again");
    await seeText(page, ".court .state", "Playing");
  });
});

test("a_match_that_was_paused_is_paused_again_when_its_court_is_as_it_was", () => {
  const desk = playing();
  desk.court("1").state = "paused";
  desk.addMatch({ ...HEADER, id: "next", teams: { a: { name: "Heron" }, b: { name: "Lantern" } } });
  return atDesk(desk, "", async (page) => {
    await press(page, /^Take off\s?, court 1$/);
    await press(page, "Take it off");
    await seeText(page, ".court .state", "No match");
    await press(page, "Undo: put it on again");
    await seeText(page, ".court .state", "Paused");
    await page.getByLabel("A match for court 1").selectOption("next");
    await press(page, /^Put on\s?, court 1$/);
    await page.getByRole("dialog").getByRole("button", { name: "Put on Heron v Lantern" }).click();
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
    await press(page, "Undo: it is over");
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
    await press(page, /^Remove this court\s?, court 9$/);
    await seeText(page, "dialog", "No match is lost");
    await press(page, "Do nothing");
    assert.deepEqual(desk.writes(), []);
    await press(page, /^Remove this court\s?, court 9$/);
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
    await press(page, "Next: put on Heron v Lantern");
    await seeText(page, ".court .teams", "Heron v Lantern");
    assert.deepEqual(desk.writes(), ["PUT /courts/1/match"]);
  });
});

test("from_another_machine_the_key_of_the_address_goes_along", () => {
  const desk = playing();
  return stage.play({ path: "/desk?key=desk-key", desk, context: LAPTOP }, async (page) => {
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
  atDesk(playing(), "#matches", async (page, host) => {
    const form = page.getByRole("region", { name: "A new match" });
    await form.getByLabel("First team", { exact: true }).fill("Heron");
    await form.getByLabel("Second team", { exact: true }).fill("Lantern");
    await host.stop();
    await seeText(page, ".line", "The host is not reached since");
    await press(page, "Plan this match");
    await said(page, "The host cannot be reached");
    assert.equal(await form.getByLabel("First team", { exact: true }).inputValue(), "Heron");
    await host.listen(host.port);
    await seeText(page, ".line", "Connected");
    await press(page, "Plan this match");
    await seeText(page, ".matches", "Heron v Lantern");
  }));

test("where_matches_are_planned_already_the_first_step_puts_one_on", () => {
  const desk = new FakeDesk();
  for (const name of ["Heron", "Owl"])
    desk.addMatch({ ...HEADER, id: name, court: "centre", teams: { a: { name }, b: { name: "Lantern" } } });
  return atDesk(desk, "", async (page) => {
    await seeText(
      page,
      ".first",
      "2 matches are planned. The first one goes on court centre; any other one from below.",
    );
    assert.equal(await page.locator(".first .match-form").isVisible(), false);
    await press(page, "Put on Heron v Lantern");
    await seeText(page, ".first", "Heron v Lantern is on court centre.");
    await press(page, "Undo");
    await seeText(page, ".first", "2 matches are planned.");
  });
});

test("a_room_is_entered_at_its_top", () =>
  atDesk(playing(), "#matches", async (page) => {
    await page.evaluate(() => scrollTo(0, 300));
    assert.ok((await page.evaluate(() => scrollY)) > 0);
    await page.getByRole("link", { name: "Plugins" }).click();
    await seeText(page, "main", "Files that were tried");
    await until(() => page.evaluate(() => scrollY === 0), "the room to be at its top");
  }));

test("a_finished_match_is_not_offered_to_its_own_court_and_an_absent_laptop_is_told", () => {
  const desk = playing();
  desk.court("1").charters = [];
  return atDesk(desk, "", async (page) => {
    await seeText(page, ".court .charters", "No charting laptop is connected now.");
    Object.assign(desk.court("1"), { state: "finished" });
    Object.assign(desk.match("m1"), { state: "finished" });
    await seeText(page, ".court .state", "Finished");
    assert.equal(await page.locator(".put-on select").isVisible(), false);
    desk.addMatch({ ...HEADER, id: "next" });
    await seeText(page, ".put-on", "Put on");
    assert.deepEqual(await page.locator(".put-on option").evaluateAll((all) => all.map(({ value }) => value)), [
      "next",
    ]);
  });
});

test("while_the_host_is_gone_nobody_is_shown_as_connected", () =>
  atDesk(playing(), "", async (page, host) => {
    await seeText(page, ".court .charters", "connected, may chart");
    await host.stop();
    await seeText(
      page,
      ".line[data-bad]",
      /The host is not reached since \d\d:\d\d:\d\d: everything below is as it was then/,
    );
    await seeText(page, ".court .charters", "Who is connected is not known");
    await seeText(page, ".court .state", "Playing, when last heard");
    assert.equal(await page.getByText("connected, may chart").count(), 0);
    await page.getByText("Links and codes").click();
    await seeText(page, ".court .address", "http://192.168.1.20:7447/courts/1/chart?key=charter-key");
    await host.listen(host.port);
    await seeText(page, ".court .charters", "connected, may chart");
  }));

test("of_several_addresses_the_chosen_one_goes_into_links_and_codes_and_is_remembered", () => {
  const desk = playing();
  desk.links = {
    ...desk.links,
    addresses: ["http://10.0.0.4:7447", "http://192.168.1.20:7447"],
    networks: { "http://10.0.0.4:7447": "eth0", "http://192.168.1.20:7447": "wlan0" },
  };
  return atDesk(desk, "", async (page) => {
    await page.getByText("Links and codes").click();
    const code = () => page.locator(".court .qr path").first().getAttribute("d");
    await seeText(page, ".court .address", "http://10.0.0.4:7447/courts/1/chart?key=charter-key");
    const before = await code();
    await page
      .getByLabel("Address that links lead to")
      .filter({ visible: true })
      .selectOption({ label: "192.168.1.20:7447 (wlan0)" });
    await seeText(page, ".court .address", "http://192.168.1.20:7447/courts/1/chart?key=charter-key");
    await said(page, "Links and codes now lead to 192.168.1.20:7447.");
    assert.notEqual(await code(), before);
    await page.reload();
    await page.getByText("Links and codes").click();
    await seeText(page, ".court .address", "http://192.168.1.20:7447/courts/1/chart?key=charter-key");
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
    await until(async () => !(await page.locator(".sheet").isVisible()), "the sheet to be put away");
    await page.getByRole("link", { name: "Files and keys" }).click();
    await seeText(page, "main", "This host writes no text files and has no keys.");
    assert.ok(!desk.asked.some(({ path }) => path === "/desk/links"));
    desk.paths = ["/desk/state", "/matches", "/matches/import", "/text-files"];
    await page.reload();
    await seeText(page, "main", "Text files for streaming programs");
    assert.equal(await page.getByRole("heading", { name: "Keys", exact: true }).isVisible(), false);
    await page.getByRole("link", { name: "Matches" }).click();
    await seeText(page, ".sheet", "Many matches at once");
  });
});

test("links_the_host_does_not_tell_are_missing_alone", () => {
  const desk = playing();
  desk.links = { status: 404, body: "there is nothing here" };
  return atDesk(desk, "#files", async (page) => {
    await seeText(page, ".card", "Where other machines reach this host is not known");
    assert.equal(
      await page
        .getByRole("button", { name: /^New key/ })
        .first()
        .isDisabled(),
      true,
    );
    await page.getByRole("link", { name: "Courts" }).click();
    await seeText(page, ".court .teams", "Quill / Abara v Fenn / Tarrow");
  });
});
