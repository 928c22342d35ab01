// The page of `quarterturn open` in a real browser: what a maker does on it, by mouse, touch and keys, and how fast.
// node page.mjs PROGRAM [FOLDER FOR SCREENSHOTS] [--only NAME]. Last line: "page: N passed, M failed".
import { execFileSync, spawn } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import puppeteer from "puppeteer-core";

const here = dirname(fileURLToPath(import.meta.url));
const samples = resolve(here, "../../samples");
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const program = resolve(process.argv[2] ?? join(here, "../../target/release/quarterturn"));
const shots = process.argv[3] && !process.argv[3].startsWith("--") ? resolve(process.argv[3]) : null;
const only = process.argv.includes("--only") ? process.argv[process.argv.indexOf("--only") + 1] : "";
const PLACES = ["stock", "panel", "strips", "board", "cuts", "paper"];
const SIZES = { phone: [390, 844, 2], laptop: [1366, 768, 1], large: [2560, 1440, 1] };

let passed = 0;
let failed = 0;
const work = mkdtempSync(join(tmpdir(), "page-"));
if (shots) mkdirSync(shots, { recursive: true });

/** Counts a check. */
function check(is, what) {
  if (is) passed += 1;
  else {
    failed += 1;
    console.log(`FAILED ${what}`);
  }
}

const figure = (name, value, unit, goal) => console.log(`  ${name}: ${value} ${unit}${goal ? ` (asked: ${goal})` : ""}`);
const percentile = (values, share) => [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.ceil(values.length * share) - 1)];
const pause = (time) => new Promise((go) => setTimeout(go, time));

/** A copy of a sample in a folder of its own, changed. */
function plan(name, change = (text) => text) {
  const folder = mkdtempSync(join(work, `${name}-`));
  const file = join(folder, `${name}.toml`);
  writeFileSync(file, change(readFileSync(join(samples, `${name}.toml`), "utf8")));
  return file;
}

/** The program, open on a plan; and how long it took to say where its page is. */
async function open(file, options = {}) {
  const begun = performance.now();
  const child = spawn(program, ["open", "--no-browser", ...(file ? [file] : [])], options);
  let said = "";
  const address = await new Promise((go, no) => {
    child.stdout.on("data", (more) => {
      said += more;
      const found = said.match(/http:\/\/\S+\//);
      if (found) go(found[0]);
    });
    child.on("exit", () => no(new Error(`it ended: ${said}`)));
  });
  await fetch(`${address}state`);
  const took = performance.now() - begun;
  const end = (signal = "SIGINT") => new Promise((go) => (child.exitCode === null ? (child.on("exit", go), child.kill(signal)) : go()));
  return { address, took, end };
}

const browser = await puppeteer.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: ["--no-sandbox"] });

/** A page that notes what it should not do: errors, words on the console, requests to elsewhere. */
async function visit(address, { size = "laptop", scheme = "light", at = "board" } = {}) {
  const context = await browser.createBrowserContext();
  const page = await context.newPage();
  const [width, height, deviceScaleFactor] = SIZES[size] ?? size;
  await page.setViewport({ width, height, deviceScaleFactor, hasTouch: size === "phone", isMobile: size === "phone" });
  await page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: scheme }]);
  page.wrong = [];
  page.on("pageerror", (error) => page.wrong.push(String(error)));
  page.on("console", (message) => message.type() === "error" && !/status of (409|422)/.test(message.text()) && page.wrong.push(message.text()));
  page.on("request", (request) => {
    const url = request.url();
    if (!url.startsWith(address) && !url.startsWith("data:") && !url.startsWith("blob:")) page.wrong.push(`asked ${url}`);
  });
  await page.evaluateOnNewDocument(() => {
    globalThis.lastDrawn = 0;
    const draw = CanvasRenderingContext2D.prototype.drawImage;
    CanvasRenderingContext2D.prototype.drawImage = function (...given) {
      draw.apply(this, given);
      if (this.canvas.id === "face") globalThis.lastDrawn = performance.now();
    };
  });
  await page.goto(`${address}#${at}`);
  await settled(page);
  return page;
}

/** Until the picture is there and numbers have followed. */
async function settled(page) {
  await page.waitForFunction(() => lastDrawn > 0 && performance.now() - lastDrawn > 250 && !document.querySelector("#place.stale"), { timeout: 30_000 });
}

const names = (page) => page.$$eval("#strips [role=option]", (all) => all.map((strip) => strip.getAttribute("aria-label")));
const turnOf = (name) => name?.split(", ")[1];
const stripOf = (name) => Number(name?.match(/strip (\d+)/)?.[1]);
const text = (page, selector) => page.$eval(selector, (found) => found.textContent);
const until = (page, test, ...given) => page.waitForFunction(test, { timeout: 10_000 }, ...given).then(() => true, () => false);
const untilName = (page, place, part) =>
  until(page, (place, part) => document.querySelectorAll("#strips [role=option]")[place]?.getAttribute("aria-label")?.includes(part), place, part);

async function close(page) {
  check(page.wrong.length === 0, `the page does what it should not: ${page.wrong.join("; ")}`);
  await page.browserContext().close();
}

/** The middle of a strip, in the window. */
const middle = (page, place) =>
  page.$$eval("#strips [role=option]", (all, place) => {
    const box = all[place].getBoundingClientRect();
    return [box.x + box.width / 2, box.y + box.height / 2];
  }, place);

const tests = {
  /** The picture is that of `make`. */
  async picture() {
    for (const [sample, size] of [["walnut-diamonds", "laptop"], ["brick-bond", "laptop"], ["ash-chevrons", "phone"]]) {
      const file = plan(sample);
      const { address, end } = await open(file);
      const page = await visit(address, { size });
      execFileSync(program, ["make", file, "--out", join(dirname(file), "out"), "--dpi", "96"], { stdio: "ignore" });
      const made = readFileSync(join(dirname(file), "out/face-upper.png")).toString("base64");
      const off = () => page.evaluate(async (made) => {
        const canvas = document.getElementById("face");
        const image = new Image();
        image.src = `data:image/png;base64,${made}`;
        await image.decode();
        const side = [200, Math.round((200 * canvas.height) / canvas.width)];
        const bytes = (of) => {
          const small = new OffscreenCanvas(...side).getContext("2d");
          small.imageSmoothingQuality = "high";
          small.drawImage(of, 0, 0, ...side);
          return small.getImageData(0, 0, ...side).data;
        };
        const [one, other] = [bytes(canvas), bytes(image)];
        return one.reduce((all, byte, i) => all + Math.abs(byte - other[i]), 0) / one.length;
      }, made);
      const same = await off();
      check(same < 3, `${sample}: the picture is off make's by ${same.toFixed(2)} of 255 in the mean`);
      await page.focus("#strips [tabindex='0']");
      for (const key of ["ArrowRight", "ArrowRight", "ArrowRight", "e"]) await page.keyboard.press(key);
      await settled(page);
      const other = await off();
      check(other > same + 0.05, `${sample}: a strip turned end for end is another picture: ${same.toFixed(2)}, ${other.toFixed(2)}`);
      await close(page);
      await end();
    }
  },

  /** Turned, moved, left out, put back, slid, by keys alone. */
  async keys() {
    const { address, end } = await open(plan("walnut-diamonds"));
    const page = await visit(address);
    check((await names(page))[3] === "place 4 of 14: strip 4, rolled over", `names: ${(await names(page))[3]}`);
    await page.focus("#strips [tabindex='0']");
    for (const key of ["ArrowRight", "ArrowRight"]) await page.keyboard.press(key);
    await page.keyboard.press("r");
    check(await untilName(page, 2, "rolled over"), "R rolls over");
    await page.keyboard.press("o");
    check(await untilName(page, 2, "end for end"), "O then turns end over end");
    await page.keyboard.down("Shift");
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("ArrowRight");
    await page.keyboard.up("Shift");
    check(await untilName(page, 4, "strip 3,"), "Shift and arrows move it");
    check((await page.evaluate(() => document.activeElement.getAttribute("aria-label"))).includes("strip 3"), "and the keys stay at it");
    await page.keyboard.press("Delete");
    check(await until(page, () => document.querySelectorAll("#strips [role=option]").length === 13), "Delete leaves it out");
    check((await text(page, "#left-out")).includes("put strip 3 back"), "what is left out is named");
    await page.focus("#left-out button");
    await page.keyboard.press("Enter");
    check(await untilName(page, 13, "strip 3,"), "and put back at the right");
    await page.focus("#strips [tabindex='0']");
    await page.keyboard.press("Home");
    await page.keyboard.press(" ");
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press(" ");
    check((await text(page, "#actions .what")) === "2 strips are picked", "space picks a second one");
    await page.focus("#slide");
    await page.keyboard.type("1/2");
    await page.keyboard.press("Enter");
    check(await untilName(page, 1, "slid back 1/2"), "both are slid");
    for (let i = 0; i < 7; i += 1) {
      await page.keyboard.down("Control");
      await page.focus("#undo:enabled").catch(() => {});
      await page.keyboard.press("z");
      await page.keyboard.up("Control");
    }
    check(await until(page, () => document.getElementById("undo").disabled), "Ctrl Z undoes all of it");
    check((await text(page, "#file")).endsWith(": saved"), "and that is what is saved");
    await close(page);
    await end();
  },

  /** The same by mouse and by finger. */
  async pointer() {
    const { address, end } = await open(plan("walnut-diamonds"));
    let page = await visit(address);
    await page.mouse.click(...(await middle(page, 5)));
    check((await text(page, "#actions .what")) === "Strip 6: rolled over", "a click picks");
    await page.mouse.click(...(await middle(page, 5)));
    check(await untilName(page, 5, "as cut"), "another one rolls it over");
    const [from, to] = [await middle(page, 5), await middle(page, 0)];
    await page.mouse.move(...from);
    await page.mouse.down();
    await page.mouse.move(to[0] + 40, to[1], { steps: 5 });
    await page.mouse.move(to[0] - 8, to[1], { steps: 5 });
    check(await page.$eval("#mark", (mark) => !mark.hidden), "a mark shows where it would lie");
    await page.mouse.up();
    check(await untilName(page, 0, "strip 6,"), "it is dragged to the left end");
    check(await page.$eval("#mark", (mark) => mark.hidden), "the mark is gone");
    await close(page);
    page = await visit(address, { size: "phone" });
    const [x, y] = await middle(page, 3);
    await page.touchscreen.tap(x, y);
    check(await until(page, () => document.querySelector("#actions .what").textContent.startsWith("Strip")), "a finger picks");
    await page.tap("#actions button");
    check(await untilName(page, 3, "rolled over"), "and turns by the button");
    const [[fromX, fromY], [toX]] = [await middle(page, 3), await middle(page, 8)];
    const finger = await page.touchscreen.touchStart(fromX, fromY);
    for (let i = 1; i <= 8; i += 1) await finger.move(fromX + ((toX + 6 - fromX) * i) / 8, fromY);
    await finger.end();
    check(await untilName(page, 8, "strip 3,"), "and drags");
    await close(page);
    await end();
  },

  /** What is written is read, refused where it is wrong, and everything after it follows. */
  async fields() {
    const file = plan("walnut-diamonds");
    const { address, end } = await open(file);
    const page = await visit(address, { at: "strips" });
    const field = (path) => page.$(`.field[data-path="${path}"] input`);
    const type = async (path, what) => {
      const input = await field(path);
      await input.click({ clickCount: 3 });
      await page.keyboard.press("Backspace");
      await page.keyboard.type(what);
      await page.keyboard.press("Enter");
      await input.evaluate((input) => input.blur());
    };
    await type("strips.count", "16");
    check(await until(page, () => /Lost: 1 of/.test(document.querySelector(".lost")?.textContent ?? "")), "the lost strip is shown");
    check(await until(page, () => !document.getElementById("no-board").hidden), "and why there is no board");
    check(await until(page, () => document.querySelector("#findings .cant")), "and that it can't be made");
    await type("strips.count", "12");
    check(await until(page, () => document.querySelectorAll("#strips [role=option]").length === 12), "twelve strips");
    check(await until(page, () => /^9 1\/4 in/.test(document.getElementById("sizes").textContent)), "and the length that they give");
    await type("shop.saw.kerf", "wide");
    check(await until(page, () => document.querySelector('.field[data-path="shop.saw.kerf"] .wrong:not([hidden])')), "what is no length is refused beside it");
    check((await text(page, '.field[data-path="shop.saw.kerf"] .wrong')).includes("write a length"), "in words");
    await page.goto(`${address}#board`);
    await settled(page);
    await type("measured.board_thickness", "1 1/4");
    check(await until(page, () => /1 1\/4 in, finished/.test(document.getElementById("sizes").textContent)), "what was measured follows");
    await page.click("#save");
    check(await until(page, () => document.getElementById("file").textContent.endsWith(": saved")), "saved");
    const saved = readFileSync(file, "utf8");
    const comments = (text) => text.split("\n").filter((line) => line.includes("#")).map((line) => line.slice(line.indexOf("#")).trim());
    check(saved.includes('board_thickness = "1 1/4"') && comments(readFileSync(join(samples, "walnut-diamonds.toml"), "utf8")).every((one) => saved.includes(one)), "in the plan, every comment kept");
    check(execFileSync(program, ["check", file], { encoding: "utf8" }).includes("It can be made"), "and check reads it");
    await close(page);
    await end();
  },

  /** Two tabs, and a plan that is changed on disk. */
  async others() {
    const file = plan("walnut-diamonds");
    const { address, end } = await open(file);
    const [one, other] = [await visit(address), await visit(address)];
    await one.focus("#strips [tabindex='0']");
    await one.keyboard.press("e");
    check(await untilName(other, 0, "end for end"), "the other tab shows what the one did");
    const theirs = readFileSync(file, "utf8").replace("Walnut diamonds", "Theirs");
    writeFileSync(file, theirs);
    check(await until(one, () => document.getElementById("notice-changed")), "a plan changed on disk is noticed");
    await one.keyboard.down("Control");
    await one.keyboard.press("s");
    await one.keyboard.up("Control");
    check(await until(one, () => document.getElementById("notice-wrong")), "and not written over");
    check(readFileSync(file, "utf8") === theirs, "it stands as it was");
    await one.click("#notice-changed button");
    await one.type("#new-name", "mine");
    await one.keyboard.press("Enter");
    check(await until(one, () => document.getElementById("file").textContent === "mine.toml: saved"), "mine is kept under another name");
    check(existsSync(join(dirname(file), "mine.toml")), "and written");
    await close(one);
    await close(other);
    await end();
    check(readdirSync(dirname(file)).sort().join() === "mine.toml,walnut-diamonds.toml", "nothing else is left behind");
  },

  /** From an empty bench to a plan on disk. */
  async begin() {
    const folder = mkdtempSync(join(work, "empty-"));
    const { address, end } = await open(null, { cwd: folder });
    const page = await visit(address);
    check((await text(page, "#name")) === "Not yet named", "an empty bench");
    await page.click("#begin");
    await page.evaluate(() => [...document.querySelectorAll(".choices button")].find((button) => button.textContent === "brick bond").click());
    check(await until(page, () => document.getElementById("name").textContent !== "Not yet named"), "begun from a sample");
    await page.click("#save");
    await page.type("#new-name", "bricks");
    await page.keyboard.press("Enter");
    check(await until(page, () => document.getElementById("file").textContent === "bricks.toml: saved"), "saved under a name");
    check(readFileSync(join(folder, "bricks.toml"), "utf8") === readFileSync(join(samples, "brick-bond.toml"), "utf8"), "byte for byte");
    await close(page);
    await end();
  },

  /** Killed, it takes up what was unsaved, and says so. */
  async killed() {
    const file = plan("walnut-diamonds");
    const first = await open(file);
    let page = await visit(first.address);
    await page.focus("#strips [tabindex='0']");
    await page.keyboard.press("e");
    check(await untilName(page, 0, "end for end"), "turned");
    await first.end("SIGKILL");
    check(await until(page, () => document.getElementById("notice-gone")), "the page says that the program is gone");
    await page.browserContext().close();
    const again = await open(file);
    page = await visit(again.address);
    check((await names(page))[0].includes("end for end"), "it is taken up again");
    check(await until(page, () => document.getElementById("notice-restored")), "and said");
    await close(page);
    await again.end();
  },

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
    figure("first answer after the command", took.toFixed(0), "ms", "200");
    const page = await visit(address);
    check((await names(page)).length === 16, "sixteen strips");
    const first = await page.evaluate(() => performance.getEntriesByName("first-contentful-paint")[0]?.startTime);
    figure("first paint", first?.toFixed(0), "ms");
    await page.reload();
    const drawn = await page.evaluate(async () => {
      const all = () => document.querySelectorAll("#strips [role=option]").length === 16 && lastDrawn > 0;
      while (!all()) await new Promise(requestAnimationFrame);
      await new Promise((go) => setTimeout(go, 500));
      return lastDrawn;
    });
    figure("picture whole after the page's first request", drawn.toFixed(0), "ms", "1000");
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
    const tell = (what, all, goal) => figure(what, `${percentile(all, 0.5).toFixed(1)} (median), ${percentile(all, 0.95).toFixed(1)} (p95)`, "ms", goal);
    tell("a turn, to the last drawing call", turns, "p95 16");
    tell("a move, to the last drawing call", moves, "p95 16");
    const wood = [];
    for (let i = 0; i < 12; i += 1) {
      wood.push(await page.evaluate(async (width) => {
        const { make } = await import("./wire.js");
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
    tell("other wood, to the last drawing call", wood, "100");
    await close(page);
    await end();
    const folder = resolve(here, "../../cli/page");
    const weight = readdirSync(folder).filter((name) => !name.endsWith(".d.ts")).reduce((all, name) => all + gzipSync(readFileSync(join(folder, name))).length, 0);
    figure("the page's files, compressed", (weight / 1024).toFixed(1), "KiB", "400");
    check(weight <= 400 * 1024, "the page is heavier than 400 KiB");
  },
};

for (const [name, test] of Object.entries(tests)) {
  if (only && name !== only) continue;
  console.log(name);
  try {
    await test();
  } catch (error) {
    check(false, `${name} was cut off: ${error.stack ?? error}`);
  }
}
await browser.close();
rmSync(work, { recursive: true, force: true });
console.log(`page: ${passed} passed, ${failed} failed`);
process.exitCode = failed ? 1 : 0;
