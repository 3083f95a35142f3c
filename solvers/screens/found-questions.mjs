// What is asked of the house besides its conductors: leads, what to tidy, the tie, what one broken conductor will do.

import { fill, make, problemLine } from "./bench-elements.mjs";

const MOST_TIDIED = 2;

/** The panel. `changed()` hears an answer. */
export class HouseQuestions {
  constructor({ changed }) {
    this.heard = { changed };
    this.body = make("div", { class: "questions" });
    this.problem = problemLine();
    this.node = make(
      "section",
      { class: "panel asked", "aria-label": "Questions" },
      make("h4", { text: "What else do you say of it?", tabindex: -1 }),
      this.body,
      this.problem,
    );
  }

  begin(house, given) {
    this.leads = house.leads.map((each) => this.leadsOf(each, given.leads[each.valve] ?? {}));
    this.tidy = this.several("Which two things would you tidy?", house.tidy, given.tidy, { most: MOST_TIDIED });
    this.tie = this.choice(house.tie, given.tie);
    this.fault = this.several(house.fault, house.zones, given.prediction, { none: "none of them" });
    const asked = [...this.leads, this.tidy, this.tie, this.fault];
    this.body.replaceChildren(...asked.map(({ node }) => node));
  }

  get answers() {
    return {
      leads: Object.fromEntries(this.leads.map(({ valve, read }) => [valve, read()])),
      tidy: this.tidy.read() ?? [],
      tie: this.tie.read(),
      prediction: this.fault.read(),
    };
  }

  /** How many of the questions have no answer yet. */
  get missing() {
    const { leads, tidy, tie, prediction } = this.answers;
    const named = this.leads.filter(({ valve, fields }) => Object.keys(leads[valve]).length === fields.length).length;
    return this.leads.length - named + (tidy.length < MOST_TIDIED) + (tie === null) + (prediction === null);
  }

  update(closed) {
    for (const field of this.body.querySelectorAll("select, input")) field.disabled = closed;
  }

  /** A name for each lead of one valve. */
  leadsOf({ valve, words, leads, names }, given) {
    const fields = leads.map((lead) => {
      const field = make("select", { on: { change: this.heard.changed } });
      fill(field, names.map((name) => [name, name]), "?");
      if (names.includes(given[lead])) field.value = given[lead];
      return [lead, field];
    });
    const labels = fields.map(([lead, field]) => make("label", { class: "field" }, make("span", { text: lead }), field));
    return {
      valve,
      fields,
      read: () => Object.fromEntries(fields.filter(([, field]) => field.value).map(([lead, field]) => [lead, field.value])),
      node: make("fieldset", { class: "leads" }, make("legend", { text: words }), make("div", { class: "named" }, ...labels)),
    };
  }

  /** Any number of things; with `none` a plain answer that there is none, with `most` no more than so many. */
  several(words, things, given, { none, most = things.length }) {
    const boxes = things.map(({ id, words: text }) => {
      const field = make("input", { type: "checkbox", value: id });
      field.checked = Boolean(given?.includes(id));
      return [field, make("label", { class: "lamp" }, field, text)];
    });
    const picked = () => boxes.filter(([field]) => field.checked).map(([field]) => field.value);
    const nothing = make("input", { type: "checkbox", value: "" });
    nothing.checked = Boolean(none && given && !given.length);
    for (const [field] of boxes) {
      field.addEventListener("change", () => {
        this.problem.textContent = "";
        if (picked().length > most) {
          field.checked = false;
          this.problem.textContent = `Choose ${most}; take one back first.`;
        }
        nothing.checked = false;
        this.heard.changed();
      });
    }
    nothing.addEventListener("change", () => {
      boxes.forEach(([field]) => (field.checked = false));
      this.heard.changed();
    });
    const last = none ? [make("label", { class: "lamp" }, nothing, none)] : [];
    return {
      read: () => (picked().length || nothing.checked ? picked() : null),
      node: make("fieldset", { class: "leads" }, make("legend", { text: words }), ...boxes.map(([, label]) => label), ...last),
    };
  }

  choice({ words, choices }, given) {
    const field = make("select", { on: { change: this.heard.changed } });
    fill(field, choices.map((each) => [each, each]), "not answered");
    if (choices.includes(given)) field.value = given;
    return { read: () => field.value || null, node: make("label", {}, make("span", { text: words }), field) };
  }

  focus() {
    (this.body.querySelector("select, input") ?? this.node.querySelector("h4")).focus();
  }
}
