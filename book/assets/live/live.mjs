// Finds what can be live on a page, benches, wiring tables, explorers and the like, and starts one when its button is
// pressed; nothing is fetched before.
// The element's own content stays until what it holds the place of replaces it.

// What can be live on a page, by its class: how it is called, and which of the course's files it is made of. What it
// tells of the learner's progress is noted where `notes` says so.
const KINDS = {
  bench: { name: "bench", script: "bench", styles: ["style"], notes: true },
  "wiring-table:not(.as-found, .graded-lab)": { name: "table", script: "table", styles: ["style", "table_style"] },
  "as-found": { name: "house", script: "house", styles: ["style", "table_style", "house_style"] },
  explorer: { name: "sliders", script: "explorer", styles: [] },
  "section-clock": { name: "clock", script: "section_clock", styles: [] },
  "self-check": { name: "questions", script: "self_check", styles: [] },
  "graded-lab": { name: "lab", script: "lab", styles: ["style", "table_style", "lab_style"] },
  "progress-list": { name: "list", script: "progress", styles: [] },
};

const NARROW = 560; // px of screen below which drawings are one column of parts

let connecting;
const listeners = new Set();

class Stopped extends Error {}

const lastLine = (trace) => trace.trim().split("\n").at(-1);

function connected() {
  return new Promise((resolve, reject) => {
    const waiting = new Map();
    let count = 0;
    const worker = new Worker(new URL("./worker.mjs", import.meta.url), { type: "module" });
    const fail = (sentence) => {
      worker.terminate();
      reject(new Stopped(sentence));
      for (const { reject: refuse } of waiting.values()) refuse(new Stopped(sentence));
      connecting = undefined; // the button may be pressed again
    };
    const ask = (request, told = () => {}) =>
      new Promise((answer, refuse) => {
        count += 1;
        waiting.set(count, { answer, reject: refuse, told });
        worker.postMessage({ id: count, request: JSON.stringify({ ...request, narrow: innerWidth < NARROW }) });
      });
    worker.onerror = (event) => {
      event.preventDefault();
      fail("the course's Python did not start; it needs a browser from 2023 or later");
    };
    worker.onmessage = ({ data }) => {
      if (data.progress && data.id !== undefined) waiting.get(data.id)?.told(data.progress);
      else if (data.progress) for (const listen of listeners) listen(data.progress);
      else if (data.ready) {
        resolve(ask);
        keepRuntime();
      } else if (data.failed) fail(lastLine(data.failed));
      else {
        const { answer, reject: refuse } = waiting.get(data.id);
        waiting.delete(data.id);
        if (data.error === undefined) answer(JSON.parse(data.response));
        else refuse(new Stopped(lastLine(data.error), { cause: data.error }));
      }
    };
  });
}

function keepRuntime() {
  navigator.serviceWorker?.ready.then(({ active }) => active.postMessage("keep the runtime"));
}

/**
 * Start the course's Python once a page; resolve to `ask`, which takes a request and resolves to its response. What takes
 * long tells a second argument of `ask`, if there is one, {done, total} on the way.
 */
export function connect() {
  connecting ??= connected();
  return connecting;
}

async function course() {
  const answer = await fetch(new URL("./course.json", import.meta.url), { cache: "no-cache" }).catch(() => undefined);
  if (!answer?.ok) throw new Stopped("the course's files could not be fetched");
  return answer.json();
}

function styled(address) {
  const href = new URL(address, import.meta.url).href;
  if (document.querySelector(`link[href="${href}"]`)) return Promise.resolve();
  const link = Object.assign(document.createElement("link"), { rel: "stylesheet", href });
  document.head.append(link);
  return new Promise((resolve, reject) => {
    link.onload = resolve;
    link.onerror = () => {
      link.remove();
      reject(new Stopped("its style could not be fetched"));
    };
  });
}

function imported(file) {
  return import(new URL(file, import.meta.url).href).catch((cause) => {
    throw new Stopped("its script could not be fetched", { cause });
  });
}

async function mounted(element, { script, styles, notes }) {
  const python = connect(); // takes longest, so it begins first
  python.catch(() => {}); // reported where it is awaited
  const files = await course();
  const noting = notes ? imported(files.kept).then((kept) => kept.noting) : (ask) => ask;
  const wanted = [python, imported(files[script]), noting, ...styles.map((style) => styled(files[style]))];
  const [ask, { default: mount }, watched] = await Promise.all(wanted);
  const { state, ...options } = element.dataset;
  await mount(element, watched(ask), { ...options, graded: false });
}

function offered(element, kind) {
  const box = document.createElement("div");
  box.className = "bench-start";
  const button = Object.assign(document.createElement("button"), { type: "button", textContent: `Start the ${kind.name}` });
  const note = document.createElement("p");
  note.setAttribute("role", "status");
  note.textContent = "The first start takes longest: your browser fetches Python and keeps it.";
  box.append(button, note);
  element.prepend(box);
  element.dataset.state = "waiting";
  const listen = (text) => (note.textContent = text);
  button.onclick = async () => {
    button.disabled = true;
    note.setAttribute("role", "status");
    listen("Starting.");
    element.dataset.state = "starting";
    element.setAttribute("aria-busy", "true");
    listeners.add(listen);
    try {
      await mounted(element, kind);
      box.remove();
      element.dataset.state = "running";
    } catch (error) {
      const reason = error instanceof Stopped ? error.message : `something unexpected happened (${error?.message ?? error})`;
      element.dataset.state = "failed";
      note.setAttribute("role", "alert");
      note.textContent = `The ${kind.name} could not start: ${reason}. Check that you are online and press the button again.`;
      button.disabled = false;
      if (!box.isConnected) element.prepend(box);
    } finally {
      listeners.delete(listen);
      element.removeAttribute("aria-busy");
    }
  };
}

for (const [marked, kind] of Object.entries(KINDS)) {
  for (const element of document.querySelectorAll(`.${marked}`)) offered(element, kind);
}

// The pages are kept for use without a network as soon as one is read, the runtime once a bench has started.
navigator.serviceWorker?.register(new URL("../../offline.js", import.meta.url)).catch(() => {});
