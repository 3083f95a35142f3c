// What outlives a reload of a page: the wiring in this browser, and the wiring as a file.

import { make } from "./bench-elements.mjs";

const LARGEST = 400_000; // bytes of a wiring that is opened

/** One place in this browser for the wiring of one task. A browser that keeps nothing still works the table. */
export class Place {
  constructor(task) {
    this.name = `call-for-heat wiring ${task}`;
  }

  put(record) {
    try {
      localStorage.setItem(this.name, JSON.stringify(record));
    } catch {
      // Full, or not allowed: the wiring can still be saved as a file.
    }
  }

  /** What was kept, {wiring, spent}, or undefined. */
  kept() {
    try {
      const record = JSON.parse(localStorage.getItem(this.name));
      return record && typeof record.wiring === "string" ? record : undefined;
    } catch {
      return undefined;
    }
  }
}

/** Give a wiring to the browser as `<task>.wiring.json`. */
export function saveFile(wiring, task) {
  const href = URL.createObjectURL(new Blob([wiring], { type: "application/json" }));
  make("a", { href, download: `${task}.wiring.json` }).click();
  setTimeout(() => URL.revokeObjectURL(href), 10_000);
}

/** Let somebody choose a file; `read(text)` gets what is in it, `refused(words)` why it is not read. */
export function openFile(read, refused) {
  const change = async () => {
    const [file] = input.files;
    if (!file) return;
    if (file.size > LARGEST) refused(`${file.name} has ${file.size} bytes; a wiring has at most ${LARGEST}`);
    else read(await file.text());
  };
  const input = make("input", { type: "file", accept: ".json,application/json", on: { change } });
  input.click();
}
