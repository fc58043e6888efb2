/**
 * The built plugin, run by the program over a chart made for it: `npm run build` first.
 *
 * `RALLYTIDE` names the program; otherwise it is the one of this checkout.
 */
import assert from 'node:assert/strict';
import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { test } from 'node:test';

const here = (path) => fileURLToPath(new URL(path, import.meta.url));
const RALLYTIDE = process.env.RALLYTIDE ?? here('../../../target/debug/rallytide');

/** The longest exchange after each entry, by entry. */
async function longest() {
  const { stdout } = await promisify(execFile)(RALLYTIDE, [
    'plugin', 'try', here('dinks.wasm'), here('../dinks.jsonl'), '--each',
  ]);
  const lines = stdout.trimEnd().split('\n').map((line) => JSON.parse(line));
  return new Map(lines.map(({ entry, readings }) => [entry, readings.map(({ value }) => value)]));
}

test('an_exchange_counts_when_its_rally_has_ended', async () => {
  const after = await longest();
  assert.deepEqual(after.get('e7'), [{ type: 'count', n: 0 }]);
  assert.deepEqual(after.get('e8'), [{ type: 'count', n: 3 }]);
});

test('a_replayed_rally_and_a_missed_shot_make_no_long_exchange', async () => {
  const after = await longest();
  assert.deepEqual(after.get('e17'), [{ type: 'count', n: 3 }]);
  assert.deepEqual(after.get('e25'), [{ type: 'count', n: 3 }]);
});

test('a_longer_exchange_takes_the_place_of_the_longest', async () => {
  const after = await longest();
  assert.deepEqual([...after.values()].at(-1), [{ type: 'count', n: 4 }]);
});
