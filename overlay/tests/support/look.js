// Takes pictures for people to look at: the graphic in every state, in every
// theme, over a bright court, a dark hall and a busy crowd, at 1920 × 1080 and
// 1280 × 720, and in grey; the booth on tablet, phone and laptop; the desk; the first page.
//   npm run look [-- folder [part of a name]]      (default: /tmp/rallytide-look)
// Each set of the graphic's pictures is also laid out on one sheet. Nothing is
// compared: this is no test.

import { mkdir } from "node:fs/promises";
import { THEMES } from "../../shared/options.js";
import { layBehind, paintBackdrops } from "./backdrops.js";
import { openBrowser, openPage } from "./browser.js";
import { DESK_SCENES } from "./desk-scenes.js";
import { FakeHost } from "./fake-host.js";
import { GRAPHIC_SCENES, SCENES } from "./scenes.js";

/** Pictures are many and large; nobody waits for one, and other work may be going on. */
const PATIENCE_MS = 120_000;
const folder = process.argv[2] ?? "/tmp/rallytide-look";
const only = process.argv[3] ?? "";
const SIZES = [
  { width: 1920, height: 1080 },
  { width: 1280, height: 720 },
];
/** Set by set, the pictures of one sheet. */
const sheets = new Map();

await mkdir(folder, { recursive: true });
const browser = await openBrowser();
const blank = await openPage(browser);
const backdrops = await paintBackdrops(blank.page);
await blank.close();
for (const theme of THEMES)
  for (const scene of GRAPHIC_SCENES) if (scene.name.includes(only)) await lookAtGraphic(scene, theme);
for (const scene of [...SCENES, ...DESK_SCENES]) if (scene.name.includes(only)) await lookAt(scene);
for (const [name, pictures] of sheets) await layOut(name, pictures);
await browser.close();
console.log(`pictures are in ${folder}`);

async function lookAtGraphic({ name, messages, query = "", lost = false }, theme) {
  await onPage(SIZES[0], messages, `/courts/1/graphic?theme=${theme}&${query}`, lost, async (page) => {
    for (const size of SIZES) {
      await page.setViewportSize(size);
      for (const [backdrop, picture] of Object.entries(backdrops)) {
        await page.evaluate(layBehind, picture);
        await keep(page, `${theme} ${backdrop} ${size.height}`, name);
      }
    }
    if (theme !== "dark") return;
    await page.addStyleTag({ content: "html { filter: grayscale(1) }" });
    await keep(page, "grey", name);
  });
}

async function keep(page, set, name) {
  const taken = await page.screenshot({
    type: "jpeg",
    quality: 88,
    path: `${folder}/${`${set} ${name}`.replaceAll(/[^a-z0-9]+/g, "-")}.jpg`,
  });
  sheets.set(set, [
    ...(sheets.get(set) ?? []),
    { name, picture: `data:image/jpeg;base64,${taken.toString("base64")}` },
  ]);
}

async function lookAt({ name, path, size, messages, desk, act, full = false }) {
  await onPage(
    size,
    messages,
    path,
    false,
    async (page) => {
      await act?.(page);
      await page.screenshot({ path: `${folder}/${name}.png`, fullPage: full });
    },
    desk?.(),
  );
}

/** A page that has been told everything, and has come to rest. */
async function onPage(viewport, messages, path, lost, look, desk = null) {
  const host = await FakeHost.start();
  host.greeting = messages[0] ?? null;
  host.desk = desk;
  const { page, errors, close } = await openPage(browser, { viewport });
  page.setDefaultTimeout(PATIENCE_MS);
  await page.goto(`${host.url}${path}`);
  // Any element: a page may have been asked for some pieces alone.
  const isTold = () => [...document.querySelectorAll("*")].some((node) => node.view?.seq != null);
  if (host.greeting !== null) await page.waitForFunction(isTold);
  await page.waitForTimeout(200);
  for (const message of messages.slice(1)) host.send(message);
  if (lost) await host.stop();
  if (desk !== null) await page.getByText("Connected").first().waitFor();
  await page.waitForTimeout(1300);
  await look(page);
  if (errors.length > 0) console.log(path, errors);
  await close();
  if (!lost) await host.stop();
}

/** One sheet: small pictures with their names. */
async function layOut(name, pictures) {
  const { page, close } = await openPage(browser, { viewport: { width: 1960, height: 1000 } });
  page.setDefaultTimeout(PATIENCE_MS);
  await page.evaluate((all) => {
    document.body.style.cssText =
      "margin: 8px; display: grid; grid-template-columns: repeat(4, 1fr); gap: 8px; font: 13px sans-serif";
    for (const { name: title, picture } of all) {
      const figure = document.createElement("figure");
      const image = document.createElement("img");
      figure.style.margin = "0";
      image.src = picture;
      image.style.width = "100%";
      figure.append(image, title);
      document.body.append(figure);
    }
  }, pictures);
  await page.waitForFunction(() => [...document.images].every((image) => image.complete));
  await page.screenshot({ path: `${folder}/sheet ${name}.png`.replaceAll(" ", "-"), fullPage: true });
  await close();
}
