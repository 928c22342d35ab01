// @ts-check
// The strips of the board under the hand, what can be done with them, and those that are left out.

import { byId, element, inStep, write } from "./dom.js";
import { Hand } from "./hand.js";
import { hold, laid } from "./picture.js";
import { say, tell } from "./say.js";
import { make, now } from "./talk.js";

/** @typedef {import("./wire.d.ts").Edit} Edit */
/** @typedef {import("./wire.d.ts").StripShown} StripShown */
/** @typedef {import("./wire.d.ts").Turn} Turn */

/** By panel and number: so a strip stays known wherever it goes. @param {StripShown} strip */
const keyOf = (strip) => `${strip.panel} ${strip.strip}`;

const strips = () => now()?.board?.strips ?? [];

const severalPanels = () => (now()?.panels.length ?? 1) > 1;

/** @param {StripShown} strip @param {number} place @param {number} count */
function nameOf(strip, place, count) {
  const panel = severalPanels() ? ` of panel ${strip.panel_name}` : "";
  return `place ${place + 1} of ${count}: strip ${strip.strip + 1}${panel}, ${strip.turn}${slidBack(strip)}`;
}

/** @param {StripShown} strip */
const slidBack = (strip) => (strip.stagger === "0" ? "" : `, slid back ${strip.stagger}`);

/**
 * Does something with the places of these strips, wherever they are when its turn comes. Whether it was done.
 * @param {string[]} keys
 * @param {(places: number[]) => Edit | null} edit
 * @param {string} done
 */
async function doIt(keys, edit, done) {
  const told = await make(() => {
    const places = hand.placesOf(keys);
    return places.length ? edit(places) : null;
  });
  if (told?.length) tell(told);
  else if (told) say(keys.length === 1 ? done : `${keys.length} strips: ${done}`);
  return told?.length === 0;
}

/** @param {Turn} by @returns {(keys: string[]) => void} */
const turnBy = (by) => (keys) => void doIt(keys, (places) => ({ edit: "turn_by", places, by }), by);

/** @param {string[]} keys */
const leaveOut = (keys) => void doIt(keys, (places) => ({ edit: "leave_out", places }), "left out");

/** @type {Hand<StripShown>} */
const hand = new Hand({
  list: byId("strips"),
  items: strips,
  keyOf,
  nameOf,
  tag: (strip) => (severalPanels() ? `${strip.panel_name} ${strip.strip + 1}` : String(strip.strip + 1)),
  span: (strip) => [strip.x[0] * laid.perMm, strip.x[1] * laid.perMm],
  size: () => [laid.width, laid.height],
  keys: {
    r: turnBy("rolled over"),
    e: turnBy("end for end"),
    o: turnBy("end over end"),
    delete: leaveOut,
    backspace: leaveOut,
  },
  again: turnBy("rolled over"),
  moveTo: (keys, where) =>
    doIt(
      keys,
      (places) => {
        const to = where(places);
        return places.every((place, i) => place === to + i) ? null : { edit: "move", places, to };
      },
      "moved",
    ),
  hold: (places, by) => hold(places, by / laid.perMm),
  picked: showActions,
});

/** @type {{ name: string, key: string, act: () => void }[]} */
const ACTIONS = [
  { name: "Roll over", key: "R", act: () => turnBy("rolled over")(hand.picked) },
  { name: "End for end", key: "E", act: () => turnBy("end for end")(hand.picked) },
  { name: "End over end", key: "O", act: () => turnBy("end over end")(hand.picked) },
  { name: "To the left", key: "Shift ←", act: () => hand.step(-1) },
  { name: "To the right", key: "Shift →", act: () => hand.step(1) },
  { name: "Leave out", key: "Delete", act: () => leaveOut(hand.picked) },
];

/** Puts the strips' own elements over their pictures. */
export function showStrips() {
  hand.show();
  showLeftOut();
}

function showActions() {
  const places = hand.placesOf(hand.picked);
  const bar = byId("actions");
  const strip = strips()[places[0]];
  const one = strip ? `Strip ${strip.strip + 1}: ${strip.turn}${slidBack(strip)}` : "No strip is picked";
  write(/** @type {Element} */ (bar.querySelector(".what")), places.length > 1 ? `${places.length} strips are picked` : one);
  bar.classList.toggle("none", places.length === 0);
  bar.querySelectorAll("button").forEach((button) => (button.disabled = places.length === 0));
  const slide = /** @type {HTMLInputElement} */ (bar.querySelector("input"));
  slide.disabled = places.length === 0;
  if (document.activeElement !== slide) slide.value = strip && strip.stagger !== "0" ? strip.stagger : "";
}

/** Strips that are cut and not laid. */
function showLeftOut() {
  const out = (now()?.panels ?? []).flatMap((panel, of) =>
    panel.strips.flatMap((strip, number) => (strip.place === null ? [{ name: panel.name, of, number }] : [])),
  );
  const box = byId("left-out");
  box.hidden = out.length === 0;
  inStep(
    /** @type {HTMLElement} */ (box.lastElementChild),
    out,
    ({ of, number }) => `${of} ${number}`,
    () => element("button", { type: "button" }),
    (child, { of, number, name }) => {
      const strip = `strip ${number + 1}${severalPanels() ? ` of panel ${name}` : ""}`;
      write(child, `Put ${strip} back`);
      child.onclick = async () => {
        const told = await make(() => ({ edit: "put_back", panel: of, strip: number, at: strips().length }));
        if (told?.length) tell(told);
        else say(`${strip} lies at the right`);
      };
    },
  );
}

/** Makes what is always there. */
export function beginStrips() {
  const bar = byId("actions");
  bar.append(element("p", { class: "what" }));
  for (const { name, key, act } of ACTIONS) {
    bar.append(element("button", { type: "button", click: act, title: key }, name));
  }
  const slide = element("input", { id: "slide", type: "text", placeholder: "0", change: slid });
  bar.append(element("label", { for: "slide" }, "Slide back by"), slide);
  byId("left-out").append(element("span", { class: "quiet" }, "Left out:"), element("div", { class: "row" }));
}

/** @param {Event} event */
async function slid(event) {
  const by = /** @type {HTMLInputElement} */ (event.target).value.trim() || "0";
  await doIt(hand.picked, (places) => ({ edit: "stagger", places, by }), `slid back ${by}`);
  showActions();
}
