import { verdictsOf } from "../verdicts.js";
import { isTrial, shownOf } from "./computed.js";
import { element } from "./dom.js";
import type { MakePanel } from "./store.js";

/** The sentences with which the report begins, for what is shown now; those that differ from the plan are marked. */
export const verdicts: MakePanel = (root, store) => {
  const planned = [...root.querySelectorAll("a")].map(({ textContent }) => textContent);
  const list = element("ol");
  const note = element("p", { class: "trial" });
  root.replaceChildren(list, note);
  store.watch(shownOf, (shown) => {
    if (shown === null) return;
    list.replaceChildren(
      ...verdictsOf(shown).map(({ section, tone, sentence }) => {
        const changed = isTrial(store.state) && !planned.includes(sentence);
        return element("li", { class: `${tone}${changed ? " changed" : ""}` }, element("a", { href: `#${section}` }, sentence));
      }),
    );
  });
  store.watch(isTrial, (trial) => (note.textContent = trial ? "This is what is being tried out, not the plan." : ""));
};
