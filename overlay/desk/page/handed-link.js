// A link that somebody hands on: to read, to copy, to open, to scan with a camera.

/** @import { Desk } from "../host/desk.js" */
import { html, nothing, svg } from "../../shared/html.js";
import { encode } from "../../vendor/uqr/uqr.js";
import { isLoopback } from "../files/addresses.js";

/**
 * @param {Desk} desk
 * @param {object} link
 * @param {string} link.label whose link
 * @param {string} link.href
 * @param {string} [link.open] what this browser opens, where that is another address
 * @param {boolean} [link.withCode] a code for cameras
 */
export function handedLink(desk, { label, href, open = href, withCode = false }) {
  // A camera belongs to another device, and this computer's own address is no use there.
  const coded = withCode && !isLoopback(href);
  return html`<div class="handed">
    <output class="address" aria-label=${`${label}, address`}>${href}</output>
    <button type="button" aria-label=${`Copy the link: ${label}`} @click=${copy(desk, label, href)}>Copy</button>
    <a class="button" href=${open} target="_blank" rel="noopener" aria-label=${`Open: ${label} (new tab)`}>Open</a>
    ${coded ? html`<div class="code">${qrCode(href, `${label}, as a code for a camera`)}</div>` : nothing}
  </div>`;
}

/** @param {Desk} desk @param {string} label @param {string} href */
const copy = (desk, label, href) => async (/** @type {MouseEvent} */ event) => {
  const shown = /** @type {Element} */ (event.currentTarget).closest(".handed")?.querySelector(".address");
  const isCopied = await copyText(href, shown ?? null);
  desk.tell(
    isCopied ? `Copied: ${label}.` : "This browser does not copy here. The link is selected; press Ctrl C to copy it.",
  );
};

/** @param {string} text @param {Node | null} shown where it can be selected */
async function copyText(text, shown) {
  try {
    // Plain http from another device has no clipboard.
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    if (shown === null) return false;
    const selection = getSelection();
    selection?.removeAllRanges();
    const range = document.createRange();
    range.selectNodeContents(shown);
    selection?.addRange(range);
    return document.execCommand("copy");
  }
}

/** @type {Map<string, { size: number, path: string }>} */
const codes = new Map();

/** @param {string} text */
function codeOf(text) {
  const known = codes.get(text);
  if (known !== undefined) return known;
  // Four light modules around it, dark on light, as ISO/IEC 18004 asks.
  const { data, size } = encode(text, { ecc: "M", border: 4 });
  const path = data.flatMap((row, y) => row.flatMap((dark, x) => (dark ? [`M${x} ${y}h1v1h-1z`] : []))).join("");
  const made = { size, path };
  codes.set(text, made);
  return made;
}

/** @param {string} text @param {string} label */
function qrCode(text, label) {
  const { size, path } = codeOf(text);
  return html`<svg class="qr" viewBox=${`0 0 ${size} ${size}`} role="img" aria-label=${label} shape-rendering="crispEdges">
    ${svg`<rect width=${size} height=${size} fill="#fff" /><path d=${path} fill="#000" />`}
  </svg>`;
}
