// What a learner's browser keeps for the live parts: what returns and what was shown, as texts that only Python reads.

const PLACES = { returning: "call-for-heat/returning", mastery: "call-for-heat/mastery" };
const CHANGED = "call-for-heat-progress";
const MOST_ASIDE = 20;

let before = Promise.resolve();

/** The kept text, or null; also where the browser keeps nothing. */
export function kept(name) {
  try {
    return localStorage.getItem(PLACES[name]);
  } catch {
    return null;
  }
}

/** Keep what an answer brings. What Python could not read is copied to a place of its own first; nothing is lost. */
function keep(answer) {
  try {
    for (const name of answer.set_aside ?? []) putAside(PLACES[name]);
    for (const [name, place] of Object.entries(PLACES)) {
      if (answer[name] !== undefined) localStorage.setItem(place, answer[name]);
    }
  } catch {
    return "This browser keeps nothing here, so what you do is forgotten when you leave the page.";
  }
  document.dispatchEvent(new Event(CHANGED));
  const aside = answer.set_aside?.length;
  return aside ? "What was kept of your progress could not be read. It is put aside in this browser, and a new record begins." : "";
}

function putAside(place) {
  const text = localStorage.getItem(place);
  if (text === null) return;
  for (let number = 1; number <= MOST_ASIDE; number += 1) {
    const spare = `${place}/put aside ${number}`;
    const there = localStorage.getItem(spare);
    if (there === null || there === text) return localStorage.setItem(spare, text);
  }
  throw new Error("no place is left");
}

/** Ask with what is kept, and keep what comes back; one after the other, in every window of this browser. */
export function withKept(ask, request) {
  const turn = async () => {
    const answer = await ask({ ...request, returning: kept("returning"), mastery: kept("mastery"), now: Date.now() / 1000 });
    if (answer.error) throw new Error(answer.error);
    return { ...answer, notice: keep(answer) };
  };
  if (navigator.locks) return navigator.locks.request("call-for-heat kept", turn);
  const mine = before.then(turn, turn);
  before = mine.catch(() => {});
  return mine;
}

export function whenKeptChanges(listen) {
  document.addEventListener(CHANGED, listen);
}

/** The same `ask`, but what the marks of a job show of the objectives is noted as progress. */
export function noting(ask) {
  const jobs = new Map();
  return async (request, told) => {
    const answer = await ask(request, told);
    if (answer.job?.id && answer.number !== undefined) jobs.set(answer.number, answer.job.id);
    if (request.ask === "marks" && answer.objectives?.length && jobs.has(request.number)) {
      const objectives = answer.objectives.map(({ number }) => number);
      const gate = answer.gates.length > 0;
      const note = { ask: "progress note", objectives, seed: jobs.get(request.number), gate };
      await withKept(ask, note).catch(() => {}); // marks are shown whatever becomes of the note
    }
    return answer;
  };
}
