/**
 * The charters' page in a real browser against a real host: what is typed is what the host has,
 * whatever happens to the connection in between. The typist of the overlay's tests turns a
 * made-up match into keys; the match it is checked against comes from `rallytide simulate`.
 */
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import { test } from 'node:test';
import { Pocket } from '../overlay/chart/pocket.js';
import { SCHEME } from '../overlay/chart/keys.js';
import { Typist, plain } from '../overlay/tests/support/typist.js';
import { readChart } from './oracle/chart.mjs';
import { openBrowser, openPage } from './support/browser.mjs';
import { freshFolder } from './support/folders.mjs';
import { Host } from './support/host.mjs';
import { linesOf } from './support/program.mjs';
import { until } from './support/wait.mjs';

const OVERLAY = fileURLToPath(new URL('../overlay', import.meta.url));
const LAPTOP = { width: 1366, height: 768 };

/** Mean tempo of elite doubles the page must keep up with, shots a second (a planning figure of ours). */
const SHOTS_A_SECOND = 1.018;
/** Keystroke-Level Model, Card, Moran & Newell 1980: a key of an average skilled typist (55 wpm), s. */
const KEY_SECONDS = 0.2;

async function startHost(t, { data, port = 0 } = {}) {
  const folder = data ?? (await freshFolder(t));
  const command = ['serve', '--listen', `127.0.0.1:${port}`, '--data', folder, '--pages', OVERLAY];
  return Host.start(t, { data: folder, port, command });
}

async function pocketOf(host) {
  return Pocket.from(await (await host.get('/chart/pocket.wasm')).arrayBuffer());
}

/** Types a made-up match on paper, so to speak. */
async function typed(host, seed, rallies = Infinity) {
  const [first, ...lines] = (await linesOf(['simulate', '--seed', String(seed), '--plain'])).map((line) => JSON.parse(line));
  const header = { ...first, court: '1' };
  let ended = 0;
  const end = lines.findIndex((entry) => entry.kind === 'rally_end' && (ended += 1) === rallies);
  const entries = end < 0 ? lines : lines.slice(0, end + 1);
  const typist = new Typist(await pocketOf(host), header);
  for (const entry of entries) typist.type(entry);
  return { header, entries, typist };
}

/** Brings the header to the page as somebody would: a chart file without entries. */
async function begin(page, header) {
  const file = { name: 'match.jsonl', mimeType: 'application/x-ndjson', buffer: Buffer.from(`${JSON.stringify(header)}\n`) };
  await page.locator('.setup [name=file]').setInputFiles(file);
  await page.locator('.setup button').press('Enter');
  await page.locator('.court').waitFor();
}

/** Real key events of the browser's own input, as fast as the page takes them. */
async function press(page, codes) {
  for (const code of codes) await page.keyboard.press(code);
}

async function openChart(t, host, browser) {
  const opened = await openPage(browser ?? (await openBrowser(t)), host.http('/courts/1/chart'), LAPTOP);
  await until('the page to connect', async () => (await lineOf(opened.page)) === 'connected');
  return opened;
}

const lineOf = (page) => page.locator('.line').getAttribute('data-line');

async function allSaved(page) {
  await until('everything to be saved', async () => (await page.locator('.line').textContent()) === 'Connected, all saved', {
    within: 60_000, seen: () => page.locator('.line').textContent(),
  });
}

async function effectiveOf(host, id) {
  return effectiveOfText(await readFile(host.logFile(id), 'utf8'));
}

/** @param {string} text a chart file @returns {any[]} what is true after all corrections */
function effectiveOfText(text) {
  return readChart(text).effective.map(({ id, entry }) => ({ ...entry, id }));
}

test('a whole match can be typed, at no more than 1.25 keys a shot', async (t) => {
  const host = await startHost(t);
  const { header, entries, typist } = await typed(host, 3);
  const typedChart = [header, ...typist.entries].map((line) => `${JSON.stringify(line)}\n`).join('');
  assert.deepEqual(plain(effectiveOfText(typedChart)), plain(entries));
  const shots = entries.filter(({ kind }) => kind === 'shot').length;
  const cues = entries.reduce((sum, { kind, cues: own = [] }) => sum + (kind === 'cue') + own.length, 0);
  const actionOf = new Map(SCHEME.map(({ action, code }) => [code, action.split(':')[0]]));
  const count = (...verbs) => typist.codes.filter((code) => verbs.includes(actionOf.get(code))).length;
  const keys = count('stroke', 'next', 'contact', 'missed');
  const cueKeys = count('cue', 'before');
  // As if exactly a quarter of the shots had a cue: each costs what it costs here.
  const keysAShot = keys / shots + 0.25 * (cueKeys / cues);
  const busy = keysAShot * KEY_SECONDS * SHOTS_A_SECOND;
  t.diagnostic(`${shots} shots, ${cues} cues: ${(keys / shots).toFixed(3)} keys a shot, ${(cueKeys / cues).toFixed(3)} a cue`);
  t.diagnostic(`${keysAShot.toFixed(3)} keys a shot with cues on a quarter: hands busy ${(busy * 100).toFixed(1)} % of the time at ${SHOTS_A_SECOND} shots/s`);
  assert.ok(keysAShot <= 1.25, `${keysAShot} keys a shot`);
  assert.ok(busy < 1);
});

test('a whole match typed in the page is the chart the host has', async (t) => {
  const host = await startHost(t);
  const { header, entries, typist } = await typed(host, 3);
  const { page, errors } = await openChart(t, host);
  await begin(page, header);
  await press(page, typist.codes);
  await allSaved(page);
  assert.deepEqual(plain(await effectiveOf(host, header.id)), plain(entries));
  assert.deepEqual(JSON.parse(await host.now()).score.winner, typist.answer.score.winner);
  assert.deepEqual(errors, []);
});

test('what is typed offline arrives once and in order, after a reload and a restart of the host', async (t) => {
  const host = await startHost(t);
  const { header, entries, typist } = await typed(host, 5, 12);
  const { page } = await openChart(t, host);
  await begin(page, header);
  const third = Math.floor(typist.codes.length / 3);
  await press(page, typist.codes.slice(0, third));
  await host.kill();
  await until('the page to notice', async () => (await lineOf(page)) !== 'connected');
  await press(page, typist.codes.slice(third, 2 * third));
  await until('entries to wait', async () => /[1-9]\d* waiting/.test(await page.locator('.line').textContent()));
  const again = await startHost(t, { data: host.data, port: host.port });
  await page.reload();
  await page.locator('.court').waitFor();
  await press(page, typist.codes.slice(2 * third));
  await allSaved(page);
  const told = plain(await effectiveOf(again, header.id));
  assert.deepEqual(told, plain(entries));
});

test('a connection dropped again and again loses and repeats nothing', async (t) => {
  const host = await startHost(t);
  const { header, entries, typist } = await typed(host, 7, 10);
  const browser = await openBrowser(t);
  const page = await browser.newPage({ viewport: LAPTOP });
  let route;
  await page.routeWebSocket(/\/intake$/, (socket) => {
    route = socket;
    socket.connectToServer();
  });
  await page.goto(host.http('/courts/1/chart'));
  await until('the page to connect', async () => (await lineOf(page)) === 'connected');
  await begin(page, header);
  for (let at = 0; at < typist.codes.length; at += 25) {
    await press(page, typist.codes.slice(at, at + 25));
    await route.close();
  }
  await allSaved(page);
  assert.deepEqual(plain(await effectiveOf(host, header.id)), plain(entries));
});

test('undo and redo, a step back and a fix leave the corrected chart with the host', async (t) => {
  const host = await startHost(t);
  const { header } = await typed(host, 3, 1);
  const { page } = await openChart(t, host);
  await begin(page, header);
  await press(page, ['Space', 'KeyK', 'KeyJ', 'Backspace', 'Backslash']);
  await press(page, ['ArrowUp', 'ArrowUp', 'Semicolon', 'KeyF', 'Escape']);
  await press(page, ['Digit2', 'Enter']);
  await allSaved(page);
  const told = plain(await effectiveOf(host, header.id));
  assert.deepEqual(told.map(({ stroke, how }) => stroke ?? how), ['serve', 'return', 'drive', 'dink', 'out']);
  assert.deepEqual(told[2].cues, ['attackable']);
  assert.match(await page.locator('.what').textContent(), /side out|point|second server/i);
});

test('a second laptop charts only after its charter took the court over', async (t) => {
  const host = await startHost(t);
  const { header } = await typed(host, 3, 1);
  const browser = await openBrowser(t);
  const { page: first } = await openChart(t, host, browser);
  await begin(first, header);
  await press(first, ['Space', 'Space']);
  await allSaved(first);
  const other = await browser.newContext({ viewport: LAPTOP });
  const second = await other.newPage();
  await second.goto(host.http('/courts/1/chart'));
  await second.locator('.gate').waitFor();
  await second.locator('[data-do="take-over"]').press('Enter');
  await until('the first to be told', async () => (await lineOf(first)) === 'taken_over');
  await until('the second to chart', async () => (await lineOf(second)) === 'connected');
  await press(first, ['KeyJ']);
  await press(second, ['ArrowLeft']);
  await allSaved(second);
  assert.deepEqual((await host.logged(header.id)).map(({ kind }) => kind), ['shot', 'shot', 'rally_end']);
});

test('a rally can be charted by touch, in a tablet, and axe finds nothing', async (t) => {
  const host = await startHost(t);
  const { header, entries, typist } = await typed(host, 3, 3);
  const browser = await openBrowser(t);
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, hasTouch: true });
  const page = await context.newPage();
  await page.goto(host.http('/courts/1/chart'));
  await until('the page to connect', async () => (await lineOf(page)) === 'connected');
  await begin(page, header);
  const action = new Map(SCHEME.map((key) => [key.code, key.action]));
  for (const code of typist.codes) await page.locator(`[data-action="${action.get(code)}"]`).tap();
  await allSaved(page);
  assert.deepEqual(plain(await effectiveOf(host, header.id)), plain(entries));
  const small = await page.locator('.pad button').evaluateAll((all) => all.filter((one) => one.getBoundingClientRect().height < 48).length);
  assert.equal(small, 0);
  const require = createRequire(new URL('../overlay/package.json', import.meta.url));
  await page.addScriptTag({ path: require.resolve('axe-core/axe.min.js') });
  const { violations } = await page.evaluate(() => globalThis.axe.run());
  assert.deepEqual(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`), []);
});

test('the page fits a small laptop without scrolling', async (t) => {
  const host = await startHost(t);
  const { header, typist } = await typed(host, 3, 2);
  const { page } = await openChart(t, host);
  await begin(page, header);
  await press(page, typist.codes);
  const size = await page.evaluate(() => [document.documentElement.scrollWidth, document.documentElement.scrollHeight]);
  if (process.env.LOOK !== undefined) await page.screenshot({ path: `${process.env.LOOK}/chart.png` });
  assert.ok(size[0] <= LAPTOP.width && size[1] <= LAPTOP.height, `the page is ${size.join('×')}`);
});

test('a match can be begun from the page by keyboard, and a new one after it', async (t) => {
  const host = await startHost(t);
  const { page } = await openChart(t, host);
  page.on('dialog', (dialog) => dialog.accept());
  for (const title of ['First', 'Second']) {
    await page.locator('.setup [name=title]').fill(title);
    await page.locator('.setup [name=title]').press('Enter');
    await until(`the host to have \`${title}\``, async () => JSON.parse(await host.now()).match?.title === title);
    await allSaved(page);
    await press(page, ['ArrowLeft']);
    await allSaved(page);
    assert.equal(JSON.parse(await host.now()).score.points.a, 1);
    await page.locator('[data-do="new"]').press('Enter');
    await page.locator('.setup').waitFor();
  }
});
