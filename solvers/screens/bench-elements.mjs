// What every panel of the bench is made of: elements with plain text in them, a dialog that asks, and words for acts.

/** An element. `text` is its text, `on` its listeners, `class` its class; everything else is an attribute. */
export function make(tag, { text, on = {}, ...attributes } = {}, ...children) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value !== undefined && value !== null && value !== false) made.setAttribute(name, value === true ? "" : value);
  }
  for (const [name, listen] of Object.entries(on)) made.addEventListener(name, listen);
  if (text !== undefined) made.textContent = text;
  made.append(...children);
  return made;
}

export function button(text, press, attributes = {}) {
  return make("button", { type: "button", text, on: { click: press }, ...attributes });
}

/** A place for one sentence about what went wrong, beside the control it belongs to. */
export function problemLine() {
  return make("p", { class: "problem", role: "alert" });
}

/** Fill a select with [value, words] pairs, or groups {label, of: pairs}; the choice is kept where it still exists. */
export function fill(select, choices, empty) {
  const before = select.value;
  const option = ([value, text]) => make("option", { value, text });
  const made = choices.map((each) => (each.of ? make("optgroup", { label: each.label }, ...each.of.map(option)) : option(each)));
  select.replaceChildren(...(empty === undefined ? [] : [option(["", empty])]), ...made);
  select.value = before;
  if (select.selectedIndex < 0) select.selectedIndex = 0;
}

/** Ask for a yes in a dialog of our own; resolves to true or false. Focus goes back where it was. */
export function agreed(root, question, detail, yes, no = "Not yet") {
  return new Promise((resolve) => {
    const accept = button(yes, () => dialog.close("yes"), { class: "primary" });
    const dialog = make(
      "dialog",
      { class: "ask", "aria-label": question },
      make("p", { class: "question", text: question }),
      make("p", { text: detail }),
      make("div", { class: "answers" }, accept, button(no, () => dialog.close("no"))),
    );
    dialog.addEventListener("close", () => {
      dialog.remove();
      resolve(dialog.returnValue === "yes");
    });
    root.append(dialog);
    dialog.showModal();
    accept.focus();
  });
}

/** 725 becomes "12 min 05 s". */
export function timeWords(seconds) {
  const whole = Math.round(seconds);
  const rest = whole % 60;
  if (whole < 60) return `${whole} s`;
  const minutes = Math.floor(whole / 60);
  return `${minutes} min ${String(rest).padStart(2, "0")} s`;
}

/** The terminal that a point is, or whose lifted lead it is: "zone2.stat.W" for "zone2.stat.W lead". */
export const terminalOf = (point) => point.replace(/ lead$/, "");

/** The part that a point belongs to: "zone2.stat" for "zone2.stat.W". */
export const partOf = (point) => terminalOf(point).replace(/\.[^.]*$/, "");

/** "zone2.W leg" becomes "zone 2 W leg". */
export const wireWords = (name) => name.replace(/^zone(\d+)\./, "zone $1 ");

const UNITS = { "anticipator": "A", "least time off": "s", "cycle rate": "an hour" };

/** The value of a setting as a technician reads it. */
export function valueWords(what, value) {
  if (typeof value === "boolean") return value ? "on" : "off";
  if (value === "as designed") return "as drawn";
  return typeof value === "number" && UNITS[what] ? `${value} ${UNITS[what]}` : String(value);
}

/** "zone1 stat cable" becomes "zone 1 stat cable". */
export const cableWords = (name) => name.replace(/^zone(?=\d)/, "zone ");

/** A refusal as a sentence. */
export function sentence(error) {
  const words = String(error?.message ?? error).trim() || "something unexpected happened";
  const begun = words[0].toUpperCase() + words.slice(1);
  return /[.!?]$/.test(begun) ? begun : `${begun}.`;
}

/** What was done and where, as a line of the log says it. */
export function actWords(act, { points, parts, wires = {}, cables = {}, finds = {} }) {
  const point = (name) => points[name] ?? name;
  const part = (name) => parts[name] ?? name;
  const wire = (name) => wires[name]?.words ?? wireWords(name);
  const words = {
    switch: () => `switch ${act.on ? "on" : "off"}, ${part(act.part)}`,
    call: () => `${act.on ? "call" : "stop call"}, ${part(act.stat)}`,
    measure: () => `${act.function}, ${point(act.first)} to ${point(act.second)}`,
    clamp: () => `clamp, ${cables[act.wire] ?? wire(act.wire)}${act.turns === 1 ? "" : `, ${act.turns} turns`}`,
    lift: () => `lift the lead, ${point(act.terminal)}`,
    land: () => `land the lead, ${point(act.terminal)}`,
    opener: () => `opener ${act.engaged ? "engaged" : "to auto"}, ${part(act.valve)}`,
    wait: () => `wait ${timeWords(act.seconds)}`.replace(" 00 s", ""),
    look: () => `look, ${part(act.part)}`,
    listen: () => `listen, ${part(act.part)}`,
    feel: () => `feel, ${part(act.part)}`,
    fit: () => `fit a new one, ${part(act.part)}`,
    nudge: () => `nudge, ${part(act.part)}`,
    "head off": () => `head off and on again, ${part(act.valve)}`,
    "line reading": () => `${act.what}, ${part(act.part)}`,
    jumper: () => `jumper ${act.on ? "on" : "off"}, ${point(act.first)} to ${point(act.second)}`,
    reset: () => `push the button in, ${part(act.part)}`,
    "meter fuse": () => "new fuse in the meter",
    covers: () => "covers on",
    "fit size": () => `fit size ${act.size}, ${part(act.part)}`,
    "new cable": () => `new cable, ${cables[act.cable] ?? act.cable}`,
    "run wire": () => `run it anew, ${wire(act.wire)}`,
    "move wire": () => `move ${wire(act.wire)} to ${point(act.terminal)}`,
    exchange: () => `exchange leads, ${point(act.first)} and ${point(act.second)}`,
    remake: () => `remake, ${point(act.terminal)}`,
    "take off": () => `take off, ${finds[act.what] ?? act.what}`,
    set: () => `set ${act.what} to ${valueWords(act.what, act.value)}, ${part(act.part)}`,
    cells: () => `new cells, ${part(act.stat)}`,
    "seat head": () => `seat the head, ${part(act.valve)}`,
    "free stem": () => `free the stem, ${part(act.valve)}`,
    bleed: () => `bleed, ${part(act.loop)}`,
    "service valve": () => `service valve ${act.open ? "open" : "shut"}, ${part(act.loop)}`,
    stop: () => "stop and make safe",
    refer: () => `hand over to ${act.to}`,
  };
  return words[act.do]?.() ?? act.do;
}

/** A display text in the parts a meter shows: what stands large, its unit, and what stands quietly beside it. */
export function displayed(text) {
  const beeper = /^(beep|silent), (.*)$/.exec(text);
  if (beeper) return { large: beeper[1], unit: "", quiet: beeper[2] };
  if (!/^(OL|-?[\d.]+|\S+$)/.test(text)) return { large: "– –", unit: "", quiet: text };
  const [, large, unit, quiet] = /^(OL|-?[\d.]+|\S+?)(?: (V DC|V|mV|A|mA|ohm|kohm|Mohm))?(?:,? (.*))?$/.exec(text) ?? [text, text];
  return { large, unit: unit ?? "", quiet: quiet ?? "" };
}
