// Questions with an answer at once: a number, one of several, some of several, an order. What was missed comes back later.

import { button, make, problemLine, sentence } from "./bench-elements.mjs";
import { answered } from "./live-elements.mjs";
import { withKept } from "./kept.mjs";
import { FORMS } from "./question-forms.mjs";

class SelfCheck {
  constructor(ask, options) {
    this.ask = ask;
    this.chapter = options.chapter;
    this.count = Number(options.count ?? 5);
    this.kinds = options.kinds ? options.kinds.split(",").map((each) => each.trim()) : undefined;
    this.level = Number(options.level ?? 1);
    this.body = make("div", { class: "asked" });
    this.notice = make("p", { class: "notice", role: "status" });
    this.node = make("div", { class: "live-part", role: "group", "aria-label": "Check yourself" }, this.body, this.notice);
  }

  async begin() {
    const request = { ask: "check", chapter: this.chapter, count: this.count, kinds: this.kinds, level: this.level };
    const drawn = await withKept(this.ask, request);
    this.notice.textContent = drawn.notice;
    this.questions = drawn.questions;
    this.results = [];
    this.put(0, false);
  }

  /** One question. `focus` once the learner has come here from another one. */
  put(place, focus = true) {
    const question = this.questions[place];
    this.place = place;
    this.first = true;
    const form = FORMS[question.form](question);
    const problem = problemLine();
    const reply = make("div", { class: "reply", role: "status" });
    const last = place === this.questions.length - 1;
    const check = button("Check", () => this.check(question, form, problem, reply, check, next, working), { class: "primary" });
    const working = button("Show the working", () => this.work(question, reply, check, working, next), { hidden: true });
    const next = button(last ? "To the end" : "Next question", () => (last ? this.end() : this.put(place + 1)), { hidden: true });
    const enter = (event) => event.key === "Enter" && event.target.matches("input[type=text]") && check.click();
    const heading = make("p", { class: "title", tabindex: "-1", text: `Question ${place + 1} of ${this.questions.length}${question.returns ? ", back again" : ""}` });
    const given = question.given.map(({ label, text }) => make("div", {}, make("dt", { text: label }), make("dd", { text })));
    Object.assign(this.body.dataset, { kind: question.kind, seed: question.seed, form: question.form });
    this.body.replaceChildren(
      heading,
      make("p", { class: "question", text: question.words }),
      ...(given.length ? [make("dl", { class: "readings" }, ...given)] : []),
      make("div", { class: "form", role: "group", "aria-label": question.words, on: { keydown: enter } }, form.node),
      problem,
      make("div", { class: "acts" }, check, working, next),
      reply,
    );
    if (focus) heading.focus();
  }

  async check(question, form, problem, reply, check, next, working) {
    try {
      const answer = form.read();
      check.disabled = true;
      const request = { ask: "check answer", chapter: this.chapter, kind: question.kind, seed: question.seed, level: this.level, answer, first: this.first };
      const found = await withKept(this.ask, request);
      problem.textContent = "";
      if (this.first) this.results.push({ ...found, kind: question.kind });
      this.first = false;
      const again = found.right || !found.returns ? "" : ` This kind comes back ${found.returns}.`;
      reply.replaceChildren(make("p", { class: found.right ? "right" : "not-yet", text: found.right ? found.words : `Not yet. ${found.words}${again}` }));
      if (found.notice) this.notice.textContent = found.notice;
      next.hidden = false;
      working.hidden = found.right;
      check.disabled = found.right;
      check.textContent = found.right ? "Checked" : "Check again";
      if (found.right) next.focus();
    } catch (error) {
      check.disabled = false;
      problem.textContent = sentence(error);
      form.field.focus();
    }
  }

  async work(question, reply, check, working, next) {
    const request = { ask: "check working", chapter: this.chapter, kind: question.kind, seed: question.seed, level: this.level };
    const found = await answered(this.ask, request).catch((error) => ({ words: sentence(error) }));
    reply.replaceChildren(make("p", { text: found.words }));
    check.disabled = true;
    next.focus();
    working.hidden = true;
  }

  end() {
    const right = this.results.filter((each) => each.right).length;
    const missed = this.results.filter((each) => !each.right);
    const heading = make("p", { class: "title", tabindex: "-1", text: `${right} of ${this.results.length} right at the first answer` });
    const back = missed.map((each) => make("li", { text: `${each.kind}: comes back ${each.returns}` }));
    this.body.replaceChildren(
      heading,
      ...(back.length ? [make("p", { text: "These kinds come back, each time with other numbers:" }), make("ul", {}, ...back)] : []),
      make("p", { class: "quiet", text: "A missed kind returns after 10 minutes, then after 1, 3 and 8 days. These gaps are our own choice." }),
      make("div", { class: "acts" }, button("Others, please", () => this.begin().catch((error) => (this.notice.textContent = sentence(error))), { class: "primary" })),
    );
    heading.focus();
  }
}

/** Put questions of a chapter in the place of what the element holds. */
export default async function mount(element, ask, options) {
  const check = new SelfCheck(ask, options);
  await check.begin();
  element.replaceChildren(check.node);
}
