// The bench in a notebook: asks the widget's Python by messages, and says who works before a graded job begins.

import mount from "./bench.mjs";
import { make, problemLine, sentence } from "./bench-elements.mjs";

const PATIENCE = 60_000; // ms until a silent kernel is reported

function asking(model) {
  const waiting = new Map();
  const heard = ({ id, response }) => {
    waiting.get(id)?.(response);
    waiting.delete(id);
  };
  model.on("msg:custom", heard);
  const ask = (request) =>
    new Promise((resolve, reject) => {
      const id = crypto.getRandomValues(new Uint32Array(2)).join("-");
      const late = setTimeout(() => {
        waiting.delete(id);
        reject(new Error("The notebook's Python does not answer. Is the kernel running? Run the cell again"));
      }, PATIENCE);
      waiting.set(id, (response) => {
        clearTimeout(late);
        resolve(response);
      });
      model.send({ id, request });
    });
  return { ask, stop: () => model.off("msg:custom", heard) };
}

async function answered(ask, request) {
  const answer = await ask(request);
  if (answer.error !== undefined) throw new Error(answer.error);
  return answer;
}

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

async function render({ model, el }) {
  el.setAttribute("data-lm-suppress-shortcuts", "true"); // the notebook leaves the bench's keys to the bench
  // JupyterLab takes the line break out of every field in a cell, and with it the enter key of a form.
  const ours = (event) => event.inputType === "insertLineBreak" && event.stopPropagation();
  el.addEventListener("beforeinput", ours, { capture: true });
  const { ask, stop } = asking(model);
  const handle = begun(el, ask, model);
  return async () => {
    el.removeEventListener("beforeinput", ours, { capture: true });
    stop();
    (await handle).destroy();
  };
}

export default { render };
