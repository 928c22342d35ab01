// @ts-check
// What a place has beside numbers and fields: blanks in stock, the panel's end, the panel cut along its length, paper.

import { byId, element, inStep, write } from "./dom.js";
import { picture, scaleFor } from "./picture.js";
import { say, tell } from "./say.js";
import { followedBy, make, now, ofThis } from "./talk.js";

/** @typedef {import("./wire.d.ts").Bench} Bench */
/** @typedef {import("./wire.d.ts").Edit} Edit */
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
  if (bench === "panel") showPanels();
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
    box.append(element("div", { id: "removing", class: "row" }), form);
  }
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

const TURNS = /** @type {const} */ (["as laid", "rolled over", "end for end", "end over end"]);

function showPanels() {
  const panels = now()?.panels ?? [];
  inStep(
    byId("drawing"),
    panels,
    (_, at) => String(at),
    () => element("figure", { class: "panel" }, element("figcaption", {}), element("canvas", { "aria-hidden": "true" }), element("ol", { class: "blanks" }), element("div", { class: "row" })),
    (figure, panel, of) => {
      const name = panels.length > 1 ? `Panel ${panel.name}: its` : "The panel's";
      write(/** @type {Element} */ (figure.querySelector("figcaption")), `${name} far end, as you see it standing there`);
      drawEnd(/** @type {HTMLCanvasElement} */ (figure.querySelector("canvas")), panel);
      showBlanks(/** @type {HTMLElement} */ (figure.querySelector("ol")), panel, of);
      inStep(
        /** @type {HTMLElement} */ (figure.querySelector(".row")),
        letters(),
        (letter, at) => `${at} ${letter}`,
        () => element("button", { type: "button" }),
        (child, letter) => {
          write(child, `Lay another ${letter}`);
          child.onclick = () => doIt({ edit: "lay_blank", panel: of, at: panel.blanks.length, letter }, `${letter} is laid at the right`);
        },
      );
    },
  );
}

/** @param {HTMLElement} list @param {PanelShown} panel @param {number} of */
function showBlanks(list, panel, of) {
  const count = panel.blanks.length;
  inStep(
    list,
    panel.blanks,
    (_, at) => String(at),
    () =>
      element(
        "li",
        {},
        element("span", { class: "letter" }),
        element("select", {}, ...TURNS.map((turn) => element("option", { value: turn }, turn))),
        element("button", { type: "button", class: "left" }, "Left"),
        element("button", { type: "button", class: "right" }, "Right"),
        element("button", { type: "button", class: "out" }, "Out"),
      ),
    (item, blank, at) => {
      write(/** @type {Element} */ (item.querySelector(".letter")), `${blank.letter}, ${blank.wood}`);
      const select = /** @type {HTMLSelectElement} */ (item.querySelector("select"));
      select.setAttribute("aria-label", `${blank.letter}, ${at + 1} of ${count}: how it lies`);
      if (select.value !== blank.turn) select.value = blank.turn;
      select.onchange = () => {
        const turn = TURNS.find((turn) => turn === select.value);
        if (turn) doIt({ edit: "turn_blank", panel: of, at, turn }, `${blank.letter} lies ${turn}`);
      };
      /** @param {string} name @param {() => void} to @param {boolean} disabled */
      const button = (name, to, disabled) => {
        const found = /** @type {HTMLButtonElement} */ (item.querySelector(`.${name}`));
        found.disabled = disabled;
        found.setAttribute("aria-label", `${found.textContent}: blank ${blank.letter}, ${at + 1} of ${count}`);
        found.onclick = to;
      };
      /** @param {number} to */
      const move = (to) => () => doIt({ edit: "move_blank", panel: of, from: at, to }, `${blank.letter} lies at place ${to + 1}`);
      button("left", move(at - 1), at === 0);
      button("right", move(at + 1), at === count - 1);
      button("out", () => doIt({ edit: "take_blank", panel: of, at }, `${blank.letter} is taken out`), count === 1);
    },
  );
}

/** @param {HTMLCanvasElement} canvas @param {PanelShown} panel */
function drawEnd(canvas, panel) {
  const room = canvas.parentElement?.clientWidth ?? 300;
  const scale = Math.min(room / panel.width, 160 / panel.thickness);
  const ratio = window.devicePixelRatio || 1;
  canvas.width = Math.round(panel.width * scale * ratio);
  canvas.height = Math.round(panel.thickness * scale * ratio);
  canvas.style.width = `${panel.width * scale}px`;
  canvas.style.height = `${panel.thickness * scale}px`;
  const context = canvas.getContext("2d");
  if (!context) return;
  const bitmap = picture(panel.picture, scaleFor(scale * ratio), () => canvas.isConnected && drawEnd(canvas, panel));
  if (bitmap) context.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  context.fillStyle = "rgb(0 0 0 / 45%)";
  panel.blanks.slice(1).forEach(({ x }) => context.fillRect(Math.round(x[0] * scale * ratio), 0, ratio, canvas.height));
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

function showPaper() {
  const box = byId("extras");
  if (!box.firstChild) box.append(element("p", {}), element("pre", { tabindex: 0 }, element("code", {})));
  const shown = now();
  const [text, code] = [/** @type {Element} */ (box.querySelector("p")), /** @type {Element} */ (box.querySelector("code"))];
  write(
    text,
    shown?.file
      ? `Sheets, drawings, solids and programs are not written from this page yet. Save the plan, then in its folder:`
      : "Sheets, drawings, solids and programs are not written from this page yet. Save the plan under a name, then in its folder:",
  );
  const file = shown?.file || "board.toml";
  write(code, `quarterturn make ${/[ (),]/.test(file) ? `"${file}"` : file}`);
}
