// What outlives a reload: the running practice job in this browser, the sheet as a file, the time spent thinking.

import { make } from "./bench-elements.mjs";

/** One place in this browser for one running job. A browser that keeps nothing still works the job. */
export class Shelf {
  constructor(name) {
    this.name = `call-for-heat bench ${name}`;
  }

  put(record) {
    try {
      localStorage.setItem(this.name, JSON.stringify(record));
    } catch {
      // Full, or not allowed: the sheet can still be saved as a file.
    }
  }

  /** The record of a job that somebody has worked on, or undefined. */
  kept() {
    try {
      const record = JSON.parse(localStorage.getItem(this.name));
      return record && typeof record.sheet === "string" && (record.lines > 0 || record.closed) ? record : undefined;
    } catch {
      return undefined;
    }
  }
}

/** Seconds somebody has looked at a job; apart from the job's own clock. */
export class ThinkingTime {
  constructor() {
    this.before = 0;
    this.since = undefined;
  }

  begin(seconds = 0) {
    this.before = seconds;
    this.since = undefined;
  }

  run(on) {
    this.before = this.seconds;
    this.since = on ? performance.now() : undefined;
  }

  get seconds() {
    return this.before + (this.since === undefined ? 0 : (performance.now() - this.since) / 1000);
  }
}

/** Give a sheet to the browser as `<learner>.<chapter>.sheet.json`. */
export function download(sheet, learner, chapter) {
  const plain = learner.toLowerCase().replace(/[^\p{L}\p{N}_-]+/gu, "-").replace(/^-+|-+$/g, "");
  const href = URL.createObjectURL(new Blob([sheet], { type: "application/json" }));
  make("a", { href, download: `${plain || "sheet"}.${chapter}.sheet.json` }).click();
  setTimeout(() => URL.revokeObjectURL(href), 10_000);
}

/** A seed that nobody else draws; it stands on the sheet, so the job can be had again. */
export function practiceSeed() {
  const [high, low] = crypto.getRandomValues(new Uint32Array(2));
  return `practice-${high.toString(36)}${low.toString(36)}`;
}
