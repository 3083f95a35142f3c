// The verdict: a suspect, two proving readings, an explanation, a sentence for the customer; and afterwards the marks.

import { agreed, button, make, problemLine } from "./bench-elements.mjs";
import { lineWords } from "./bench-log.mjs";

const LONGEST = 4000; // characters of an explanation

/** The sheet that is signed. `sign(claim, problem)` hands it in; `changed()` hears every stroke of the draft. */
export class Verdict {
  constructor(root, { sign, changed, back }) {
    this.root = root;
    this.sign = sign;
    this.heading = make("h4", { text: "Verdict", tabindex: -1 });
    this.suspects = make("fieldset", { class: "suspects" }, make("legend", { text: "What is the cause?" }));
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
      make("div", { class: "proving" }, make("h5", { text: "Your two proving readings" }), this.proof),
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
    const radio = (value) => make("input", { type: "radio", name: "suspect", value, on: { change: this.changed } });
    const choice = ({ id, words }) => make("label", {}, radio(id), make("span", { text: words }));
    this.suspects.replaceChildren(this.suspects.firstChild, ...brief.suspects.map(choice));
    for (const input of this.suspects.querySelectorAll("input")) input.checked = input.value === draft?.suspect;
    this.explanation.value = draft?.explanation ?? "";
    this.customer.value = draft?.customer ?? "";
    this.problem.textContent = "";
  }

  /** What has been written so far. */
  get draft() {
    return {
      suspect: this.suspects.querySelector("input:checked")?.value,
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
    const slots = [0, 1].map((slot) =>
      ticks[slot] === undefined
        ? make("li", { class: "missing", text: "none yet: tick a line in the log" })
        : make("li", { text: told(ticks[slot]) }),
    );
    this.proof.replaceChildren(...slots);
  }

  async submitted() {
    const { suspect, explanation, customer } = this.draft;
    if (!suspect) {
      this.problem.textContent = "Choose the cause from the list first.";
      this.suspects.querySelector("input")?.focus();
      return;
    }
    const missing = [
      this.ticks.length < 2 && `${this.ticks.length} of 2 proving readings`,
      !explanation.trim() && "no explanation",
      !customer.trim() && "no sentence for the customer",
    ].filter(Boolean);
    const lacking = missing.length ? ` So far there is ${missing.join(", ")}.` : "";
    const detail = `It closes the job: nothing can be measured afterwards.${lacking}`;
    if (await agreed(this.root, "Sign this verdict?", detail, "Sign it")) {
      await this.sign({ suspect, explanation, customer, proof: this.ticks }, this.problem);
    }
  }

  focus() {
    (this.suspects.querySelector("input:checked") ?? this.suspects.querySelector("input") ?? this.heading).focus();
  }
}

/** The marks, after the verdict; for graded work the word that they come later. */
export class Marks {
  constructor({ next }) {
    this.next = button("Next job", next, { class: "primary" });
    this.heading = make("h4", { tabindex: -1 });
    this.body = make("div", { class: "marks-body" });
    this.node = make(
      "section",
      { class: "marks view", "data-in": "verdict", "aria-label": "Marks", hidden: true },
      this.heading,
      this.body,
      this.next,
    );
  }

  /** The end of graded work; `again` saves a sheet that could not be saved. */
  handedIn(words, again) {
    this.heading.textContent = "The verdict is signed";
    const told = make("p", { class: again ? "problem" : "", text: words });
    this.body.replaceChildren(told, ...(again ? [make("p", {}, button("Save again", again))] : []));
    this.next.hidden = true;
  }

  /** Lay out the marks that Python gave. */
  show(marks) {
    const counted = (value) => String(Math.round(value * 10) / 10);
    const machine = marks.lines.filter((line) => line.points !== null);
    const most = machine.reduce((sum, line) => sum + line.out_of, 0);
    const person = marks.lines.filter((line) => line.points === null).reduce((sum, line) => sum + line.out_of, 0);
    this.heading.textContent = `${counted(marks.points)} of ${counted(most)} points`;
    const row = ({ criterion, points, out_of: most, reasons }) =>
      make(
        "tr",
        { class: points !== null && points >= most ? "full" : "" },
        make("th", { scope: "row", text: criterion }),
        make("td", { class: "points", text: points === null ? `– of ${counted(most)}` : `${counted(points)} of ${counted(most)}` }),
        make("td", {}, ...reasons.map((reason) => make("p", { text: reason }))),
      );
    const head = make("tr", {}, ...["criterion", "points", "why"].map((text) => make("th", { scope: "col", text })));
    const flags = marks.flags.length
      ? [make("div", { class: "flags" }, make("h5", { text: "To talk over" }), ...marks.flags.map((text) => make("p", { text })))]
      : [];
    this.body.replaceChildren(
      make("p", { class: "answer" }, make("b", { text: "The cause: " }), marks.answer),
      make("p", { text: `Your readings count ${counted(marks.readings)}; par is ${counted(marks.par)}.` }),
      make("p", { text: `A person gives up to ${counted(person)} more points for your explanation.` }),
      make("table", {}, make("thead", {}, head), make("tbody", {}, ...marks.lines.map(row))),
      ...flags,
    );
    this.next.hidden = false;
  }

  failed(words) {
    this.heading.textContent = "The verdict is signed";
    this.body.replaceChildren(make("p", { class: "problem", text: words }));
    this.next.hidden = false;
  }

  focus() {
    this.heading.focus({ preventScroll: true });
    this.node.scrollIntoView({ block: "nearest" });
  }
}

/** The valves from inside: the drawings that Python made of them, and their words. */
export class Inside {
  constructor({ opened }) {
    this.toggle = button("", () => opened(this.figures.hidden), { class: "quiet-button" });
    this.figures = make("div", { class: "figures", hidden: true });
    this.problem = problemLine();
    const about = { class: "inside view", "data-in": "senses verdict", "aria-label": "Valves from inside" };
    this.node = make("section", about, this.toggle, this.problem, this.figures);
  }

  open(on) {
    this.figures.hidden = !on;
    this.toggle.setAttribute("aria-expanded", String(on));
    this.toggle.textContent = on ? "Close the valves again" : "Look inside the valves";
  }

  show(valves) {
    const drawn = ({ svg, words }) => {
      const parsed = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
      const picture = parsed.nodeName === "svg" ? [document.importNode(parsed, true)] : [];
      return make("figure", {}, ...picture, make("figcaption", { text: words }));
    };
    this.figures.replaceChildren(...valves.map(drawn));
  }
}
