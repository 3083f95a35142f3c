// A valve cut open beside its curve, against a clock that runs, hurries or steps. Python says where it stands; this asks.

import { button, fill, make, problemLine, sentence } from "./bench-elements.mjs";
import { answered, draw, Inputs, Readings } from "./live-elements.mjs";

const FRAME_MS = 200;
const LONGEST_S = 4 * 3600;
const SPEEDS = [1, 10, 60];
const STEPS = [1, 10, 60];

const clockText = (seconds) => {
  const whole = Math.floor(seconds + 1e-6);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
};

class Clock {
  constructor(ask, first) {
    this.ask = ask;
    this.at = 0;
    this.told = -1;
    this.turns = [];
    this.playing = false;
    this.asking = Promise.resolve();
    this.section = make("div", { class: "picture section" });
    this.curve = make("div", { class: "picture" });
    this.readings = new Readings();
    this.problem = problemLine();
    this.time = make("output", { class: "time", "aria-label": "clock, minutes and seconds" });
    this.events = make("ol", { class: "events", tabindex: "0", "aria-label": "what happened", "aria-live": "polite" });
    this.call = button("Call", () => this.turn(), { class: "primary", "aria-pressed": "false" });
    this.play = button("Play", () => this.toggle());
    this.speed = make("select", { "aria-label": "speed" });
    fill(this.speed, SPEEDS.map((each) => [each, `${each} times`]));
    this.speed.value = 10;
    this.inputs = new Inputs(first.inputs, first.values, () => this.again());
    this.record = make("div", { class: "picture" });
    this.details = make("details", { class: "record", on: { toggle: () => this.recorded() } }, make("summary", { text: "Everything since the last change, in strips" }), this.record);
    this.node = make(
      "div",
      { class: "live-part", role: "group", "aria-label": "A valve in section, against the clock" },
      make("p", { class: "title", text: "The valve against the clock" }),
      make("p", { class: "question", text: "Before you press Call: which moves first, the wax, the stem or the switch? And after the call is taken off?" }),
      this.inputs.node,
      make(
        "div",
        { class: "acts" },
        this.call,
        this.play,
        this.speed,
        ...STEPS.map((each) => button(`+${each} s`, () => this.step(each))),
        button("Start over", () => this.again()),
        this.time,
      ),
      this.problem,
      make("div", { class: "sides even" }, this.section, make("div", { class: "side" }, this.curve, this.readings.node)),
      this.events,
      this.details,
    );
    this.shown(first);
    document.addEventListener("visibilitychange", () => document.hidden && this.stop());
  }

  /** Ask for one moment after the other, never two at a time. */
  show(at) {
    this.asking = this.asking.then(async () => {
      try {
        const request = { ask: "section clock", values: this.inputs.values, turns: this.turns, at, since: this.told };
        const answer = await answered(this.ask, request);
        this.problem.textContent = "";
        this.shown(answer);
      } catch (error) {
        this.stop();
        this.problem.textContent = sentence(error);
      }
    });
    return this.asking;
  }

  shown(answer) {
    this.at = answer.at;
    this.told = Math.max(this.told, ...answer.events.map(({ at }) => at));
    this.time.textContent = clockText(answer.at);
    draw(this.section, answer.svg);
    draw(this.curve, answer.chart);
    this.readings.show(answer.readings);
    this.inputs.tell(answer.texts);
    this.call.textContent = answer.calling ? "Stop the call" : "Call";
    this.call.classList.toggle("calling", answer.calling);
    this.call.setAttribute("aria-pressed", String(answer.calling));
    for (const { at, words } of answer.events) this.events.append(make("li", {}, make("b", { text: clockText(at) }), ` ${words}`));
    if (answer.events.length) this.events.scrollTop = this.events.scrollHeight;
  }

  async turn() {
    const calling = this.call.getAttribute("aria-pressed") === "true";
    await this.asking;
    this.turns.push([this.at, !calling]);
    await this.show(this.at);
    if (!this.playing) this.toggle();
  }

  toggle() {
    if (this.playing) return this.stop();
    this.playing = true;
    this.play.textContent = "Pause";
    this.last = performance.now();
    this.run();
  }

  stop() {
    this.playing = false;
    this.play.textContent = "Play";
    this.recorded();
  }

  async run() {
    while (this.playing) {
      const begun = performance.now();
      const at = Math.min(LONGEST_S, this.at + ((begun - this.last) / 1000) * Number(this.speed.value));
      this.last = begun;
      await this.show(at);
      if (at >= LONGEST_S) this.stop();
      await new Promise((later) => setTimeout(later, Math.max(20, FRAME_MS - (performance.now() - begun))));
    }
  }

  async step(seconds) {
    this.stop();
    await this.asking;
    await this.show(Math.min(LONGEST_S, this.at + seconds));
    await this.recorded();
  }

  /** Another valve, or the same one cold again. */
  async again() {
    this.stop();
    await this.asking;
    this.turns = [];
    this.told = -1;
    this.events.replaceChildren();
    await this.show(0);
  }

  async recorded() {
    if (!this.details.open) return;
    try {
      const request = { ask: "section record", values: this.inputs.values, turns: this.turns, at: this.at };
      draw(this.record, (await answered(this.ask, request)).svg);
    } catch (error) {
      this.record.textContent = sentence(error);
    }
  }
}

/** Put a valve against the clock in the place of what the element holds; `data-kind` says which. */
export default async function mount(element, ask, { kind }) {
  const clock = new Clock(ask, await answered(ask, { ask: "section clock", kind }));
  element.replaceChildren(clock.node);
}
