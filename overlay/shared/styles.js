// Brings the style sheets elements and pages need, once each, and knows when
// they have come: nothing is drawn unstyled.

/** @type {Set<Promise<void>>} Styles still on their way. */
const pending = new Set();

/**
 * Adds a stylesheet once, before all others, so that a page's own rules win.
 * @param {string} file
 * @param {string} beside the asking module's address
 */
export function needStyles(file, beside) {
  const href = new URL(file, beside).href;
  if ([...document.styleSheets].some((sheet) => sheet.href === href)) return;
  if ([...document.querySelectorAll("link")].some((link) => link.href === href)) return;
  const link = document.createElement("link");
  link.rel = "stylesheet";
  link.href = href;
  link.dataset["rt"] = "";
  /** @type {Promise<void>} */
  const loaded = new Promise((resolve) => {
    link.onload = () => resolve();
    link.onerror = () => {
      console.error(`cannot load the styles \`${href}\``);
      resolve();
    };
  });
  pending.add(loaded);
  void loaded.then(() => pending.delete(loaded));
  const ours = document.head.querySelectorAll("link[data-rt]");
  const last = ours[ours.length - 1];
  if (last === undefined) document.head.prepend(link);
  else last.after(link);
}

export function areStylesReady() {
  return pending.size === 0;
}

/** Comes when every sheet asked for so far is there, or has failed aloud. */
export async function whenStyled() {
  while (pending.size > 0) await Promise.all(pending);
}
