// The bench in a notebook: asks the widget's Python by messages, and says who works before a graded job begins.

import mount from "./bench.mjs";
import { make, problemLine, sentence } from "./bench-elements.mjs";
import { answered, rendering } from "./notebook-asking.mjs";

/** Ask for the learner's name, resolve to what `begin` says of it. */
function introduced(el, ask, learner) {
  return new Promise((resolve) => {
    const name = make("input", { type: "text", maxlength: 64, autocomplete: "off", value: learner });
    const problem = problemLine();
    const form = make(
      "form",
      { class: "offer" },
      make("label", {}, make("span", { text: "Your name as it stands on the class list" }), name),
      make("button", { type: "submit", class: "primary", text: "Begin" }),
      problem,
    );
    const begun = async (event) => {
      event?.preventDefault();
      problem.textContent = "";
      try {
        resolve(await answered(ask, { ask: "begin", learner: name.value }));
      } catch (error) {
        problem.textContent = sentence(error);
      }
    };
    form.addEventListener("submit", begun);
    el.replaceChildren(make("div", { class: "cfh-bench" }, form));
    if (learner) begun();
  });
}

async function begun(el, ask, model) {
  const settings = { chapter: model.get("chapter"), level: model.get("level"), learner: model.get("learner") };
  if (!model.get("graded")) return mount(el, ask, settings);
  const { learner, seed, sheet, notice } = await introduced(el, ask, settings.learner);
  const save = (text) => answered(ask, { ask: "keep", sheet: text });
  const place = make("div", {});
  const told = make("p", { class: "problem notice", role: "alert", text: notice });
  el.replaceChildren(...(notice ? [make("div", { class: "cfh-bench" }, told)] : []), place);
  return mount(place, ask, { ...settings, graded: true, learner, seed, sheet, save });
}

const render = rendering(begun);

export default { render };
