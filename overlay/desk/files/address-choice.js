// Which of this computer's network addresses goes into links and codes, where it has
// several. The choice is kept by this browser, for all links of the desk.

/** @import { Desk } from "../host/desk.js" */
import { choiceField } from "../../shared/fields.js";
import { nothing } from "../../shared/html.js";
import { lasting } from "../../shared/memory.js";
import { addressWords } from "./addresses.js";

const KEPT = "rallytide.desk.address";

/** @returns {string} empty: nothing was chosen */
export const chosenAddress = () => lasting.getItem(KEPT) ?? "";

/** @param {string} address */
export const keepAddress = (address) => lasting.setItem(KEPT, address);

/** @param {Desk} desk @param {string} id of the field */
export function addressChoice(desk, id) {
  const { links, offered } = desk.state;
  if (links === null || offered.length < 2) return nothing;
  return choiceField({
    id,
    label: "Network address used in links",
    value: links.addresses[0] ?? "",
    choices: offered.map((address) => [address, addressWords(address, links.networks?.[address])]),
    advice: "This computer has several. Choose the one on the other laptops' network.",
    put: (address) => desk.chooseAddress(address),
  });
}
