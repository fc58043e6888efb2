// What people can read in the sources: pages' HTML, strings of their scripts (parsed by
// the TypeScript compiler), Rust strings and the help texts of commands. Each find says
// where it stands, so that a word can be looked for in them. Nothing is executed.

import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { SyntaxKind } from "typescript/unstable/ast";
import { createVirtualFileSystem } from "typescript/unstable/fs";
import { API } from "typescript/unstable/sync";

/** @typedef {{ file: string, line: number, text: string }} Wording */

const ROOT = fileURLToPath(new URL("../../../", import.meta.url));

/** Attributes that people read or are read aloud; any other is for machines. */
const READ_ATTRIBUTES = /\s(?:aria-label|alt|placeholder|title|label)\s*=\s*(?:"([^"]*)"|'([^']*)')/g;
/** Properties of objects whose strings are for machines. */
const MACHINE_PROPERTIES =
  /^(class|className|id|name|for|type|role|rel|href|src|selector|value|key|code|kind|accept|autocomplete|inputmode|slot|tabindex|target|method|part|data-.*|aria-(?!label$).*)$/;
/** One word of an address, a class, a path or an event: nothing anybody reads. */
const MACHINE_WORD = /^[^\s]*[-_./:#[\]{}=$][^\s]*$/;

/**
 * @param {string} html a page, or what stands in a template
 * @param {(text: string, at: number) => void} said
 */
function htmlWordings(html, said) {
  const blank = (/** @type {string} */ whole) => whole.replace(/[^\n]/g, " ");
  const seen = html.replace(/<!--[\s\S]*?-->|<(script|style)\b[\s\S]*?<\/\1>/g, blank);
  for (const tag of seen.matchAll(/<[a-z!/][^>]*>/gi))
    for (const found of tag[0].matchAll(READ_ATTRIBUTES)) said(found[1] ?? found[2] ?? "", tag.index + found.index);
  // Words run on over tags of emphasis, so tags go and blanks stay in their place.
  let from = 0;
  const text = seen.replace(/<\/?(?:b|i|em|strong|kbd|code|span|a|small)\b[^>]*>/gi, blank);
  for (const tag of [...text.matchAll(/<[a-z!/][^>]*>/gi), { 0: "", index: text.length }]) {
    const words = text.slice(from, tag.index);
    if (words.trim() !== "") said(words, from + words.search(/\S/));
    from = tag.index + tag[0].length;
  }
}

/** @param {string} source @param {number} at */
const lineAt = (source, at) => source.slice(0, at).split("\n").length;

const oneLine = (/** @type {string} */ text) => text.replace(/\s+/g, " ").trim();

/** @param {string} file from the repository's root @param {string} [source] @returns {Wording[]} */
export function wordingsOfHtml(file, source = readFileSync(ROOT + file, "utf8")) {
  /** @type {Wording[]} */
  const found = [];
  htmlWordings(source, (text, at) => found.push({ file, line: lineAt(source, at), text: oneLine(text) }));
  return found;
}

/** The parser of the pages' scripts; one for all of a run. */
export class Scripts {
  #api;
  #program;

  /** @param {string} config @param {import("typescript/unstable/fs").FileSystem} [fs] */
  constructor(config = `${ROOT}overlay/tsconfig.json`, fs) {
    this.#api = new API(fs === undefined ? {} : { fs });
    const project = this.#api.updateSnapshot({ openProjects: [config] }).getProjects()[0];
    if (project === undefined) throw new Error(`${config} names no project`);
    this.#program = project.program;
  }

  close() {
    this.#api.close();
  }

  /** @param {string} file from the root @param {string} [root] @returns {Wording[]} */
  wordings(file, root = ROOT) {
    const tree = this.#program.getSourceFile(root + file);
    if (tree === undefined) throw new Error(`${file} is not among the scripts of the project`);
    return wordingsOfTree(file, tree);
  }
}

/** @param {string} file its name @param {string} source a script that is on no disk @returns {Wording[]} */
export function wordingsOfScript(file, source) {
  const fs = createVirtualFileSystem({
    "/tsconfig.json": JSON.stringify({ compilerOptions: { allowJs: true, noLib: true }, files: [file] }),
    [`/${file}`]: source,
  });
  const scripts = new Scripts("/tsconfig.json", fs);
  try {
    return scripts.wordings(file, "/");
  } finally {
    scripts.close();
  }
}

/** @param {string} file @param {import("typescript/unstable/ast").SourceFile} tree @returns {Wording[]} */
function wordingsOfTree(file, tree) {
  /** @type {Wording[]} */
  const found = [];
  const say = (/** @type {string} */ text, /** @type {number} */ at) => {
    if (!MACHINE_WORD.test(text.trim()) && /[a-z]/i.test(text))
      found.push({ file, line: lineAt(tree.text, at), text: oneLine(text) });
  };
  /** @param {any} node */
  const visit = (node) => {
    if (isForMachines(node)) return;
    if (node.kind === SyntaxKind.StringLiteral) return say(node.text, node.end);
    if (node.kind === SyntaxKind.NoSubstitutionTemplateLiteral || node.kind === SyntaxKind.TemplateExpression) {
      const isMarkup = /^(html|svg)$/.test(node.parent?.tag?.text ?? "");
      const pieces =
        node.kind === SyntaxKind.TemplateExpression
          ? [node.head, ...node.templateSpans.map((/** @type {any} */ span) => span.literal)]
          : [node];
      const text = pieces.map((piece) => piece.text).join(isMarkup ? "·" : "…");
      if (isMarkup) htmlWordings(text, (words) => say(words, node.end));
      else say(text, node.end);
      if (node.kind === SyntaxKind.TemplateExpression) for (const span of node.templateSpans) visit(span.expression);
      return;
    }
    node.forEachChild(visit);
  };
  visit(tree);
  return found;
}

/** @param {any} node */
function isForMachines(node) {
  switch (node.kind) {
    case SyntaxKind.ImportDeclaration:
    case SyntaxKind.ExportDeclaration:
    case SyntaxKind.LiteralType:
      return true;
    case SyntaxKind.PropertyAssignment:
      return MACHINE_PROPERTIES.test(node.name.text ?? "") && node.initializer.kind === SyntaxKind.StringLiteral;
    default:
      return false;
  }
}

/**
 * Strings of Rust, tests left out; of `help` also the documentation comments, which the
 * command prints.
 * @param {string} file @param {{ help?: boolean, source?: string }} [options] @returns {Wording[]}
 */
export function wordingsOfRust(file, { help = false, source = readFileSync(ROOT + file, "utf8") } = {}) {
  const tests = source.search(/^#\[cfg\(test\)\]/m);
  const code = tests === -1 ? source : source.slice(0, tests);
  /** @type {Wording[]} */
  const found = [];
  /** @type {{ line: number, words: string } | null} */
  let comment = null;
  const endComment = () => {
    if (comment !== null) found.push({ file, line: comment.line, text: oneLine(comment.words) });
    comment = null;
  };
  const tokens =
    /\/\/([/!]?)([^\n]*)|\/\*[\s\S]*?\*\/|r(#*)"([\s\S]*?)"\3|"((?:[^"\\]|\\[\s\S])*)"|'(?:[^'\\\n]|\\[^\n]+?)'|\S/g;
  for (const token of code.matchAll(tokens)) {
    const [whole, mark, words, , raw, plain] = token;
    const line = lineAt(code, token.index);
    if (mark === "/" && help) {
      comment = { line: comment?.line ?? line, words: `${comment?.words ?? ""} ${words}` };
      continue;
    }
    if (!whole.startsWith("//")) endComment();
    const text = raw ?? plain?.replace(/\\\n\s*/g, "").replace(/\\(.)/g, "$1");
    if (text !== undefined && /[a-z]/i.test(text) && !MACHINE_WORD.test(text.trim()))
      found.push({ file, line, text: oneLine(text) });
  }
  return found;
}
