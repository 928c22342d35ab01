// @ts-check
// What is said to the maker: a word in passing, what went wrong, what stands until it is sent away.

import { byId, element, write } from "./dom.js";

/** @typedef {import("./wire.d.ts").Told} Told */

/** Says something in passing, to who listens. @param {string} text */
export function say(text) {
  write(byId("said"), text);
  notice("wrong", "");
}

/** Says what is wrong, and what would be right. @param {Told[]} told */
export function tell(told) {
  notice("wrong", inWords(told), () => notice("wrong", ""));
}

/** @param {Told[]} told */
export function inWords(told) {
  /** @param {Told} told */
  const one = ({ key, what, right, line }) => {
    const where = line ? `Line ${line}${key ? `, ${key}` : ""}: ` : "";
    return `${where}${capital(what)}${right ? `: ${right}` : ""}.`.replace(/([.?!])\.$/, "$1");
  };
  return told.map(one).join(" ");
}

/** @param {string} text */
export const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/**
 * A notice of this name: there until its text is empty.
 * @param {string} name
 * @param {string} text
 * @param {(() => void) | null} [sentAway]
 * @param {{ text: string, act: () => void }[]} [choices]
 */
export function notice(name, text, sentAway = null, choices = []) {
  const id = `notice-${name}`;
  const there = document.getElementById(id);
  if (!text) {
    there?.remove();
    return;
  }
  if (there?.dataset.text === text) return;
  there?.remove();
  const buttons = choices.map(({ text, act }) => element("button", { type: "button", click: act }, text));
  if (sentAway) buttons.push(element("button", { type: "button", click: sentAway }, "All right"));
  const made = element("div", { id, class: `notice ${name}`, role: name === "wrong" ? "alert" : "status" }, element("p", {}, text), ...buttons);
  made.dataset.text = text;
  byId("notices").append(made);
}
