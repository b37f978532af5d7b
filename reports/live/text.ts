import { photoOf, problemsOf, shownOf } from "./computed.js";
import { button, element } from "./dom.js";
import { download, inOrder, textOf } from "./files.js";
import { knownKeys } from "./knownkeys.js";
import { isPicture, photoFromFile } from "./photo.js";
import { addPhotos, edit, open, saved, type State } from "./state.js";
import type { MakePanel } from "./store.js";

/** How long after the last letter the page computes again, milliseconds. */
const PAUSE = 200;

/** The text of the scenario: to edit, to open, to save. */
export const text: MakePanel = (root, store) => {
  const name = element("code");
  const area = element("textarea", { "aria-label": "Scenario", class: "code", rows: "24", spellcheck: "false", autocapitalize: "off", autocomplete: "off", wrap: "off" });
  const numbers = element("pre", { class: "code numbers", "aria-hidden": "true" });
  const known = element("p", { class: "known" });
  const problems = element("ul", { "aria-label": "Problems", class: "problems", hidden: "" });
  const said = element("p", { role: "status" });
  const picker = element("input", { type: "file", accept: ".yaml,.yml,.json,.jpg,.jpeg,.png,.svg", multiple: "", hidden: "" });
  const save = button("Save as a file", () => {
    flush();
    const { file } = store.state.planned[0];
    download({ file, text: store.state.text });
    store.update(saved(file));
    said.textContent = `Saved as ${file}: this is the plan now.`;
  });
  const undone = button("Bring my edits back", () => lost !== null && store.update(edit(lost)));
  undone.hidden = true;
  root.replaceChildren(
    element("h2", { id: "text" }, "The scenario text"),
    element("p", {}, "This is the file ", name, ". Change it, and the page computes again. Files can be dropped anywhere on the page; " +
      "a variant together with the file that it is based on, a scenario together with its picture."),
    element("div", { class: "controls" }, button("Open a file", () => picker.click()), picker, save, undone),
    said,
    problems,
    element("div", { class: "editor" }, numbers, area),
    known,
  );

  // ---- typing ----
  let pause: ReturnType<typeof setTimeout> | undefined;
  let lost: string | null = null;
  const flush = (): void => {
    clearTimeout(pause);
    store.update(edit(area.value));
  };
  area.addEventListener("input", () => {
    clearTimeout(pause);
    pause = setTimeout(flush, PAUSE);
  });
  area.addEventListener("change", flush);
  area.addEventListener("scroll", () => (numbers.scrollTop = area.scrollTop));
  const showKnown = (): void => {
    // what vanished as the cursor leaves would move the button below that is being pressed
    if (document.activeElement !== area) return;
    const keys = knownKeys(area.value, area.selectionStart);
    known.textContent = keys.length === 0 ? "" : `Known keys here: ${keys.join(", ")}`;
  };
  document.addEventListener("selectionchange", showKnown);

  // ---- files ----
  const openAll = async (files: readonly File[]): Promise<void> => {
    if (files.length === 0) return;
    try {
      const photos = await Promise.all(files.filter(isPicture).map(photoFromFile));
      const texts = await Promise.all(files.filter((file) => !isPicture(file)).map(textOf));
      const read = texts.length === 0 ? null : inOrder(texts);
      store.update(read === null ? addPhotos(photos) : open(read, photos));
      const opened = [...(read === null ? [] : [read.map(({ file }) => file).join(", based on ")]), ...photos.map(({ name: file }) => file)];
      said.textContent = `Opened ${opened.join(", with ")}. ${pictureMissing(store.state)}`;
    } catch (error) {
      said.textContent = (error as Error).message;
    }
  };
  picker.addEventListener("change", () => {
    void openAll([...picker.files!]);
    picker.value = "";
  });
  const dropping = (on: boolean): boolean => document.documentElement.classList.toggle("dropping", on);
  document.addEventListener("dragover", (event) => {
    if (event.dataTransfer?.types.includes("Files") !== true) return;
    event.preventDefault();
    dropping(true);
  });
  document.addEventListener("dragleave", () => dropping(false));
  document.addEventListener("drop", (event) => {
    dropping(false);
    if (event.dataTransfer === null || event.dataTransfer.files.length === 0) return;
    event.preventDefault();
    void openAll([...event.dataTransfer.files]);
  });

  // ---- following the state ----
  store.watch(
    (state) => state.text,
    (written) => {
      const isPlan = written === store.state.planned[0].text;
      if (isPlan && area.value !== "" && area.value !== written) lost = area.value;
      undone.hidden = lost === null || !isPlan;
      if (area.value !== written) area.value = written;
    },
  );
  store.watch(
    ({ planned }) => planned,
    ([{ file }]) => {
      name.textContent = file;
      lost = null;
      undone.hidden = true;
    },
  );
  store.watch(
    (state) => problemsOf(state),
    (found) => {
      problems.hidden = found.length === 0;
      problems.replaceChildren(...found.map((problem) => element("li", {}, button(problem, () => goTo(area, lineOf(problem))))));
    },
  );
  const mark = (): void => {
    const bad = new Set(problemsOf(store.state).map(lineOf));
    const count = store.state.text.split("\n").length;
    numbers.replaceChildren(...Array.from({ length: count }, (_, i) => (bad.has(i + 1) ? element("b", {}, `▶ ${i + 1}\n`) : `${i + 1}\n`)));
    numbers.scrollTop = area.scrollTop;
  };
  store.watch((state) => problemsOf(state), mark);
  store.watch((state) => state.text, mark);
};

/** What to do where the picture that the text names is not at hand, or the one at hand not named. */
function pictureMissing(state: State): string {
  const name = shownOf(state)?.scenario.picture ?? null;
  if (photoOf(state) !== null) return "";
  if (name !== null) return `Its picture ${name} is not here: open it, too, and the houses stand on it.`;
  return state.photos.length === 0 ? "" : `To see the houses on it, write this line into the text: picture: ${state.photos[0]!.name}`;
}

/** The line of a problem, from 1; 0 where it names none. */
function lineOf(problem: string): number {
  return Number(/^.*?:(\d+):\d+: /.exec(problem)?.[1] ?? 0);
}

/** Puts the cursor at the beginning of a line, and shows it. */
function goTo(area: HTMLTextAreaElement, line: number): void {
  if (line === 0) return;
  const lines = area.value.split("\n");
  const offset = lines.slice(0, line - 1).reduce((sum, { length }) => sum + length + 1, 0);
  area.focus();
  area.setSelectionRange(offset, offset + (lines[line - 1]?.length ?? 0));
  area.scrollTop = (area.scrollHeight / lines.length) * Math.max(0, line - 5);
}
