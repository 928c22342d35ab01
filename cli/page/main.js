// @ts-check
// Starts the page: what is heard goes to the parts that show it.

import { beginBench, showBench } from "./bench.js";
import { byId, write } from "./dom.js";
import { beginFile, showFile } from "./file.js";
import { beginHints } from "./hints.js";
import { fetchOtherFaces, fit, draw, show } from "./picture.js";
import { notice } from "./say.js";
import { beginStrips, showStrips } from "./strips.js";
import { begin, followedBy, hearAfter, hearGone, hearShown, now } from "./talk.js";

beginStrips();
beginBench();
beginFile();
beginHints();

hearShown((shown) => {
  // The picture first: it is what the hand waits for.
  show(shown.board);
  showStrips();
  const none = byId("no-board");
  none.hidden = Boolean(shown.board);
  write(none, shown.board ? "" : `There is no board to show: ${shown.no_board}. The places above say what mends it.`);
  setTimeout(() => {
    showFile(shown);
    showSizes();
    showBench();
    fetchOtherFaces();
  });
});

hearAfter(() => {
  showSizes();
  showBench();
});

hearGone((gone) => {
  const text = "The program doesn't answer. Was it ended? What was done is kept: start quarterturn open again, and open the address that it prints.";
  notice("gone", gone ? text : "");
});

/** The board's sizes, as the numbers say them. */
function showSizes() {
  const after = followedBy();
  const board = after?.places.find(({ bench }) => bench === "board")?.numbers ?? [];
  /** @param {string} key */
  const size = (key) => board.find((number) => number.key === key)?.shown;
  const sizes = ["board.length", "board.width", "board.thickness"].map(size);
  byId("sizes").classList.toggle("stale", after?.revision !== now()?.revision);
  const made = after && !after.can_be_made ? " It can't be made as planned." : "";
  const text = now()?.board && sizes.every(Boolean) ? `${sizes.join(" × ")}, finished.` : "";
  write(byId("sizes"), text + made);
}

new ResizeObserver(() => {
  fit();
  draw();
  showStrips();
  showBench();
}).observe(byId("picture"));

begin();
