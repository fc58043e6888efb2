// Which of this machine's network addresses goes into links and codes, where it
// has several. The choice is kept by this browser, for all links of the desk.

/** @import { DeskView } from "../../types/desk.js" */
import { choice, field, offer } from "../page/controls.js";

const PLACE = "rallytide.desk.address";

/** @returns {string} empty: nothing was chosen */
export function chosenAddress() {
  try {
    return localStorage.getItem(PLACE) ?? "";
  } catch (error) {
    console.warn("this browser keeps no choice of an address", error);
    return "";
  }
}

/** @param {string} address */
export function keepAddress(address) {
  try {
    localStorage.setItem(PLACE, address);
  } catch (error) {
    console.warn("this browser keeps no choice of an address", error);
  }
}

export class AddressChoice {
  #field = field(
    "Address that links lead to",
    choice([]),
    "This machine has several. Choose the one of the network that the other laptops are in.",
  );
  node = this.#field.node;

  /** @param {{ chooseAddress: (address: string) => void }} desk */
  constructor(desk) {
    this.node.hidden = true;
    this.#field.control.addEventListener("change", () => desk.chooseAddress(this.#field.control.value));
  }

  /** @param {DeskView} view */
  draw({ links, offered }) {
    this.node.hidden = links === null || offered.length < 2;
    if (links === null) return;
    const select = /** @type {HTMLSelectElement} */ (this.#field.control);
    offer(
      select,
      offered.map((address) => [address, addressWords(address, links.networks?.[address])]),
    );
    if (document.activeElement !== select) select.value = links.addresses[0] ?? "";
  }
}

/** @param {string} address @param {string} [network] */
export function addressWords(address, network) {
  const { host } = new URL(address);
  return network === undefined ? host : `${host} (${network})`;
}
