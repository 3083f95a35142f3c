// An explorer: a question, sliders and choices, and what the course's Python computes for each setting.

import { make, problemLine, sentence } from "./bench-elements.mjs";
import { answered, draw, Inputs, newest, Readings, Spoken } from "./live-elements.mjs";

/** Put the explorer named in the page in the place of what the element holds. */
export default async function mount(element, ask, { name }) {
  const first = await answered(ask, { ask: "explorer", name });
  const picture = make("div", { class: "picture" });
  const words = make("p", { class: "words" });
  const problem = problemLine();
  const readings = new Readings();
  const spoken = new Spoken();
  const show = (answer) => {
    draw(picture, answer.svg);
    readings.show(answer.readings);
    words.textContent = answer.words;
    inputs.tell(answer.texts);
  };
  const move = newest(async (values) => {
    try {
      const answer = await answered(ask, { ask: "explorer shows", name, values });
      problem.textContent = "";
      show(answer);
      spoken.say(answer.words);
    } catch (error) {
      problem.textContent = sentence(error);
    }
  });
  const inputs = new Inputs(first.inputs, first.values, (values) => move({ ...values }));
  show(first);
  const title = make("p", { class: "title", text: first.title });
  const question = make("p", { class: "question", text: first.question });
  element.replaceChildren(
    make(
      "div",
      { class: "live-part", role: "group", "aria-label": first.title },
      title,
      question,
      make("div", { class: "sides" }, make("div", { class: "side" }, inputs.node, problem, readings.node), picture),
      words,
      spoken.node,
    ),
  );
}
