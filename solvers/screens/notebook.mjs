// The bench in a notebook: asks the widget's Python by messages.

import mount from "./bench.mjs";
import { rendering } from "./notebook-asking.mjs";

const begun = (el, ask, model) => mount(el, ask, { chapter: model.get("chapter"), level: model.get("level") });

const render = rendering(begun);

export default { render };
