// Offers a text or a file to be saved by the browser.

import { make } from "../../shared/dom.js";

/** @param {string} name @param {Blob} file */
export function saveFile(name, file) {
  const link = make("a", { href: URL.createObjectURL(file), download: name });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 0);
}
