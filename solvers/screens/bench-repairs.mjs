// The repairs that a graded job lists, each a button: there are no others, and which of them is the right one is not said.

import { group } from "./bench-acts.mjs";
import { actWords, agreed, button, make, sentence } from "./bench-elements.mjs";

const LISTED = "This job takes one repair, of these. Try it out by calls afterwards.";
const DONE = "What goes to the van does not come back.";

/** The group of repairs. `act(act, problem)` does one act. */
export class Repairs {
  constructor(root, { act }) {
    this.root = root;
    this.act = act;
    this.listed = make("div", { class: "column" });
    this.group = group("Repairs", "tools", make("p", { class: "reminder", text: LISTED }), this.listed);
  }

  begin({ brief }) {
    this.repairs = brief.repairs ?? [];
    this.known = undefined;
  }

  update({ names }) {
    const words = this.repairs.map((act) => actWords(act, names));
    if (this.known === words.join()) return;
    this.known = words.join();
    const made = (act, place) => button(sentence(words[place]).slice(0, -1), () => this.asked(act, words[place]));
    this.listed.replaceChildren(...this.repairs.map(made));
  }

  async asked(act, words) {
    if (await agreed(this.root, sentence(words), DONE, "Do it")) await this.act(act, this.group.problem);
  }
}
