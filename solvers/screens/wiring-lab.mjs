// What a wire-up has more as a graded lab: the question about the finished wiring, an explanation, the sheet to hand in.

import { button, make, sentence } from "./bench-elements.mjs";
import { ThinkingTime } from "./bench-keeping.mjs";

const LAST = "When your wiring is finished there is one question about it. It counts if the wiring does what was asked; change a wire, and it is asked anew.";
const WHY = "Why it works: how the current goes round on a call, and why no other zone feels it";
const LONGEST = 4000; // characters
const WRITING_MS = 700; // after the last stroke, before it is kept

/** The part of one table. `questions` is where what is asked is laid out, `problem` where a refusal is said. */
export class WiringLab {
  constructor(table, questions, problem) {
    Object.assign(this, { table, questions, problem });
    const { begun, give, handing } = table.lab;
    this.sheet = table.lab.sheet;
    this.thinkingTime = new ThinkingTime();
    this.thinkingTime.begin(begun.thinking_s);
    this.asker = button("Ask me about my wiring", () => this.asked());
    this.explanation = make("textarea", { rows: 4, maxlength: LONGEST, on: { input: () => this.soon(), change: () => this.soon(0) } });
    this.explanation.value = begun.explanation;
    this.node = make(
      "div",
      { class: "lab-end" },
      make("p", { class: "reminder", text: LAST }),
      this.asker,
      make("label", {}, make("span", { text: WHY }), this.explanation),
      ...(give ? [button("Save your sheet", () => this.given(), { class: "primary" })] : []),
      make("p", { class: "reminder", text: handing }),
    );
    if (begun.last) questions.add(begun.last, begun.prediction);
    questions.node.addEventListener("change", ({ target }) => target.closest("[data-question]") && this.soon(0));
    this.seen = () => this.think();
    document.addEventListener("visibilitychange", this.seen);
    this.think();
  }

  asked() {
    return this.table.inTurn(async () => {
      const { last } = await this.table.asked({ ask: "table question", number: this.table.number });
      this.questions.add(last);
      this.questions.node.querySelector("[data-question] input")?.focus();
    }, this.problem);
  }

  soon(ms = WRITING_MS) {
    clearTimeout(this.later);
    this.later = setTimeout(() => this.table.inTurn(() => this.keep(), this.problem), ms);
  }

  /** Have the sheet written as things stand, and keep it. */
  async keep() {
    const { table, questions, explanation } = this;
    const thinking_s = Math.round(this.thinkingTime.seconds);
    const told = { prediction: questions.prediction, explanation: explanation.value, thinking_s };
    const asked = { ask: "table sheet", number: table.number, file: table.lab.file, ...told };
    try {
      this.sheet = (await table.asked(asked)).sheet;
      await table.lab.save(this.sheet);
      table.trouble.textContent = "";
    } catch (error) {
      table.trouble.textContent = `Your sheet could not be saved. ${sentence(error)}`;
    }
  }

  given() {
    return this.table.inTurn(async () => {
      await this.keep();
      if (this.sheet) this.table.lab.give(this.sheet);
    }, this.problem);
  }

  think() {
    this.thinkingTime.run(!document.hidden);
  }

  destroy() {
    clearTimeout(this.later);
    document.removeEventListener("visibilitychange", this.seen);
  }
}
