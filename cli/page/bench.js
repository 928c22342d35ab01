// @ts-check
// The bench: the places along it in the order of the wood, and the one that is looked at.

import { byId, element, inStep, write } from "./dom.js";
import { showExtras } from "./extras.js";
import { goToField, showPlace } from "./place.js";
import { followedBy, now } from "./talk.js";

/** @typedef {import("./wire.d.ts").Bench} Bench */
/** @typedef {import("./wire.d.ts").BenchShown} BenchShown */

/** @type {{ bench: Bench, name: string, about: string }[]} */
const PLACES = [
  { bench: "stock", name: "Stock", about: "The wood that there is. Widths, thicknesses and lengths as you write them: 1 3/8, 1.375 or 35 mm." },
  { bench: "panel", name: "Panel", about: "The first glue-up: which blanks lie side by side, in which order, each turned how; and what is planed off." },
  { bench: "strips", name: "Strips", about: "The panel is cut into strips. Give the count, the width or the board's thickness; what doesn't come out of the panel is shown as lost. Cautions stand on the sheets beside each cut; the saw's manual comes first." },
  { bench: "board", name: "Board", about: "The second glue-up: the strips stood on end, turned and moved in the picture. Then it is flattened and trimmed." },
  { bench: "cuts", name: "Cuts", about: "Handholds, grooves and rims, as they are set in the shop. Cautions stand on the sheets beside each step; the router's manual comes first." },
  { bench: "paper", name: "Paper", about: "What goes into the shop on paper." },
];

/** @type {Bench} */
let at = "board";

const fromAddress = () => PLACES.find(({ bench }) => location.hash === `#${bench}`)?.bench;

/** The bench as it is now. */
export function showBench() {
  const after = followedBy();
  const stale = !after || after.revision !== now()?.revision;
  byId("place").classList.toggle("stale", stale);
  inStep(
    byId("bench"),
    PLACES,
    ({ bench }) => bench,
    ({ bench, name }) =>
      element("li", {}, element("a", { href: `#${bench}` }, element("span", { class: "place" }, name), element("span", { class: "count" }))),
    (child, { bench }) => {
      const link = /** @type {Element} */ (child.firstElementChild);
      if (bench === at) link.setAttribute("aria-current", "step");
      else link.removeAttribute("aria-current");
      const there = after?.places.find((place) => place.bench === bench);
      const count = /** @type {Element} */ (link.querySelector(".count"));
      write(count, there ? inShort(there) : "");
      count.className = `count ${there?.findings.some((finding) => finding.kind === "can't be made") ? "cant" : ""}`;
    },
  );
  const place = PLACES.find(({ bench }) => bench === at);
  if (place) {
    write(byId("place-head"), place.name);
    write(byId("place-about"), after ? place.about : `${place.about} The numbers follow in a moment.`);
  }
  const there = after?.places.find((place) => place.bench === at);
  if (there) showPlace(there, goTo);
  showExtras(at);
}

/** Findings of a place in a few words. @param {BenchShown} place */
function inShort(place) {
  /** @param {string} kind */
  const of = (kind) => place.findings.filter((finding) => finding.kind === kind).length;
  const [cant, care, note] = [of("can't be made"), of("take care"), of("note")];
  if (cant) return `${cant} can't be made`;
  if (care) return `${care} to mind`;
  return note ? `${note} to note` : "";
}

/** Goes to where a key is written. @param {string} key */
function goTo(key) {
  if (goToField(key)) return;
  const list = followedBy()?.places ?? [];
  /** @param {import("./wire.d.ts").Field} field */
  const path = (field) => field.key.filter((step) => typeof step === "string").join(".");
  const place = list.find((place) => place.fields.some((field) => path(field) === key));
  if (!place) return byId("place").focus();
  at = place.bench;
  history.replaceState(null, "", `#${at}`);
  showBench();
  goToField(key);
}

/** Listens to where the maker goes. */
export function beginBench() {
  at = fromAddress() ?? at;
  window.addEventListener("hashchange", () => {
    const next = fromAddress();
    if (!next || next === at) return;
    at = next;
    ["fields", "numbers", "findings"].forEach((id) => byId(id).replaceChildren());
    showBench();
    // On to what was asked for: under the picture where there is no room beside it.
    byId("place").focus({ preventScroll: !window.matchMedia("(max-width: 62rem)").matches });
  });
}
