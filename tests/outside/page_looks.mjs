// How the page looks, and how fast it is: axe-core on every place at every size, nothing out of the window, figures.
import { readFileSync, readdirSync } from "node:fs";
import { createRequire } from "node:module";
import { join, resolve } from "node:path";
import { gzipSync } from "node:zlib";
import { asJson, check, close, count, figure, here, names, open, percentile, plan, settled, shots, SIZES, visit } from "./page_driver.mjs";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const PLACES = ["stock", "panel", "strips", "board", "cuts", "paper"];

export default {
  /** axe-core finds nothing, on every place, by day and by night, at every size; nothing runs out of the window. */
  async seen() {
    const { address, end } = await open(plan("walnut-diamonds"));
    for (const size of Object.keys(SIZES)) {
      for (const scheme of ["light", "dark"]) {
        for (const at of PLACES) {
          const page = await visit(address, { size, scheme, at });
          await page.focus("#strips [tabindex='0']");
          await page.keyboard.press(" ");
          if (size !== "large") {
            await page.evaluate(axe);
            const found = await page.evaluate(() => axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] }));
            const said = found.violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).slice(0, 3).join(" ")}`);
            check(said.length === 0, `${size} ${scheme} ${at}: ${said.join("; ")}`);
          }
          const over = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
          check(over <= 0, `${size} ${at}: runs out of the window by ${over} px`);
          if (shots) await page.screenshot({ path: join(shots, `${at}-${size}-${scheme}.png`), fullPage: true });
          await close(page);
        }
      }
    }
    // A laptop at 200 % has half the room, and 320 px are the least that is asked.
    for (const size of [[683, 384, 2], [320, 640, 2]]) {
      for (const at of PLACES) {
        const page = await visit(address, { size, at });
        const over = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
        check(over <= 0, `${size[0]} px, ${at}: runs out of the window by ${over} px`);
        if (shots) await page.screenshot({ path: join(shots, `${at}-${size[0]}.png`), fullPage: true });
        await close(page);
      }
    }
    await end();
  },

  /** How fast, and how large. */
  async figures() {
    const sixteen = (text) => text.replace(/^length = .*$/m, "length = 27").replace(/^count = 14$/m, "count = 16");
    const { address, took, end } = await open(plan("walnut-diamonds", sixteen));
    figure("first answer after the command", took, "ms", 200);
    const page = await visit(address);
    check((await names(page)).length === 16, "sixteen strips");
    await page.reload();
    const drawn = await page.evaluate(async () => {
      const all = () => document.querySelectorAll("#strips [role=option]").length === 16 && lastDrawn > 0;
      while (!all()) await new Promise(requestAnimationFrame);
      await new Promise((go) => setTimeout(go, 500));
      return lastDrawn;
    });
    figure("picture whole after the page's first request", drawn, "ms", 1000);
    // From the event to the last drawing call, as the page itself has it.
    const timed = (key, shift) => page.evaluate(async ([key, shift]) => {
      const strip = document.querySelector("#strips [tabindex='0']");
      strip.focus();
      const before = lastDrawn;
      const begun = performance.now();
      strip.dispatchEvent(new KeyboardEvent("keydown", { key, shiftKey: shift, bubbles: true, cancelable: true }));
      while (lastDrawn === before) await new Promise((go) => setTimeout(go));
      await new Promise((go) => setTimeout(go, 120));
      return lastDrawn - begun;
    }, [key, shift]);
    await settled(page);
    const [turns, moves] = [[], []];
    for (let i = 0; i < 60; i += 1) {
      turns.push(await timed(["r", "e", "o"][i % 3], false));
      moves.push(await timed(i % 30 < 15 ? "ArrowRight" : "ArrowLeft", true));
    }
    figure("a turn, to the last drawing call, p95", percentile(turns, 0.95), "ms", 16);
    figure("a move, to the last drawing call, p95", percentile(moves, 0.95), "ms", 16);
    if (!asJson) console.log(`  medians: ${percentile(turns, 0.5).toFixed(1)} and ${percentile(moves, 0.5).toFixed(1)} ms`);
    const wood = [];
    for (let i = 0; i < 12; i += 1) {
      await settled(page);
      wood.push(await page.evaluate(async (width) => {
        const { make } = await import("./talk.js");
        const begun = performance.now();
        await make({ edit: "set", key: ["blanks", 0, "shows", "ring_width"], to: width });
        let last = lastDrawn;
        for (let still = 0; still < 400; still = last === lastDrawn ? still + 20 : 0) {
          last = lastDrawn;
          await new Promise((go) => setTimeout(go, 20));
        }
        return lastDrawn - begun;
      }, `${i + 5}/64`));
    }
    figure("other wood, from rest, to the last drawing call, p95", percentile(wood, 0.95), "ms", 100);
    await close(page);
    await end();
    const folder = resolve(here, "../../cli/page");
    const weight = readdirSync(folder).filter((name) => !name.endsWith(".d.ts")).reduce((all, name) => all + gzipSync(readFileSync(join(folder, name))).length, 0);
    figure("the page's files, compressed", weight / 1024, "KiB", 400);
    check(weight <= 400 * 1024, "the page is heavier than 400 KiB");
  },
};
