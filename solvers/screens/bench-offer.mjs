// Before a job: go on with the one that this browser has kept, or begin a new one at a level of one's choice.

import { button, fill, make } from "./bench-elements.mjs";

/** What is offered before there is a job. `resume(kept)` goes on with one, `open(level)` begins a new one. */
export class Offer {
  constructor({ resume, open }) {
    this.heard = { resume, open };
    this.level = make("select", { "aria-label": "Level" });
    this.node = make("div", { class: "offer" });
  }

  /** Levels as [number, words]; `kept` is the record of a job, if there is one. */
  show({ kept, levels, level }) {
    fill(this.level, levels.map(([number, words]) => [number, `level ${number}: ${words}`]));
    this.level.value = String(level);
    const begin = button("Begin a new job", () => this.heard.open(Number(this.level.value)), { class: kept ? "" : "primary" });
    const chosen = make("label", {}, make("span", { text: "Level" }), this.level);
    const before = [];
    if (kept) {
      const lines = `${kept.lines} ${kept.lines === 1 ? "line" : "lines"} in the log`;
      const words = kept.closed ? "its verdict is signed" : `${lines}, the verdict is still to come`;
      const go = button(kept.closed ? "See it again" : "Go on with it", () => this.heard.resume(kept), { class: "primary" });
      before.push(make("p", {}, "You have a job here: ", make("b", { text: kept.title }), `, ${words}.`), go);
    }
    this.node.hidden = false;
    this.node.replaceChildren(...before, make("div", { class: "answers" }, chosen, begin));
    const first = this.node.querySelector("button");
    if (document.activeElement === document.body) first.focus({ preventScroll: true });
  }

  /** A job that could not be laid out: once more, or another. */
  again(retry, anew) {
    this.node.hidden = false;
    const choices = [button("Try again", retry, { class: "primary" }), ...(anew ? [button("Begin a new job", anew)] : [])];
    this.node.replaceChildren(make("div", { class: "answers" }, ...choices));
  }

  away() {
    this.node.replaceChildren();
    this.node.hidden = true;
  }
}
