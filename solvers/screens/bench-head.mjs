// The sheet's head: the call, the story, who lives where, and two clocks.

import { button, make, timeWords } from "./bench-elements.mjs";

/** The head. `heard()` switches the sound and tells whether it is on; `keys()` shows the keys. */
export class Head {
  constructor({ heard, keys }) {
    this.title = make("h3", { tabindex: -1 });
    this.story = make("p", { class: "story" });
    this.rooms = make("p", { class: "rooms" });
    this.clock = make("b", {});
    this.thinking = make("b", {});
    this.status = make("p", { class: "status", role: "status" });
    this.hearing = button("Sound: off", () => this.hear(heard()), { class: "quiet-button", "aria-pressed": "false" });
    const list = button("Keys", keys, { class: "quiet-button keys", "aria-keyshortcuts": "?" });
    this.node = make(
      "header",
      { class: "head" },
      make("div", { class: "told" }, this.title, this.story, this.rooms),
      make(
        "div",
        { class: "times" },
        make("p", {}, "Job clock ", this.clock),
        make("p", {}, "At the screen ", this.thinking),
        this.status,
        make("div", { class: "aids" }, this.hearing, list),
      ),
    );
  }

  told({ title, story, rooms }) {
    this.title.textContent = title;
    this.story.textContent = story;
    const words = Object.entries(rooms).map(([zone, room]) => `${zone.replace(/^zone/, "zone ")} is the ${room}`).join(", ");
    this.rooms.textContent = words && `${words[0].toUpperCase()}${words.slice(1)}.`;
  }

  clocks(job, thinking) {
    this.clock.textContent = timeWords(job);
    this.thinking.textContent = `${Math.floor(thinking / 60)} min`;
  }

  hear(on) {
    this.hearing.textContent = `Sound: ${on ? "on" : "off"}`;
    this.hearing.setAttribute("aria-pressed", String(on));
  }
}
