// What explorers, the valve against the clock and self-checks are made of. Numbers and words all come from Python.

import { fill, make } from "./bench-elements.mjs";

const MOST_ABREAST = 3; // choices that stand beside each other; more go into a list
const QUIET_MS = 700; // after the last change, before it is read out

/** Ask, and throw what Python refuses as an error with its sentence. */
export async function answered(ask, request) {
  const answer = await ask(request);
  if (answer.error) throw new Error(answer.error);
  return answer;
}

/** Send only the newest value, one at a time: what a moved slider leaves behind is not computed. */
export function newest(send) {
  let busy = false;
  let waiting;
  return async (value) => {
    waiting = { value };
    if (busy) return;
    busy = true;
    try {
      while (waiting) {
        const next = waiting.value;
        waiting = undefined;
        await send(next);
      }
    } finally {
      busy = false;
    }
  };
}

/** Put a drawing of ours in the place of what a box holds. */
export function draw(box, svg) {
  const parsed = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
  box.replaceChildren(document.importNode(parsed, true));
}

/** A list of readings: what each is of, and its value. */
export class Readings {
  constructor() {
    this.node = make("dl", { class: "readings" });
  }

  show(readings) {
    this.node.replaceChildren(...readings.map(({ label, text }) => make("div", {}, make("dt", { text: label }), make("dd", { text }))));
  }
}

/** A place whose words are read out once nothing has changed for a moment. */
export class Spoken {
  constructor() {
    this.node = make("p", { class: "heard-only", role: "status" });
  }

  say(words) {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => (this.node.textContent = words), QUIET_MS);
  }
}

let count = 0;

/** Sliders and choices. `changed(values)` hears every move. */
export class Inputs {
  constructor(inputs, values, changed) {
    this.values = { ...values };
    this.outputs = new Map();
    this.changed = changed;
    this.node = make("div", { class: "inputs" }, ...inputs.map((each) => (each.kind === "slider" ? this.slider(each) : this.pick(each))));
  }

  set(name, value) {
    this.values[name] = value;
    this.changed(this.values);
  }

  slider({ name, label, low, high, step, text }) {
    const id = `live-input-${(count += 1)}`;
    const field = make("input", { type: "range", id, min: low, max: high, step, value: this.values[name], "data-name": name });
    field.value = this.values[name];
    const output = make("output", { for: id, text });
    const show = (words) => {
      output.textContent = words;
      field.setAttribute("aria-valuetext", words);
    };
    show(text);
    this.outputs.set(name, show);
    field.addEventListener("input", () => this.set(name, Number(field.value)));
    return make("div", { class: "slider" }, make("label", { for: id, text: label }), output, field);
  }

  pick({ name, label, choices }) {
    if (choices.length > MOST_ABREAST) {
      const field = make("select", { "data-name": name, on: { change: () => this.set(name, field.value) } });
      fill(field, choices.map((each) => [each, each]));
      field.value = this.values[name];
      return make("label", { class: "choice" }, make("span", { text: label }), field);
    }
    const group = `live-input-${(count += 1)}`;
    const radios = choices.map((each) => {
      const field = make("input", { type: "radio", name: group, value: each, on: { change: () => this.set(name, each) } });
      field.checked = this.values[name] === each;
      return make("label", {}, field, make("span", { text: each }));
    });
    return make("fieldset", { class: "choice", "data-name": name }, make("legend", { text: label }), make("div", { class: "abreast" }, ...radios));
  }

  /** What Python says each input stands at, with its units. */
  tell(texts) {
    for (const [name, show] of this.outputs) show(texts[name]);
  }
}
