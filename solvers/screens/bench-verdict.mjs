// The verdict: one or two suspects, proving readings, an explanation, a sentence for the customer; and afterwards the marks.

import { agreed, button, make, problemLine } from "./bench-elements.mjs";
import { MOST_PROOF, lineWords } from "./bench-log.mjs";

const LONGEST = 4000; // characters of an explanation
const MOST_SUSPECTS = 2;

/** The sheet that is signed. `sign(claim, problem)` hands it in; `changed()` hears every stroke of the draft. */
export class Verdict {
  constructor(root, { sign, changed, back }) {
    this.root = root;
    this.sign = sign;
    this.heading = make("h4", { text: "Verdict", tabindex: -1 });
    this.suspects = make("fieldset", { class: "suspects" }, make("legend", { text: "What is the cause? Tick one; two where two faults are there." }));
    this.proof = make("ol", { class: "proof" });
    const area = (rows) => make("textarea", { rows, maxlength: LONGEST, on: { input: changed } });
    this.explanation = area(4);
    this.customer = area(2);
    this.problem = problemLine();
    this.changed = changed;
    const form = make(
      "form",
      { novalidate: true },
      make("div", { class: "view-head" }, this.heading, button("Back to the log", back, { class: "back" })),
      this.suspects,
      make("div", { class: "proving" }, make("h5", { text: "Your proving readings" }), this.proof),
      make("label", {}, make("span", { text: "Why: the cause, the evidence, how the complaint follows from it" }), this.explanation),
      make("label", {}, make("span", { text: "One sentence for the customer" }), this.customer),
      this.problem,
      make("button", { type: "submit", class: "primary", text: "Sign the verdict" }),
    );
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      this.submitted();
    });
    this.form = form;
    this.node = make("section", { class: "verdict view", "data-in": "verdict", "aria-label": "Verdict" }, form);
  }

  begin({ brief, draft }) {
    const box = (value) => make("input", { type: "checkbox", value, on: { change: (event) => this.ticked(event.target) } });
    const choice = ({ id, words }) => make("label", {}, box(id), make("span", { text: words }));
    this.suspects.replaceChildren(this.suspects.firstChild, ...brief.suspects.map(choice));
    for (const input of this.suspects.querySelectorAll("input")) {
      input.checked = Boolean(draft?.suspects?.includes(input.value));
    }
    this.explanation.value = draft?.explanation ?? "";
    this.customer.value = draft?.customer ?? "";
    this.problem.textContent = "";
  }

  ticked(box) {
    this.problem.textContent = "";
    if (this.draft.suspects.length > MOST_SUSPECTS) {
      box.checked = false;
      this.problem.textContent = "Two causes are ticked already; untick one of them first.";
    }
    this.changed();
  }

  /** What has been written so far. */
  get draft() {
    return {
      suspects: [...this.suspects.querySelectorAll("input:checked")].map((input) => input.value),
      explanation: this.explanation.value,
      customer: this.customer.value,
    };
  }

  update({ view, names, ticks }) {
    this.ticks = ticks;
    const told = (place) => {
      const { number, what, shown } = lineWords(view.log[place], place, names);
      return `Line ${number}: ${what}: ${shown}`;
    };
    const lines = ticks.map((place) => make("li", { text: told(place) }));
    const room = `${lines.length ? "room for more" : "none yet"}: tick lines in the log, ${MOST_PROOF} at most`;
    this.proof.replaceChildren(...lines, ...(lines.length < MOST_PROOF ? [make("li", { class: "missing", text: room })] : []));
  }

  async submitted() {
    const { suspects, explanation, customer } = this.draft;
    if (!suspects.length) {
      this.problem.textContent = "Choose the cause from the list first.";
      this.suspects.querySelector("input")?.focus();
      return;
    }
    const missing = [
      !this.ticks.length && "no proving reading",
      !explanation.trim() && "no explanation",
      !customer.trim() && "no sentence for the customer",
    ].filter(Boolean);
    const lacking = missing.length ? ` So far there is ${missing.join(", ")}.` : "";
    const detail = `It closes the job: nothing can be measured afterwards.${lacking}`;
    if (await agreed(this.root, "Sign this verdict?", detail, "Sign it")) {
      await this.sign({ suspects, explanation, customer, proof: this.ticks }, this.problem);
    }
  }

  focus() {
    (this.suspects.querySelector("input:checked") ?? this.suspects.querySelector("input") ?? this.heading).focus();
  }
}
