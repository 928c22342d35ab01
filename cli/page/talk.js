// @ts-check
// Asks the program, and hears from it. Edits go one after another, each made in the text that the one before it left.

/** @typedef {import("./wire.d.ts").Shown} Shown */
/** @typedef {import("./wire.d.ts").After} After */
/** @typedef {import("./wire.d.ts").Edit} Edit */
/** @typedef {import("./wire.d.ts").Told} Told */

/** What is shown now. @type {Shown | null} */
let shown = null;
/** What followed, of the newest text that it is known of. @type {After | null} */
let after = null;
/** @type {((shown: Shown) => void)[]} */
const onShown = [];
/** @type {((after: After) => void)[]} */
const onAfter = [];
/** @type {((whether: boolean) => void)[]} */
const onGone = [];
/** Edits and saves, one after another. @type {Promise<unknown>} */
let line = Promise.resolve();
let followed = 0;
/** So long nothing newer must have come before numbers are asked for, ms: they take the program longer than a picture. */
const AFTER = 200;
let gone = false;

/** @returns {Shown | null} */
export const now = () => shown;
/** @returns {After | null} */
export const followedBy = () => after;
/** @param {(shown: Shown) => void} hear */
export const hearShown = (hear) => onShown.push(hear);
/** @param {(after: After) => void} hear */
export const hearAfter = (hear) => onAfter.push(hear);
/** Whether the program is there. @param {(gone: boolean) => void} hear */
export const hearGone = (hear) => onGone.push(hear);

/** @param {boolean} is */
function setGone(is) {
  if (gone !== is) {
    gone = is;
    onGone.forEach((hear) => hear(is));
  }
}

/** @param {Shown} next */
function take(next) {
  // Two answers may bring the same: it is shown once.
  if (shown && next.news <= shown.news) return;
  const changed = !shown || next.revision !== shown.revision;
  shown = next;
  onShown.forEach((hear) => hear(next));
  if (changed) follow(next.revision);
}

/** Asks for numbers and findings, once no newer text came for a moment. @param {number} revision */
function follow(revision) {
  clearTimeout(followed);
  followed = window.setTimeout(async () => {
    try {
      const answer = await fetch(`after/${revision}`);
      if (answer.status !== 200) return;
      /** @type {After} */
      const heard = await answer.json();
      if (heard.revision !== shown?.revision) return;
      after = heard;
      onAfter.forEach((hear) => hear(heard));
    } catch {
      setGone(true);
    }
  }, after ? AFTER : 0);
}

/**
 * @param {string} what
 * @param {object | Blob} body
 * @returns {Promise<Told[]>} What is wrong with it; nothing where it was done.
 */
async function post(what, body) {
  let answer;
  try {
    const [type, content] = body instanceof Blob ? [body.type, body] : ["application/json", JSON.stringify(body)];
    answer = await fetch(what, { method: "POST", headers: { "content-type": type }, body: content });
  } catch {
    setGone(true);
    return [wrong("The program doesn't answer.", "Start quarterturn again: what was done is kept.")];
  }
  setGone(false);
  if (answer.status === 200) {
    take(await answer.json());
    return [];
  }
  if (answer.status === 409) {
    take(await answer.json());
    return [wrong("The board was changed elsewhere meanwhile.", "It is shown as it is now: do it again if you still want it.")];
  }
  if (answer.status === 422) return (await answer.json()).told;
  return [wrong(await answer.text(), "")];
}

/** @param {string} what @param {string} right @returns {Told} */
const wrong = (what, right) => ({ key: "", what, right, line: 0 });

/** @template T @param {() => Promise<T>} work @returns {Promise<T>} */
function inLine(work) {
  const done = line.then(work);
  line = done.catch(() => {});
  return done;
}

/**
 * Makes an edit in the newest text. Where it says places, it is worked out when its turn comes, from what is there
 * then: the one before it may have moved them.
 * @param {Edit | (() => Edit | null)} what None where there is nothing to do any more.
 * @returns {Promise<Told[] | null>} What is wrong with it; nothing where it was done; null where it was not asked for.
 */
export const make = (what) =>
  inLine(async () => {
    const edit = typeof what === "function" ? what() : what;
    return edit && post("edit", { revision: shown?.revision ?? 0, edit });
  });

/**
 * An edit of what is seen now: of something newer it is not asked for.
 * @param {Edit} edit
 * @returns {() => Edit | null}
 */
export function ofThis(edit) {
  const seen = shown?.revision;
  return () => (shown?.revision === seen ? edit : null);
}

/**
 * Saves the text, under a new name where one is given.
 * @param {string} name
 * @returns {Promise<Told[]>}
 */
export const save = (name) => inLine(() => post("save", { revision: shown?.revision ?? 0, name }));

/** Asks for all there is, and goes on to hear what is new: while the page is seen, for it takes up a connection. */
export async function begin() {
  for (;;) {
    try {
      const hidden = new AbortController();
      const stop = () => document.hidden && hidden.abort();
      document.addEventListener("visibilitychange", stop, { once: true });
      const what = shown && !gone ? `wait/${shown.news}` : "state";
      const answer = await fetch(what, { signal: hidden.signal });
      document.removeEventListener("visibilitychange", stop);
      if (answer.status === 200) {
        setGone(false);
        const news = shown?.news;
        take(await answer.json());
        // Answered without news: others wait too.
        if (shown?.news === news) await pause(500);
      } else {
        await pause(2000);
      }
    } catch {
      if (document.hidden) await seen();
      else {
        setGone(true);
        await pause(1000);
      }
    }
  }
}

/** Until the page is seen again. */
const seen = () =>
  new Promise((go) => {
    const look = () => {
      if (document.hidden) return;
      document.removeEventListener("visibilitychange", look);
      go(undefined);
    };
    document.addEventListener("visibilitychange", look);
    look();
  });

/**
 * Takes a photograph of an end of a blank.
 * @param {number} entry
 * @param {"near" | "far"} end
 * @param {Blob} file
 * @returns {Promise<Told[]>}
 */
export function photograph(entry, end, file) {
  if (!["image/jpeg", "image/png"].includes(file.type)) {
    return Promise.resolve([wrong("that is no JPEG or PNG", "save the photograph as one of these")]);
  }
  return inLine(() => post(`photo/${shown?.revision ?? 0}/${entry}/${end}`, file));
}

/**
 * The plan's text as it is now.
 * @returns {Promise<string>}
 */
export async function planText() {
  const answer = await fetch("text");
  if (answer.status !== 200) throw new Error("no text");
  return answer.text();
}

/** @param {number} time */
const pause = (time) => new Promise((go) => setTimeout(go, time));
