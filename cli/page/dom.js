// @ts-check
// Elements made and kept in step with what there is to show. Knows nothing of boards.

/**
 * An element with attributes, listeners (functions) and what is in it.
 * @param {string} tag
 * @param {Record<string, any>} [given]
 * @param {...(Node | string)} within
 * @returns {HTMLElement}
 */
export function element(tag, given = {}, ...within) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(given)) {
    if (typeof value === "function") made.addEventListener(name, value);
    else if (value === true) made.setAttribute(name, "");
    else if (value !== false && value !== undefined) made.setAttribute(name, String(value));
  }
  made.append(...within);
  return made;
}

/**
 * The element of this name.
 * @param {string} id
 * @returns {HTMLElement}
 */
export function byId(id) {
  const found = document.getElementById(id);
  if (!found) throw new Error(`the page has no ${id}`);
  return found;
}

/**
 * Keeps the children of an element in step with a list: each is made once and changed after that, so that focus, what
 * is being typed and what was unfolded stay.
 * @template T
 * @param {HTMLElement} parent
 * @param {T[]} items
 * @param {(item: T, at: number) => string} keyOf
 * @param {(item: T) => HTMLElement} make
 * @param {(child: HTMLElement, item: T, at: number) => void} change
 */
export function inStep(parent, items, keyOf, make, change) {
  /** @type {Map<string, HTMLElement>} */
  const known = new Map();
  for (const child of Array.from(parent.children)) {
    if (child instanceof HTMLElement) known.set(child.dataset.key ?? "", child);
  }
  items.forEach((item, at) => {
    const key = keyOf(item, at);
    let child = known.get(key);
    known.delete(key);
    if (!child) {
      child = make(item);
      child.dataset.key = key;
    }
    change(child, item, at);
    if (parent.children[at] !== child) parent.insertBefore(child, parent.children[at] ?? null);
  });
  known.forEach((child) => child.remove());
}

/**
 * Sets a text where it is another one.
 * @param {Element} where
 * @param {string} text
 */
export function write(where, text) {
  if (where.textContent !== text) where.textContent = text;
}
