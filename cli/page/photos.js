// @ts-check
// Photographs of the blanks' ends: dropped or chosen, and the end that comes of each shown at once.

import { element, inStep, write } from "./dom.js";
import { inWords, say } from "./say.js";
import { now, photograph } from "./talk.js";

/** @typedef {{ letter: string, entry: number, end: "near" | "far" }} End */

/** Pixels a millimetre that an end is shown in. */
const SCALE = 4;

/**
 * A place for the photograph of each end of each blank.
 * @param {HTMLElement} where
 * @param {string[]} letters
 */
export function showPhotos(where, letters) {
  /** @type {End[]} */
  const ends = letters.flatMap((letter, entry) => [
    { letter, entry, end: "near" },
    { letter, entry, end: "far" },
  ]);
  inStep(where, ends, ({ letter, entry, end }) => `${entry} ${letter} ${end}`, makeEnd, (child, end) => {
    const image = /** @type {HTMLImageElement} */ (child.querySelector("img"));
    const name = pictureOf(end);
    image.hidden = !name;
    const source = `pictures/${name}/${SCALE}.png`;
    if (name && image.getAttribute("src") !== source) image.src = source;
  });
}

/** The picture of an end of the blank of this letter, where it is laid. @param {End} of */
function pictureOf({ letter, end }) {
  const laid = (now()?.panels ?? []).flatMap((panel) => panel.blanks).find((blank) => blank.letter === letter);
  return laid?.ends[end === "near" ? 0 : 1] ?? "";
}

let made = 0;

/** @param {End} of */
function makeEnd(of) {
  const id = `photo-${(made += 1)}`;
  const wrong = element("p", { class: "wrong", role: "alert", hidden: true });
  const input = /** @type {HTMLInputElement} */ (
    element("input", { id, type: "file", accept: "image/jpeg,image/png", class: "unseen", change: () => take(input.files) })
  );
  const label = element("label", { for: id, class: "choose" }, `Photograph of ${of.letter}'s ${of.end} end`);
  const box = element(
    "div",
    { class: "photo", dragover: over, dragleave: () => box.classList.remove("over"), drop },
    element("img", { alt: `${of.letter}'s ${of.end} end as it is drawn`, hidden: true }),
    input,
    label,
    element("p", { class: "usual" }, "Drop it here, or choose it."),
    wrong,
  );
  /** @param {Event} event */
  function over(event) {
    event.preventDefault();
    box.classList.add("over");
  }
  /** @param {Event} event */
  function drop(event) {
    event.preventDefault();
    box.classList.remove("over");
    if (event instanceof DragEvent) take(event.dataTransfer?.files ?? null);
  }
  /** @param {FileList | null} files */
  async function take(files) {
    const file = files?.[0];
    if (!file) return;
    box.setAttribute("aria-busy", "true");
    write(label, "It is looked at. That takes some seconds.");
    const told = await photograph(of.entry, of.end, file);
    box.removeAttribute("aria-busy");
    write(label, `Photograph of ${of.letter}'s ${of.end} end`);
    wrong.hidden = told.length === 0;
    write(wrong, inWords(told));
    input.value = "";
    if (!told.length) say(`the photograph of ${of.letter}'s ${of.end} end is taken`);
  }
  return box;
}
