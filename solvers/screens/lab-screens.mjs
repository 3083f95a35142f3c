// The right screen for a lab: the bench for a sealed job, the table for a wire-up, the sheet of questions for a set.

import mount from "./bench.mjs";
import mountQuestions from "./question-set.mjs";
import mountTable from "./wiring.mjs";

const SCREENS = { "job": mount, "wire-up": mountTable, "questions": mountQuestions };

/** What Python says of a lab: of its file alone, or of a sheet that is to be gone on with. Throws what it refuses. */
export async function begunLab(ask, file, sheet) {
  const answer = await ask(sheet ? { ask: "lab resume", file, sheet } : { ask: "lab", file });
  if (answer.error !== undefined) throw new Error(answer.error);
  return answer;
}

/**
 * Put the screen of a lab into an element. `lab` has file, begun (what Python says of it), sheet (text of one to go on with, or
 * none), handing (how it is handed in, in a sentence), save(text), called with the sheet after every change; and in a page shelf
 * and kept (where a bench keeps ticks and drafts too) and give(text), which saves the sheet as a file.
 */
export function mountLab(element, ask, lab) {
  const { kind, job, task } = lab.begun;
  return SCREENS[kind](element, ask, { lab, chapter: job?.chapter, level: job?.level, task: task?.id });
}
