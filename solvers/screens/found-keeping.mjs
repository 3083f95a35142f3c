// What outlives a reload of a page: the sheet of the house in this browser, and the sheet as a file.

import { make } from "./bench-elements.mjs";

/** One place in this browser for the sheet of one task. A browser that keeps nothing still works the house. */
export class SheetPlace {
  constructor(task) {
    this.name = `call-for-heat house ${task}`;
  }

  put(sheet) {
    try {
      localStorage.setItem(this.name, sheet);
    } catch {
      // Full, or not allowed: the sheet can still be saved as a file.
    }
  }

  /** The sheet that was kept, or null. */
  kept() {
    try {
      return localStorage.getItem(this.name);
    } catch {
      return null;
    }
  }
}

/** Give a sheet to the browser as `<task>.house.json`. */
export function saveSheet(sheet, task) {
  const href = URL.createObjectURL(new Blob([sheet], { type: "application/json" }));
  make("a", { href, download: `${task}.house.json` }).click();
  setTimeout(() => URL.revokeObjectURL(href), 10_000);
}
