// The wiring table in a notebook: asks the widget's Python by messages, which keeps the wiring as a file.

import { make, sentence } from "./bench-elements.mjs";
import { answered, rendering } from "./notebook-asking.mjs";
import mountTable from "./wiring.mjs";

async function begunTable(el, ask, model) {
  try {
    const { wiring, kept, notice } = await answered(ask, { ask: "begin" });
    const save = (text) => answered(ask, { ask: "keep", wiring: text });
    const note = (now) => answered(ask, { ask: "note", kept: now });
    const place = make("div", {});
    const told = make("p", { class: "problem notice", role: "alert", text: notice });
    el.replaceChildren(...(notice ? [make("div", { class: "cfh-bench" }, told)] : []), place);
    return mountTable(place, ask, { task: model.get("task"), graded: model.get("graded"), wiring, kept, save, note });
  } catch (error) {
    el.replaceChildren(make("div", { class: "cfh-bench" }, make("p", { class: "problem notice", role: "alert", text: sentence(error) })));
    return { destroy: () => {} };
  }
}

const render = rendering(begunTable);

export default { render };
