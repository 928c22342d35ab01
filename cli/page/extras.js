// @ts-check
// What a place has beside numbers and fields: blanks in stock, the panel cut along its length, paper.

import { showBlanks } from "./blanks.js";
import { byId, element, inStep, write } from "./dom.js";
import { showPhotos } from "./photos.js";
import { say, tell } from "./say.js";
import { followedBy, make, now, ofThis } from "./talk.js";

/** @typedef {import("./wire.d.ts").Bench} Bench */
/** @typedef {import("./wire.d.ts").Edit} Edit */
/** @typedef {import("./wire.d.ts").MadeShown} MadeShown */
/** @typedef {import("./wire.d.ts").PanelShown} PanelShown */

/** @type {Bench | null} */
let built = null;

/** @param {Bench} bench */
export function showExtras(bench) {
  if (built !== bench) {
    byId("drawing").replaceChildren();
    byId("extras").replaceChildren();
    built = bench;
  }
  if (bench === "stock") showStock();
  if (bench === "panel") showBlanks(byId("drawing"), letters());
  if (bench === "strips") showCuts();
  if (bench === "paper") showPaper();
}

/** @param {Edit} edit @param {string} done */
async function doIt(edit, done) {
  const told = await make(ofThis(edit));
  if (told?.length) tell(told);
  else if (told) say(done);
  return told?.length === 0;
}

/** Letters of the blanks in stock, by entry. */
function letters() {
  const fields = followedBy()?.places.find(({ bench }) => bench === "stock")?.fields ?? [];
  return fields.filter((field) => field.key[2] === "letter").map((field) => field.written);
}

function showStock() {
  const box = byId("extras");
  if (!box.firstChild) {
    /** @param {string} name @param {string} label @param {string} value */
    const row = (name, label, value) =>
      element("div", { class: "field" }, element("label", { for: `new-${name}` }, label), element("input", { id: `new-${name}`, name, type: "text", required: true, value }));
    const form = element(
      "form",
      { class: "adding", autocomplete: "off", submit: add },
      element("h3", {}, "Another blank"),
      element("div", { class: "rows" }, row("letter", "letter", ""), row("wood", "wood", ""), row("width", "width", ""), row("thickness", "thickness", ""), row("length", "length", ""), row("count", "how many alike", "1")),
      element("button", { type: "submit" }, "Add it to the stock"),
    );
    const how = "Square on, whole, on something plain of another colour, the marked corner low. What comes of it is shown here.";
    box.append(
      element("h3", {}, "Photographs of the ends"),
      element("p", { class: "quiet" }, how),
      element("div", { id: "photos" }),
      form,
      element("div", { id: "removing", class: "row" }),
    );
  }
  showPhotos(byId("photos"), letters());
  inStep(
    byId("removing"),
    letters(),
    (letter, at) => `${at} ${letter}`,
    () => element("button", { type: "button" }),
    (child, letter, at) => {
      write(child, `Take ${letter} out of the stock`);
      child.onclick = () => doIt({ edit: "remove_blank", entry: at }, `${letter} is no longer in stock`);
    },
  );
}

/** @param {Event} event */
async function add(event) {
  event.preventDefault();
  const form = /** @type {HTMLFormElement} */ (event.target);
  const data = new FormData(form);
  /** @param {string} name */
  const text = (name) => String(data.get(name) ?? "").trim();
  const edit = { edit: /** @type {const} */ ("add_blank"), letter: text("letter"), wood: text("wood"), width: text("width"), thickness: text("thickness"), length: text("length"), count: text("count") };
  if (await doIt(edit, `${edit.letter} is in stock`)) form.reset();
}

/** The panel's length and the strips out of it. */
function showCuts() {
  const panels = now()?.panels ?? [];
  inStep(
    byId("drawing"),
    panels,
    (_, at) => String(at),
    makeLength,
    (figure, panel, of) => {
      const name = panels.length > 1 ? `Panel ${panel.name}` : "The panel";
      const out = panel.strips.filter((strip) => strip.place === null).length;
      const caption = `${name} along its length, near end at the left: ${panel.strips.length} strips${out ? `, ${out} left out` : ""}`;
      write(/** @type {Element} */ (figure.querySelector("figcaption")), caption);
      const lost = /** @type {HTMLElement} */ (figure.querySelector(".lost"));
      lost.hidden = panel.lost === 0;
      write(lost, `Lost: ${panel.lost} of the strips that are wanted ${panel.lost === 1 ? "doesn't" : "don't"} come out of it.`);
      showCount(/** @type {HTMLInputElement} */ (figure.querySelector("input")), panel, panels.length > 1 ? of : null);
      const cut = /** @type {HTMLElement} */ (figure.querySelector(".cut"));
      inStep(
        cut,
        panel.strips,
        (_, at) => String(at),
        () => element("span", {}),
        (child, strip, at) => {
          child.style.left = `${(100 * strip.z[0]) / panel.length}%`;
          child.style.width = `${(100 * (strip.z[1] - strip.z[0])) / panel.length}%`;
          child.classList.toggle("out", strip.place === null);
          write(child, String(at + 1));
        },
      );
    },
  );
}

let counted = 0;

function makeLength() {
  const id = `count-${(counted += 1)}`;
  return element(
    "figure",
    { class: "length" },
    element("figcaption", {}),
    element("div", { class: "cut", "aria-hidden": "true" }),
    element("input", { id, type: "range", min: 1 }),
    element("label", { for: id }),
    element("p", { class: "lost" }),
  );
}

/** The count, dragged along the length. @param {HTMLInputElement} input @param {PanelShown} panel @param {number | null} of */
function showCount(input, panel, of) {
  const count = panel.strips.length + panel.lost;
  const fits = `${count} strips; ${panel.fits} come out of it at this width`;
  write(/** @type {Element} */ (input.nextElementSibling), fits);
  input.setAttribute("aria-valuetext", fits);
  input.max = String(Math.max(panel.fits + 2, count));
  // As long as the strips that it counts.
  const pitch = panel.strips.length > 1 ? panel.strips[1].z[0] - panel.strips[0].z[0] : panel.length;
  input.style.width = `${Math.min(100, (100 * pitch * Number(input.max)) / panel.length)}%`;
  if (!asking) input.value = String(count);
  input.oninput = () => askCount(input, of);
}

/** A count is being asked for: until it is answered the newest one waits. */
let asking = false;

/** @param {HTMLInputElement} input @param {number | null} of */
async function askCount(input, of) {
  if (asking) return;
  asking = true;
  let asked;
  do {
    asked = input.value;
    const key = of === null ? ["strips", "count"] : ["panels", of, "count"];
    const told = await make({ edit: "set", key, to: asked });
    if (told?.length) tell(told);
  } while (asked !== input.value);
  asking = false;
  say(`${asked} strips`);
}

/** What was made last. @type {MadeShown | null} */
let made = null;
let making = false;

function showPaper() {
  const box = byId("extras");
  if (!box.firstChild) {
    box.append(
      element("button", { type: "button", class: "first", click: makeFiles }, "Make the files"),
      element("p", { role: "status" }),
      element("ul", { class: "files" }),
    );
  }
  const [button, text, list] = /** @type {HTMLElement[]} */ (Array.from(box.children));
  const newest = made?.revision === now()?.revision ? made : null;
  button.toggleAttribute("disabled", making || Boolean(newest));
  const older = made && !newest ? "The board has changed since the files were made: make them anew." : "";
  const why = "Pictures, sheets, drawings, solids and programs: the same files that quarterturn make writes.";
  const there = newest?.refused ? `It can't be made: ${newest.refused}.` : newest ? "They are of the board as it is now." : older || why;
  write(text, making ? "They are being made. That takes some seconds." : there);
  const files = newest?.files ?? [];
  const all = files.length ? [{ name: "All of them as one zip", bytes: 0, path: `zip/${newest?.revision}` }] : [];
  inStep(
    list,
    [...all, ...files.map((file) => ({ ...file, path: `files/${newest?.revision}/${file.name}` }))],
    ({ path }) => path,
    ({ name, bytes, path }) => {
      // Sheets open in a page of their own, to be printed; all else is kept.
      const pdf = name.endsWith(".pdf");
      const link = element("a", pdf ? { href: path, target: "_blank", rel: "noopener" } : { href: path, download: "" }, name);
      return element("li", {}, link, element("span", { class: "quiet" }, bytes ? sizeInWords(bytes) : ""));
    },
    () => {},
  );
}

/** @param {number} bytes */
const sizeInWords = (bytes) => (bytes < 1e6 ? `${Math.max(1, Math.round(bytes / 1e3))} kB` : `${(bytes / 1e6).toFixed(1)} MB`);

async function makeFiles() {
  const revision = now()?.revision;
  making = true;
  showPaper();
  try {
    const answer = await fetch(`files/${revision}`);
    if (answer.status === 200) made = await answer.json();
  } catch {
    tell([{ key: "", what: "the files were not made", right: "look whether quarterturn still runs", line: 0 }]);
  }
  making = false;
  if (built === "paper") showPaper();
  say(made?.refused ? "they can't be made" : "the files are made");
}
