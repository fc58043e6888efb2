/**
 * The printed key card: one page whatever the paper, with the keys in use.
 */
import assert from "node:assert/strict";
import { writeFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { test } from "node:test";
import { openBrowser, openPage } from "./support/browser.mjs";
import { beginByForm } from "./support/chart-page.mjs";
import { freshFolder } from "./support/folders.mjs";
import { Host } from "./support/host.mjs";

const OVERLAY = fileURLToPath(new URL("../overlay", import.meta.url));
const LAPTOP = { width: 1366, height: 768 };

async function openCard(t, path, ready) {
  const folder = await freshFolder(t);
  const host = await Host.start(t, {
    data: folder,
    command: ["serve", "--listen", "127.0.0.1:0", "--data", folder, "--pages", OVERLAY],
  });
  const { page } = await openPage(await openBrowser(t), host.http(path), LAPTOP);
  await page.locator(ready).waitFor();
  return page;
}

/** A page of the PDF is an object of type Page; the tree above them is one of type Pages. */
const pagesOf = (pdf) => (pdf.toString("latin1").match(/\/Type\s*\/Page(?!s)/g) ?? []).length;
const [width, height] = [0, 1].map(
  (place) => (pdf) =>
    Math.round(Number(/\/MediaBox\s*\[([^\]]*)\]/.exec(pdf.toString("latin1"))[1].trim().split(/\s+/)[place + 2])),
);

for (const [path, ready] of [
  ["/courts/1/chart", ".setup"],
  ["/practice", ".choose"],
]) {
  test(`the key card of ${path} is one page in A4 and Letter, across and upright`, async (t) => {
    const page = await openCard(t, path, ready);
    for (const orientation of ["landscape", "portrait"]) {
      await page.addStyleTag({ content: `@page { size: ${orientation} }` });
      for (const format of ["A4", "Letter"]) {
        const pdf = await page.pdf({ format, landscape: orientation === "landscape", scale: 1 });
        if (process.env.LOOK !== undefined)
          await writeFile(`${process.env.LOOK}/card-${format}-${orientation}.pdf`, pdf);
        assert.equal(pagesOf(pdf), 1, `${format} ${orientation}`);
        assert.equal(
          width(pdf) > height(pdf),
          orientation === "landscape",
          `${format} is ${width(pdf)}×${height(pdf)}`,
        );
      }
    }
  });
}

test("nothing on the card is cut off, on the narrowest paper either", async (t) => {
  const page = await openCard(t, "/courts/1/chart", ".setup");
  await page.emulateMedia({ media: "print" });
  // Letter across and A4 upright without their margins of 9 mm, in CSS pixels of 1/96 inch.
  for (const [paper, pixels] of [
    ["Letter across", (11 - 18 / 25.4) * 96],
    ["A4 upright", ((210 - 18) / 25.4) * 96],
  ]) {
    await page.setViewportSize({ width: Math.floor(pixels), height: 1000 });
    const cut = await page
      .locator(".key-card .cap")
      .evaluateAll((all) =>
        all
          .filter((one) => one.scrollHeight > one.clientHeight + 1 || one.scrollWidth > one.clientWidth + 1)
          .map((one) => one.textContent),
      );
    assert.deepEqual(cut, [], paper);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth > innerWidth);
    assert.equal(wide, false, paper);
  }
  assert.equal(await page.locator(".setup").isVisible(), false);
});

test("the card shows the keys in use: a changed one at its new place and in the lessons", async (t) => {
  const page = await openCard(t, "/courts/1/chart", ".setup");
  const words = async () =>
    (await page.locator(".key-card .cap").allTextContents()).filter((text) => /^(J|K|F9)|Drop|drop$/.test(text));
  assert.deepEqual(await words(), ["Jdink", "Kdrop"]);
  await beginByForm(page);
  await page.locator('[data-do="keys"]').press("Enter");
  await page.locator("dialog.keys [name=action]").selectOption("stroke:drop");
  await page.locator('[data-do="remap"]').press("Enter");
  await page.keyboard.press("F9");
  await page.locator(".keys-words").filter({ hasText: "F9" }).waitFor();
  assert.deepEqual(await words(), ["Jdink", "K", "F9drop"]);
  const lessons = await page.locator(".key-card .lessons li").allTextContents();
  assert.ok(
    lessons.some((text) => text === "Third shot: its stroke, F9 drop, ; drive …"),
    lessons.join("\n"),
  );
  for (const lesson of [
    "Serve: Space",
    "How: 1 winner, 2 out, 3 net, 4 fault, ` ace",
    "Who: ⏎ whoever hit last, ← first team, → second team",
  ]) {
    assert.ok(lessons.includes(lesson), lesson);
  }
});
