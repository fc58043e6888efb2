// Links to the pages of a court and to the page for everybody, for this computer or
// for another device. Pure. A link for another device carries the key of whoever it is for.

/** @import { Links, Role } from "../../types/host.js" */

/** The pages of a court, who they are for, and where they are usually opened. */
export const PAGES = /** @type {const} */ ([
  { page: "chart", role: "charter", label: "Charting page", where: "other", about: "for the volunteer at the court" },
  { page: "cues", role: "charter", label: "Cues page", where: "other", about: "for a second volunteer, on a phone" },
  { page: "booth", role: "booth", label: "Booth page", where: "other", about: "for the commentator" },
  { page: "graphic", role: "viewer", label: "Graphic", where: "this", about: "for the streaming program" },
]);

/** @typedef {(typeof PAGES)[number]["page"]} Page */
/** @typedef {"this" | "other"} Where on this computer, or on another device */

/**
 * @param {object} asked
 * @param {string} asked.court
 * @param {Page} asked.page
 * @param {Where} asked.where
 * @param {Links | null} asked.links
 * @param {{ origin: string, key: string | null }} asked.own the desk page's own address
 * @param {Record<string, string>} [asked.options] of the page
 * @returns {string}
 */
export function pageLink({ court, page, where, links, own, options = {} }) {
  const path = `/courts/${encodeURIComponent(court)}/${page}`;
  return linkTo({ path, role: roleOf(page), where, links, own, options });
}

/**
 * The event page has a court's graphic's key: both show what everybody may see.
 * @param {{ where: Where, links: Links | null, own: { origin: string, key: string | null } }} asked
 */
export const eventLink = (asked) => linkTo({ ...asked, path: "/event", role: "viewer", options: {} });

/**
 * @param {object} asked
 * @param {string} asked.path
 * @param {Role} asked.role
 * @param {Where} asked.where
 * @param {Links | null} asked.links
 * @param {{ origin: string, key: string | null }} asked.own
 * @param {Record<string, string>} asked.options
 */
function linkTo({ path, role, where, links, own, options }) {
  const local = isLoopback(own.origin);
  const other = links?.addresses[0] ?? (local ? undefined : own.origin);
  const outside = where === "other" && other !== undefined;
  const link = new URL(path, outside ? other : own.origin);
  for (const [name, value] of Object.entries(options)) link.searchParams.set(name, value);
  // From this very computer no key is needed, and a link without one is easier to read.
  const key = links?.keys[role] ?? null;
  if ((outside || !local) && key !== null) link.searchParams.set("key", key);
  // Commas and colons may stand in an address as they are, and people read these.
  return link.href.replaceAll("%2C", ",").replaceAll("%3A", ":").replaceAll("%2F", "/");
}

/**
 * The links with the address in front that is to be used: the chosen one, else
 * the one this page was itself opened with, else the host's own first.
 * @param {Links} links @param {string} chosen @param {string} origin the desk page's own
 * @returns {Links}
 */
export function preferring(links, chosen, origin) {
  const first = [chosen, origin].find((address) => links.addresses.includes(address));
  return first === undefined
    ? links
    : { ...links, addresses: [first, ...links.addresses.filter((one) => one !== first)] };
}

/** @param {Page} page @returns {Role} */
export function roleOf(page) {
  return PAGES.find((one) => one.page === page)?.role ?? "viewer";
}

/** @param {string} address */
export function isLoopback(address) {
  const { hostname } = new URL(address);
  return hostname === "localhost" || hostname === "[::1]" || /^127\./.test(hostname);
}

/** @param {string} address @param {string} [network] */
export function addressWords(address, network) {
  const { host } = new URL(address);
  return network === undefined ? host : `${host} (${network})`;
}
