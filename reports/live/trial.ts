import { InputError } from "../../sim/errors.js";
import { settingPlace, writtenWith } from "../../sim/tune/write.js";
import { duration } from "../../sim/units/quantities.js";
import { dataOf, isTrial, problemsOf } from "./computed.js";
import { button, element } from "./dom.js";
import { backToPlan, edit, type State } from "./state.js";
import type { Store } from "./store.js";

/** What is being tried out, and what can be done with it: go back, copy it, write it into the text. */
export function trial(store: Store): HTMLElement {
  const said = element("p", { role: "status" });
  const lines = element("textarea", { readonly: "", rows: "6", "aria-label": "Tried settings", class: "code", hidden: "" });
  const back = button("Back to plan", () => store.update(backToPlan));
  const copy = button("Copy settings", () => {
    lines.value = settingLines(store.state);
    lines.rows = lines.value.split("\n").length;
    lines.hidden = false;
    void copied(lines).then((done) => (said.textContent = done ? "Copied: lines for the scenario file, where its " +
      "boards stand." : "Copy the lines below."));
  });
  const write = button("Write into the text", () => {
    try {
      store.update(written);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      said.textContent = error.message;
    }
  });
  const bar = element("div", { class: "trial" }, said, element("div", { class: "controls" }, back, copy, write), lines);
  store.watch(
    (state) => state,
    (state) => {
      const tried = isTrial(state);
      bar.classList.toggle("on", tried);
      document.documentElement.classList.toggle("trying", tried);
      back.disabled = !tried;
      copy.disabled = write.disabled = state.settings.size === 0;
    },
  );
  const words = (): void => {
    said.textContent = inWords(store.state);
    lines.hidden = true;
  };
  store.watch(({ settings }) => settings, words);
  store.watch(({ text }) => text, words);
  return bar;
}

function inWords(state: State): string {
  if (!isTrial(state)) return "What you see is the plan.";
  const problems = state.settings.size > 0 ? problemsOf(state) : [];
  if (problems.length > 0) return problems.join(" ");
  const parts = [...state.settings].map(([id, seconds]) => `${id} ${duration.format(seconds)}`);
  if (state.text !== state.planned[0].text) parts.unshift("another text");
  return `Tried out, not planned: ${parts.join(", ")}.`;
}

/** The tried settings as the lines of a scenario file, each where it stands there. */
function settingLines(state: State): string {
  const data = dataOf(state);
  const boards = [...state.settings].map(([id, seconds]) => {
    const { path, key } = settingPlace(data, id);
    const indented = (depth: number, line: string): string => "  ".repeat(depth) + line;
    const keys = path.slice(1).map((name, depth) => indented(depth + 1, `${name}:`));
    const depth = path.length;
    const setting = key === "dial" ? [`setTo: ${duration.format(seconds)}`, "reading: 1 s"] : [`${key}: ${duration.format(seconds)}`];
    return [...keys, ...setting.map((line) => indented(depth, line))].join("\n");
  });
  return ["boards:", ...boards].join("\n");
}

/** The text has the tried settings; nothing is tried on top of it any more. */
function written(state: State): State {
  const data = dataOf(state);
  const settings = [...state.settings].map(([id, stepSeconds]) => ({ id, stepSeconds }));
  const text = writtenWith(state.text, settings, (id) => settingPlace(data, id), state.planned[0].file);
  return { ...edit(text)(state), settings: new Map() };
}

async function copied(from: HTMLTextAreaElement): Promise<boolean> {
  from.select();
  try {
    await navigator.clipboard.writeText(from.value);
    return true;
  } catch {
    // a browser that keeps the clipboard to itself leaves the lines selected
    return false;
  }
}
