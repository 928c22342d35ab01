// @ts-check
// One place along the bench: its numbers, its findings, and what may be written there.

import { byId, element, inStep, write } from "./dom.js";
import { capital, inWords, say } from "./say.js";
import { make } from "./talk.js";

/** @typedef {import("./wire.d.ts").BenchShown} BenchShown */
/** @typedef {import("./wire.d.ts").Field} Field */
/** @typedef {import("./wire.d.ts").FindingShown} FindingShown */
/** @typedef {import("./wire.d.ts").NumberShown} NumberShown */

/**
 * Shows a place.
 * @param {BenchShown} place
 * @param {(key: string) => void} goTo
 */
export function showPlace(place, goTo) {
  showFindings(place.findings, goTo);
  showNumbers(place.numbers);
  showFields(place.fields);
}

/** @param {FindingShown[]} findings @param {(key: string) => void} goTo */
function showFindings(findings, goTo) {
  const list = byId("findings");
  list.hidden = findings.length === 0;
  inStep(
    list,
    findings,
    (finding, at) => `${at} ${finding.kind} ${finding.subject} ${finding.says}`,
    (finding) => {
      const item = element(
        "li",
        { class: kindClass(finding.kind) },
        element("p", {}, element("strong", {}, `${capital(finding.kind)}: `), `${finding.subject}: ${finding.says}.`),
      );
      if (finding.mends) item.append(element("p", { class: "mends" }, `What mends it: ${finding.mends}.`));
      if (finding.key) {
        const show = () => goTo(finding.key);
        item.append(element("button", { type: "button", class: "plain", click: show }, `Show ${keyInWords(finding.key)}`));
      }
      return item;
    },
    () => {},
  );
}

/** @param {string} key */
const keyInWords = (key) => (key.split(".").pop() ?? key).replaceAll("_", " ");

/** @param {string} kind */
export const kindClass = (kind) => (kind === "can't be made" ? "cant" : kind === "take care" ? "care" : "note");

/** @param {NumberShown[]} numbers */
function showNumbers(numbers) {
  const list = byId("numbers");
  list.hidden = numbers.length === 0;
  inStep(
    list,
    numbers,
    (number) => number.key,
    (number) =>
      element(
        "div",
        {},
        element("dt", {}, about(number.called, number.about)),
        element("dd", {}),
      ),
    (child, number) => {
      write(/** @type {Element} */ (child.querySelector("summary")), number.called);
      write(/** @type {Element} */ (child.querySelector("dd")), number.shown);
    },
  );
}

/** A name that unfolds to what it is. @param {string} name @param {string} text */
function about(name, text) {
  return element("details", {}, element("summary", {}, name), element("p", { class: "about" }, capital(text)));
}

/** Which field an element of the form is for. @type {WeakMap<Element, Field>} */
const fieldOf = new WeakMap();

/** @param {Field[]} fields */
function showFields(fields) {
  const form = byId("fields");
  form.hidden = fields.length === 0;
  const groups = [...new Set(fields.map((field) => field.group))];
  inStep(
    form,
    groups,
    (group) => `group ${group}`,
    (group) => element("fieldset", {}, element("legend", {}, capital(group)), element("div", { class: "rows" })),
    (child, group) => {
      const rows = /** @type {HTMLElement} */ (child.querySelector(".rows"));
      const own = fields.filter((field) => field.group === group);
      inStep(rows, own, (field) => JSON.stringify(field.key), makeField, changeField);
    },
  );
}

let numbered = 0;

/** @param {Field} field */
function makeField(field) {
  const id = `field-${(numbered += 1)}`;
  const words = field.words.length > 0;
  const input = words
    ? element("select", { id, change: set }, element("option", { value: "" }), ...field.words.map((word) => element("option", { value: word }, word)))
    : element("input", { id, type: "text", change: set, "aria-describedby": `${id}-usual` });
  return element(
    "div",
    { class: "field" },
    element("label", { for: id }, field.called),
    input,
    element("p", { id: `${id}-usual`, class: "usual" }),
    element("details", {}, element("summary", {}, element("span", { class: "unseen" }, `What is ${field.called}`), element("span", { "aria-hidden": "true" }, "?")), element("p", { class: "about" }, field.about)),
    element("p", { id: `${id}-wrong`, class: "wrong", hidden: true }),
  );
}

/** @param {HTMLElement} row @param {Field} field */
function changeField(row, field) {
  const input = /** @type {HTMLInputElement | HTMLSelectElement} */ (row.querySelector("input, select"));
  const before = fieldOf.get(input);
  fieldOf.set(input, field);
  row.dataset.path = field.key.filter((step) => typeof step === "string").join(".");
  row.classList.toggle("measured", field.measured);
  const usual = field.usual ? `left empty: ${field.usual}` : "";
  if (input instanceof HTMLSelectElement) write(input.options[0], field.usual ? `${field.usual} (left empty)` : "not said");
  else write(/** @type {Element} */ (row.querySelector(".usual")), usual);
  const typing = document.activeElement === input && before && input.value !== before.written;
  if (!typing && input.value !== field.written) input.value = field.written;
  if (!typing) wrong(row, "");
}

/** @param {HTMLElement} row @param {string} text */
function wrong(row, text) {
  const line = /** @type {HTMLElement} */ (row.querySelector(".wrong"));
  const input = /** @type {HTMLElement} */ (row.querySelector("input, select"));
  line.hidden = !text;
  write(line, text);
  input.toggleAttribute("aria-invalid", Boolean(text));
  if (text) input.setAttribute("aria-errormessage", line.id);
  else input.removeAttribute("aria-errormessage");
}

/** @param {Event} event */
async function set(event) {
  const input = /** @type {HTMLInputElement | HTMLSelectElement} */ (event.target);
  const field = fieldOf.get(input);
  const row = /** @type {HTMLElement | null} */ (input.closest(".field"));
  if (!field || !row) return;
  const typed = input.value.trim();
  if (typed === field.written) return wrong(row, "");
  const told = (await make({ edit: "set", key: field.key, to: typed === "" ? null : typed })) ?? [];
  wrong(row, inWords(told));
  if (!told.length) say(`${field.called}: ${typed || "left to its default"}`);
}

/**
 * Brings the field of a key into view, and the keys to it. Whether there is one.
 * @param {string} key
 * @returns {boolean}
 */
export function goToField(key) {
  const rows = Array.from(document.querySelectorAll("#fields .field"));
  const row = rows.find((row) => row instanceof HTMLElement && row.dataset.path === key);
  const input = row?.querySelector("input, select");
  if (!(input instanceof HTMLElement)) return false;
  input.scrollIntoView({ block: "center" });
  input.focus();
  return true;
}
