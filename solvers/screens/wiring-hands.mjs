// What hands do with the wires on the table. Every change is one step of the history, and Python may refuse it.

import { partOf, sentence } from "./bench-elements.mjs";
import { History, atSplice, joined, renamedSplice, rewritten, spliced, wiringText, without, withoutSplice } from "./wiring-edits.mjs";

/** The hands of one table: they ask and show through it. */
export class Hands {
  constructor(table) {
    this.table = table;
    this.history = new History();
  }

  /** Lay another wiring and say so; a refusal is said in `problem` and changes nothing. Resolves to whether it was done. */
  change(made, words, problem = this.table.join.problem) {
    this.table.silence();
    return this.table.inTurn(async () => {
      if (this.table.view.powered) {
        problem.textContent = "The power is on. Switch it off before you move a wire.";
        return false;
      }
      this.history.put(made(this.history.now));
      try {
        await this.laid();
      } catch (error) {
        this.history.refuse();
        this.table.wires.key = undefined; // fields show again what still stands
        this.table.render();
        throw error;
      }
      this.table.say(words());
      return true;
    }, problem);
  }

  async laid() {
    this.table.take(await this.table.asked({ ask: "table wiring", number: this.table.number, wiring: wiringText(this.history.now) }));
    this.table.handIn.outdated();
    await this.keep();
  }

  async keep() {
    const text = wiringText(this.history.now);
    try {
      await this.table.order.save?.(text);
      this.table.trouble.textContent = "";
    } catch (error) {
      this.table.trouble.textContent = `The wiring could not be saved. ${sentence(error)}`;
    }
    await this.remember();
  }

  /** Keep what belongs to the wiring beside it: answers, and what the trials have cost. */
  async remember() {
    const { kept, order, place, labPart } = this.table;
    if (labPart) return labPart.keep(); // the sheet holds all of it
    place?.put({ wiring: wiringText(this.history.now), ...kept });
    try {
      await order.note?.(kept);
    } catch (error) {
      this.table.trouble.textContent = `Your answers could not be saved. ${sentence(error)}`;
    }
  }

  pick(name) {
    const { ends, end } = this.table;
    if (!this.table.terminals.some((each) => each.name === name)) {
      this.table.join.problem.textContent = "No conductor goes there: it is a place for a probe.";
      return;
    }
    const held = ["first", "second"].find((each) => ends[each] === name);
    if (held) {
      delete ends[held];
      this.table.set({ end: held, point: name });
      this.table.say(`${this.table.names.points[name]} put back.`, { quietly: true });
      return;
    }
    ends[end] = name;
    this.table.set({ end: ends.first ? "second" : "first", point: name, part: partOf(name) });
    this.table.say(this.pairWords(), { quietly: true });
  }

  pairWords() {
    const { first, second } = this.table.ends;
    const words = (name) => this.table.names.points[name];
    if (first && second) return `From ${words(first)} to ${words(second)}. Join?`;
    if (first) return `From ${words(first)}. Choose the other end.`;
    return second ? `To ${words(second)}. Choose the first end.` : "Choose two terminals, on the drawing or in the list.";
  }

  /** With the keyboard: the first press holds the terminal, the next one joins it to where one stands by then. */
  joinFrom(name) {
    if (this.table.ends.first && this.table.ends.second) return this.joinEnds();
    if (!name || !this.table.ends.first) return this.pick(name ?? this.table.join.at);
    if (this.table.ends.first === name) return this.pick(name);
    this.table.ends.second = name;
    return this.joinEnds();
  }

  async joinEnds() {
    const { first: a, second: b } = this.table.ends;
    if (!a || !b) {
      this.table.join.problem.textContent = "Choose both ends first: in the list, or on the drawing.";
      return;
    }
    const conductor = this.table.join.conductor();
    if (!conductor) return;
    const told = () => `Joined ${this.table.names.points[a]} to ${this.table.names.points[b]}. ${this.countWords()}`;
    if (!(await this.change((wiring) => joined(wiring, { a, b, ...conductor }), told))) return;
    Object.assign(this.table, { ends: {}, end: "first", wire: this.history.now.wires.at(-1).name });
    this.table.join.label.value = "";
    this.table.render();
  }

  countWords() {
    const { wires } = this.history.now;
    return `${wires.length} ${wires.length === 1 ? "wire" : "wires"} on the table.`;
  }

  addSplice(ways) {
    const told = () => `${this.history.now.splices.at(-1).name} with ${ways} ways lies on the table.`;
    return this.change((wiring) => spliced(wiring, ways), told);
  }

  rewrite(wire, change) {
    if (change.name !== undefined) {
      if (this.refusedName(change.name, wire)) return undefined;
      if (this.table.wire === wire) this.table.wire = change.name;
    }
    const told = () => (change.name === undefined ? `${wire} is labelled ${change.label || "with nothing"}.` : `${wire} is now ${change.name}.`);
    return this.change((wiring) => rewritten(wiring, wire, change), told, this.table.wires.problem);
  }

  renameSplice(splice, name) {
    if (this.refusedName(name, splice)) return undefined;
    return this.change((wiring) => renamedSplice(wiring, splice, name), () => `${splice} is now ${name}.`, this.table.wires.problem);
  }

  refusedName(name, before) {
    const taken = [...this.history.now.wires, ...this.history.now.splices, ...this.table.brief.parts].some((each) => each.name === name);
    if (name && !name.includes(".") && (!taken || name === before)) return false;
    this.table.wires.key = undefined; // the field shows the old name again
    this.table.render();
    this.table.wires.problem.textContent = taken ? `${name} is taken already.` : "Give it a name without a full stop.";
    return true;
  }

  takeOff(wire) {
    const told = () => `${wire} is taken off. ${this.countWords()}`;
    return this.change((wiring) => without(wiring, wire), told, this.table.wires.problem);
  }

  takeAway(splice) {
    const held = atSplice(this.history.now, splice);
    if (held.length) {
      this.table.wires.problem.textContent = `${splice} still holds ${held.map(({ name }) => name).join(", ")}: take that off first.`;
      return undefined;
    }
    return this.change((wiring) => withoutSplice(wiring, splice), () => `${splice} is taken away.`, this.table.wires.problem);
  }

  undo() {
    return this.stepped("undo", "Nothing to undo.", "One step back.");
  }

  redo() {
    return this.stepped("redo", "Nothing to do again.", "One step forward again.");
  }

  stepped(way, none, words) {
    this.table.silence();
    return this.table.inTurn(async () => {
      if (this.table.view.powered) throw new Error("The power is on. Switch it off before you move a wire");
      if (!this.history[way]()) return this.table.say(none, { quietly: true });
      await this.laid();
      return this.table.say(`${words} ${this.countWords()}`);
    }, this.table.join.problem);
  }

  opened(text) {
    const wired = () => JSON.parse(text);
    const words = () => `The wiring is laid out. ${this.countWords()}`;
    return this.change(() => {
      try {
        return wired();
      } catch {
        throw new Error("The file is damaged: it is not whole JSON");
      }
    }, words, this.table.trouble);
  }
}
