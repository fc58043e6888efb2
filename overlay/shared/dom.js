// Small helpers to build and change nodes. Text always goes in as text: nothing
// here takes markup. They hold no state and know nothing about a match.

const SVG = "http://www.w3.org/2000/svg";

/**
 * @template {keyof HTMLElementTagNameMap} T
 * @param {T} tag
 * @param {Record<string, string>} [attributes]
 * @param {...(Node | string)} children
 * @returns {HTMLElementTagNameMap[T]}
 */
export function make(tag, attributes = {}, ...children) {
  const node = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) node.setAttribute(name, value);
  node.append(...children);
  return node;
}

/**
 * @template {keyof SVGElementTagNameMap} T
 * @param {T} tag
 * @param {Record<string, string | number>} [attributes]
 * @param {...(Node | string)} children
 * @returns {SVGElementTagNameMap[T]}
 */
export function draw(tag, attributes = {}, ...children) {
  const node = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) node.setAttribute(name, String(value));
  node.append(...children);
  return node;
}

/**
 * Writes only what differs, so that screen readers are not told twice and a
 * selection under a finger stays.
 * @param {Node} node
 * @param {string} text
 */
export function setText(node, text) {
  if (node.textContent !== text) node.textContent = text;
}

/**
 * @param {Element} node
 * @param {string} name
 * @param {string | null} value `null` takes the attribute away
 */
export function setAttribute(node, name, value) {
  if (value === null) node.removeAttribute(name);
  else if (node.getAttribute(name) !== value) node.setAttribute(name, value);
}

/**
 * Makes the children of `parent` the ones named by `keys`, in that order,
 * keeping the nodes that stay: focus, open details and scroll survive.
 * @template {HTMLElement} T
 * @param {HTMLElement} parent
 * @param {readonly string[]} keys
 * @param {(key: string) => T} create
 * @param {(node: T, key: string) => void} update
 */
export function keyedChildren(parent, keys, create, update) {
  /** @type {Map<string, T>} */
  const present = new Map();
  for (const child of parent.children) {
    if (child instanceof HTMLElement && child.dataset["key"] !== undefined) {
      present.set(child.dataset["key"], /** @type {T} */ (child));
    }
  }
  let place = parent.firstElementChild;
  for (const key of keys) {
    let node = present.get(key);
    if (node === undefined) {
      node = create(key);
      node.dataset["key"] = key;
    }
    present.delete(key);
    if (node === place) place = place.nextElementSibling;
    else parent.insertBefore(node, place);
    update(node, key);
  }
  for (const stale of present.values()) stale.remove();
}
