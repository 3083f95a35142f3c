// The house as found on a screen: take readings in it, name its conductors, answer, hand in. What a reading shows and
// what an answer is worth comes from Python through `ask`; this module keeps what only a screen knows.

import { Acts } from "./bench-acts.mjs";
import { Drawing } from "./bench-drawing.mjs";
import { button, make, partOf, problemLine, sentence, terminalOf, timeWords } from "./bench-elements.mjs";
import { practiceSeed } from "./bench-keeping.mjs";
import { ARROWS, help, keyOf } from "./bench-keys.mjs";
import { FUNCTIONS, Meter } from "./bench-meter.mjs";
import { SheetPlace, saveSheet } from "./found-keeping.mjs";
import { HOUSE_KEYS } from "./found-keys.mjs";
import { HouseLog, houseLine } from "./found-log.mjs";
import { HouseMarks } from "./found-marks.mjs";
import { Names } from "./found-names.mjs";
import { HouseQuestions } from "./found-questions.mjs";
import { openFile } from "./wiring-keeping.mjs";

const ABREAST = 700; // px of the screen's own width from which drawing and panels stand side by side
const VIEWS = ["measure", "names", "questions", "hand in"];
const AS_FOUND = "You stand in the house: power is on and nobody calls.";

/**
 * Put a house as found into an element. `ask(request)` resolves to the answer of solvers/screens/page.py.
 *
 * Options: task; graded; seed (null draws a new house each time); sheet (text of one to go on with, null for what this
 * browser keeps); save(text), called with the sheet after every act and answer.
 */
export default function mountHouse(element, ask, options = {}) {
  const house = new HouseAsFound(element, ask, options);
  house.enter();
  return { destroy: () => house.destroy() };
}

class HouseAsFound {
  constructor(element, ask, { task = "W17", graded = false, seed = null, sheet = null, save = null }) {
    this.ask = ask;
    this.order = { task, graded: graded === true, seed, save };
    this.sheet = sheet;
    this.place = save ? undefined : new SheetPlace(task);
    this.waiting = Promise.resolve();
    this.build();
    element.replaceChildren(this.root);
    this.sized = new ResizeObserver(() => this.lay());
    this.sized.observe(this.root);
    this.lay();
  }

  build() {
    this.live = make("p", { class: "heard-only", "aria-live": "polite" });
    this.trouble = problemLine();
    this.latest = make("p", { class: "latest" });
    this.root = make("div", { class: "cfh-bench cfh-table cfh-house", "data-tab": VIEWS[0] });
    this.drawing = new Drawing({
      pickedPoint: (name) => this.pick(name),
      pickedPart: (name) => this.set({ part: name }),
      pickedWire: (name) => this.pickWire(name),
      chosen: (where) => this.set(where),
    });
    this.meter = new Meter({
      turned: (fn) => this.set({ fn, fresh: undefined }),
      wired: (clamped) => this.set({ clamped: clamped || undefined, fresh: undefined }),
      wound: (turns) => this.set({ turns, fresh: undefined }),
      due: (due) => this.set({ due }),
      read: () => this.read(),
    });
    this.acts = new Acts(this.root, {
      act: (act, problem) => this.act(act, problem),
      point: (name) => this.set({ point: name, part: name && partOf(name) }),
      part: (name) => this.set({ part: name }),
    });
    this.log = new HouseLog({ foresee: (zones) => this.act({ do: "predict", zones }, this.log.problem) });
    this.names = new Names({ changed: () => this.answered(), picked: (wire) => this.look(wire) });
    this.questions = new HouseQuestions({ changed: () => this.answered() });
    this.marks = new HouseMarks(this.root, { hand: () => this.handIn(), next: () => this.another() });
    this.title = make("h3", { tabindex: -1 });
    this.story = make("p", { class: "story" });
    this.clock = make("b", {});
    this.status = make("p", { class: "status", role: "status" });
    const keys = button("Keys", () => help(this.root, HOUSE_KEYS), { class: "quiet-button keys", "aria-keyshortcuts": "?" });
    const head = make(
      "header",
      { class: "head" },
      make("div", { class: "told" }, this.title, this.story),
      make("div", { class: "times" }, make("p", {}, "Clock ", this.clock), this.status, make("div", { class: "aids" }, keys)),
    );
    const refused = (words) => (this.trouble.textContent = words);
    const open = () => openFile((text) => this.begin({ sheet: text }), refused);
    this.opening = button("Open a sheet", open);
    const tools = make("div", { class: "tools" }, button("Save the sheet", () => saveSheet(this.sheet, this.order.task)), this.opening);
    this.tabs = VIEWS.map((name) => button(name, () => this.turn(name), { "data-tab": name }));
    const tabs = make("nav", { class: "tabs", "aria-label": "Panels of the house" }, ...this.tabs);
    const foot = make("div", { class: "foot" }, tabs);
    this.panels = {
      "measure": [this.meter.node, this.log.node, this.acts.node],
      "names": [this.names.node],
      "questions": [this.questions.node],
      "hand in": [this.marks.node],
    };
    this.side = make("div", { class: "side" }, this.meter.node, this.log.node, this.names.node, this.questions.node, this.marks.node);
    this.desk = make(
      "div",
      { class: "desk", hidden: true },
      head,
      this.drawing.node,
      foot,
      this.side,
      this.latest,
      tools,
      this.acts.node,
      this.drawing.words,
    );
    this.root.append(this.trouble, this.desk, this.live);
    this.root.addEventListener("keydown", (event) => this.keyed(event));
  }

  // Beginning and asking.

  async enter() {
    const kept = this.sheet ?? this.place?.kept() ?? null;
    const mine = kept !== null && (await this.begin({ sheet: kept }));
    if (!mine) await this.begin({ seed: this.order.seed ?? practiceSeed() }, this.trouble.textContent);
    if (document.activeElement === document.body) this.title.focus({ preventScroll: true });
  }

  /** Lay out the house that a request opens; a refusal is said and changes nothing. Resolves to whether it was done. */
  begin(request, notice = "") {
    return this.inTurn(async () => {
      const answer = await this.asked({ ask: "house", ...request });
      Object.assign(this, { number: answer.number, house: answer.house, probes: {}, due: "first", fn: "volts", turns: 1 });
      for (const each of ["clamped", "fresh", "point", "part", "wire"]) this[each] = undefined;
      this.trouble.textContent = notice && `What was kept here could not be gone on with, and a new house is begun. ${notice}`;
      this.title.textContent = this.house.title;
      this.story.textContent = this.house.story;
      this.desk.hidden = false;
      this.words = { points: answer.point_words, parts: answer.part_words };
      this.brief = { ...this.house, rooms: {} };
      this.acts.begin({ brief: this.brief, names: this.words });
      this.log.begin(this.house.zones);
      this.names.begin(this.house.roles, answer.conductors, answer.answers.conductors);
      this.questions.begin(this.house, answer.answers);
      this.latest.textContent = AS_FOUND;
      this.marks.marks.hidden = true;
      this.take(answer, { first: true });
      this.turn(VIEWS[0], { quietly: true });
      await this.keep();
      if (this.view.closed) await this.told();
      return true;
    }, this.trouble);
  }

  async asked(request) {
    const answer = await this.ask(request);
    if (answer?.error === undefined) return answer;
    if (request.number !== undefined && /^no open house\b/.test(answer.error) && this.sheet) {
      const again = await this.ask({ ask: "house", sheet: this.sheet });
      if (again.error !== undefined) throw new Error(again.error);
      this.number = again.number;
      const second = await this.ask({ ...request, number: this.number });
      if (second.error === undefined) return second;
      throw new Error(second.error);
    }
    throw new Error(answer.error);
  }

  /** Do one thing after another: what is asked while something runs waits its turn. */
  inTurn(doing, problem) {
    this.waiting = this.waiting.then(async () => {
      this.work(true);
      try {
        return await doing();
      } catch (error) {
        problem.textContent = sentence(error);
        return undefined;
      } finally {
        this.work(false);
      }
    });
    return this.waiting;
  }

  /** What Python says is seen of the house now. */
  take(answer, { first = false } = {}) {
    const { view, conductors } = answer;
    Object.assign(this, { view, conductors, words: { points: answer.point_words, parts: answer.part_words } });
    const still = (name) => [name, name && terminalOf(name)].find((each) => view.points.includes(each));
    for (const probe of ["first", "second"]) this.probes[probe] = still(this.probes[probe]);
    if (this.probes.first === this.probes.second) delete this.probes.second;
    this.point = still(this.point);
    if (first || answer.drawing !== this.drawing.text) this.drawing.show(answer.drawing, answer.drawing_words, this.brief, { first });
    this.render();
  }

  // Measuring.

  act(act, problem) {
    this.silence();
    return this.inTurn(async () => {
      const before = this.view.log.length;
      const answer = await this.asked({ ask: "house act", number: this.number, act });
      const line = answer.view.log.length > before ? answer.view.log.at(-1) : undefined;
      const read = line && ["measure", "clamp"].includes(line.act.do);
      this.fresh = read ? { ...line, note: answer.view.note } : undefined;
      this.take(answer);
      if (line) this.say(`${this.view.log.length}. ${houseLine(line, this.words)}`);
      await this.keep();
      return true;
    }, problem);
  }

  read() {
    const { fn, probes, clamped, turns } = this;
    const { problem } = this.meter;
    if (fn === "clamp") {
      if (clamped) return this.act({ do: "clamp", wire: clamped, turns }, problem);
      problem.textContent = "Choose the conductor first, in the list or on the drawing.";
    } else {
      const { first, second } = probes;
      if (first && second) return this.act({ do: "measure", function: fn, first, second }, problem);
      problem.textContent = "Place both probes first.";
    }
    return undefined;
  }

  get measuring() {
    return this.root.dataset.tab === "measure";
  }

  pick(name) {
    if (!this.measuring) this.turn("measure", { quietly: true });
    const held = ["first", "second"].find((probe) => this.probes[probe] === name);
    if (held) {
      delete this.probes[held];
      this.set({ due: held, point: name, part: partOf(name), fresh: undefined });
    } else this.put(this.due, name);
  }

  put(probe, name) {
    const other = probe === "first" ? "second" : "first";
    if (this.probes[other] === name) delete this.probes[other];
    this.probes[probe] = name;
    // A walk keeps one probe where it is: once both are placed, the second moves.
    this.set({ due: this.probes[other] ? "second" : other, point: name, part: partOf(name), fresh: undefined });
    this.say(this.meter.pair.textContent, { quietly: true });
  }

  pickWire(name) {
    if (this.measuring && this.fn === "clamp") {
      this.set({ clamped: name, fresh: undefined });
      return;
    }
    this.wire = name;
    this.turn("names", { quietly: true });
    this.names.show(name);
  }

  /** Mark a conductor; where only a part of the drawing is in sight, the conductor comes to its middle. */
  look(wire) {
    this.set({ wire });
    const [line] = this.drawing.wires?.get(wire) ?? [];
    if (!line || this.root.dataset.layout === "wide") return;
    const { x, y, width, height } = line.getBBox();
    const { frame, scale, scroller } = this.drawing;
    scroller.scrollTo({
      left: (x + width / 2 - frame.x) * scale - scroller.clientWidth / 2,
      top: (y + height / 2 - frame.y) * scale - scroller.clientHeight / 2,
    });
  }

  moveLead(point) {
    const terminal = terminalOf(point);
    return this.act({ do: this.view.lifted.includes(terminal) ? "land" : "lift", terminal }, this.acts.leads.problem);
  }

  // Answering and handing in.

  get answers() {
    return { conductors: this.names.answers, ...this.questions.answers };
  }

  answered() {
    this.silence();
    return this.inTurn(async () => {
      await this.asked({ ask: "house answers", number: this.number, answers: this.answers });
      this.render();
      await this.keep();
    }, this.trouble);
  }

  handIn() {
    this.silence();
    return this.inTurn(async () => {
      this.take(await this.asked({ ask: "house hand in", number: this.number, answers: this.answers }));
      await this.keep();
      await this.told();
    }, this.marks.problem);
  }

  /** The marks of a house whose answers are handed in. */
  async told() {
    const marks = this.order.graded ? undefined : await this.asked({ ask: "house marks", number: this.number });
    this.marks.show(marks);
    this.turn("hand in", { quietly: true });
    this.say(this.marks.heading.textContent);
    this.marks.heading.focus({ preventScroll: true });
  }

  async another() {
    await this.begin({ seed: practiceSeed() });
    this.title.focus();
  }

  async keep() {
    const { sheet } = await this.asked({ ask: "house sheet", number: this.number });
    this.sheet = sheet;
    this.place?.put(sheet);
    try {
      await this.order.save?.(sheet);
    } catch (error) {
      throw new Error(`It is done, but the sheet could not be saved. ${sentence(error)}`);
    }
  }

  // What only the screen knows.

  set(change) {
    Object.assign(this, change);
    this.silence();
    this.render();
  }

  say(words, { quietly = false } = {}) {
    this.live.textContent = "";
    this.live.textContent = words;
    if (!quietly) this.latest.textContent = words;
  }

  turn(name, { quietly = false } = {}) {
    this.root.dataset.tab = name;
    this.tabs.forEach((tab) => tab.setAttribute("aria-current", String(tab.dataset.tab === name)));
    this.render();
    const narrow = this.root.dataset.layout === "narrow";
    if (narrow && this.drawing.node.getBoundingClientRect().bottom > this.latest.getBoundingClientRect().top + 1) {
      this.latest.scrollIntoView(); // the panel begins below the drawing, however far the one before was scrolled
    }
    if (quietly) return;
    if (name === "measure") this.meter.reader.focus();
    else ({ "names": this.names, "questions": this.questions, "hand in": this.marks })[name].focus();
  }

  keyed(event) {
    const key = keyOf(event);
    if (!key || this.desk.hidden) return;
    const { point, part } = this.drawing.standing;
    const probe = { 1: "first", 2: "second" }[key];
    const keys = {
      d: () => this.drawing.focus(),
      m: () => this.turn("measure"),
      n: () => this.turn("names"),
      q: () => this.turn("questions"),
      h: () => this.turn("hand in"),
      f: () => {
        this.set({ fn: FUNCTIONS[(FUNCTIONS.indexOf(this.fn) + 1) % FUNCTIONS.length], fresh: undefined });
        this.say(this.meter.pair.textContent, { quietly: true });
      },
      r: () => this.read(),
      w: () => this.acts.wait(60),
      "?": () => help(this.root, HOUSE_KEYS),
    };
    if (probe && this.point) keys[key] = () => this.put(probe, this.point);
    if (point) keys.o = () => this.moveLead(point);
    if (point || part) {
      for (const arrow of ARROWS) keys[arrow] = () => this.drawing.walk(arrow);
      keys[" "] = () => (point ? this.pick(point) : this.set({ part }));
      keys.Enter = () => this.read();
    }
    if (!keys[key]) return;
    event.preventDefault();
    event.stopPropagation();
    keys[key]();
  }

  // Showing.

  /** What is not answered yet, in words. */
  get missing() {
    const left = [];
    const unnamed = this.conductors.length - Object.keys(this.names.answers).length;
    if (unnamed) left.push(`${unnamed} conductors without a name`);
    const open = this.questions.missing;
    if (open) left.push(`${open} ${open === 1 ? "question" : "questions"}`);
    if (this.view.predicted === null) left.push("what both zones will do");
    return left.join(", ");
  }

  render() {
    if (!this.view) return;
    const { view, brief, words, probes, due, fn, turns, fresh, point, part, wire, clamped, conductors, measuring } = this;
    const { closed } = view;
    this.root.classList.toggle("closed", closed);
    for (const [name, nodes] of Object.entries(this.panels)) for (const node of nodes) node.hidden = name !== this.root.dataset.tab;
    this.clock.textContent = timeWords(view.clock);
    const bench = { view, brief, names: words, probes, due, fn, turns, fresh, point, part, wire: clamped, closed };
    const clamping = measuring && fn === "clamp";
    this.drawing.update({ ...bench, clamping, marked: measuring ? undefined : wire });
    this.drawing.svg?.classList.add("wiring"); // conductors take a press whatever is open
    this.meter.update(bench);
    this.acts.update(bench);
    this.log.update({ view, names: words });
    this.names.update({ conductors, wire, closed });
    this.questions.update(closed);
    this.marks.update({ closed, missing: this.missing });
    this.opening.hidden = this.order.graded;
  }

  work(on) {
    clearTimeout(this.slow);
    this.root.setAttribute("aria-busy", String(on));
    this.status.textContent = "";
    if (on) this.slow = setTimeout(() => (this.status.textContent = "Working …"), 400);
  }

  silence() {
    const panels = [this.meter, this.log, this.questions, this.marks];
    for (const problem of [this.trouble, ...panels.map((panel) => panel.problem), ...this.acts.problems]) problem.textContent = "";
  }

  lay() {
    const layout = this.root.clientWidth >= ABREAST ? "wide" : "narrow";
    if (this.root.dataset.layout !== layout) this.root.dataset.layout = layout;
  }

  destroy() {
    clearTimeout(this.slow);
    this.sized.disconnect();
    this.drawing.destroy();
    this.root.remove();
  }
}
