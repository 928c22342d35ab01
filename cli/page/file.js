// @ts-check
// The plan's file: saved, named, begun from another one; what is unsaved, and what happened on disk.

import { byId, element, write } from "./dom.js";
import { inWords, notice, say, tell } from "./say.js";
import { make, now, planText, save } from "./talk.js";

/** @typedef {import("./wire.d.ts").Shown} Shown */

let restoredSeen = false;
let begun = false;

/** @param {Shown} shown */
export function showFile(shown) {
  write(byId("name"), shown.name);
  document.title = `${shown.saved ? "" : "• "}${shown.name} – quarterturn`;
  const state = shown.saved ? "saved" : shown.file ? "not saved" : "not saved under a name yet";
  write(byId("file"), shown.file ? `${shown.file}: ${state}` : state);
  /** @type {HTMLButtonElement} */ (byId("undo")).disabled = !shown.can_undo;
  /** @type {HTMLButtonElement} */ (byId("redo")).disabled = !shown.can_redo;
  /** @type {HTMLButtonElement} */ (byId("save")).disabled = shown.saved;
  write(byId("save"), shown.file ? "Save" : "Save as…");
  const restored = shown.restored && !restoredSeen;
  const text = "Changes that were left unsaved are taken up again. Undo leads back to the plan's file.";
  notice("restored", restored ? text : "", () => {
    restoredSeen = true;
    notice("restored", "");
  });
  begun ||= shown.revision > 1 || Boolean(shown.file);
  const empty = "An empty bench, with one invented blank on it. Put in your own wood at Stock, or begin from a sample.";
  notice("empty", begun ? "" : empty, null, [{ text: "Begin from a sample", act: askBegin }]);
  notice("unkept", shown.unkept ? `What you do is not kept in case the program ends: ${shown.unkept}. Save often.` : "");
  const changed = `${shown.file} was changed by something else. Nothing is written over it.`;
  notice("changed", shown.on_disk === "changed" ? changed : "", null, [
    { text: "Keep mine under another name", act: askName },
    { text: "Take the one on disk", act: () => edit({ edit: "take_from_disk" }, "the plan on disk is taken") },
  ]);
  notice("gone-file", shown.on_disk === "gone" ? `${shown.file} was taken away. Saving writes it anew.` : "");
}

/** @param {import("./wire.d.ts").Edit} what @param {string} done */
async function edit(what, done) {
  const told = await make(what);
  if (told?.length) tell(told);
  else if (told) say(done);
}

async function saveNow() {
  if (!now()?.file) return askName();
  const told = await save("");
  if (told.length) tell(told);
  else say("saved");
}

/** Asks for a name and saves under it. */
function askName() {
  const wrong = element("p", { class: "wrong", role: "alert" });
  const input = element("input", { id: "new-name", type: "text", required: true, placeholder: "walnut board" });
  /** @param {Event} event */
  const submit = async (event) => {
    event.preventDefault();
    const told = await save(/** @type {HTMLInputElement} */ (input).value);
    write(wrong, inWords(told));
    if (!told.length) {
      close();
      say("saved");
    }
  };
  ask(
    "Save under a name",
    element(
      "form",
      { submit, autocomplete: "off" },
      element("p", { class: "quiet" }, "A new file in the folder of the plan. One that is there is never written over."),
      element("label", { for: "new-name" }, "Name"),
      input,
      wrong,
      element("div", { class: "row" }, element("button", { type: "submit", class: "first" }, "Save"), element("button", { type: "button", click: close }, "Not now")),
    ),
  );
}

/** Picks a line of a text, from 1. @param {HTMLTextAreaElement} text @param {number} line */
function goToLine(text, line) {
  const lines = text.value.split("\n");
  const from = lines.slice(0, line - 1).join("\n").length + (line > 1 ? 1 : 0);
  text.focus();
  text.setSelectionRange(from, from + (lines[line - 1]?.length ?? 0));
  text.scrollTop = (text.scrollHeight * (line - 3)) / lines.length;
}

/** Shows the plan's text, to be changed as a whole. */
async function askText() {
  const text = /** @type {HTMLTextAreaElement} */ (
    element("textarea", { id: "plan-text", rows: "24", spellcheck: "false", "aria-describedby": "text-wrong" })
  );
  try {
    text.value = await planText();
  } catch {
    return tell([{ key: "", what: "the plan's text can't be read", right: "look whether quarterturn still runs", line: 0 }]);
  }
  const wrong = element("p", { id: "text-wrong", class: "wrong", role: "alert" });
  /** @param {Event} event */
  const submit = async (event) => {
    event.preventDefault();
    const told = (await make({ edit: "replace", text: text.value })) ?? [];
    write(wrong, inWords(told));
    if (!told.length) {
      close();
      say("the text is taken");
    } else if (told[0].line) goToLine(text, told[0].line);
  };
  ask(
    "The plan's text",
    element(
      "form",
      { submit, class: "text" },
      element("label", { for: "plan-text" }, "Everything that the fields don't have can be written here."),
      text,
      wrong,
      element("div", { class: "row" }, element("button", { type: "submit", class: "first" }, "Take this text"), element("button", { type: "button", click: close }, "Not now")),
    ),
  );
}

/** Lists what may be begun from. */
function askBegin() {
  const list = (now()?.samples ?? []).map((name) => {
    const begin = async () => {
      close();
      await edit({ edit: "begin", with: name }, `begun from ${name}`);
    };
    return element("li", {}, element("button", { type: "button", click: begin }, name));
  });
  ask(
    "Begin another board",
    element("p", { class: "quiet" }, "It takes the place of what is open; undo brings that back. The wood in these is invented."),
    element("ul", { class: "choices" }, ...list),
    element("div", { class: "row" }, element("button", { type: "button", click: close }, "Not now")),
  );
}

/** @param {string} head @param {...Node} within */
function ask(head, ...within) {
  const dialog = /** @type {HTMLDialogElement} */ (byId("ask"));
  dialog.replaceChildren(element("h2", { id: "ask-head" }, head), ...within);
  dialog.showModal();
}

function close() {
  /** @type {HTMLDialogElement} */ (byId("ask")).close();
}

/** Listens to the tools, and to the keys that every program has for them. */
export function beginFile() {
  const undo = () => edit({ edit: "undo" }, "undone");
  const redo = () => edit({ edit: "redo" }, "done again");
  byId("undo").addEventListener("click", undo);
  byId("redo").addEventListener("click", redo);
  byId("save").addEventListener("click", saveNow);
  byId("begin").addEventListener("click", askBegin);
  byId("text").addEventListener("click", askText);
  document.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
    const typing = event.target instanceof HTMLInputElement || event.target instanceof HTMLTextAreaElement;
    const key = event.key.toLowerCase();
    if (key === "s") saveNow();
    else if (key === "z" && !typing) (event.shiftKey ? redo : undo)();
    else if (key === "y" && !typing) redo();
    else return;
    event.preventDefault();
  });
}
