// @ts-check
// Hints for who is here for the first time; sent away, they don't come again in this browser.

import { byId, element, write } from "./dom.js";

const KNOWN = "hints sent away";
const TEXT = "Click a strip to pick it, click it again to roll it over, drag it to another place.";
const KEYS = " With the keys: arrows go along, space picks, R, E and O turn, Shift with an arrow moves, Delete leaves out.";

/** Shows the hint, unless it was sent away. */
export function beginHints() {
  const hint = byId("hint");
  if (sentAway()) return;
  const away = () => {
    hint.hidden = true;
    try {
      localStorage.setItem(KNOWN, "yes");
    } catch {
      // A browser that keeps nothing shows it again.
    }
  };
  hint.append(element("span", {}), element("span", { class: "keys" }, KEYS), " ", element("button", { type: "button", class: "plain", click: away }, "Don't show this again"));
  write(/** @type {Element} */ (hint.firstElementChild), TEXT);
  hint.hidden = false;
}

function sentAway() {
  try {
    return localStorage.getItem(KNOWN) === "yes";
  } catch {
    return false;
  }
}
