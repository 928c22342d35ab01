// @ts-check
// The blanks of a panel under the hand: its far end as you see it standing there, blanks turned, moved, taken out.

import { element, inStep, write } from "./dom.js";
import { Hand } from "./hand.js";
import { picture, scaleFor } from "./picture.js";
import { say, tell } from "./say.js";
import { make, now, ofThis } from "./talk.js";

/** @typedef {import("./wire.d.ts").BlankTurn} BlankTurn */
/** @typedef {import("./wire.d.ts").Edit} Edit */
/** @typedef {import("./wire.d.ts").LaidShown} LaidShown */
/** @typedef {import("./wire.d.ts").PanelShown} PanelShown */

const TURNS = /** @type {const} */ (["as laid", "rolled over", "end for end", "end over end"]);

/** How high an end is drawn at most, px. */
const HIGHEST = 180;

/** One panel's end, and the hand over it. */
class End {
  perMm = 1;
  held = { places: /** @type {number[]} */ ([]), by: 0 };

  /** @param {number} of */
  constructor(of) {
    this.of = of;
    this.canvas = /** @type {HTMLCanvasElement} */ (element("canvas", { "aria-hidden": "true" }));
    const list = element("div", {
      role: "listbox",
      class: "pieces",
      "aria-label": "Blanks of the panel, from the left as seen from its far end",
      "aria-orientation": "horizontal",
    });
    this.caption = element("figcaption", {});
    this.what = element("p", { class: "what" });
    this.bar = element("div", { class: "row", role: "toolbar", "aria-label": "The blank that is picked" }, this.what);
    this.figure = element("figure", { class: "panel" }, this.caption, element("div", { class: "under" }, this.canvas, list), this.bar);
    this.hand = new Hand(
      /** @type {import("./hand.js").Row<LaidShown>} */ ({
        list,
        items: () => this.blanks,
        // Blanks of one letter are told apart by their places alone.
        keyOf: (_, place) => String(place),
        nameOf: (blank, place, count) => `place ${place + 1} of ${count}: blank ${blank.letter}, ${blank.wood}, ${blank.turn}`,
        tag: (blank) => blank.letter,
        span: (blank) => [blank.x[0] * this.perMm, blank.x[1] * this.perMm],
        size: () => [(this.panel?.width ?? 0) * this.perMm, (this.panel?.thickness ?? 0) * this.perMm],
        keys: {
          r: (keys) => void this.turn(keys, "rolled over"),
          e: (keys) => void this.turn(keys, "end for end"),
          o: (keys) => void this.turn(keys, "end over end"),
          delete: (keys) => void this.takeOut(keys),
          backspace: (keys) => void this.takeOut(keys),
        },
        again: (keys) => void this.turn(keys, "rolled over"),
        moveTo: async (keys, where) => {
          const [from] = this.hand.placesOf(keys);
          if (from === undefined) return false;
          const to = where([from]);
          return from !== to && this.doIt({ edit: "move_blank", panel: of, from, to }, "moved");
        },
        hold: (places, by) => {
          this.held = { places, by };
          this.draw();
        },
        picked: () => this.showWhat(),
        oneByOne: true,
      }),
    );
    const button = (/** @type {string} */ name, /** @type {() => void} */ act) => element("button", { type: "button", click: act }, name);
    this.lies = /** @type {HTMLSelectElement} */ (
      element("select", { "aria-label": "How it lies", change: () => void this.lie() }, ...TURNS.map((turn) => element("option", { value: turn }, turn)))
    );
    this.bar.append(
      this.lies,
      button("To the left", () => void this.hand.step(-1)),
      button("To the right", () => void this.hand.step(1)),
      button("Take out", () => void this.takeOut(this.hand.picked)),
    );
  }

  /** @returns {PanelShown | undefined} */
  get panel() {
    return now()?.panels[this.of];
  }

  get blanks() {
    return this.panel?.blanks ?? [];
  }

  /** The place of the one that is picked. @param {string[]} keys */
  one(keys) {
    return this.hand.placesOf(keys)[0];
  }

  /** @param {Edit} edit @param {string} done */
  async doIt(edit, done) {
    const told = await make(ofThis(edit));
    if (told?.length) tell(told);
    else if (told) say(done);
    return told?.length === 0;
  }

  /** Turns it by a half turn from how it lies. @param {string[]} keys @param {BlankTurn} by */
  async turn(keys, by) {
    const at = this.one(keys);
    if (at !== undefined) await this.doIt({ edit: "turn_blank_by", panel: this.of, at, by }, by);
  }

  async lie() {
    const at = this.one(this.hand.picked);
    const turn = TURNS.find((turn) => turn === this.lies.value);
    if (at !== undefined && turn) await this.doIt({ edit: "turn_blank", panel: this.of, at, turn }, turn);
  }

  /** @param {string[]} keys */
  async takeOut(keys) {
    const at = this.one(keys);
    if (at !== undefined) await this.doIt({ edit: "take_blank", panel: this.of, at }, "taken out");
  }

  showWhat() {
    const blank = this.blanks[this.one(this.hand.picked)];
    write(this.what, blank ? `Blank ${blank.letter}, ${blank.wood}` : "No blank is picked");
    this.bar.classList.toggle("none", !blank);
    this.bar.querySelectorAll("button, select").forEach((tool) => tool.toggleAttribute("disabled", !blank));
    if (blank && this.lies.value !== blank.turn) this.lies.value = blank.turn;
  }

  /** @param {boolean} several */
  show(several) {
    if (!this.panel) return;
    const name = several ? `Panel ${this.panel.name}: its` : "The panel's";
    write(this.caption, `${name} far end, as you see it standing there`);
    this.draw();
    this.hand.show();
  }

  draw() {
    const panel = this.panel;
    const context = this.canvas.getContext("2d");
    if (!panel || !context) return;
    const room = this.figure.clientWidth || 300;
    this.perMm = Math.min(room / panel.width, HIGHEST / panel.thickness);
    const ratio = window.devicePixelRatio || 1;
    const scale = this.perMm * ratio;
    this.canvas.width = Math.round(panel.width * scale);
    this.canvas.height = Math.round(panel.thickness * scale);
    this.canvas.style.width = `${panel.width * this.perMm}px`;
    this.canvas.style.height = `${panel.thickness * this.perMm}px`;
    const bitmap = picture(panel.picture, scaleFor(scale), () => this.canvas.isConnected && this.draw());
    if (!bitmap) return;
    const across = bitmap.width / panel.width;
    const blank = (/** @type {LaidShown} */ { x }, /** @type {number} */ by) => {
      const [from, wide] = [x[0] * across, (x[1] - x[0]) * across];
      context.drawImage(bitmap, from, 0, wide, bitmap.height, x[0] * scale + by * ratio, 0, (x[1] - x[0]) * scale, this.canvas.height);
    };
    const { places, by } = this.held;
    panel.blanks.forEach((laid, place) => places.includes(place) || blank(laid, 0));
    context.fillStyle = "rgb(0 0 0 / 45%)";
    panel.blanks.slice(1).forEach(({ x }) => context.fillRect(Math.round(x[0] * scale), 0, ratio, this.canvas.height));
    panel.blanks.forEach((laid, place) => places.includes(place) && blank(laid, by));
  }
}

/** @type {End[]} */
let ends = [];

/**
 * Shows the ends of all panels, and what may be laid in each.
 * @param {HTMLElement} where
 * @param {string[]} letters
 */
export function showBlanks(where, letters) {
  const panels = now()?.panels ?? [];
  if (ends.length !== panels.length || !where.contains(ends[0]?.figure ?? null)) {
    ends = panels.map((_, of) => new End(of));
    where.replaceChildren(...ends.flatMap((end) => [end.figure, element("div", { class: "row laying" })]));
  }
  ends.forEach((end, of) => {
    end.show(panels.length > 1);
    inStep(
      /** @type {HTMLElement} */ (end.figure.nextElementSibling),
      letters,
      (letter, at) => `${at} ${letter}`,
      () => element("button", { type: "button" }),
      (child, letter) => {
        write(child, `Lay another ${letter}`);
        child.onclick = () => void end.doIt({ edit: "lay_blank", panel: of, at: end.blanks.length, letter }, `${letter} lies at the right`);
      },
    );
  });
}
