/** Folders that exist for one test and are gone after it. */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";

/**
 * @param {import('node:test').TestContext} t the test that owns the folder
 * @returns {Promise<string>} an empty folder
 */
export async function freshFolder(t) {
  const folder = await mkdtemp(join(tmpdir(), "rallytide-test-"));
  t.after(() => rm(folder, { recursive: true, force: true, maxRetries: 20 }));
  return folder;
}
