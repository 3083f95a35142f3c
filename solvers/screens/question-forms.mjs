// How a question is answered: a number, one of several, some of several, an order. Each form is {node, read, write, field}:
// `read` gives the answer or throws a sentence, `write` shows an earlier one. A change is heard as an event of the node.

import { button, make } from "./bench-elements.mjs";

let count = 0;

/** A number with its unit; a comma will do for a point. */
function numberForm({ unit }) {
  const field = make("input", { type: "text", inputmode: "decimal", autocomplete: "off", maxlength: 14, "aria-label": `your answer${unit ? `, in ${unit}` : ""}` });
  const read = () => {
    const text = field.value.trim().replace(",", ".");
    if (!text || !Number.isFinite(Number(text))) throw new Error("give a number, for instance 12.5");
    return Number(text);
  };
  const write = (answer) => (field.value = answer);
  return { node: make("div", { class: "number" }, field, make("span", { text: unit })), read, write, field };
}

function choiceForm({ choices }, many) {
  const name = `answer-${(count += 1)}`;
  const fields = choices.map((each) => make("input", { type: many ? "checkbox" : "radio", name, value: each }));
  const lines = choices.map((each, place) => make("label", { class: "line" }, fields[place], make("span", { text: each })));
  const read = () => {
    const picked = fields.filter((field) => field.checked).map((field) => field.value);
    if (many) return picked;
    if (!picked.length) throw new Error("choose one of the answers");
    return picked[0];
  };
  const write = (answer) => fields.forEach((field) => (field.checked = [answer].flat().includes(field.value)));
  return { node: make("div", { class: "lines" }, ...lines), read, write, field: fields[0] };
}

/** An order, moved a step at a time by buttons: no pointer needs to drag. */
function orderForm({ choices }) {
  const order = [...choices];
  const list = make("ol", { class: "order" });
  const told = make("p", { class: "heard-only", role: "status" });
  const rows = new Map();
  const move = (step, by) => {
    const from = order.indexOf(step);
    const to = from + by;
    if (to < 0 || to >= order.length) return;
    order.splice(from, 1);
    order.splice(to, 0, step);
    list.replaceChildren(...order.map((each) => rows.get(each).node));
    rows.get(step)[by < 0 ? "up" : "down"].focus();
    told.textContent = `${step}: now ${to + 1} of ${order.length}`;
    list.dispatchEvent(new Event("change", { bubbles: true }));
  };
  for (const step of choices) {
    const up = button("up", () => move(step, -1), { "aria-label": `up: ${step}` });
    const down = button("down", () => move(step, 1), { "aria-label": `down: ${step}` });
    const node = make("li", {}, make("div", { class: "step" }, make("span", { text: step }), make("span", { class: "moves" }, up, down)));
    rows.set(step, { node, up, down });
  }
  const write = (answer) => {
    order.splice(0, order.length, ...answer);
    list.replaceChildren(...order.map((each) => rows.get(each).node));
  };
  write(choices);
  return { node: make("div", {}, list, told), read: () => [...order], write, field: rows.get(order[0]).up };
}

/** By form of question: what makes the form for it. */
export const FORMS = {
  number: numberForm,
  choice: (question) => choiceForm(question, false),
  choices: (question) => choiceForm(question, true),
  order: orderForm,
};
