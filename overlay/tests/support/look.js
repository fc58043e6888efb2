// Takes pictures of the pages in many states, for people to look at:
//   node tests/support/look.js [folder]      (default: /tmp/rallytide-look)
// Not a test; nothing is compared. `npm run look`.

import { mkdir } from "node:fs/promises";
import { openBrowser, openPage } from "./browser.js";
import { FakeHost } from "./fake-host.js";
import { SCENES } from "./scenes.js";

const folder = process.argv[2] ?? "/tmp/rallytide-look";
const only = process.argv[3];

/** Stands in for video: light, dark, busy, and never plain. */
const BACKDROP = `
  html::before {
    content: ""; position: fixed; inset: 0; z-index: -1;
    background:
      repeating-linear-gradient(115deg, rgb(255 255 255 / 0.18) 0 6px, transparent 6px 47px),
      repeating-linear-gradient(20deg, rgb(0 0 0 / 0.22) 0 14px, transparent 14px 90px),
      linear-gradient(100deg, #1c5d8f 0 22%, #2f8f6b 22% 61%, #d9e6ea 61% 74%, #31424c 74%);
  }`;

await mkdir(folder, { recursive: true });
const host = await FakeHost.start();
const browser = await openBrowser();
for (const scene of SCENES) {
  if (only !== undefined && !scene.name.includes(only)) continue;
  host.greeting = scene.messages[0] ?? null;
  const { page, errors, close } = await openPage(browser, { viewport: scene.size });
  await page.goto(`${host.url}${scene.path}`);
  if (scene.over) await page.addStyleTag({ content: BACKDROP });
  await page.waitForTimeout(500);
  for (const message of scene.messages.slice(1)) host.send(message);
  await page.waitForTimeout(scene.wait ?? 900);
  await scene.act?.(page);
  await page.screenshot({ path: `${folder}/${scene.name}.png`, fullPage: scene.full ?? false });
  if (errors.length > 0) console.log(scene.name, errors);
  await close();
}
await browser.close();
await host.stop();
console.log(`pictures are in ${folder}`);
