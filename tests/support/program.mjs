/**
 * The program under test and its commands that end by themselves.
 *
 * `RALLYTIDE` names another binary than the one `cargo build -p rallytide` makes. Compiled plugins
 * are kept in a cache folder of the tests' own, so that nothing depends on what the user has there.
 */
import { spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { inTime } from "./wait.mjs";

const BUILT = fileURLToPath(new URL("../../target/debug/rallytide", import.meta.url));

/** Path of the binary. */
export const RALLYTIDE = process.env.RALLYTIDE ?? BUILT;

if (!existsSync(RALLYTIDE)) {
  throw new Error(`there is no program at \`${RALLYTIDE}\`: run \`cargo build -p rallytide\` first`);
}

/** The environment the program runs in: as here, but for what would change what it says. */
export function environment() {
  const { RALLYTIDE_LOG: _, RALLYTIDE_LOG_FORMAT: __, ...rest } = process.env;
  return { ...rest, XDG_CACHE_HOME: join(tmpdir(), "rallytide-tests-cache") };
}

/**
 * @typedef {object} Outcome
 * @property {number|null} status exit status, null if a signal ended it
 * @property {string|null} signal
 * @property {string} stdout
 * @property {string} stderr
 */

/**
 * Runs a command to its end.
 * @param {string[]} args
 * @param {{ input?: string|Buffer, cwd?: string, within?: number }} [options]
 * @returns {Promise<Outcome>}
 */
export async function rallytide(args, { input = "", cwd, within = 120_000 } = {}) {
  const child = spawn(RALLYTIDE, args, { cwd, env: environment(), stdio: "pipe" });
  // A command that does not read its input may be gone before all of it is written.
  child.stdin.on("error", () => {});
  child.stdin.end(input);
  const stdout = collected(child.stdout);
  const stderr = collected(child.stderr);
  const ended = new Promise((resolve, reject) => {
    child.on("error", reject);
    child.on("close", (status, signal) => resolve({ status, signal }));
  });
  try {
    const { status, signal } = await inTime(`\`rallytide ${args.join(" ")}\` to end`, ended, {
      within,
      seen: () => ({ stdout: stdout().slice(-500), stderr: stderr().slice(-2000) }),
    });
    return { status, signal, stdout: stdout(), stderr: stderr() };
  } finally {
    child.kill("SIGKILL");
  }
}

/** @returns {() => string} all that the stream has given so far */
export function collected(stream) {
  const parts = [];
  stream.on("data", (part) => parts.push(part));
  return () => Buffer.concat(parts).toString("utf8");
}

/**
 * Runs a command that has to succeed.
 * @param {string[]} args
 * @param {{ input?: string|Buffer, cwd?: string }} [options]
 * @returns {Promise<string[]>} the lines it printed
 */
export async function linesOf(args, options) {
  const { status, signal, stdout, stderr } = await rallytide(args, options);
  if (status !== 0) {
    throw new Error(`\`rallytide ${args.join(" ")}\` ended with ${status ?? signal}: ${stderr}`);
  }
  return asLines(stdout);
}

/** @param {string} text @returns {string[]} its lines, the last one ended like all others */
export function asLines(text) {
  if (text === "") return [];
  if (!text.endsWith("\n")) throw new Error(`the last line has no end: ${text.slice(-80)}`);
  return text.slice(0, -1).split("\n");
}
