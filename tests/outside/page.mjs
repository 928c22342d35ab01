// The page of `quarterturn open` in a real browser: what a maker does on it, by mouse, touch and keys, and how fast.
// node page.mjs PROGRAM [FOLDER FOR SCREENSHOTS] [--only NAME]. Last line: "page: N passed, M failed".
// With --figures it measures and nothing else, and prints the figures as a JSON list.
import { execFileSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import looks from "./page_looks.mjs";
import { asJson, browser, check, close, count, figures, here, middle, names, open, plan, program, samples, settled, text, typed, until, untilName, visit, work } from "./page_driver.mjs";

const only = asJson ? "figures" : process.argv.includes("--only") ? process.argv[process.argv.indexOf("--only") + 1] : "";

const tests = {
  /** The page's modules use what passes between page and program as the program's types have it. */
  async types() {
    const folder = resolve(here, "../../cli/page");
    const said = typed(folder);
    check(said === "", `types: ${said}`);
    const copy = mkdtempSync(join(work, "types-"));
    for (const name of readdirSync(folder)) writeFileSync(join(copy, name), readFileSync(join(folder, name), "utf8").replaceAll("panel_name", "panelName"));
    writeFileSync(join(copy, "wire.d.ts"), readFileSync(join(folder, "wire.d.ts")));
    check(typed(copy).includes("panelName"), "a wrong name is found");
  },

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
    check((await text(page, "#left-out")).includes("Put strip 3 back"), "what is left out is named");
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
    check(await page.$eval("#picture .mark", (mark) => !mark.hidden), "a mark shows where it would lie");
    await page.mouse.up();
    check(await untilName(page, 0, "strip 6,"), "it is dragged to the left end");
    check(await page.$eval("#picture .mark", (mark) => mark.hidden), "the mark is gone");
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

  /** The blanks of the panel, by keys and by mouse. */
  async blanks() {
    const { address, end } = await open(plan("brick-bond"));
    const page = await visit(address, { at: "panel" });
    const first = ".panel [role=listbox]";
    const labels = () => page.$eval(first, (list) => [...list.children].map((blank) => blank.getAttribute("aria-label")));
    const untilLabel = (place, part) => until(page, (first, place, part) => document.querySelector(first)?.children[place]?.getAttribute("aria-label")?.includes(part), first, place, part);
    const before = await labels();
    const wood = (label) => label.split(", ")[1];
    check(before.length > 2 && before[0].startsWith(`place 1 of ${before.length}: blank `), `blanks are named: ${before[0]}`);
    const other = before.findIndex((label) => wood(label) !== wood(before[0]));
    await page.focus(`${first} [tabindex='0']`);
    await page.keyboard.press("r");
    check(await untilLabel(0, "rolled over"), "R rolls a blank over");
    await page.keyboard.press("e");
    check(await untilLabel(0, "end over end"), "E then turns it end for end");
    for (let i = 0; i < other; i += 1) {
      await page.keyboard.down("Shift");
      await page.keyboard.press("ArrowRight");
      await page.keyboard.up("Shift");
      check(await untilLabel(i + 1, "end over end"), `Shift and an arrow move it to place ${i + 2}`);
    }
    const [x, y] = await page.$eval(first, (list, at) => {
      const box = list.children[at].getBoundingClientRect();
      return [box.x + box.width / 2, box.y + box.height / 2];
    }, other);
    const left = await page.$eval(first, (list) => list.getBoundingClientRect().x);
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(left + 3, y, { steps: 6 });
    await page.mouse.up();
    check(await untilLabel(0, "end over end"), "and the mouse drags it back");
    await page.keyboard.press("Delete");
    check(await until(page, (first, count) => document.querySelector(first).children.length === count, first, before.length - 1), "Delete takes it out");
    // Two turns, as many moves, the drag and the taking out.
    for (let i = 0; i < 4 + other; i += 1) await page.click("#undo");
    check(await until(page, () => document.getElementById("undo").disabled), "and undo lays it again");
    check((await labels()).join() === before.join(), "as it was");
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

  /** A photograph chosen for an end: the end is drawn from it, and what is none is refused beside it. */
  async photographs() {
    const sized = (text) => text.replace(/^width = .*$/m, 'width = "40 mm"').replace(/^thickness = .*$/m, 'thickness = "24 mm"');
    const file = plan("walnut-diamonds", sized);
    const { address, end } = await open(file);
    const page = await visit(address, { at: "stock" });
    await page.waitForSelector(".photo input");
    const before = await page.$eval(".photo img", (image) => image.src);
    const [near] = await page.$$(".photo input");
    await near.uploadFile(join(samples, "photographed-walnut/B-near.jpg"));
    check(await until(page, (before) => document.querySelector(".photo img").src !== before, before), "the end is drawn from its photograph");
    check(existsSync(join(dirname(file), "A-near.jpg")), "and kept beside the plan");
    writeFileSync(join(dirname(file), "none.jpg"), "no picture");
    await near.uploadFile(join(dirname(file), "none.jpg"));
    check(await until(page, () => /no JPEG or PNG/.test(document.querySelector(".photo .wrong").textContent)), "what is no picture is refused beside it");
    await page.click("#undo");
    check(await until(page, (before) => document.querySelector(".photo img").src === before, before), "undo draws it as it was");
    await close(page);
    await end();
  },

  /** Everything that `make` writes, had from the page. */
  async files() {
    const file = plan("walnut-diamonds");
    const { address, end } = await open(file);
    const page = await visit(address, { at: "paper" });
    await page.click("#extras button");
    check(await until(page, () => document.querySelectorAll(".files a").length > 10), "the files are listed");
    const links = await page.$$eval(".files a", (all) => all.map((link) => [link.textContent, link.href]));
    execFileSync(program, ["make", file, "--out", join(dirname(file), "out")], { stdio: "ignore" });
    const made = readdirSync(join(dirname(file), "out")).filter((name) => !name.startsWith("."));
    check(links.slice(1).map(([name]) => name).sort().join() === made.sort().join(), "they are those that make writes");
    for (const [name, url] of links.slice(1)) {
      const bytes = Buffer.from(await (await fetch(url)).arrayBuffer());
      check(bytes.equals(readFileSync(join(dirname(file), "out", name))), `${name} is that of make, byte for byte`);
    }
    const zip = Buffer.from(await (await fetch(links[0][1])).arrayBuffer());
    check(zip.subarray(0, 4).toString("latin1") === "PK\x03\x04", "all of them come as one zip");
    await page.focus("#strips [tabindex='0']");
    await page.keyboard.press("e");
    check(await until(page, () => document.querySelectorAll(".files a").length === 0), "of a board that has changed there are none");
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

  ...looks,
};

for (const [name, test] of Object.entries(tests)) {
  if (only && name !== only) continue;
  if (!asJson) console.log(name);
  try {
    await test();
  } catch (error) {
    check(false, `${name} was cut off: ${error.stack ?? error}`);
  }
}
await browser.close();
rmSync(work, { recursive: true, force: true });
console.log(asJson ? JSON.stringify(figures) : `page: ${count.passed} passed, ${count.failed} failed`);
process.exitCode = count.failed ? 1 : 0;
