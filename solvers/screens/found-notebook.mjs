// The house as found in a notebook: asks the widget's Python by messages, which keeps the sheet as a file.

import { make, sentence } from "./bench-elements.mjs";
import mountHouse from "./found.mjs";
import { answered, rendering } from "./notebook-asking.mjs";

async function begunHouse(el, ask, model) {
  try {
    const { sheet, notice } = await answered(ask, { ask: "begin" });
    const save = (text) => answered(ask, { ask: "keep", sheet: text });
    const place = make("div", {});
    const told = make("p", { class: "problem notice", role: "alert", text: notice });
    el.replaceChildren(...(notice ? [make("div", { class: "cfh-bench" }, told)] : []), place);
    return mountHouse(place, ask, { graded: model.get("graded"), seed: model.get("seed") || null, sheet, save });
  } catch (error) {
    el.replaceChildren(make("div", { class: "cfh-bench" }, make("p", { class: "problem notice", role: "alert", text: sentence(error) })));
    return { destroy: () => {} };
  }
}

const render = rendering(begunHouse);

export default { render };
