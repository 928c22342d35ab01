// @ts-check
// Things in a row under the hand: picked, dragged along the row, gone along by keys; strips of the board, blanks of a
// panel. Knows where they lie on the screen and nothing of what they are.

import { element, inStep, write } from "./dom.js";

/**
 * What a row is made of.
 * @template T
 * @typedef {object} Row
 * @property {HTMLElement} list Where its elements go.
 * @property {() => T[]} items
 * @property {(item: T, place: number) => string} keyOf By which a thing stays known when it moves.
 * @property {(item: T, place: number, count: number) => string} nameOf For those who don't see it.
 * @property {(item: T) => string} tag What is written on it.
 * @property {(item: T) => [number, number]} span From and to, px.
 * @property {() => [number, number]} size Width and height of all, px.
 * @property {Record<string, (keys: string[]) => void>} keys What a key does with what is picked.
 * @property {(keys: string[]) => void} again What another click does with the one that is picked.
 * @property {(keys: string[], where: (places: number[]) => number) => Promise<boolean>} moveTo
 * @property {(places: number[], by: number) => void} hold Things hang at the pointer, so far from where they lie, px.
 * @property {() => void} picked What is picked has changed.
 * @property {boolean} [oneByOne] Whether no more than one is picked.
 */

/** So far is a drag and not a click, px. */
const DRAGS = 6;

/** @template T */
export class Hand {
  /** @type {Set<string>} */
  #picked = new Set();
  /** The place that the keys are at, and what lies there: they go with it. */
  #at = 0;
  #atKey = "";
  /** @type {{ from: number, startX: number, moved: boolean, wasPicked: boolean, id: number } | null} */
  #drag = null;
  #mark = element("div", { class: "mark", role: "presentation", hidden: true });

  /** @param {Row<T>} row */
  constructor(row) {
    this.row = row;
    const { list } = row;
    list.addEventListener("keydown", (event) => this.#onKey(event));
    list.addEventListener("pointerdown", (event) => this.#onDown(event));
    list.addEventListener("pointermove", (event) => this.#onMove(event));
    list.addEventListener("pointerup", (event) => this.#onUp(event));
    list.addEventListener("pointercancel", () => this.#letGo());
    list.addEventListener("focusin", (event) => {
      const place = this.#placeOf(event);
      if (place >= 0) this.#goTo(place);
    });
    list.after(this.#mark);
  }

  /** Keys of what is picked. */
  get picked() {
    return [...this.#picked];
  }

  /** Places of these, from the left. @param {string[]} keys */
  placesOf(keys) {
    return this.row.items().flatMap((item, place) => (keys.includes(this.row.keyOf(item, place)) ? [place] : []));
  }

  /** Puts the elements over what is drawn, and names them. */
  show() {
    const { list, items, keyOf, nameOf, tag, span, size } = this.row;
    const all = items();
    const has = list.contains(document.activeElement);
    const keys = all.map((item, place) => keyOf(item, place));
    const still = keys.indexOf(this.#atKey);
    this.#goTo(still < 0 ? this.#at : still);
    for (const key of this.picked) if (!keys.includes(key)) this.#picked.delete(key);
    [list.style.width, list.style.height] = size().map((px) => `${px}px`);
    list.hidden = all.length === 0;
    inStep(
      list,
      all,
      (_, place) => String(place),
      () => element("div", { role: "option", class: "piece" }, element("span", { class: "number", "aria-hidden": "true" })),
      (child, item, place) => {
        const [from, to] = span(item);
        child.style.left = `${from}px`;
        child.style.width = `${to - from}px`;
        child.setAttribute("aria-label", nameOf(item, place, all.length));
        child.setAttribute("aria-selected", String(this.#picked.has(keys[place])));
        child.setAttribute("tabindex", place === this.#at ? "0" : "-1");
        write(/** @type {Element} */ (child.firstElementChild), tag(item));
      },
    );
    if (has) this.#focusOn(this.#at);
    this.row.picked();
  }

  /** Moves by one, to the left or the right. @param {number} by */
  step(by) {
    return this.#moveTo(this.picked, (places) => places[0] + by);
  }

  /** @param {string[]} keys @param {(places: number[]) => number} where */
  async #moveTo(keys, where) {
    let to = 0;
    const held = (/** @type {number[]} */ places) => {
      to = Math.max(0, Math.min(this.row.items().length - places.length, where(places)));
      return to;
    };
    if (!(await this.row.moveTo(keys, held))) return;
    // What is known by its place alone has another key now.
    const all = this.row.items();
    this.#picked = new Set(all.slice(to, to + keys.length).map((item, i) => this.row.keyOf(item, to + i)));
    this.#goTo(to);
    this.show();
  }

  /** @param {number} place @param {boolean} more */
  #pick(place, more) {
    const item = this.row.items()[place];
    if (!item) return;
    const key = this.row.keyOf(item, place);
    const has = more && this.#picked.has(key);
    if (!more || this.row.oneByOne) this.#picked.clear();
    if (has) this.#picked.delete(key);
    else this.#picked.add(key);
    this.#goTo(place);
    this.show();
  }

  /** The keys are at this place now. @param {number} place */
  #goTo(place) {
    const all = this.row.items();
    this.#at = Math.max(0, Math.min(all.length - 1, place));
    this.#atKey = all[this.#at] ? this.row.keyOf(all[this.#at], this.#at) : "";
  }

  /** @param {number} place */
  #focusOn(place) {
    this.#goTo(place);
    const all = Array.from(this.row.list.children);
    const child = all[this.#at];
    if (!(child instanceof HTMLElement)) return;
    all.forEach((other) => other.setAttribute("tabindex", other === child ? "0" : "-1"));
    child.focus();
  }

  /** What a key is for is picked, where nothing at that place is. */
  #pickHere() {
    if (!this.placesOf(this.picked).includes(this.#at)) this.#pick(this.#at, false);
  }

  /** @param {KeyboardEvent} event */
  #onKey(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const away = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
    const does = this.row.keys[event.key.toLowerCase()];
    if (away !== undefined && event.shiftKey) {
      this.#pickHere();
      this.step(away);
    } else if (away !== undefined) this.#focusOn(this.#at + away);
    else if (event.key === "Home") this.#focusOn(0);
    else if (event.key === "End") this.#focusOn(this.row.items().length - 1);
    else if (event.key === " ") this.#pick(this.#at, true);
    else if (event.key === "Enter") this.#pick(this.#at, event.shiftKey);
    else if (event.key === "Escape") {
      this.#picked.clear();
      this.show();
    } else if (does) {
      this.#pickHere();
      does(this.picked);
    } else return;
    event.preventDefault();
  }

  /** @param {Event} event */
  #placeOf(event) {
    const child = event.target instanceof Element ? event.target.closest("[role=option]") : null;
    return child ? Array.from(this.row.list.children).indexOf(child) : -1;
  }

  /** @param {PointerEvent} event */
  #onDown(event) {
    const place = this.#placeOf(event);
    if (place < 0 || event.button !== 0) return;
    const wasPicked = this.#picked.has(this.row.keyOf(this.row.items()[place], place));
    this.#drag = { from: place, startX: event.clientX, moved: false, wasPicked, id: event.pointerId };
    this.row.list.setPointerCapture(event.pointerId);
  }

  /** @param {PointerEvent} event */
  #onMove(event) {
    const drag = this.#drag;
    if (!drag || drag.id !== event.pointerId) return;
    const by = event.clientX - drag.startX;
    if (!drag.moved && Math.abs(by) < DRAGS) return;
    if (!drag.moved) {
      drag.moved = true;
      if (!drag.wasPicked) this.#pick(drag.from, false);
    }
    this.row.hold(this.placesOf(this.picked), by);
    this.#showMark(this.#dropAt(event));
  }

  /** @param {PointerEvent} event */
  #onUp(event) {
    const drag = this.#drag;
    if (!drag || drag.id !== event.pointerId) return;
    const before = this.row.items()[this.#dropAt(event)];
    this.#letGo();
    if (drag.moved) {
      const key = before && this.row.keyOf(before, this.row.items().indexOf(before));
      this.#moveTo(this.picked, (places) => {
        const [next] = before ? this.placesOf([key]) : [this.row.items().length];
        return next - places.filter((place) => place < next).length;
      });
      return;
    }
    const more = event.shiftKey || event.ctrlKey || event.metaKey;
    if (drag.wasPicked && !more && this.#picked.size === 1) this.row.again(this.picked);
    else this.#pick(drag.from, more);
    this.#focusOn(drag.from);
  }

  #letGo() {
    this.#drag = null;
    this.#mark.hidden = true;
    this.row.hold([], 0);
  }

  /** The place before which something that is dropped comes to lie. @param {PointerEvent} event */
  #dropAt(event) {
    const x = event.clientX - this.row.list.getBoundingClientRect().left;
    const all = this.row.items();
    const place = all.findIndex((item) => x < (this.row.span(item)[0] + this.row.span(item)[1]) / 2);
    return place < 0 ? all.length : place;
  }

  /** Where it would come to lie. @param {number} before */
  #showMark(before) {
    const all = this.row.items();
    const x = before < all.length ? this.row.span(all[before])[0] : this.row.span(all[all.length - 1])[1];
    this.#mark.hidden = false;
    this.#mark.style.left = `${this.row.list.offsetLeft + x}px`;
  }
}
