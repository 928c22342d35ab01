// Drives the page of `quarterturn open` in Chromium: starts the program on a copy of a sample, visits its page, counts
// checks and figures. What is checked is in page.mjs.
import { execFileSync, spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import puppeteer from "puppeteer-core";

export const here = dirname(fileURLToPath(import.meta.url));
export const samples = resolve(here, "../../samples");
export const program = resolve(process.argv[2] ?? join(here, "../../target/release/quarterturn"));
export const shots = process.argv[3] && !process.argv[3].startsWith("--") ? resolve(process.argv[3]) : null;
export const asJson = process.argv.includes("--figures");
export const SIZES = { phone: [390, 844, 2], laptop: [1366, 768, 1], large: [2560, 1440, 1] };

/** How many checks there were. */
export const count = { passed: 0, failed: 0 };
export const work = mkdtempSync(join(tmpdir(), "page-"));
if (shots) mkdirSync(shots, { recursive: true });

/** Counts a check. */
export function check(is, what) {
  if (is) count.passed += 1;
  else {
    count.failed += 1;
    console.error(`FAILED ${what}`);
  }
}

/** What was measured, and the most that is asked. */
export const figures = [];

/** Notes a figure and prints it. */
export function figure(name, value, unit, most) {
  figures.push({ name, value, unit, most });
  if (!asJson) console.log(`  ${name}: ${value.toFixed(1)} ${unit} (asked: ${most} at most)`);
}

export const percentile = (values, share) => [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.ceil(values.length * share) - 1)];

/** A copy of a sample in a folder of its own, changed. */
export function plan(name, change = (text) => text) {
  const folder = mkdtempSync(join(work, `${name}-`));
  const file = join(folder, `${name}.toml`);
  writeFileSync(file, change(readFileSync(join(samples, `${name}.toml`), "utf8")));
  return file;
}

/** The program, open on a plan; and how long it took to say where its page is. */
export async function open(file, options = {}) {
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

export const browser = await puppeteer.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: ["--no-sandbox"] });

/** A page that notes what it should not do: errors, words on the console, requests to elsewhere. */
export async function visit(address, { size = "laptop", scheme = "light", at = "board" } = {}) {
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
export async function settled(page) {
  await page.waitForFunction(() => lastDrawn > 0 && performance.now() - lastDrawn > 250 && !document.querySelector("#place.stale"), { timeout: 30_000 });
}

export const names = (page) => page.$$eval("#strips [role=option]", (all) => all.map((strip) => strip.getAttribute("aria-label")));
export const text = (page, selector) => page.$eval(selector, (found) => found.textContent);
export const until = (page, test, ...given) => page.waitForFunction(test, { timeout: 10_000 }, ...given).then(() => true, () => false);
export const untilName = (page, place, part) =>
  until(page, (place, part) => document.querySelectorAll("#strips [role=option]")[place]?.getAttribute("aria-label")?.includes(part), place, part);

export async function close(page) {
  check(page.wrong.length === 0, `the page does what it should not: ${page.wrong.join("; ")}`);
  await page.browserContext().close();
}

/** The middle of a strip, in the window. */
export const middle = (page, place) =>
  page.$$eval("#strips [role=option]", (all, place) => {
    const box = all[place].getBoundingClientRect();
    return [box.x + box.width / 2, box.y + box.height / 2];
  }, place);

/** What TypeScript says of the page's modules; nothing where all is well. */
export function typed(folder) {
  const how = "--noEmit --allowJs --checkJs --strict --target es2022 --module esnext --moduleResolution bundler --allowImportingTsExtensions --lib dom,dom.iterable,es2023";
  try {
    execFileSync(join(here, "node_modules/.bin/tsc"), [...how.split(" "), join(folder, "main.js")], { encoding: "utf8" });
    return "";
  } catch (error) {
    return String(error.stdout || error);
  }
}
