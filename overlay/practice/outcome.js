// Draws what came of a rally, shot by shot, and of a whole set.

/**
 * @import { MatchHeader } from "../types/messages.js"
 * @import { Comparison, Row } from "./compare.js"
 * @import { Tally } from "./tally.js"
 * @import { View } from "./trainer.js"
 */
import { part } from "../shared/charting/court-view.js";
import { said, teamName } from "../shared/charting/words.js";
import { make, setText } from "../shared/dom.js";
import { keysToRemember } from "./hints.js";
import { tally } from "./tally.js";
import {
  findingWords,
  lagWords,
  mistakeWords,
  practiseNext,
  rightWords,
  rowWords,
  seconds,
  shotWords,
  tempoAdvice,
  tempoWords,
} from "./words.js";

/**
 * @param {View} view @param {Comparison} comparison @param {MatchHeader} header
 * @param {(actions: readonly string[]) => string} keyWords
 */
export function showOutcome({ number, of }, comparison, header, keyWords) {
  const sum = tally([comparison]);
  setText(part(".outcome h2"), `Rally ${number} of ${of}: ${rightWords(sum)}`);
  const mistakes = mistakeWords(sum);
  setText(part(".outcome-words"), [...mistakes, ...(sum.shots === 0 ? [] : [lagWords(sum.lag)])].join(" · "));
  const end = comparison.end.map((finding) => findingWords(finding, header)).join("; ");
  part(".rows tbody").replaceChildren(
    ...comparison.rows.map((row, place) =>
      tableRow(row, comparison.rows.slice(0, place + 1).filter(({ played }) => played !== null).length, header),
    ),
    make(
      "tr",
      { "data-right": String(end === "") },
      make("th", { scope: "row" }, "End"),
      make("td", { colspan: "4" }, end === "" ? "right" : end),
    ),
  );
  const keys = keysToRemember(comparison).map(({ word, actions }) => `${said(word)} ${keyWords(actions)}`);
  setText(
    part(".outcome-keys"),
    keys.length === 0 || keyWords(["undo"]) === "" ? "" : `Keys to remember: ${keys.join(" · ")}`,
  );
  setText(part(".outcome .next span"), number < of ? "Next rally" : "See the whole set");
}

/** @param {Row} row @param {number} number @param {MatchHeader} header */
function tableRow(row, number, header) {
  const right = row.findings.length === 0;
  const { played, charted, lag } = row;
  const whose = (/** @type {Row["played"]} */ shot) => (shot === null ? "" : ` (${teamName(header, shot.team)})`);
  return make(
    "tr",
    { "data-right": String(right) },
    make("th", { scope: "row" }, played === null ? "" : String(number)),
    make("td", {}, `${shotWords(played)}${whose(played)}`),
    make(
      "td",
      {},
      right && !row.swapped && charted !== null
        ? "the same"
        : `${shotWords(charted)}${row.findings.some(({ kind }) => kind === "side") || row.swapped ? whose(charted) : ""}`,
    ),
    make("td", {}, `${right ? "✓" : "✗"} ${rowWords(row, header)}`),
    make("td", {}, lag === null ? "" : seconds(lag)),
  );
}

/** @param {Tally} sum @param {number} tempo */
export function showSum(sum, tempo) {
  setText(
    part(".sum-right"),
    `${rightWords(sum)}, ${sum.clean} of ${sum.rallies} ${sum.rallies === 1 ? "rally" : "rallies"} without a mistake, at ${tempoWords(tempo)}`,
  );
  setText(part(".sum-lag"), sum.shots === 0 ? "" : lagWords(sum.lag));
  part(".sum-mistakes").replaceChildren(...mistakeWords(sum).map((words) => make("li", {}, words)));
  setText(part(".sum-next"), sum.shots === 0 ? "" : practiseNext(sum));
  setText(part(".sum-tempo"), tempoAdvice(sum, tempo));
}
