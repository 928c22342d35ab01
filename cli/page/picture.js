// @ts-check
// The board's picture: strips' faces, fetched once each, laid as the program says. Works out no geometry.

import { byId } from "./dom.js";
import { now } from "./talk.js";

/** @typedef {import("./wire.d.ts").BoardShown} BoardShown */
/** @typedef {import("./wire.d.ts").StripShown} StripShown */
/** @typedef {import("./wire.d.ts").Way} Way */

/** So many requests for pictures at once: a browser makes six of one program at a time, and edits must not wait. */
const AT_ONCE = 2;
/** After so long a picture is asked for again that didn't come, ms. */
const AGAIN = 1000;
/** So many pictures in one request. */
const TOGETHER = 8;
/** So many pictures are kept. */
const MOST_KEPT = 600;

/** By scale and name; null while it is fetched. @type {Map<string, ImageBitmap | null>} */
const kept = new Map();
/** What is to be fetched, in its order. @type {{ key: string, name: string, scale: number, then: () => void }[]} */
let wanted = [];
let fetching = 0;

/**
 * The scale to ask pictures in.
 * @param {number} need Pixels a millimetre on the screen.
 */
export function scaleFor(need) {
  const scales = now()?.scales ?? [];
  return scales.find((scale) => scale >= need * 0.95) ?? scales[scales.length - 1] ?? 1;
}

/**
 * A picture if it is there; else it is fetched, and `then` is called when it came.
 * @param {string} name
 * @param {number} scale
 * @param {() => void} then
 * @returns {ImageBitmap | null}
 */
export function picture(name, scale, then) {
  const key = `${scale}/${name}`;
  const there = kept.get(key);
  if (there !== undefined) return there;
  kept.set(key, null);
  wanted.push({ key, name, scale, then });
  // Those that are wanted in the same breath are asked for together.
  if (wanted.length === 1) queueMicrotask(fetchNext);
  return null;
}

function fetchNext() {
  while (fetching < AT_ONCE && wanted.length > 0) {
    const { scale } = wanted[0];
    const other = wanted.findIndex((picture) => picture.scale !== scale);
    const some = wanted.splice(0, Math.min(TOGETHER, other < 0 ? wanted.length : other));
    fetching += 1;
    const bytes = load(scale, some.map((picture) => picture.name)).finally(() => {
      // While these are read the next ones are on their way.
      fetching -= 1;
      fetchNext();
    });
    some.forEach(({ key, then }, i) => {
      bytes
        .then((all) => createImageBitmap(all[i]))
        .then((bitmap) => {
          kept.set(key, bitmap);
          then();
        })
        .catch(() => {
          // Asked for again in a while: the program may be gone.
          kept.delete(key);
          setTimeout(then, AGAIN);
        });
    });
    bytes.finally(forgetOldest).catch(() => {});
  }
}

/**
 * Several pictures: of each its length, 32 bits, then its PNG.
 * @param {number} scale
 * @param {string[]} names
 * @returns {Promise<Blob[]>}
 */
async function load(scale, names) {
  const answer = await fetch(`several/${scale}/${names.join(",")}`);
  if (answer.status !== 200) throw new Error("no pictures");
  const bytes = await answer.arrayBuffer();
  const view = new DataView(bytes);
  let at = 0;
  return names.map(() => {
    const length = view.getUint32(at, true);
    at += 4 + length;
    return new Blob([bytes.slice(at - length, at)], { type: "image/png" });
  });
}

function forgetOldest() {
  let most = kept.size - MOST_KEPT;
  for (const key of kept.keys()) {
    if (most-- <= 0) break;
    if (kept.get(key)) kept.delete(key);
  }
}

/** How the board lies on the canvas: pixels a millimetre, and the canvas's own pixels a CSS pixel. */
export const laid = { perMm: 1, ratio: 1, width: 0, height: 0 };

/** What is drawn. @type {BoardShown | null} */
let board = null;
/** Strips that hang at the pointer: their places, and how far they are from where they lie, mm. */
let held = { places: /** @type {number[]} */ ([]), by: 0 };
let asked = false;
/** Called after each drawing. @type {(() => void)[]} */
const onDrawn = [];

/** @param {() => void} hear */
export const hearDrawn = (hear) => onDrawn.push(hear);

/** @param {BoardShown | null} next */
export function show(next) {
  board = next;
  fit();
  draw();
}

/** @param {number[]} places @param {number} by */
export function hold(places, by) {
  held = { places, by };
  soon();
}

function soon() {
  if (asked) return;
  asked = true;
  requestAnimationFrame(() => {
    asked = false;
    draw();
  });
}

/** Makes the canvas as large as its room lets it be. */
export function fit() {
  const canvas = /** @type {HTMLCanvasElement} */ (byId("face"));
  const room = byId("picture");
  if (!board) {
    canvas.hidden = true;
    return;
  }
  canvas.hidden = false;
  const width = room.clientWidth;
  const most = Math.max(120, parseFloat(getComputedStyle(room).getPropertyValue("--most-high")) * window.innerHeight || 400);
  const perMm = Math.min(width / board.length, most / board.width);
  const ratio = window.devicePixelRatio || 1;
  Object.assign(laid, { perMm, ratio, width: board.length * perMm, height: board.width * perMm });
  const [across, down] = [Math.round(laid.width * ratio), Math.round(laid.height * ratio)];
  if (canvas.width !== across || canvas.height !== down) {
    canvas.width = across;
    canvas.height = down;
  }
  canvas.style.width = `${laid.width}px`;
  canvas.style.height = `${laid.height}px`;
}

/** Draws all strips, those that are held last. */
export function draw() {
  const canvas = /** @type {HTMLCanvasElement} */ (byId("face"));
  const context = canvas.getContext("2d");
  if (!context || !board) return;
  const scale = laid.perMm * laid.ratio;
  const sharp = scaleFor(scale);
  context.setTransform(1, 0, 0, 1, 0, 0);
  context.clearRect(0, 0, canvas.width, canvas.height);
  context.imageSmoothingQuality = "high";
  board.strips.forEach((strip, place) => {
    if (!held.places.includes(place)) drawStrip(context, strip, scale, sharp, 0);
  });
  for (const place of held.places) {
    const strip = board.strips[place];
    if (!strip) continue;
    context.setTransform(1, 0, 0, 1, 0, 0);
    context.clearRect(strip.x[0] * scale, 0, (strip.x[1] - strip.x[0]) * scale, canvas.height);
  }
  for (const place of held.places) {
    const strip = board.strips[place];
    if (strip) drawStrip(context, strip, scale, sharp, held.by);
  }
  onDrawn.forEach((hear) => hear());
}

/**
 * @param {CanvasRenderingContext2D} context
 * @param {StripShown} strip
 * @param {number} scale
 * @param {number} sharp
 * @param {number} by
 */
function drawStrip(context, strip, scale, sharp, by) {
  const way = strip.ways.find((way) => way.turn === strip.turn);
  if (!way) return;
  const bitmap = picture(way.picture, sharp, soon);
  const [a, b, c, d, e, f] = way.placed;
  context.setTransform(a * scale, b * scale, c * scale, d * scale, (e + by) * scale, f * scale);
  if (bitmap) {
    context.drawImage(bitmap, 0, 0, way.size[0], way.size[1]);
  } else {
    context.fillStyle = getComputedStyle(document.body).getPropertyValue("--plank");
    context.fillRect(0, 0, way.size[0], way.size[1]);
  }
}

/** Fetches what a turn would show, once all that is seen is there. */
export function fetchOtherFaces() {
  if (!board) return;
  const sharp = scaleFor(laid.perMm * laid.ratio);
  for (const strip of board.strips) for (const way of strip.ways) picture(way.picture, sharp, () => {});
}
