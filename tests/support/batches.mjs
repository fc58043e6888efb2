/**
 * One command over many files. A shell starts the processes, which costs a fraction of starting
 * each of them from here; so many shells work side by side.
 */
import { spawn } from "node:child_process";
import { readFile } from "node:fs/promises";
import { availableParallelism } from "node:os";
import { RALLYTIDE, collected, environment } from "./program.mjs";
import { inTime } from "./wait.mjs";

const SCRIPT = `
program=$1; ending=$2; shift 2
while [ "$1" != -- ]; do arguments="$arguments $1"; shift; done; shift
for file do
  "$program" $arguments "$file" >"$file.$ending" 2>"$file.$ending.err"
  printf '%s\\n' $?
done
`;

/** A machine that does much else at a time takes a second and more for a chart; thousands are asked for on wish. */
const WITHIN_EACH_MS = 3_000;

const SIDE_BY_SIDE = Math.min(availableParallelism(), 2);

/**
 * @param {string[]} files
 * @param {string[]} args what stands before the file; words without blanks
 * @param {string} ending what the files for the output are told apart by
 * @param {{ within?: number }} [options] milliseconds for all of them; left out, it grows with the files
 * @returns {Promise<{ status: number, stdout: string, stderr: string }[]>} in the order of the files
 */
export async function runOver(files, args, ending, { within = 300_000 + files.length * WITHIN_EACH_MS } = {}) {
  const share = Math.ceil(files.length / SIDE_BY_SIDE);
  const parts = Array.from({ length: SIDE_BY_SIDE }, (_, part) => files.slice(part * share, (part + 1) * share));
  const statuses = (await Promise.all(parts.map((part) => runShell(part, args, ending, within)))).flat();
  return Promise.all(
    files.map(async (file, place) => ({
      status: statuses[place],
      stdout: await readFile(`${file}.${ending}`, "utf8"),
      stderr: await readFile(`${file}.${ending}.err`, "utf8"),
    })),
  );
}

async function runShell(files, args, ending, within) {
  const words = ["-c", SCRIPT, "sh", RALLYTIDE, ending, ...args, "--", ...files];
  const shell = spawn("sh", words, { env: environment(), stdio: ["ignore", "pipe", "inherit"] });
  const stdout = collected(shell.stdout);
  const ended = new Promise((resolve, reject) => {
    shell.on("error", reject);
    shell.on("close", resolve);
  });
  try {
    await inTime(`\`rallytide ${args.join(" ")}\` over ${files.length} files`, ended, {
      within,
      seen: () => `${stdout().split("\n").length - 1} done`,
    });
  } finally {
    shell.kill("SIGKILL");
  }
  return stdout().split("\n").slice(0, -1).map(Number);
}
