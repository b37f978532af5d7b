import { button, element } from "./dom.js";
import type { Playhead } from "./playhead.js";
import type { Store } from "./store.js";

/** What a key does, and how the list of keys calls it. */
interface Key {
  readonly keys: readonly string[];
  readonly named: string;
  readonly does: string;
  readonly press: () => void;
  /** Works while nothing in the page has the focus, too. */
  readonly everywhere?: true;
}

/** The keys of the player; `list` shows all of them. */
export function playerKeys({ togglePlaying, leap, toOpening, toEdge }: Playhead, store: Store, list: () => void): readonly Key[] {
  return [
    { keys: [" "], named: "Space", does: "plays and pauses", press: togglePlaying, everywhere: true },
    { keys: ["ArrowRight"], named: "→", does: "next change", press: () => leap(1), everywhere: true },
    { keys: ["ArrowLeft"], named: "←", does: "the picture before", press: () => leap(-1), everywhere: true },
    { keys: ["ArrowDown"], named: "↓", does: "next opening", press: () => toOpening(store.state.opening + 1) },
    { keys: ["ArrowUp"], named: "↑", does: "opening before", press: () => toOpening(store.state.opening - 1) },
    { keys: ["Home"], named: "Home", does: "beginning of the opening", press: () => toEdge(false) },
    { keys: ["End"], named: "End", does: "end of the opening", press: () => toEdge(true) },
    { keys: ["?"], named: "?", does: "this list", press: list, everywhere: true },
  ];
}

/**
 * They work where the focus is in it; some also while nothing has the focus and the display is on
 * screen, where they are in nobody's way. Fields and buttons keep the keys they need themselves.
 */
export function listenForKeys(root: HTMLElement, display: HTMLElement, keys: readonly Key[]): void {
  let onScreen = true;
  new IntersectionObserver((entries) => (onScreen = entries.at(-1)!.isIntersecting), { threshold: 0.4 }).observe(display);
  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey || event.defaultPrevented) return;
    const target = event.target as Element;
    const inside = root.contains(target);
    if (!inside && !(target === document.body && onScreen)) return;
    if (target.closest("select, textarea, dialog, input:not([type=range])") !== null) return;
    if (event.key === " " && target.closest("button, a, summary") !== null) return;
    if (target.matches("input[type=range]") && event.key !== " " && event.key !== "?") return;
    const key = keys.find((one) => one.keys.includes(event.key));
    if (key === undefined || (!inside && key.everywhere === undefined)) return;
    event.preventDefault();
    key.press();
  });
}

/** The list of keys, shown by "?". */
export function keyList(keys: readonly Key[]): HTMLDialogElement {
  const rows = keys.map(({ named, does }) => element("li", {}, element("kbd", {}, named), ` ${does}`));
  const dialog = element("dialog", { "aria-label": "Keys", class: "keys" }, element("h2", {}, "Keys"), element("ul", {}, ...rows));
  dialog.append(
    element("p", {}, "They work while the focus is on the display or on what moves it."),
    button("Close", () => dialog.close()),
  );
  return dialog;
}
