// What a task asks in words: which lead is which, what a meter will show, what can be said of it.

import { button, fill, make, problemLine } from "./bench-elements.mjs";

const YET = "Answer before you power up or hand in. From then on your answers stand.";
const STANDS = "The wiring has been run. What you answered before that stays as it is.";
const PREDICTION = "prediction";

/**
 * The questions. `changed(answers)` hears every answer to what is asked before power; `probed({question, first, second,
 * made})` resolves to an ohmmeter's display.
 */
export class Questions {
  constructor({ changed, probed }) {
    this.heard = { changed: () => changed(this.answers), probed };
    this.node = make("div", { class: "questions" });
    this.word = make("p", { class: "stands" });
    this.readers = new Map();
    this.writers = new Map();
  }

  /** Every answer before power as Python takes it; what is not answered is null. */
  get answers() {
    const before = [...this.readers].filter(([id]) => id !== PREDICTION);
    return Object.fromEntries(before.map(([id, read]) => [id, read()]));
  }

  get prediction() {
    return this.readers.get(PREDICTION)?.() ?? null;
  }

  begin(questions, answers) {
    this.readers.clear();
    this.writers.clear();
    const made = questions.map((each) => this.made(each, answers[each.id]));
    this.node.replaceChildren(...(made.length ? [this.word] : []), ...made);
  }

  /** Whether the answers before power stand, and which they are. */
  update(stands, answers) {
    this.word.textContent = stands ? STANDS : YET;
    this.word.classList.toggle("told", stands);
    for (const [id, write] of this.writers) write(answers[id], stands);
  }

  /** One question more, below the others; the same one is not asked twice. */
  add(question, given) {
    if (this.readers.has(question.id)) return;
    const made = this.made(question, given);
    made.dataset.question = question.id;
    this.node.append(made);
  }

  drop(id) {
    this.node.querySelector(`[data-question="${id}"]`)?.remove();
    this.readers.delete(id);
  }

  made(question, given) {
    const kinds = { leads: this.leads, number: this.number, choice: this.choice, zones: this.zones };
    return kinds[question.kind].call(this, question, given);
  }

  /** Any number of zones, or the plain answer that none is meant. */
  zones({ id, words, zones }, given) {
    const box = (name, text) => {
      const field = make("input", { type: "checkbox", value: name });
      return [field, make("label", { class: "lamp" }, field, text)];
    };
    const boxes = zones.map((zone) => box(zone.id, zone.words));
    const [none, noneLabel] = box("", "none of them");
    const picked = () => boxes.filter(([field]) => field.checked).map(([field]) => field.value);
    for (const [field] of boxes) field.addEventListener("change", () => (none.checked = false));
    none.addEventListener("change", () => boxes.forEach(([field]) => (field.checked = false)));
    for (const [field] of boxes) field.checked = Boolean(given?.includes(field.value));
    none.checked = given?.length === 0;
    this.readers.set(id, () => (none.checked || picked().length ? picked() : null));
    return make("fieldset", { class: "leads" }, make("legend", { text: words }), ...boxes.map(([, label]) => label), noneLabel);
  }

  choice({ id, words, choices }, given) {
    const field = make("select", { on: { change: this.heard.changed } });
    fill(field, choices.map((each) => [each, each]), "not answered");
    if (choices.includes(given)) field.value = given;
    this.readers.set(id, () => field.value || null);
    this.writers.set(id, (answer, stands) => {
      field.disabled = stands;
      if (stands) field.value = answer ?? "";
    });
    return make("label", {}, make("span", { text: words }), field);
  }

  number({ id, words, unit }, given) {
    const change = () => id !== PREDICTION && this.heard.changed();
    const field = make("input", { type: "text", inputmode: "decimal", maxlength: 12, autocomplete: "off", on: { change } });
    field.value = given ?? "";
    const write = (answer, stands) => {
      field.disabled = stands;
      if (stands) field.value = answer ?? "";
    };
    if (id !== PREDICTION) this.writers.set(id, write);
    this.readers.set(id, () => {
      const text = field.value.trim().replace(",", ".");
      if (!text) return null;
      if (/^ol$/i.test(text)) return "OL";
      return Number.isFinite(Number(text)) ? Number(text) : text;
    });
    const hint = unit === "V" ? "volts" : "ohms, or OL";
    return make("label", {}, make("span", { text: words }), make("span", { class: "measured" }, field, make("span", { text: hint })));
  }

  /** Unmarked leads: an ohmmeter for any two of them, and a name for each. */
  leads({ id, words, leads, names, switched }, given) {
    const pick = (label, at) => {
      const field = make("select", { "aria-label": label });
      fill(field, leads.map((lead) => [lead, lead]));
      field.value = leads[at];
      return field;
    };
    const [first, second] = [pick("First probe", 0), pick("Second probe", 1)];
    const made = make("input", { type: "checkbox" });
    const problem = problemLine();
    const shown = make("ul", { class: "probed", "aria-live": "polite" });
    const read = async () => {
      problem.textContent = "";
      if (first.value === second.value) {
        problem.textContent = "Put the probes on two leads.";
        return;
      }
      const asked = { question: id, first: first.value, second: second.value, made: made.checked };
      try {
        const text = await this.heard.probed(asked);
        const pair = `${asked.first} to ${asked.second}${asked.made ? ", switch made" : ""}`;
        shown.append(make("li", {}, `${pair}: `, make("b", { text })));
      } catch (error) {
        problem.textContent = String(error.message);
      }
    };
    const fields = leads.map((lead) => {
      const field = make("select", { on: { change: this.heard.changed } });
      fill(field, names.map((name) => [name, name]), "?");
      if (names.includes(given?.[lead])) field.value = given[lead];
      return [lead, field];
    });
    this.readers.set(id, () => Object.fromEntries(fields.map(([lead, field]) => [lead, field.value])));
    this.writers.set(id, (answer, stands) => {
      for (const [lead, field] of fields) {
        field.disabled = stands;
        if (stands) field.value = answer?.[lead] ?? "";
      }
    });
    const held = make("label", { class: "lamp" }, made, "end switch held made");
    return make(
      "fieldset",
      { class: "leads" },
      make("legend", { text: words }),
      make("div", { class: "abreast" }, first, second, button("Read ohms", read)),
      ...(switched ? [held] : []),
      problem,
      shown,
      make("div", { class: "named" }, ...fields.map(([lead, field]) => make("label", { class: "field" }, make("span", { text: lead }), field))),
    );
  }
}
