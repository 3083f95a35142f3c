// The learner's own progress: every objective and what it is by now; kept in this browser, taken out and in as a file.

import { button, make, problemLine, sentence } from "./bench-elements.mjs";
import { kept, whenKeptChanges, withKept } from "./kept.mjs";

const MARKS = { "not tried": "\u25CB", tried: "\u25D4", "shown once": "\u25D1", "shown twice": "\u25D5", counts: "\u25CF" };
const FILE = "call-for-heat-progress.json";

const day = (seconds) => new Date(seconds * 1000).toLocaleDateString("en", { day: "numeric", month: "short", year: "numeric" });

/** Put the list of objectives in the place of what the element holds. */
export default async function mount(element, ask) {
  const summary = make("p", { class: "title", role: "status" });
  const list = make("ul", { class: "objectives", tabindex: "0", "aria-label": "objectives" });
  const problem = problemLine();
  const notice = make("p", { class: "notice", role: "status" });
  const show = (answer) => {
    summary.textContent = `${answer.counting} of ${answer.objectives.length} objectives count`;
    list.replaceChildren(
      ...answer.objectives.map(({ number, words, state, last }) =>
        make(
          "li",
          { "data-number": number, "data-state": state },
          make("b", { text: number }),
          make("span", { text: words }),
          make("span", { class: "state" }, make("span", { "aria-hidden": "true", text: MARKS[state] }), ` ${state}`, ...(last === null ? [] : [make("span", { class: "last", text: day(last) })])),
        ),
      ),
    );
    if (answer.notice) notice.textContent = answer.notice;
  };
  const again = async () => {
    const answer = await ask({ ask: "progress", mastery: kept("mastery") });
    if (!answer.error) show(answer);
  };
  const take = async (file) => {
    try {
      const text = await file.text();
      show(await withKept(ask, { ask: "progress import", text }));
      problem.textContent = "";
      notice.textContent = "The file is taken in beside what was here.";
    } catch (error) {
      problem.textContent = sentence(error);
    }
  };
  const give = () => {
    const text = kept("mastery");
    if (text === null) return (notice.textContent = "There is nothing to keep yet.");
    const link = make("a", { download: FILE, href: URL.createObjectURL(new Blob([text], { type: "application/json" })) });
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 1000);
  };
  const picked = make("input", { type: "file", accept: ".json,application/json", class: "heard-only", tabindex: "-1", "aria-hidden": "true" });
  picked.addEventListener("change", () => {
    if (picked.files[0]) take(picked.files[0]);
    picked.value = "";
  });
  show(await withKept(ask, { ask: "progress" }));
  whenKeptChanges(again);
  element.replaceChildren(
    make(
      "div",
      { class: "live-part", role: "group", "aria-label": "Your progress" },
      summary,
      make("p", { class: "quiet", text: "An objective counts once you have shown it twice, on different jobs or questions, a day or more apart, and safely. It is kept in this browser only." }),
      list,
      problem,
      make("div", { class: "acts" }, button("Save to a file", give), button("Take in a file", () => picked.click()), picked),
      notice,
    ),
  );
}
