// A graded set of questions: all of them on one sheet, answers kept as they are given, and nothing said of right or wrong.

import { button, make, problemLine, sentence } from "./bench-elements.mjs";
import { ThinkingTime } from "./bench-keeping.mjs";
import { FORMS } from "./question-forms.mjs";

const UNTOUCHED = "not answered yet";
const ANSWERED = "answered";
const EXPLAIN = "Your explanation: the question that cost you most, and the way to its answer, one step a line";
const LONGEST_EXPLANATION = 4000; // characters
const TYPING_MS = 500; // after the last stroke, before it is kept

/** Put the questions of a lab, as lab-screens.mjs makes it, into an element. */
export default function mountQuestions(element, ask, { lab }) {
  const set = new QuestionSet(ask, lab);
  element.replaceChildren(set.root);
  return { destroy: () => set.destroy() };
}

class QuestionSet {
  constructor(ask, lab) {
    Object.assign(this, { ask, lab, answers: { ...lab.begun.answers }, waiting: Promise.resolve() });
    const { begun, give, handing } = lab;
    this.thinkingTime = new ThinkingTime();
    this.thinkingTime.begin(begun.thinking_s);
    this.count = make("p", { class: "count", role: "status" });
    this.trouble = problemLine();
    this.explanation = make("textarea", { rows: 5, maxlength: LONGEST_EXPLANATION, on: { input: () => this.soon(), change: () => this.soon(0) } });
    this.explanation.value = begun.explanation;
    this.root = make(
      "div",
      { class: "cfh-bench cfh-questions", role: "group", "aria-label": "Questions" },
      make("header", { class: "head" }, make("h3", { tabindex: -1, text: begun.title.charAt(0).toUpperCase() + begun.title.slice(1) }), this.count),
      make("ol", { class: "questions" }, ...begun.questions.map((question) => this.laid(question))),
      make("label", { class: "why" }, make("span", { text: EXPLAIN }), this.explanation),
      this.trouble,
      make("footer", { class: "sheet-foot" }, make("p", { class: "told", text: handing }), ...(give ? [button("Save your sheet", () => this.given(), { class: "primary" })] : [])),
    );
    this.told();
    this.seen = () => this.thinkingTime.run(!document.hidden);
    document.addEventListener("visibilitychange", this.seen);
    this.seen();
  }

  /** One question with its form; an answer given before stands in it. */
  laid(question) {
    const { number, form: kind, words, given } = question;
    const form = FORMS[kind](question);
    const problem = problemLine();
    const state = make("p", { class: "state" });
    const none = kind === "choices" ? make("input", { type: "checkbox" }) : undefined;
    const before = this.answers[number];
    if (before !== undefined) form.write(before);
    if (none) none.checked = before?.length === 0;
    const show = () => {
      const there = this.answers[number] !== undefined;
      state.textContent = there ? ANSWERED : UNTOUCHED;
      state.classList.toggle("there", there);
      this.told();
    };
    const taken = (event) => {
      if (none && event.target === none && none.checked) form.write([]);
      else if (none && event.target !== none) none.checked = false;
      const answer = read(form, kind, none);
      problem.textContent = answer.problem && event.type === "change" ? sentence(answer.problem) : "";
      if (answer.value === undefined) delete this.answers[number];
      else this.answers[number] = answer.value;
      show();
      this.soon(event.type === "change" ? 0 : TYPING_MS);
    };
    const facts = given.map(({ label, text }) => make("div", {}, make("dt", { text: label }), make("dd", { text })));
    const keep = button("Keep this order", () => form.node.firstChild.dispatchEvent(new Event("change", { bubbles: true })));
    const heading = make("p", { class: "question", id: `question-${number}` }, make("b", { text: `${number}. ` }), words);
    const noneLine = none && make("label", { class: "line" }, none, make("span", { text: "none of these" }));
    const body = make(
      "div",
      { class: "form", role: "group", "aria-labelledby": heading.id, on: { input: taken, change: taken } },
      form.node,
      ...(noneLine ? [noneLine] : []),
    );
    show();
    const node = make("li", { "data-form": kind }, heading, ...(facts.length ? [make("dl", { class: "readings" }, ...facts)] : []), body, ...(kind === "order" ? [keep] : []), problem, state);
    return node;
  }

  told() {
    const of = this.lab.begun.questions.length;
    this.count.textContent = `${Object.keys(this.answers).length} of ${of} answered`;
  }

  soon(ms = TYPING_MS) {
    clearTimeout(this.later);
    this.later = setTimeout(() => this.keep(), ms);
  }

  /** Have the sheet written as things stand, and keep it; one after the other. */
  keep() {
    this.waiting = this.waiting.then(async () => {
      try {
        const { ask, lab, answers, explanation } = this;
        const told = { answers: { ...answers }, explanation: explanation.value, thinking_s: Math.round(this.thinkingTime.seconds) };
        const answer = await ask({ ask: "questions sheet", file: lab.file, ...told });
        if (answer.error !== undefined) throw new Error(answer.error);
        this.sheet = answer.sheet;
        await lab.save(this.sheet);
        this.trouble.textContent = "";
      } catch (error) {
        this.trouble.textContent = `Your sheet could not be saved. ${sentence(error)}`;
      }
    });
    return this.waiting;
  }

  async given() {
    clearTimeout(this.later);
    await this.keep();
    if (this.sheet) this.lab.give(this.sheet);
  }

  destroy() {
    clearTimeout(this.later);
    document.removeEventListener("visibilitychange", this.seen);
    this.root.remove();
  }
}

/** What a form says now: a value, nothing yet, or why it is none. */
function read(form, kind, none) {
  if (kind === "number" && !form.field.value.trim()) return {};
  try {
    const value = form.read();
    return kind === "choices" && !value.length && !none.checked ? {} : { value };
  } catch (problem) {
    return { problem };
  }
}
