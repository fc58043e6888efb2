// The second seat on the desk: its link with its code, who marks cues, and that a court without
// anybody at the strokes says so whoever marks cues there.
import assert from "node:assert/strict";
import { test } from "node:test";
import { FakeDesk } from "../support/fake-desk.js";
import { seeText, useStage } from "../support/stage.js";
import { HEADER } from "../support/states.js";

const stage = useStage();
const LAPTOP = { viewport: { width: 1366, height: 768 } };
/** @type {import("../../types/host.js").Charter} */
const PHONE = {
  client: "phone-2c",
  seat: "cues",
  holds: true,
  address: "192.168.1.40",
  match: "m1",
  late_ms: null,
  clock_ms: null,
};

test("the_desk_hands_out_the_cues_page_and_says_who_marks_cues", () => {
  const desk = new FakeDesk().play("1", { ...HEADER, id: "m1" });
  const court = desk.court("1");
  court.charters = [...court.charters, PHONE];
  return stage.play({ path: "/desk", desk, context: LAPTOP }, async (page) => {
    await seeText(page, ".court .health", "Cues");
    await page.getByRole("button", { name: /^More/ }).first().click();
    await seeText(page, ".court-dialog .charters", "Phone phone-2c at 192.168.1.40: connected, marking cues");
    await seeText(page, ".court-dialog .charters", "Laptop laptop-7f at 192.168.1.31: connected, scoring");
    const link = page.locator(".page-link", { hasText: "Cues page, for a second volunteer, on a phone" });
    await seeText(link, ".address", "http://192.168.1.20:7447/courts/1/cues?key=charter-key");
    await page.locator(".court-dialog").getByRole("button", { name: "Close" }).click();
    court.charters = [PHONE];
    await seeText(page, ".court .place[data-how=bad]", "Charter not connected");
    assert.equal(await page.locator(".court .place[data-how=good]", { hasText: "Cues" }).count(), 1);
    await page.getByRole("button", { name: /^Show the charter's link/ }).click();
    await seeText(page, ".court-dialog .charters", "No charting laptop is connected now.");
  });
});
