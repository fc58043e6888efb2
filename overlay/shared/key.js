// The key of a page's own address, carried on to what the page asks of its host:
// a link that was handed out opens more than the page alone. Pure.

/**
 * @param {string | URL} address absolute, or seen from the page
 * @param {string} page the page's own address
 * @returns {URL} with the page's key, if it goes to the page's own host and has none
 */
export function withKey(address, page) {
  const target = new URL(address, page);
  const own = new URL(page);
  const key = own.searchParams.get("key");
  // Another host must not be told this one's key. A socket has the host of its page.
  if (key !== null && target.host === own.host && !target.searchParams.has("key")) target.searchParams.set("key", key);
  return target;
}
