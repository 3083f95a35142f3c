// How a screen in a notebook asks its widget's Python, and keeps its keys from the notebook.

const PATIENCE = 60_000; // ms until a silent kernel is reported
const NARROW = 560; // px of screen below which drawings are one column of parts

/**
 * A widget's Python, asked by messages: `ask(request, told)` resolves to its answer, `stop()` hears no more. What takes
 * long tells {done, total} on the way, and a kernel that tells is not silent.
 */
export function asking(model) {
  const waiting = new Map();
  const heard = ({ id, response, progress }) => {
    if (progress) {
      waiting.get(id)?.told(progress);
      return;
    }
    waiting.get(id)?.answered(response);
    waiting.delete(id);
  };
  model.on("msg:custom", heard);
  const ask = (request, told = () => {}) =>
    new Promise((resolve, reject) => {
      const id = crypto.getRandomValues(new Uint32Array(2)).join("-");
      const silent = () => {
        waiting.delete(id);
        reject(new Error("The notebook's Python does not answer. Is the kernel running? Run the cell again"));
      };
      let late = setTimeout(silent, PATIENCE);
      waiting.set(id, {
        answered: (response) => {
          clearTimeout(late);
          resolve(response);
        },
        told: (progress) => {
          clearTimeout(late);
          late = setTimeout(silent, PATIENCE);
          told(progress);
        },
      });
      model.send({ id, request: { ...request, narrow: globalThis.innerWidth < NARROW } });
    });
  return { ask, stop: () => model.off("msg:custom", heard) };
}

/** An answer that is no refusal. */
export async function answered(ask, request) {
  const answer = await ask(request);
  if (answer.error !== undefined) throw new Error(answer.error);
  return answer;
}

/** Leave the keys in an element to the screen in it; returns what undoes that. */
export function ownKeys(el) {
  el.setAttribute("data-lm-suppress-shortcuts", "true"); // the notebook leaves the screen's keys to the screen
  // JupyterLab takes the line break out of every field in a cell, and with it the enter key of a form.
  const ours = (event) => event.inputType === "insertLineBreak" && event.stopPropagation();
  el.addEventListener("beforeinput", ours, { capture: true });
  return () => el.removeEventListener("beforeinput", ours, { capture: true });
}

/** What draws a widget: `begun(el, ask, model)` resolves to its screen, which goes when the cell's output does. */
export function rendering(begun) {
  return async ({ model, el }) => {
    const freed = ownKeys(el);
    const { ask, stop } = asking(model);
    const handle = begun(el, ask, model);
    return async () => {
      freed();
      stop();
      (await handle).destroy();
    };
  };
}
