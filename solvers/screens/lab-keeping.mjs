// What this browser keeps of labs: the work on each by assignment and learner, and the lab file that was opened last.

import { make } from "./bench-elements.mjs";

const LAST_FILE = "call-for-heat lab file";
const LARGEST_FILE = 1_000_000; // bytes; a lab has at most half of that

/** The work on one lab, by its name "assignment/learner". A browser that keeps nothing still works the lab. */
export class LabShelf {
  constructor(name) {
    this.name = `call-for-heat lab ${name}`;
  }

  put(record) {
    stored(this.name, JSON.stringify(record));
  }

  /** The record of a lab that somebody has worked on, with its sheet, or undefined. */
  kept() {
    try {
      const record = JSON.parse(localStorage.getItem(this.name));
      return record && typeof record.sheet === "string" ? record : undefined;
    } catch {
      return undefined;
    }
  }

  /** Put a record that cannot be gone on with aside, so that a new one does not take its place. */
  putAside() {
    try {
      for (let number = 1; number <= 20; number += 1) {
        const spare = `${this.name}, put aside ${number}`;
        if (localStorage.getItem(spare) === null) return localStorage.setItem(spare, localStorage.getItem(this.name));
      }
    } catch {
      // Full: it has been offered as a file.
    }
    return undefined;
  }
}

function stored(name, text) {
  try {
    localStorage.setItem(name, text);
  } catch {
    // Full, or not allowed: the sheet can still be saved as a file.
  }
}

export const keepFile = (text) => stored(LAST_FILE, text);

/** The lab file that was opened last, or null. */
export function keptFile() {
  try {
    return localStorage.getItem(LAST_FILE);
  } catch {
    return null;
  }
}

/** Give a sheet to the browser as a file: "anna.03-heater-loops.sheet.json" for the lab "03-heater-loops/anna". */
export function giveSheet(sheet, name) {
  const plain = name.toLowerCase().split("/").reverse().join(".").replace(/[^a-z0-9._-]+/g, "-");
  const href = URL.createObjectURL(new Blob([sheet], { type: "application/json" }));
  make("a", { href, download: `${plain}.sheet.json` }).click();
  setTimeout(() => URL.revokeObjectURL(href), 10_000);
}

/** The text of a file that somebody chose or dropped; throws a sentence for one that is too large. */
export function textOf(file) {
  if (file.size <= LARGEST_FILE) return file.text();
  throw new Error(`${file.name} has ${file.size} bytes; a lab or a sheet has at most ${LARGEST_FILE}`);
}

/** Let somebody choose a file, on a phone too. */
export function chooseFile(chosen) {
  const change = () => input.files[0] && chosen(input.files[0]);
  const input = make("input", { type: "file", accept: ".json,application/json", on: { change } });
  input.click();
}
