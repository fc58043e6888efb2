// A database in the browser, where it keeps one for this page: not with site data
// blocked, nor in every private window. Whoever asks goes on without.

/** How long a browser may think about opening a database before it counts as having none. */
const OPEN_MS = 4_000;

/**
 * @param {string} name @param {number} version @param {(database: IDBDatabase) => void} prepare makes what is in it
 * @returns {Promise<IDBDatabase | null>} null where this browser keeps none for this page
 */
export function openDatabase(name, version, prepare) {
  return new Promise((resolve) => {
    /** @param {unknown} why */
    const none = (why) => {
      console.warn(`no database \`${name}\` in this browser: ${String(why)}`);
      resolve(null);
    };
    try {
      const request = globalThis.indexedDB.open(name, version);
      request.onupgradeneeded = () => prepare(request.result);
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => none(request.error);
      setTimeout(() => none("it did not open in time"), OPEN_MS);
    } catch (error) {
      none(error);
    }
  });
}
