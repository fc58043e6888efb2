// Names for what is made here.

/** @returns {string} works on plain http, too, where there is no `randomUUID` */
export function newId() {
  const bytes = crypto.getRandomValues(new Uint8Array(12));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}
