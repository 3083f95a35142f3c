// Handing in: what the task asks in words, and then the marks, each with what was found and where.

import { button, make, problemLine } from "./bench-elements.mjs";
import { Questions } from "./wiring-questions.mjs";

const OUTDATED = "The wiring has changed since. Hand it in again.";
const ASKED_NOW = "Say what one fault will do to your wiring, in the question above the button. Then hand it in again.";

const counted = (value) => String(Math.round(value * 10) / 10);

/** The panel. `hand(prediction)` hears the button, `show(number)` which finding is to be seen; the rest is for the questions. */
export class HandIn {
  constructor({ hand, show, changed, probed }) {
    this.heard = { show };
    this.questions = new Questions({ changed, probed });
    this.bar = make("progress", { max: 1, value: 0 });
    this.reached = make("span", {});
    this.going = make("label", { class: "going" }, this.reached, this.bar);
    this.problem = problemLine();
    this.graded = make("div", {});
    this.hander = button("Hand in", () => hand(this.questions.prediction), { class: "primary" });
    this.heading = make("h4", { tabindex: -1 });
    this.since = make("p", { class: "since", role: "status" });
    this.body = make("div", { class: "marks-body" });
    this.marks = make("div", { class: "marks", hidden: true }, this.heading, this.since, this.body);
    this.node = make("section", { class: "panel hand-in", "aria-label": "Hand in" }, this.questions.node, this.graded, this.hander, this.going, this.problem, this.marks);
  }

  /** A new table; a lab's own part stands in `graded`, in the place of the button and the marks. */
  begin({ task, kept, lab }) {
    this.marks.hidden = true;
    this.hander.hidden = this.going.hidden = Boolean(lab);
    this.questions.begin(task.questions, kept.answers);
    this.progress();
  }

  update({ stands, answers }) {
    this.questions.update(stands, answers);
  }

  /** How far a judgement has come, and the words for it; without an argument nothing is being judged. */
  progress({ done, total } = {}) {
    this.going.classList.toggle("on", total !== undefined); // its place stays, so that nothing below it moves
    this.hander.setAttribute("aria-disabled", String(total !== undefined));
    this.bar.max = total ?? 1;
    this.bar.value = done ?? 0;
    this.reached.textContent = total === undefined ? "" : `${done} of ${total} turns of a stat run`;
    return this.reached.textContent;
  }

  /** What Python found: the marks, or the one question that still comes before them. */
  show({ points, works, right, lines, findings, prediction }) {
    this.marks.hidden = false;
    this.since.textContent = "";
    if (prediction) this.questions.add(prediction);
    const most = (lines ?? []).reduce((sum, line) => sum + line.out_of, 0);
    this.heading.textContent = lines ? `${counted(points)} of ${counted(most)} points` : "One question before your marks";
    const found = findings.map(({ words, severity, lit }, number) =>
      make(
        "li",
        { class: severity },
        make("p", { text: words }),
        ...(lit ? [button("Show it on the drawing", () => this.heard.show(number))] : []),
      ),
    );
    const told = new Set(findings.map(({ words }) => words));
    const line = ({ criterion, points: given, out_of: top, reasons }) =>
      make(
        "div",
        { class: given >= top ? "line full" : "line" },
        make("p", {}, make("b", { text: criterion }), make("span", { class: "points", text: `${counted(given)} of ${counted(top)}` })),
        ...reasons.filter((reason) => !told.has(reason)).map((reason) => make("p", { text: reason })),
      );
    const holds = right.length ? [make("p", { text: "This holds:" }), make("ul", { class: "holds" }, ...right.map((text) => make("li", { text })))] : [];
    this.body.replaceChildren(
      make("p", { class: "answer" }, make("b", { text: works ? "It does what was asked." : "It does not yet do what was asked." })),
      ...(prediction ? [make("p", { text: ASKED_NOW })] : []),
      ...(works ? [] : holds),
      ...(found.length ? [make("ol", { class: "findings" }, ...found)] : []),
      ...(lines ?? []).map(line),
    );
  }

  outdated() {
    if (!this.marks.hidden) this.since.textContent = OUTDATED;
    this.questions.drop("prediction"); // another wiring, another fault
  }

  focus() {
    const first = this.questions.node.querySelector("select, input");
    const begin = first ?? this.node.querySelector("button:not([hidden])");
    (this.marks.hidden ? begin : this.heading).focus();
  }
}
