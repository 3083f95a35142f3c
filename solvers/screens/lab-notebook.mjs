// A lab in a notebook: asks who works, takes the learner's own file from the folder, and keeps the sheet beside the notebook.

import { make, problemLine, sentence } from "./bench-elements.mjs";
import { begunLab, mountLab } from "./lab-screens.mjs";
import { answered, rendering } from "./notebook-asking.mjs";

/** Ask for the learner's id, resolve to what `begin` says of it. */
function introduced(el, ask, learner) {
  return new Promise((resolve) => {
    const name = make("input", { type: "text", maxlength: 64, autocomplete: "off", value: learner });
    const problem = problemLine();
    const form = make(
      "form",
      { class: "offer" },
      make("label", {}, make("span", { text: "Your id as your instructor has it" }), name),
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

async function begunInNotebook(el, ask, model) {
  const { file, sheet, notice, kept } = await introduced(el, ask, model.get("learner"));
  try {
    const lab = { file, sheet, begun: await begunLab(ask, file, sheet), save: (text) => answered(ask, { ask: "keep", sheet: text }) };
    lab.handing = `Your sheet is kept as ${kept} beside this notebook, after every change. Hand the assignment in as your class does it.`;
    const place = make("div", {});
    const told = make("p", { class: "problem notice", role: "alert", text: notice });
    el.replaceChildren(...(notice ? [make("div", { class: "cfh-bench" }, told)] : []), place);
    return mountLab(place, ask, lab);
  } catch (error) {
    el.replaceChildren(make("div", { class: "cfh-bench" }, make("p", { class: "problem notice", role: "alert", text: sentence(error) })));
    return { destroy: () => {} };
  }
}

const render = rendering(begunInNotebook);

export default { render };
