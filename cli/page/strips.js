// @ts-check
// The strips under the hand: picked, turned, moved, left out, by pointer, touch and keys, with names for those who
// don't see them.

import { byId, element, inStep, write } from "./dom.js";
import { hold, laid } from "./picture.js";
import { say, tell } from "./say.js";
import { make, now } from "./talk.js";

/** @typedef {import("./wire.d.ts").StripShown} StripShown */
/** @typedef {import("./wire.d.ts").Turn} Turn */

/** Which strips are picked, by panel and number: so they stay picked wherever they go. @type {Set<string>} */
const picked = new Set();
/** The place that the keys are at, and which strip lies there: they go with it. */
let at = 0;
let atKey = "";
/** @type {{ from: number, startX: number, startY: number, moved: boolean, wasPicked: boolean, id: number } | null} */
let drag = null;

/** So far is a drag and not a click, px. */
const DRAGS = 6;

/** @type {{ name: string, key: string, keys: string, act: () => void, of: "picked" }[]} */
const ACTIONS = [
  { name: "Roll over", key: "R", keys: "r", act: () => turnBy("rolled over"), of: "picked" },
  { name: "End for end", key: "E", keys: "e", act: () => turnBy("end for end"), of: "picked" },
  { name: "End over end", key: "O", keys: "o", act: () => turnBy("end over end"), of: "picked" },
  { name: "To the left", key: "Shift ←", keys: "", act: () => step(-1), of: "picked" },
  { name: "To the right", key: "Shift →", keys: "", act: () => step(1), of: "picked" },
  { name: "Leave out", key: "Delete", keys: "", act: () => leaveOut(), of: "picked" },
];

/** @param {StripShown} strip */
const keyOf = (strip) => `${strip.panel} ${strip.strip}`;

const strips = () => now()?.board?.strips ?? [];

/** Places of these strips, from the left. @param {string[]} keys */
const placesOf = (keys) => strips().flatMap((strip, place) => (keys.includes(keyOf(strip)) ? [place] : []));

/** Places of what is picked. */
const places = () => placesOf([...picked]);

/** @param {StripShown} strip @param {number} count */
function nameOf(strip, count, place = 0) {
  const panel = (now()?.panels.length ?? 1) > 1 ? ` of panel ${strip.panel_name}` : "";
  const slid = strip.stagger === "0" ? "" : `, slid back ${strip.stagger}`;
  return `place ${place + 1} of ${count}: strip ${strip.strip + 1}${panel}, ${strip.turn}${slid}`;
}

/**
 * Does something with the places of these strips, wherever they are when its turn comes.
 * @param {string[]} keys
 * @param {(places: number[]) => import("./wire.d.ts").Edit | null} edit
 * @param {string} done
 */
async function doIt(keys, edit, done) {
  const told = await make(() => {
    const all = placesOf(keys);
    return all.length ? edit(all) : null;
  });
  if (told?.length) tell(told);
  else if (told) say(keys.length === 1 ? done : `${keys.length} strips: ${done}`);
}

/** @param {Turn} by */
const turnBy = (by) => doIt([...picked], (places) => ({ edit: "turn_by", places, by }), by);

/** @param {number} by */
const step = (by) => moveTo([...picked], (places) => places[0] + by);

const leaveOut = () => doIt([...picked], (places) => ({ edit: "leave_out", places }), "left out");

/**
 * Moves strips so that the first of them lies at a place, held to the board's ends.
 * @param {string[]} keys
 * @param {(places: number[]) => number} where
 */
function moveTo(keys, where) {
  return doIt(
    keys,
    (places) => {
      const to = Math.max(0, Math.min(strips().length - places.length, where(places)));
      if (places.every((place, i) => place === to + i)) return null;
      return { edit: "move", places, to };
    },
    "moved",
  );
}

/** @param {number} place @param {boolean} more */
function pick(place, more) {
  const strip = strips()[place];
  if (!strip) return;
  const key = keyOf(strip);
  if (!more) picked.clear();
  if (more && picked.has(key)) picked.delete(key);
  else picked.add(key);
  goTo(place);
  showStrips();
}

/** The keys are at this place now. @param {number} place */
function goTo(place) {
  const all = strips();
  at = Math.max(0, Math.min(all.length - 1, place));
  atKey = all[at] ? keyOf(all[at]) : "";
}

/** @param {number} place */
function focusOn(place) {
  goTo(place);
  const child = byId("strips").children[at];
  if (child instanceof HTMLElement) {
    Array.from(byId("strips").children).forEach((other) => other.setAttribute("tabindex", other === child ? "0" : "-1"));
    child.focus();
  }
}

/** @param {KeyboardEvent} event */
function onKey(event) {
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  const away = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
  if (away !== undefined) {
    if (event.shiftKey) {
      if (!places().includes(at)) pick(at, false);
      step(away);
    } else focusOn(at + away);
  } else if (event.key === "Home") focusOn(0);
  else if (event.key === "End") focusOn(strips().length - 1);
  else if (event.key === " " || event.key === "Enter") pick(at, event.shiftKey || event.key === " ");
  else if (event.key === "Escape") {
    picked.clear();
    showStrips();
  } else if (event.key === "Delete" || event.key === "Backspace") {
    if (!places().length) pick(at, false);
    leaveOut();
  } else {
    const action = ACTIONS.find((action) => action.keys && action.keys === event.key.toLowerCase());
    if (!action) return;
    if (!places().includes(at)) pick(at, false);
    action.act();
  }
  event.preventDefault();
}

/** The place before which something that is dropped at x comes to lie. @param {number} x mm */
function dropAt(x) {
  const all = strips();
  const place = all.findIndex((strip) => x < (strip.x[0] + strip.x[1]) / 2);
  return place < 0 ? all.length : place;
}

/** @param {PointerEvent} event */
function onDown(event) {
  const place = placeOf(event);
  if (place < 0 || event.button !== 0) return;
  const strip = strips()[place];
  drag = { from: place, startX: event.clientX, startY: event.clientY, moved: false, wasPicked: picked.has(keyOf(strip)), id: event.pointerId };
  byId("strips").setPointerCapture(event.pointerId);
}

/** @param {PointerEvent} event */
function placeOf(event) {
  const child = event.target instanceof Element ? event.target.closest("[role=option]") : null;
  return child ? Array.from(byId("strips").children).indexOf(child) : -1;
}

/** @param {PointerEvent} event */
function onMove(event) {
  if (!drag || drag.id !== event.pointerId) return;
  const by = event.clientX - drag.startX;
  if (!drag.moved && Math.abs(by) < DRAGS) return;
  if (!drag.moved) {
    drag.moved = true;
    if (!drag.wasPicked) pick(drag.from, false);
  }
  hold(places(), by / laid.perMm);
  showMark(dropAt(mmAt(event)));
}

/** @param {PointerEvent} event */
const mmAt = (event) => (event.clientX - byId("face").getBoundingClientRect().left) / laid.perMm;

/** @param {PointerEvent} event */
function onUp(event) {
  if (!drag || drag.id !== event.pointerId) return;
  const { from, moved, wasPicked } = drag;
  drag = null;
  showMark(-1);
  hold([], 0);
  if (!moved) {
    const more = event.shiftKey || event.ctrlKey || event.metaKey;
    // A click picks; a click on the one that is picked rolls it over.
    if (wasPicked && !more && places().length === 1) turnBy("rolled over");
    else pick(from, more);
    focusOn(from);
    return;
  }
  const before = strips()[dropAt(mmAt(event))];
  moveTo([...picked], (places) => {
    const [next] = before ? placesOf([keyOf(before)]) : [strips().length];
    return next - places.filter((place) => place < next).length;
  });
}

function onCancel() {
  drag = null;
  showMark(-1);
  hold([], 0);
}

/** Where it would come to lie. @param {number} before */
function showMark(before) {
  const mark = byId("mark");
  mark.hidden = before < 0;
  const all = strips();
  const x = before < all.length ? all[Math.max(0, before)]?.x[0] : all[all.length - 1]?.x[1];
  mark.style.left = `${(x ?? 0) * laid.perMm}px`;
}

/** Puts the strips' own elements over their pictures, and names them. */
export function showStrips() {
  const all = strips();
  const list = byId("strips");
  const has = list.contains(document.activeElement);
  const several = (now()?.panels.length ?? 1) > 1;
  const still = all.findIndex((strip) => keyOf(strip) === atKey);
  goTo(still < 0 ? at : still);
  for (const key of Array.from(picked)) if (!all.some((strip) => keyOf(strip) === key)) picked.delete(key);
  list.style.width = `${laid.width}px`;
  list.style.height = `${laid.height}px`;
  list.hidden = all.length === 0;
  inStep(
    list,
    all,
    (_, place) => String(place),
    () => element("div", { role: "option", class: "strip" }, element("span", { class: "number", "aria-hidden": "true" })),
    (child, strip, place) => {
      child.style.left = `${strip.x[0] * laid.perMm}px`;
      child.style.width = `${(strip.x[1] - strip.x[0]) * laid.perMm}px`;
      child.setAttribute("aria-label", nameOf(strip, all.length, place));
      child.setAttribute("aria-selected", String(picked.has(keyOf(strip))));
      child.setAttribute("tabindex", place === at ? "0" : "-1");
      child.dataset.turn = strip.turn;
      write(/** @type {Element} */ (child.firstElementChild), several ? `${strip.panel_name} ${strip.strip + 1}` : String(strip.strip + 1));
    },
  );
  if (has) focusOn(at);
  showActions();
  showLeftOut();
}

function showActions() {
  const all = places();
  const bar = byId("actions");
  const text = bar.querySelector(".what");
  const strip = strips()[all[0]];
  if (text) {
    const slid = strip && strip.stagger !== "0" ? `, slid back ${strip.stagger}` : "";
    const one = strip ? `Strip ${strip.strip + 1}: ${strip.turn}${slid}` : "";
    write(text, all.length === 0 ? "No strip is picked" : all.length === 1 ? one : `${all.length} strips are picked`);
  }
  bar.classList.toggle("none", all.length === 0);
  bar.querySelectorAll("button").forEach((button) => (button.disabled = all.length === 0));
  const slide = bar.querySelector("input");
  if (slide) {
    slide.disabled = all.length === 0;
    if (document.activeElement !== slide) slide.value = strip && strip.stagger !== "0" ? strip.stagger : "";
  }
}

/** Strips that are cut and not laid. */
function showLeftOut() {
  const out = (now()?.panels ?? []).flatMap((panel, of) =>
    panel.strips.flatMap((strip, number) => (strip.place === null ? [{ panel, of, number }] : [])),
  );
  const box = byId("left-out");
  box.hidden = out.length === 0;
  const several = (now()?.panels.length ?? 1) > 1;
  inStep(
    box,
    [{ of: -1, number: -1, panel: null }, ...out],
    ({ of, number }) => `${of} ${number}`,
    ({ number }) => (number < 0 ? element("span", { class: "quiet" }) : element("button", { type: "button" })),
    (child, { of, number, panel }) => {
      if (number < 0) return write(child, "Left out:");
      const name = `strip ${number + 1}${several ? ` of panel ${panel?.name}` : ""}`;
      write(child, `put ${name} back`);
      child.onclick = async () => {
        const told = await make(() => ({ edit: "put_back", panel: of, strip: number, at: strips().length }));
        if (told?.length) tell(told);
        else say(`${name} lies at the right`);
      };
    },
  );
}

/** Listens, and makes what is always there. */
export function beginStrips() {
  const list = byId("strips");
  list.addEventListener("keydown", onKey);
  list.addEventListener("pointerdown", onDown);
  list.addEventListener("pointermove", onMove);
  list.addEventListener("pointerup", onUp);
  list.addEventListener("pointercancel", onCancel);
  list.addEventListener("focusin", (event) => {
    const place = event.target instanceof Element ? Array.from(list.children).indexOf(event.target) : -1;
    if (place >= 0) goTo(place);
  });
  byId("board").append(element("div", { id: "mark", hidden: true }));
  const bar = byId("actions");
  bar.append(element("p", { class: "what" }));
  for (const { name, key, act } of ACTIONS) {
    bar.append(element("button", { type: "button", click: act, title: key }, name));
  }
  const slide = element("input", { id: "slide", type: "text", inputmode: "text", placeholder: "0", change: slid });
  bar.append(element("label", { for: "slide" }, "Slide back by"), slide);
}

/** @param {Event} event */
async function slid(event) {
  const by = /** @type {HTMLInputElement} */ (event.target).value.trim() || "0";
  await doIt([...picked], (places) => ({ edit: "stagger", places, by }), `slid back ${by}`);
  showActions();
}
