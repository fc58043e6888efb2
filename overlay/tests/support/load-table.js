// Writes the table of how busy charting keeps a person into practice/README.md.
//   npm run load-table

import { readFile, writeFile } from "node:fs/promises";
import { loadTable } from "../../practice/load.js";

export const README = new URL("../../practice/README.md", import.meta.url);
const PLACE = /(<!-- load: npm run load-table -->\n)[\s\S]*?(\n<!-- load ends -->)/;

/** @param {string} text of the README @returns {string} with the table as it has to be */
export function withTable(text) {
  if (!PLACE.test(text))
    throw new Error(
      "practice/README.md has no place for the table: `<!-- load: npm run load-table -->` and `<!-- load ends -->`",
    );
  return text.replace(PLACE, (_, before, after) => `${before}${loadTable()}${after}`);
}

if (process.argv[1] === new URL(import.meta.url).pathname)
  await writeFile(README, withTable(await readFile(README, "utf8")));
